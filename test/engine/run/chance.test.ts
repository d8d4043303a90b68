// Uncertain givens and what the trials say of them. Shares of the distributions are from their own
// formulas, within the spread that 4,000 trials leave; the draws depend on seed, trial and name alone.

import { describe, expect, test } from 'vitest';
import { influenceOf, openSession } from '../../../engine/index.ts';
import { notebook } from './evaluated.ts';

const PLACE = 'place: 44.5 °N, 110.2 °W, 2100 m, UTC-6';
const TRIALS = 4000;

function cellsOf(body: string, seed = 7, column = 0, trials = TRIALS): Record<string, unknown> {
  const session = openSession(notebook(body, `${PLACE}\ntrials: ${trials}\nseed: ${seed}`));
  const { cells, messages } = session.report(column, false);
  expect(messages).toEqual([]);
  return Object.fromEntries(Object.entries(cells).map(([name, cell]) => [name, cell.value]));
}

describe('the share of trials below a value', () => {
  // Triangle 40..55..70: below 47.5 lies (7.5 / 15)² / 2 = 12.5 %; below 55 half.
  // Normal 100 ± 10: below 90 lies Φ(−1) = 15.87 %. Between 40 and 70: below 47.5 lies 25 %.
  // Usual 40, 55, 70 is passed once in ten each way: 10 % below 40, 10 % above 70.
  test.each([
    ['40..55..70 W', '47.5 W', 12.5],
    ['40..55..70 W', '55 W', 50],
    ['40..40..70 W', '55 W', 75], // 1 − (15 / 30)²
    ['100 W ± 10 W', '90 W', 15.87],
    ['100 W ± 10 %', '110 W', 84.13],
    ['between(40 W, 70 W)', '47.5 W', 25],
    ['usual(40 W, 55 W, 70 W)', '40 W', 10],
    ['usual(40 W, 55 W, 70 W)', '70 W', 90],
  ])('%s: below %s', (formula, limit, share) => {
    const { odds } = cellsOf(`given = ${formula}\nodds = chance(given < ${limit})`);
    // Three and a half standard errors of a share near one half.
    expect(Math.abs((odds as number) - share)).toBeLessThan((350 * 0.5) / Math.sqrt(TRIALS));
  });

  test('percentiles of a triangle: 40 + 15 × √(2 × 10 %) and its mirror', () => {
    const { low, middle, high } = cellsOf(
      'given = 40..55..70 W\nlow = percentile(given, 10 %)\nmiddle = percentile(given, 50 %)\nhigh = percentile(given, 90 %)',
    );
    expect(low).toBeCloseTo(40 + 15 * Math.sqrt(0.2), 0);
    expect(middle).toBeCloseTo(55, 0);
    expect(high).toBeCloseTo(70 - 15 * Math.sqrt(0.2), 0);
  });

  test('the plain run uses the likely value', () => {
    const found = cellsOf(
      'a = 40..50..70 W\nb = 100 W ± 10 %\nc = between(40 W, 70 W)\nd = usual(40 W, 50 W, 70 W)',
    );
    expect(found).toEqual({ a: 50, b: 100, c: 55, d: 50 });
  });

  test('never and always are shown as bounds, not as bare 0 % and 100 %', () => {
    const session = openSession(
      notebook(
        'given = 40..55..70 W\nnever = chance(given > 100 W)\nalways = chance(given > 10 W)',
        'trials: 200',
      ),
    );
    const { cells } = session.report(0, false);
    // Wilson's interval of 0 of 200: z² / (n + z²) with z = 1.96 is 1.88 %.
    expect(cells.never?.text).toMatch(/^below 1\.88/);
    expect(cells.always?.text).toMatch(/^above 98\.1/);
  });
});

describe('draws', () => {
  const body =
    'a = 40..55..70 W\nb = 1..2..3 W\nodds = chance(a + b > 57 W)\nmiddle = percentile(a × b, 50 %)';

  test('are the same for the same seed, and others for another', () => {
    const once = cellsOf(body, 7, 0, 300);
    expect(cellsOf(body, 7, 0, 300)).toEqual(once);
    expect(cellsOf(body, 8, 0, 300).middle).not.toBe(once.middle);
  });

  test('do not change when other cells are added, moved or renamed round them', () => {
    const once = cellsOf(body, 7, 0, 300);
    const moved = cellsOf(`z = 1..2..3 m\n${body.split('\n').reverse().join('\n')}`, 7, 0, 300);
    expect(moved.middle).toBe(once.middle);
    expect(moved.odds).toBe(once.odds);
  });

  test('are the same in the plan, in with and in a scenario, so that a difference is clean', () => {
    const session = openSession(
      notebook(
        'a = 40..55..70 W\nextra = 0 W\nmiddle = percentile(a + extra, 50 %)\nmore = (middle with extra = 3 W) - middle\nscenario More\n  extra = 3 W',
      ),
    );
    const plan = session.report(0, false).cells;
    const more = session.report(1, false).cells;
    expect(plan.more?.value).toBeCloseTo(3, 9);
    expect((more.middle?.value as number) - (plan.middle?.value as number)).toBeCloseTo(3, 9);
  });

  test('leave alone what is put in the place of an uncertain given', () => {
    const text =
      'a = 40..55..70 W\nodds = chance(a ≥ 60 W)\nsure = odds with a = 65 W\nmiddle = percentile(a, 50 %) with a = 65 W\nscenario Sure\n  a = 65 W';
    const plan = cellsOf(text, 7, 0, 300);
    expect(plan.sure).toBe(100);
    expect(plan.middle).toBe(65);
    expect(cellsOf(text, 7, 1, 300).odds).toBe(100);
  });
});

describe('drawn sky', () => {
  const clock = 'clock = timeline(from: 2027-05-14, until: 2027-06-13, by: 6 h)';

  test('is constant over a civil day and one of the classes of its kind', () => {
    const session = openSession(
      notebook(
        `${clock}\nsky = drawn sky(at: clock, wet days: 11, wet spell: 2)\nlow = daily lowest(sky)\nhigh = daily highest(sky)\nspread = highest(high - low)\nodds = chance(spread > 0.001)\ninside = chance(lowest(sky) ≥ 24.9 % and highest(sky) ≤ 95.1 %)`,
        `${PLACE}\ntrials: 50`,
      ),
    );
    const { cells } = session.report(0, false);
    expect(cells.spread?.value).toBeCloseTo(0, 9);
    expect(cells.odds?.value).toBe(0);
    expect(cells.inside?.value).toBe(100);
  });

  // A dry day is 60 % × 95 % + 35 % × 65 % + 5 % × 25 % = 81 %, a wet one 30 % × 65 % + 70 % × 25 % = 37 %.
  test.each([
    [0, 81],
    [15, 59], // half the days: (81 + 37) / 2
    [30, 37],
  ])('with %i wet days in a month the plain run is %f %%', (wet, share) => {
    const found = cellsOf(
      `${clock}\nmiddle = mean(drawn sky(at: clock, wet days: ${wet}, wet spell: 2))`,
      7,
      0,
      10,
    );
    expect(found.middle).toBeCloseTo(share, 6);
  });
});

describe('an uncertain entry that a scenario puts in', () => {
  const table = (entry: string): string => `t = table\n  k | use\n  lamp | ${entry}\n  fan | 6 W`;
  const asked =
    'total = sum(t.use)\nodds = chance(total > 46 W)\nmiddle = percentile(total, 50 %)\nsure = odds with t.use("lamp") = 41 W\nnone at all = middle with t.use = 1 W';
  const fixed = `${table('30 W')}\n${asked}\nscenario Unsure\n  t.use("lamp") = 40 W ± 5 W`;

  test('is drawn as the same entry in the table is', () => {
    expect(cellsOf(fixed, 7, 1)).toEqual(cellsOf(`${table('40 W ± 5 W')}\n${asked}`));
  });

  test('has the shares of its distribution', () => {
    const { odds, middle, sure, 'none at all': put } = cellsOf(fixed, 7, 1);
    // The median of 40 ± 5 and 6 is 46: above it lies half.
    expect(Math.abs((odds as number) - 50)).toBeLessThan((350 * 0.5) / Math.sqrt(TRIALS));
    expect(Math.abs((middle as number) - 46)).toBeLessThan(0.5);
    // 41 + 6 is always more than 46; 1 + 1 is 2 in every trial.
    expect([sure, put]).toEqual([100, 2]);
  });

  test('is nothing in the plan', () => {
    // 30 + 6 in every trial.
    expect(cellsOf(fixed)).toMatchObject({ total: 36, odds: 0, middle: 36 });
  });

  test('moves what depends on it in the trials of that scenario', () => {
    const body = `${table('30 W')}\ntotal = sum(t.use)\nscenario Unsure\n  t.use("lamp") = 40 W ± 5 W`;
    const session = openSession(notebook(body, `${PLACE}\ntrials: 400\nseed: 7`));
    const [one] = influenceOf(session, 'total', 1, 400);
    // From 10 % to 90 % of a normal spread: 40 ± 1.2816 × 5, and 6 more.
    expect(one?.low).toBeCloseTo(46 - 6.408, 2);
    expect(one?.high).toBeCloseTo(46 + 6.408, 2);
    expect(influenceOf(session, 'total', 0, 400)).toEqual([]);
  });
});

// A share of trials in which nothing is drawn is the plan's own yes or no, and no estimate.
describe('a share with nothing uncertain in it', () => {
  const body = [
    'a = 5 W',
    'u = 2..3..4 W',
    'never = chance(a > 10 W)',
    'always = chance(a > 1 W)',
    'rare = chance(u > 10 W)',
    'put in = chance(u > 10 W) with u = 5 W',
    't = table\n  k | use\n  lamp | 2..3..4 W\n  fan | 6 W',
    'by row = chance(sum(t.use) > 100 W)',
    'scenario Calm\n  u = 1 W',
    'scenario Wild\n  a = 1..2..3 W',
  ].join('\n');
  const texts = (column: number): Record<string, string> => {
    const session = openSession(notebook(body, `${PLACE}\ntrials: 200\nseed: 7`));
    const { cells, messages } = session.report(column, false);
    expect(messages).toEqual([]);
    return Object.fromEntries(
      Object.entries(cells).map(([name, { text }]) => [
        name,
        text.replaceAll('\u00a0', ' ').replace(/ \(.*$/u, ''),
      ]),
    );
  };

  test('is plainly 0 % or 100 %', () => {
    // Of 200 without a hit Wilson's interval ends at 1.96² / (200 + 1.96²) = 1.88 %.
    expect(texts(0)).toMatchObject({
      never: '0 %',
      always: '100 %',
      'put in': '0 %',
      rare: 'below 1.88 %',
      'by row': 'below 1.88 %',
    });
  });

  test('is so where a scenario takes the uncertain away, and not where it brings it in', () => {
    expect(texts(1)).toMatchObject({ rare: '0 %', never: '0 %', always: '100 %' });
    expect(texts(2)).toMatchObject({ never: 'below 1.88 %', always: 'above 98.1 %' });
  });
});
