// What must hold of every edit: an edited session equals one opened afresh on the new text, a scenario
// equals editing the given, undoing restores text and values, and nothing that is typed throws.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Command, openSession, type Session } from '../../../engine/index.ts';
import { testCases } from '../../tools/test-cases.ts';
import { STARTERS } from '../notebook/sample.ts';
import { notebook } from './evaluated.ts';

const RUNS = testCases(25);

// ── small random notebooks ──────────────────────────────────────────────────────────────────────

const givens = ['a', 'b', 'c'] as const;
const amount = fc.integer({ min: -50, max: 50 }).map((n) => `${n} W`);

/** A sum, a choice or a what-if of earlier cells, all of them powers. */
function formulaOf(names: readonly string[]): fc.Arbitrary<string> {
  const name = fc.constantFrom(...names);
  return fc.oneof(
    fc.tuple(name, name).map(([x, y]) => `${x} + ${y}`),
    fc.tuple(name, fc.integer({ min: -3, max: 3 })).map(([x, k]) => `${x} × ${k}`),
    fc.tuple(name, name, name).map(([x, y, z]) => `if ${x} > ${y} then ${z} else ${x}`),
    fc.tuple(name, name).map(([x, y]) => `max(${x}, ${y})`),
    fc.tuple(name, fc.constantFrom(...givens), amount).map(([x, g, v]) => `${x} with ${g} = ${v}`),
    fc
      .tuple(name, fc.constantFrom(...givens))
      .map(([x, g]) => `sum((${x} with ${g} = steps(1 W, 3 W, by: 1 W)))`),
    fc.tuple(name).map(([x]) => `mean(${x} × during(clock, 06:00..18:00))`),
    fc.tuple(name).map(([x]) => `last(running total(${x} × t.n))`),
    fc.tuple(name).map(([x]) => `${x} + missing`),
  );
}

const bodies: fc.Arbitrary<string> = fc
  .record({
    values: fc.tuple(amount, amount, amount),
    formulas: fc
      .array(fc.nat(), { minLength: 3, maxLength: 8 })
      .chain((seeds) =>
        fc.tuple(
          ...seeds.map((_, i) =>
            formulaOf([...givens, ...seeds.slice(0, i).map((__, k) => `d${k}`)]),
          ),
        ),
      ),
    order: fc.boolean(),
    override: fc.tuple(fc.constantFrom(...givens), amount),
  })
  .map(({ values, formulas, order, override }) => {
    const cells = [
      ...givens.map((name, i) => `${name} = ${values[i]}`),
      ...formulas.map((formula, i) => `d${i} = ${formula}`),
      'clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)',
    ];
    const table = 't = table\n  k | n\n  x | 1\n  y | 2';
    const scenario = `check d0 ≥ -20 W\nscenario Other\n  ${override[0]} = ${override[1]}`;
    return [...(order ? cells.reverse() : cells), table, scenario].join('\n');
  });

/** Everything a session shows, with the put-off work done. */
function shown(session: Session): unknown {
  const plan = session.report(0, true);
  const other = session.columnOf('Other') < 0 ? undefined : session.report(1, true);
  const { pending: _, ...snapshot } = session.snapshot();
  return JSON.parse(JSON.stringify({ plan, other, snapshot }));
}

describe('an edited session', () => {
  test('equals one opened on the new text: givens moved, formulas replaced', () => {
    fc.assert(
      fc.property(
        bodies,
        fc.array(
          fc.tuple(
            fc.constantFrom(...givens, 'd0', 'd1', 'd2'),
            fc.oneof(amount, formulaOf([...givens])),
          ),
          { minLength: 1, maxLength: 4 },
        ),
        (body, edits) => {
          const session = openSession(notebook(body));
          for (const [cell, text] of edits) {
            expect(session.do({ do: 'formula', cell, text })).toBe(true);
            expect(shown(session)).toEqual(shown(openSession(session.text)));
          }
        },
      ),
      { numRuns: RUNS },
    );
  });

  test('has the text back, and the values, after undoing', () => {
    fc.assert(
      fc.property(bodies, fc.constantFrom(...givens), amount, (body, cell, text) => {
        const session = openSession(notebook(body));
        const before = { text: session.text, shown: shown(session) };
        session.do({ do: 'formula', cell, text });
        session.do({ do: 'text', text: before.text });
        expect(session.text).toBe(before.text);
        expect(shown(session)).toEqual(before.shown);
      }),
      { numRuns: RUNS },
    );
  });
});

test('a scenario equals editing the given', () => {
  fc.assert(
    fc.property(bodies, (body) => {
      const session = openSession(notebook(body));
      const [, cell = '', text = ''] = /scenario Other\n {2}(\w) = (.*)$/u.exec(body) ?? [];
      const inScenario = session.report(1, true).cells;
      const edited = openSession(session.text);
      edited.do({ do: 'formula', cell, text });
      const after = edited.report(0, true).cells;
      const plain = (cells: typeof after): unknown =>
        Object.entries(cells).map(([name, { value, error, waits }]) => [name, value, error, waits]);
      expect(plain(inScenario)).toEqual(plain(after));
    }),
    { numRuns: RUNS },
  );
});

// ── the starter notebooks under random hands ────────────────────────────────────────────────────

const pieces = fc.constantFrom(
  '',
  '?',
  'none',
  '(',
  '1 W',
  '2 h',
  '3 °C',
  '-73 dBm',
  '12:00',
  '2027-05-14',
  '17:00..21:00',
  '"text"',
  'lowest(charge)',
  'harvest',
  'clock',
  'loads.power',
  'loads',
  'weather.high(day)',
  'previous(charge, first: 3 %)',
  'charge with nights = 2',
  'steps(1, 3, by: 1)',
  '40..55..70 W',
  'if 1 < 2 then 3 else 4',
  '1 / 0',
  'a b c',
  '\u0000',
  '10 AWG',
  'sun position(clock)',
);
type Hand = (session: Session, pick: number) => Command;
const hands: fc.Arbitrary<Hand> = fc.oneof(
  fc
    .tuple(pieces, fc.constantFrom('', ' × 2', ' + 1 W', ' as W', ')', ' ± 5 %', ' -- note'))
    .map(([text, tail]) => (session: Session, pick: number): Command => {
      const cells = session
        .snapshot()
        .rows.flatMap((row) => (row.kind === 'cell' ? [row.name] : []));
      return {
        do: 'formula',
        cell: cells[pick % Math.max(1, cells.length)] ?? '',
        text: text + tail,
      };
    }),
  pieces.map(
    (text) =>
      (_session: Session, pick: number): Command => ({
        do: 'insert',
        item: pick % 40,
        text: `made ${pick} = ${text}`,
      }),
  ),
  fc.constant((_session: Session, pick: number): Command => ({ do: 'remove', item: pick % 60 })),
  fc.constant(
    (_session: Session, pick: number): Command => ({
      do: 'move',
      item: pick % 60,
      to: (pick * 7) % 60,
    }),
  ),
  pieces.map(
    (text) =>
      (_session: Session, pick: number): Command => ({
        do: 'entry',
        table: 'loads',
        row: pick % 6,
        column: pick % 5,
        text,
      }),
  ),
  pieces.map((text) => (session: Session, pick: number): Command => {
    const cells = session.snapshot().rows.flatMap((row) => (row.kind === 'cell' ? [row.name] : []));
    const scenario = session.snapshot().verdicts[1]?.name ?? 'x';
    return {
      do: 'override',
      scenario,
      target: cells[pick % Math.max(1, cells.length)] ?? '',
      text,
    };
  }),
  fc
    .constantFrom('slope', 'sum', 'check it', 'x', 'clock')
    .map((name) => (session: Session, pick: number): Command => {
      const cells = session
        .snapshot()
        .rows.flatMap((row) => (row.kind === 'cell' ? [row.name] : []));
      return { do: 'rename', cell: cells[pick % Math.max(1, cells.length)] ?? '', name };
    }),
);

// The trials of the largest notebook are cut, so that only the edits take time.
const starters = STARTERS.map(
  ([name, text]) => [name, text.replace(/^trials: .*$/mu, 'trials: 5')] as const,
);

describe('a starter notebook under random edits', () => {
  test.each(starters)(
    '%s: nothing throws, and undoing gives the file back',
    { timeout: 120_000 },
    (_, text) => {
      fc.assert(
        fc.property(
          fc.array(fc.tuple(hands, fc.nat(500)), { minLength: 1, maxLength: 4 }),
          (edits) => {
            const session = openSession(text);
            for (const [hand, pick] of edits) {
              const before = session.text;
              const command = hand(session, pick);
              const done = session.do(command);
              if (!done) expect(session.text).toBe(before);
              expect(session.snapshot().rows.length).toBeGreaterThan(0);
              for (const row of session.snapshot().rows)
                if (row.kind === 'cell')
                  expect(row.values.length).toBe(session.snapshot().verdicts.length);
            }
            expect(session.do({ do: 'text', text })).toBe(true);
            expect(session.text).toBe(text);
          },
        ),
        { numRuns: Math.max(3, Math.round(RUNS / 5)) },
      );
    },
  );
});
