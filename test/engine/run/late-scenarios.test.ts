// Scenarios and what is put off: a scenario may put something in place of a cell that is put off, of
// one entry of such a column, and it may put in what the plan has only later. `solve` is put off and
// its roots are plain algebra: 2 b = 8 W has the root 4 W.

import { describe, expect, test } from 'vitest';
import { openSession, type Session, startStudies } from '../../../engine/index.ts';

const text = `dapple 1
trials: 20

a = 1..2..4 W
b = 7 W
c = b + 1 W
need = solve(b, so that: 2 × b = 8 W, over: 0 W..10 W)
twice = need × 2
odds = chance(a > 0 W)
t = table
  k | y | z = y × need / 1 W
  lamp | 2 W |
  fan | 3 W |
total = sum(t.z)
check c ≤ 9 W

scenario Put in place
  need = 5 W
scenario One entry
  t.z("lamp") = 1 W
scenario Later
  b = need
scenario Both
  need = need × 3
  b = twice
scenario Even
  odds = 50 %
`;

/** Numbers of these cells in each column, the plan first. */
function numbers(session: Session): Record<string, readonly unknown[]> {
  const names = ['b', 'c', 'need', 'twice', 'total', 'odds'];
  const columns = session.evaluation.columns.map((_, i) => session.report(i, true).cells);
  return Object.fromEntries(names.map((name) => [name, columns.map((c) => c[name]?.value)]));
}

// t.z is y × need: 2 × 4 + 3 × 4 = 20 W; with the lamp's entry at 1 W it is 1 + 12 = 13 W. In `Both`
// need is 3 × 4 = 12 W and b the plan's twice, 8 W. Every draw of a is above 0.
const wanted = {
  b: [7, 7, 7, 4, 8, 7],
  c: [8, 8, 8, 5, 9, 8],
  need: [4, 5, 4, 4, 12, 4],
  twice: [8, 10, 8, 8, 24, 8],
  total: [20, 25, 13, 20, 60, 20],
  odds: [100, 100, 100, 100, 100, 50],
};

function expectWanted(session: Session): void {
  const found = numbers(session);
  for (const [name, list] of Object.entries(wanted))
    list.forEach((value, column) => {
      expect(found[name]?.[column], `${name} in column ${column}`).toBeCloseTo(value, 6);
    });
}

describe('what a scenario puts in', () => {
  test('stands when the put-off work is done here', () => {
    const session = openSession(text);
    while (session.continue(1e9, () => 0));
    expectWanted(session);
  });

  test('stands when each column is worked by itself, and when it is taken over', () => {
    const page = openSession(text);
    for (const column of page.evaluation.columns.keys()) {
      const worker = openSession(text);
      const only = new Set([column]);
      while (worker.continue(1e9, () => 0, only));
      page.adopt(worker.slowResults(only));
    }
    expect(page.snapshot().pending).toBe(0);
    expectWanted(page);
  });

  test('is being worked out until the plan has it', () => {
    const row = openSession(text)
      .snapshot()
      .rows.find((one) => one.kind === 'cell' && one.key === 'c');
    expect(row?.kind === 'cell' && row.values.map(({ state }) => state)).toEqual([
      'value',
      'value',
      'value',
      'pending',
      'pending',
      'value',
    ]);
  });

  test('follows a moved given', () => {
    const session = openSession(
      text.replace('= 8 W, over', '= 2 W, over').replace('b = 7', 'b = 6'),
    );
    while (session.continue(1e9, () => 0));
    session.do({ do: 'formula', cell: 'b', text: '7 W' });
    session.do({
      do: 'formula',
      cell: 'need',
      text: 'solve(b, so that: 2 × b = 8 W, over: 0 W..10 W)',
    });
    expectWanted(session);
  });

  test('comes from no trials, and says so', () => {
    const session = openSession(text);
    const said = session.report(5, false).cells.odds?.text;
    expect(said).toBe('50\u00a0%');
  });

  test('is no part of trials while it is not there', () => {
    const session = openSession(text);
    const work = startStudies(session);
    while (work.step(() => false));
    session.adoptStudies(work.result());
    expectWanted(session);
  });
});
