// Studies: trials, influence, sweeps. Expected numbers come from distributions whose quantiles are
// known, from a printed rank correlation, or from editing the notebook by hand.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  influenceTable,
  openSession,
  startStudies,
  sweepTable,
  trialTables,
} from '../../../engine/index.ts';
import { correlation, influenceOn, ranks } from '../../../engine/study/influence.ts';
import { ColumnTrials } from '../../../engine/study/trials.ts';
import { testCases } from '../../tools/test-cases.ts';

const NOTEBOOK = `dapple 1
trials: 2000
seed: 11

harvest = between(100 Wh, 300 Wh)
need    = 180 Wh ± 20 Wh
spare   = harvest - need
check spare ≥ 0 Wh
scenario Thrifty
  need = 120 Wh
`;

function idOf(session: ReturnType<typeof openSession>, name: string): number {
  const id = session.evaluation.checked.scope.cells.get(name);
  if (id === undefined) throw new Error(`no cell ${name}`);
  return id;
}

test('a table of influence that would take minutes is refused before it is begun', () => {
  const givens = Array.from({ length: 300 }, (_, i) => `given ${i} = 1..2..3 W`);
  const total = givens.map((_, i) => `given ${i} × shape`).join(' + ');
  const text = `dapple 1
place: 50 °N, 10 °E, 0 m, UTC+1

clock = timeline(from: 2027-06-01, until: 2027-12-01, by: 10 min)
${givens.join('\n')}
shape = if time of day(clock) > 12:00 then 1 else 2
total = energy(${total})
`;
  const session = openSession(text);
  const told = influenceTable(session, 0, 'total', 10_000);
  expect(told).toContain('What moves "total" would take too long to find with 10000 trials');
  expect(influenceTable(openSession(NOTEBOOK), 0, 'spare', 100)).toMatchObject({
    title: 'what moves spare most',
  });
  const rows = openSession('dapple 1\n\nloads = table\n  name | power\n  lamp | 3 W\n');
  expect(influenceTable(rows, 0, 'Loads', 100)).toContain('or it is no single amount');
  expect(influenceTable(rows, 0, 'lamp', 100)).toBe('There is no cell called "lamp".');
});

describe('trials', () => {
  test('bands of a number alone stop no trials, and the chart says what it needs', () => {
    const session = openSession(`${NOTEBOOK}chart spare as bands\n`);
    const work = startStudies(session);
    while (work.step(() => false));
    session.adoptStudies(work.result());
    const row = session.snapshot().rows.find(({ kind }) => kind === 'chart');
    const { state, text } = session.chart(row?.item ?? -1);
    expect(state).toBe('error');
    expect(text).toContain('"spare" is one amount. Draw it as spread');
  });

  test('a uniform given has the quantiles of the uniform distribution within three standard errors', () => {
    const session = openSession(NOTEBOOK);
    const work = startStudies(session);
    while (work.step(() => false));
    const sample = work.result().columns[0]?.samples.get(idOf(session, 'harvest'));
    const sorted = [...(sample ?? [])].map((joules) => joules / 3600).sort((a, b) => a - b);
    expect(sorted.length).toBe(2000);
    // The error of a quantile p of n draws is √(p(1−p)/n) over the density, here 1/200 Wh.
    for (const p of [0.1, 0.5, 0.9]) {
      const error = 3 * Math.sqrt((p * (1 - p)) / 2000) * 200;
      expect(Math.abs((sorted[Math.round(p * 1999)] ?? 0) - (100 + 200 * p))).toBeLessThan(error);
    }
  });

  test('the share in which a check holds is that of the difference of the two distributions', () => {
    const session = openSession(NOTEBOOK);
    const work = startStudies(session);
    while (work.step(() => false));
    const [plan, thrifty] = work.result().columns;
    // harvest uniform on 100..300, need normal 180 ± 20, cut off at neither end worth speaking of:
    // P(harvest ≥ need) = E[(300 − need) / 200] = (300 − 180) / 200 = 0.6. Three errors: 0.033.
    expect((plan?.all ?? 0) / 2000).toBeGreaterThan(0.6 - 0.033);
    expect((plan?.all ?? 0) / 2000).toBeLessThan(0.6 + 0.033);
    // With need held at 120 Wh: (300 − 120) / 200 = 0.9. Three errors: 0.02.
    expect((thrifty?.all ?? 0) / 2000).toBeGreaterThan(0.88);
    expect((thrifty?.all ?? 0) / 2000).toBeLessThan(0.92);
  });

  test('any split of the trials gives the same bits', () => {
    const { evaluation } = openSession(NOTEBOOK);
    const whole = new ColumnTrials(evaluation, 0, [], 300);
    while (whole.step(300));
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 299 }), { maxLength: 12 }), (sizes) => {
        const split = new ColumnTrials(evaluation, 0, [], 300);
        for (const size of sizes) split.step(size);
        while (split.step(300));
        expect(split.result()).toEqual(whole.result());
      }),
      { numRuns: testCases(30) },
    );
  });

  test('a scenario sees the same draws of what it leaves alone', () => {
    const session = openSession(NOTEBOOK);
    const work = startStudies(session, 50);
    while (work.step(() => false));
    const [plan, thrifty] = work.result().columns;
    const harvest = idOf(session, 'harvest');
    expect(thrifty?.samples.get(harvest)).toEqual(plan?.samples.get(harvest));
  });

  /** What the command line prints of the results. */
  const rowsOf = (text: string): readonly unknown[] => {
    const found = trialTables(openSession(text), 0, 40);
    return typeof found === 'string' ? [] : (found[1]?.rows ?? []);
  };

  test('another seed draws other numbers', () => {
    expect(rowsOf(NOTEBOOK).length).toBeGreaterThan(0);
    const one = rowsOf(NOTEBOOK)[0];
    const other = rowsOf(NOTEBOOK.replace('seed: 11', 'seed: 12'))[0];
    expect(other).not.toEqual(one);
  });

  test('a moment is told as it is typed', () => {
    // From three o'clock on, by one to two hours: between four and five in nine trials of ten.
    const rows = rowsOf(
      'dapple 1\ntrials: 40\n\nstay = 1 h..1.5 h..2 h\nback = 2027-06-11 15:00 + stay\n',
    );
    const [, , ...quantiles] = (rows as readonly (readonly unknown[])[])[1] ?? [];
    expect(quantiles).toHaveLength(3);
    for (const one of quantiles) expect(one).toMatch(/^2027-06-11 16:[0-5]\d$/u);
  });

  test('a notebook without an uncertain given has no trials', () => {
    expect(trialTables(openSession('dapple 1\n\na = 3 W\ncheck a > 1 W\n'), 0, 10)).toEqual([]);
  });
});

describe('more than the command line works without being asked again', () => {
  const YEAR = `dapple 1
place: 42.6 °N, 121.6 °W, 1450 m, UTC-7

begin = 2027-01-01 00:00
clock = timeline(from: begin, until: begin + 365 × 24 h, by: 1 min)
late = 0..5..10 min
up = time while(sun position(clock + late).elevation > 0°)
`;

  test('a thousand trials of a year by minutes are a sentence, at once', () => {
    expect(trialTables(openSession(YEAR), 0, 1000)).toMatch(
      /1000 trials .* take at most \d+, or/iu,
    );
  });

  test('ten thousand steps of it as well', () => {
    expect(sweepTable(openSession(YEAR), 0, 'late from 0 min to 9999 s by 1 s')).toMatch(
      /10000 steps .* Take longer steps/u,
    );
  });
});

describe('influence', () => {
  test('rank correlation of the printed example is −29/165 (Spearman coefficient, ten pairs of test score and hours)', () => {
    const score = Float64Array.from([106, 100, 86, 101, 99, 103, 97, 113, 112, 110]);
    const hours = Float64Array.from([7, 27, 2, 50, 28, 29, 20, 12, 6, 17]);
    expect(correlation(ranks(score), ranks(hours))).toBeCloseTo(-29 / 165, 12);
  });

  test('equal values share their mean rank', () => {
    expect([...ranks(Float64Array.from([5, 3, 5, 1]))]).toEqual([2.5, 1, 2.5, 0]);
  });

  test('the given with the wider swing comes first, with its direction', () => {
    const session = openSession(NOTEBOOK);
    const list = influenceOn(session.evaluation, 0, idOf(session, 'spare'), 400);
    expect(list.map((one) => one.name)).toEqual(['harvest', 'need']);
    const [harvest, need] = list;
    // 10 % and 90 % of 100..300 Wh are 120 and 280 Wh; need stays at its middle of 180 Wh.
    expect((harvest?.low ?? 0) / 3600).toBeCloseTo(120 - 180, 9);
    expect((harvest?.high ?? 0) / 3600).toBeCloseTo(280 - 180, 9);
    expect(need?.low ?? 0).toBeGreaterThan(need?.high ?? 0);
    expect(harvest?.rank ?? 0).toBeGreaterThan(0.8);
    expect(need?.rank ?? 0).toBeLessThan(0);
  });
});

describe('a sweep', () => {
  const CABLE =
    'dapple 1\n\nlength = 10 m\nper metre = 5 mΩ/m\nloop = 2 × length × per metre as mΩ\nother = 3 V\n';

  test('gives what editing the given gives, and leaves out what does not move', () => {
    const table = sweepTable(openSession(CABLE), 0, 'length from 5 m to 20 m by 5 m');
    if (typeof table === 'string') throw new Error(table);
    expect(table.head).toEqual(['length (m)', 'loop (mΩ)']);
    // 2 × length × 5 mΩ/m
    expect(table.rows.map(([x]) => x)).toEqual([5, 10, 15, 20]);
    expect(table.rows.map(([, y]) => Number(Number(y).toPrecision(12)))).toEqual([
      50, 100, 150, 200,
    ]);
  });

  test('gives moments as they are typed', () => {
    const text = 'dapple 1\n\nstay = 2 h\nback = 2027-06-11 15:00 + stay\n';
    const table = sweepTable(openSession(text), 0, 'stay from 1 h to 2 h by 30 min');
    if (typeof table === 'string') throw new Error(table);
    expect(table.rows).toEqual([
      [1, '2027-06-11 16:00'],
      [1.5, '2027-06-11 16:30'],
      [2, '2027-06-11 17:00'],
    ]);
  });

  test.each([
    ['length', 'GIVEN from A to B by C'],
    ['breadth from 1 m to 2 m by 1 m', 'No cell is called "breadth"'],
    ['length from 5 m to 1 m by 1 m', 'lead from the first end to the last'],
    ['length from loop to 9 m by 1 m', 'plain amounts'],
  ])('%s is answered with a sentence', (wanted, part) => {
    expect(sweepTable(openSession(CABLE), 0, wanted)).toContain(part);
  });
});

describe('a replaced uncertain given', () => {
  const HELD = `dapple 1
trials: 400

a = 1..5..9 W
b = a × 2
things = table
  row | power
  one | 1..5..9 W
odds = chance(b ≥ 8 W)
low  = percentile(b, 10 %)
other = chance(b ≥ 8 W) with a = 2 W
derived = chance(b ≥ 8 W) with b = 9 W
entry = percentile(things.power("one"), 10 %) with things.power("one") = 3 W
scenario Fixed
  a = 2 W
`;

  test('is not drawn again in the trials of a what-if', () => {
    const { cells } = openSession(HELD).report(0, false);
    // a is 2 W in every trial, so b is 4 W; b itself 9 W; the entry 3 W.
    expect(cells.other?.value).toBe(0);
    expect(cells.derived?.value).toBe(100);
    expect(cells.entry?.value).toBeCloseTo(3, 12);
    // Left alone it is drawn: P(a ≥ 4) = 1 − 9/32 = 72 %, three errors of 400 trials are 7 points.
    expect(Math.abs(Number(cells.odds?.value) - 71.9)).toBeLessThan(7);
  });

  test('is not drawn again in the trials of a scenario', () => {
    const { cells } = openSession(HELD).report(1, false);
    expect(cells.odds?.value).toBe(0);
    expect(cells.low?.value).toBeCloseTo(4, 12);
  });
});
