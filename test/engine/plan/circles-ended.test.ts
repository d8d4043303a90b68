// A path that enters an overridden cell ends there: what goes round in a circle in the plan may still
// be worked where something is put in place of one of its cells. Values are worked by hand beside
// each case; edited sessions are held against ones opened afresh.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openSession, type Session } from '../../../engine/index.ts';
import { testCases } from '../../tools/test-cases.ts';
import { notebook, report } from '../run/evaluated.ts';

/** a = b + 1 and b = 2 a: a circle in the plan. */
const ROUND = 'a = b + 1\nb = a × 2';

function resultOf(body: string, column = 0): unknown {
  const { result } = report(body, column).cells;
  return result?.error ?? result?.waits ?? result?.value;
}

describe('with ends a circle', () => {
  test.each([
    // a = 3 + 1
    ['directly', 'result = a with b = 3', 4],
    // b = 2 × 3
    ['at the other cell', 'result = b with a = 3', 6],
    ['at the cell itself', 'result = b with b = 9', 9],
    // c = a + 1 = (3 + 1) + 1
    ['further on', 'c = a + 1\nresult = c with b = 3', 5],
    // c = 3 + 1, and one more
    ['in another cell', 'c = a with b = 3\nresult = c + 1', 5],
    // The inner one counts: b = 3.
    ['in a cell that puts something in itself', 'c = a with b = 3\nresult = c with b = 50', 4],
    ['within another with', 'k = 1\nresult = (a with b = 3 × k) with k = 2', 7],
    // (3 + 1) + (2 × 1)
    ['twice in one formula', 'result = (a with b = 3) + (b with a = 1)', 6],
    // b = 2, 3, 4 gives a = 3, 4, 5.
    ['in steps', 'result = sum((a with b = steps(2, 4, by: 1)))', 12],
    // b + 1 = 5
    ['in solve', 'result = solve(b, so that: a = 5, over: 0..10)', 4],
    // The plan's own value that is put in is 8.
    ['by a cell', 'k = 8\nresult = a with b = k', 9],
    ['by an amount that is worked', 'k = 8\nresult = a with b = k / 2', 5],
  ])('%s', (_, line, expected) => {
    expect(resultOf(`${ROUND}\n${line}`)).toBeCloseTo(expected, 6);
    // The order of the lines does not matter.
    const turned = `${ROUND}\n${line}`.split('\n').reverse().join('\n');
    expect(resultOf(turned)).toBeCloseTo(expected, 6);
  });

  test('the circle itself is one message, and what needs it waits', () => {
    const { cells, messages } = report(`${ROUND}\nresult = a with b = 3\nd = a + 1`);
    expect(messages.map(({ code, text }) => [code, text])).toEqual([
      ['circle', '"a" goes round in a circle: a → b → a. A step may look back with previous(…).'],
    ]);
    expect(cells.a?.waits).toBe('b');
    expect(cells.d?.waits).toBe('b');
    expect(cells.result?.value).toBe(4);
  });

  test('the message stands where the circle closes', () => {
    const { messages } = report(`${ROUND}\nresult = a with b = 3`);
    const line = notebook(ROUND).split('\n').indexOf('b = a × 2') + 1;
    expect(messages.map(({ line: at, column }) => [at, column])).toEqual([[line, 5]]);
  });

  test('a cell that puts something in place of itself goes in no circle', () => {
    // b = (3 + 1), a = 4 + 1
    const { cells, messages } = report('a = b + 1\nb = a with b = 3');
    expect(messages).toEqual([]);
    expect([cells.b?.value, cells.a?.value]).toEqual([4, 5]);
  });

  test('a cell that is put in and does not matter closes no circle', () => {
    // d = 3 + 1 whatever c is: a = 4, c = 8.
    const { cells, messages } = report('a = d with c = 4\nb = 3\nc = a × 2\nd = b + 1');
    expect(messages).toEqual([]);
    expect([cells.a?.value, cells.c?.value]).toEqual([4, 8]);
  });

  test('three that set each other aside go in no circle', () => {
    // d: x with t = 1, where x = y with d = 2 and y = d + t: 2 + 1. Then y = 3 + 10 and x = 2 + 10.
    const { cells, messages } = report('t = 10\nd = x with t = 1\nx = y with d = 2\ny = d + t');
    expect(messages).toEqual([]);
    expect([cells.d?.value, cells.x?.value, cells.y?.value]).toEqual([3, 12, 13]);
  });

  test('what is put in does not end every circle', () => {
    const { cells, messages } = report('k = 1\nx = y with k = 2\ny = x + k');
    expect(messages.map(({ code }) => code)).toEqual(['circle']);
    expect(cells.x?.value).toBeNull();
    expect(cells.y?.value).toBeNull();
  });

  test('two that run each other with something else put in go in a circle', () => {
    const { cells, messages } = report(
      'k = 1\np = y with k = 1\nq = z with k = 2\ny = q + k\nz = p + k',
    );
    expect(messages.map(({ code }) => code)).toEqual(['circle']);
    expect([cells.p?.value, cells.q?.value]).toEqual([null, null]);
  });

  test('of two circles that hang together one may be left', () => {
    // With a put in, b and c still go round; with b put in, a = 3 + 1 and c = 3 × 2 are worked.
    const body = 'a = b + 1\nb = a + c\nc = b × 2';
    expect(resultOf(`${body}\nresult = c with b = 3`)).toBe(6);
    expect(resultOf(`${body}\nresult = a with b = 3`)).toBe(4);
    expect(
      report(`${body}\nresult = c with a = 3\nother = a with b = 1`).cells.result,
    ).toMatchObject({ value: null });
  });

  test('a series, by another and by a single amount', () => {
    // Four steps of 6 h, all inside: b = 2 W throughout, a = 2 W + 1 W.
    const body =
      'clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)\non = 2 W × during(clock, 00:00..24:00)\na = b + 1 W\nb = a × during(clock, 00:00..24:00)';
    expect(resultOf(`${body}\nresult = lowest((a with b = on))`)).toBe(3);
    expect(resultOf(`${body}\nresult = lowest((a with b = 5 W))`)).toBe(6);
  });

  test('a column of a table', () => {
    // y = 4 W each: total 8 W; back = 8 / 2.
    const body = 't = table\n  k | y = total / 2\n  one |\n  two |\ntotal = sum(t.y)';
    expect(resultOf(`${body}\nresult = total with t.y = 4 W`)).toBe(8);
    expect(resultOf(`${body}\nresult = sum((t.y with total = 6 W))`)).toBe(6);
  });

  test('another kind of value than the circle would give is told as before', () => {
    // b is a text here, but its own formula makes a number of it.
    const { cells, messages } = report(`${ROUND}\nresult = a with b = "x"`);
    expect(messages.map(({ code }) => code)).toContain('circle');
    expect(cells.result?.value).toBeNull();
  });

  test('what is broken within it is not worked', () => {
    const { cells } = report('a = missing + b\nb = a × 2\nresult = a with b = 3');
    expect(cells.result?.value).toBeNull();
  });
});

describe('a formula that runs something again needs only what that leaves', () => {
  test.each([
    ['a cell that divides by zero', 'x = 0\ny = 1 / x\nresult = y with x = 2', 0.5],
    ['a blank', 'x = ?\ny = x × 2\nresult = y with x = 3', 6],
    [
      'a blank looked for',
      'x = ? W\ny = x × 2\nresult = solve(x, so that: y = 6 W, over: 0..9 W)',
      3,
    ],
    ['a blank further down', 'x = ?\ny = x × 2\nz = y with x = 3\nresult = z with x = 5', 6],
  ])('%s', (_, body, expected) => {
    expect(resultOf(body)).toBeCloseTo(expected, 6);
  });

  test('but all of what it leaves', () => {
    expect(resultOf('x = 0\nu = ?\ny = u / x\nresult = y with x = 2')).toBe('u');
  });
});

describe('a scenario ends a circle', () => {
  const body = `${ROUND}\nc = a + 10\ns = a with b = 3\ncheck c ≥ 0\nscenario Ended\n  b = 7\nscenario Other\n  a = 5\nscenario Neither\n  k = 2\nk = 1`;

  test('in that scenario alone', () => {
    const session = openSession(notebook(body));
    const read = (column: number): unknown[] => {
      const { cells } = session.report(column, true);
      return ['a', 'b', 'c', 's'].map((name) => cells[name]?.value);
    };
    // b = 7: a = 8, c = 18; a = 5: b = 10, c = 15; s is a with b = 3, but a is 5 there.
    expect([0, 1, 2, 3].map(read)).toEqual([
      [null, null, null, 4],
      [8, 7, 18, 4],
      [5, 10, 15, 5],
      [null, null, null, 4],
    ]);
    expect(session.report(1, true).messages.map(({ code }) => code)).toEqual(['circle']);
    expect(session.snapshot().verdicts.map(({ state }) => state)).toHaveLength(4);
  });

  test('a what-if of another cell works on in it', () => {
    // In the scenario b = 7 and a = b + k: with k = 2 that is 9. In the plan it waits.
    const text = 'k = 1\na = b + k\nb = a × 2\nresult = a with k = 2\nscenario S\n  b = 7';
    expect(resultOf(text, 1)).toBe(9);
    expect(resultOf(text)).toBe('b');
  });

  test('solve and chance work on in it', () => {
    const text =
      'k = 1\nu = 0..1..2\na = b + k + u\nb = a × 2\nresult = solve(k, so that: a = 20, over: 0..50)\nodds = chance(a > 0)\nscenario S\n  b = 7';
    // 7 + k + 1 = 20.
    expect(resultOf(text, 1)).toBeCloseTo(12, 6);
    const { cells } = report(text, 1);
    // 9 at least: in every trial.
    expect(cells.odds).toMatchObject({ value: 100, unit: '%' });
  });

  test('an uncertain amount in place of a member is drawn', () => {
    const text = `${ROUND}\nresult = percentile(a, 50 %)\nscenario S\n  b = 6..7..8`;
    const middle = resultOf(text, 1);
    // a = b + 1, and b is between 6 and 8 with 7 in the middle.
    expect(middle).toBeGreaterThan(7.8);
    expect(middle).toBeLessThan(8.2);
  });

  test('right sides are worked in the plan, so that they make no circle', () => {
    const text = 'a = 1\nb = a + 1\nc = b + 1\nscenario S\n  a = c';
    // c is 3 in the plan: a = 3, b = 4, c = 5.
    const { cells, messages } = report(text, 1);
    expect(messages).toEqual([]);
    expect([cells.a?.value, cells.b?.value, cells.c?.value]).toEqual([3, 4, 5]);
  });

  test('a right side that names a circle waits in that scenario alone', () => {
    const session = openSession(
      notebook(`k = 1\nd = k + 1\n${ROUND}\nc = a with b = 3\nscenario S\n  k = a`),
    );
    expect(session.report(0, false).cells.d?.value).toBe(2);
    expect(session.report(1, false).cells.d).toMatchObject({ value: null, waits: 'b' });
    expect(session.report(1, false).messages).toHaveLength(1);
  });
});

test('the plan’s report has the messages of what scenarios put off, the first time as the second', () => {
  const session = openSession(
    notebook('a = 1\nd = solve(a, so that: a × k = 5, over: 0..9)\nk = 1\nscenario S\n  k = 0'),
  );
  const codes = (): readonly string[] => session.report(0, false).messages.map(({ code }) => code);
  expect(codes()).toEqual(['no-solution']);
  expect(codes()).toEqual(['no-solution']);
});

describe('edits that make and break circles', () => {
  const formulas = fc.constantFrom(
    'b + 1',
    'a × 2',
    'c + d',
    '3',
    '7',
    'a with b = 3',
    'b with a = d',
    'c with d = 2, a = 1',
    'd with c = 4',
    'sum((a with c = steps(1, 3, by: 1)))',
    'if a > 3 then b else c',
    'solve(d, so that: a = 5, over: 0..9)',
    'a / (d - d)',
    'missing',
    '?',
    '(a with b = 3) with c = 2',
  );
  const names = ['a', 'b', 'c', 'd'] as const;

  /** Everything a session shows, with the put-off work done. */
  const shown = (session: Session): unknown => {
    const columns = [0, 1].map((column) => session.report(column, true));
    const { pending: _, ...snapshot } = session.snapshot();
    return JSON.parse(JSON.stringify({ columns, snapshot }));
  };

  test('an edited session is one opened afresh, and undoing gives back what was', () => {
    fc.assert(
      fc.property(
        fc.tuple(formulas, formulas, formulas, formulas),
        fc.array(fc.tuple(fc.constantFrom(...names), formulas), { minLength: 1, maxLength: 4 }),
        fc.constantFrom('a = 2', 'b = c', 'd = 1..2..3'),
        (start, edits, override) => {
          const lines = names.map((name, i) => `${name} = ${start[i]}`).join('\n');
          const text = notebook(`${lines}\ncheck a > 0\nscenario S\n  ${override}`);
          const session = openSession(text);
          const before = shown(session);
          for (const [cell, formula] of edits) {
            session.do({ do: 'formula', cell, text: formula });
            expect(shown(session)).toEqual(shown(openSession(session.text)));
          }
          session.do({ do: 'text', text });
          expect(shown(session)).toEqual(before);
        },
      ),
      { numRuns: testCases(40) },
    );
  });
});
