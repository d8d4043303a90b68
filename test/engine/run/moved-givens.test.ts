// After a slider moved, everything shown must be what a notebook opened with that number shows: in
// the plan, in every scenario, on every row. The truth is a session opened afresh on the same text.

import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type CellRow, openSession, type Session } from '../../../engine/index.ts';

const folder = new URL('../../../notebooks/', import.meta.url);
const starters = readdirSync(folder)
  .filter((name) => name.endsWith('.dapple'))
  .map((name) => ({ name, text: readFileSync(new URL(name, folder), 'utf8') }));

/** As the notebooks stand, with so few trials that what is put off can be worked here. */
function withFewTrials(text: string): string {
  return text.replace(/^trials: .*$/mu, 'trials: 5');
}

const scenarios = `dapple 1
title: Moved
seed: 5
trials: 40
place: 52 °N, 13 °E, 60 m, UTC+1

begin = 2027-06-01 00:00
clock = timeline(from: begin, until: begin + 48 h, by: 1 h)
panel = 100 W [0 W..400 W by 10 W]
share = 40..50..60 %
reserve = 20 Wh
floor = max(reserve, 10 Wh)
light = panel × (if clock within 08:00..16:00 then 1 else 0)
harvest = energy(light)
loads = table
  thing | power | hours | energy = power × hours
  box | 40 W | 8 h |
  lamp | 5 W | 4 h |
use = sum(loads.energy)
left = harvest - use
lucky = chance(left × share > use)
needed = solve(panel, so that: left ≥ use, over: 0 W..400 W)
check left ≥ floor

scenario Thin
  panel = 60 W
scenario Later
  begin = 2027-06-11 00:00
scenario Thirsty
  loads.hours("lamp") = 6 h
scenario Follows
  reserve = panel × 0.2 h
`;

function givensOf(session: Session): readonly CellRow[] {
  return session
    .snapshot()
    .rows.filter((row): row is CellRow => row.kind === 'cell' && row.role === 'given');
}

/** Everything put off is worked in both, so that they can be compared. */
function finished(session: Session): unknown {
  while (session.continue(1e9, () => 0));
  return session.snapshot();
}

function moveAround(text: string, moves: readonly { given: number; factor: number }[]): void {
  const session = openSession(text);
  for (const { given, factor } of moves) {
    const givens = givensOf(session);
    const cell = givens[given % Math.max(1, givens.length)];
    const written = /^([-+]?[\d.]+)(.*)$/u.exec(cell?.formula ?? '');
    if (!cell || !written) continue;
    const number = Number((Number(written[1]) * factor).toPrecision(6));
    session.do({ do: 'formula', cell: cell.key, text: `${number}${written[2]}` });
    session.snapshot();
  }
  expect(finished(session)).toEqual(finished(openSession(session.text)));
}

const moves = fc.array(
  fc.record({ given: fc.nat(60), factor: fc.constantFrom(0, 0.5, 0.9, 1, 1.25, 3) }),
  { minLength: 1, maxLength: 5 },
);

test('the sample reads without a message but what its numbers give', () => {
  expect(openSession(scenarios).snapshot().messages).toEqual([]);
});

test('scenarios follow a moved given as if opened with it', () => {
  fc.assert(
    fc.property(moves, (list) => moveAround(scenarios, list)),
    { numRuns: 60 },
  );
});

test.each(starters)('$name follows its moved givens as if opened with them', ({ text }) => {
  fc.assert(
    fc.property(moves, (list) => moveAround(withFewTrials(text), list)),
    { numRuns: 3 },
  );
});

test('a given moved so that a cell further on is no number leaves the message there', () => {
  const session = openSession(`dapple 1
title: Root

c = 25 W
less = c - 10 W
root = sqrt(less / 1 W)
`);
  session.do({ do: 'formula', cell: 'c', text: '3 W' });
  expect(session.snapshot().messages.map(({ line }) => line)).toEqual([6]);
  session.do({ do: 'formula', cell: 'c', text: '19 W' });
  expect(session.snapshot().messages).toEqual([]);
  expect(session.report(0, false).cells.root?.value).toBe(3);
});

// 1e308 GW is 1e317 W, and the largest number that can be kept is about 1.8e308.
test('a given moved beyond every number has its message, and none when it comes back', () => {
  const text = (x: string): string => `dapple 1

x = ${x}
y = x × 2
scenario Thin
  x = 3 GW
scenario Follows
  y = x × 3
`;
  const session = openSession(text('12 GW'));
  for (const [x, line] of [
    ['1e308 GW', [3]],
    ['2e308 GW', [3]],
    ['0e308 GW', []],
    ['5 GW', []],
  ] as const) {
    session.do({ do: 'formula', cell: 'x', text: x });
    expect(session.snapshot().messages.map((one) => one.line)).toEqual(line);
    expect(finished(session)).toEqual(finished(openSession(text(x))));
  }
  expect(session.report(0, false).cells.y?.value).toBe(10);
});

test.each([
  ['bounds that are none', '[]', 'bounds-empty'],
  ['bounds of another kind', '[1 m..3 m]', 'bounds-kind'],
])('a message at %s stands where they stand after a move', (_, bounds, code) => {
  const session = openSession(`dapple 1\n\na = 3 W ${bounds}\nb = a\n`);
  for (const a of ['3000 W', '3 W', '12345678 W']) {
    session.do({ do: 'formula', cell: 'a', text: a });
    const line = session.text.split('\n')[2] ?? '';
    const told = session.snapshot().messages.map((one) => [one.code, one.line, one.column]);
    expect(told).toEqual([[code, 3, line.indexOf('[') + 2]]);
    expect(finished(session)).toEqual(finished(openSession(session.text)));
  }
});
