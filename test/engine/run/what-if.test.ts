// One graph run again with some cells different: `with`, sweeps, solving, scenarios. Right sides are
// worked in the present run; the change is felt everywhere the cell is used.

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import { evaluated, notebook, report, type Value, values } from './evaluated.ts';

const BODY = `length of lead = 10 m
per length = 8 Ω/km
current in it = 5 A
drop = 2 × length of lead × per length × current in it as V
double = drop × 2
nights = 2
arrival = 2027-05-14
clock = timeline(from: arrival, until: arrival + nights × 24 h, by: 6 h)
hours = 18:00..24:00
rating = 100 W
harvest = rating × during(clock, 06:00..18:00)
evening = 10 W × during(clock, hours)
loads = table
  item | draw | hours
  lamp | 6 W | 20:30..23:00
  box | 45 W | 00:00..24:00
curve = table
  x | y
  0 | 0 W
  10 | 100 W
  20 | 50 W
total = sum(loads.draw)
level = previous(level, first: 100 Wh) + (if switched on then -30 W else 5 W) × clock.step
switched on = previous(level, first: 100 Wh) ≥ 60 Wh`;

// drop = 2 × 10 m × 0.008 Ω/m × 5 A = 0.8 V
type Case = [formula: string, value: Value, unit?: string];

const CASES: Readonly<Record<string, readonly Case[]>> = {
  with: [
    ['drop with length of lead = 20 m', 1.6, 'V'],
    ['drop with length of lead = 20 m, current in it = 2.5 A', 0.8, 'V'], // both at once
    ['double - drop with length of lead = 20 m', 1.6, 'V'], // (3.2 − 1.6) V
    ['(double with length of lead = 20 m) - drop', 2.4, 'V'],
    ['double with drop = 3 V', 6, 'V'], // a derived cell may be replaced
    ['(drop with length of lead = 2 × length of lead) with length of lead = 3 m', 0.48, 'V'], // 2 × (2 × 3 m) × 0.008 Ω/m × 5 A
    ['drop with length of lead = length of lead + 5 m', 1.2, 'V'],
    [
      'drop with length of lead = current in it × 1 m / 1 A, current in it = length of lead × 1 A / 1 m',
      0.8,
      'V',
    ], // exchanged: 5 m, 10 A
    ['total with loads.draw("lamp") = 10 W', 55, 'W'],
    ['total with loads.draw = 2 × loads.draw', 102, 'W'],
    ['total with loads.draw = 1 W', 2, 'W'], // one amount for every row
    ['total with loads.draw("box") = none', 6, 'W'],
    ['sum(curve.y) with curve.y = none', 0, 'W'],
    ['curve.y(5) with curve.y(10) = 20 W', 10, 'W'],
    ['energy(harvest) with hours = 00:00..00:00', 2400, 'Wh'], // it does not draw on hours
    ['energy(evening) with hours = 21:00..06:00', 180, 'Wh'], // 10 W × (3 + 6) h × 2 days
    ['energy(evening) with hours = 08:00..08:00', 0, 'Wh'],
  ],
  'a timeline of another length': [
    ['energy(harvest) with nights = 3', 3600, 'Wh'],
    ['energy(harvest) with nights = steps(1, 4, by: 1)', [1200, 2400, 3600, 4800], 'Wh'],
    ['energy(harvest) with nights = 1, rating = steps(50 W, 100 W)', [600, 1200], 'Wh'],
  ],
  sweeps: [
    ['drop with length of lead = steps(5 m, 20 m, by: 5 m)', [0.4, 0.8, 1.2, 1.6], 'V'],
    ['(drop with length of lead = steps(5 m, 20 m, by: 5 m))(12.5 m)', 1, 'V'],
    ['highest((drop with length of lead = steps(5 m, 20 m, by: 5 m)))', 1.6, 'V'],
    ['at highest((drop with length of lead = steps(5 m, 20 m, by: 5 m)))', 20, 'm'],
    ['drop with length of lead = steps(1 m, 30 m, 7 m)', [0.08, 2.4, 0.56], 'V'],
    // the first given is the outer one: 10 m with 1 A and 2 A, then 20 m
    [
      'drop with length of lead = steps(10 m, 20 m, by: 10 m), current in it = steps(1 A, 2 A, by: 1 A)',
      [0.16, 0.32, 0.32, 0.64],
      'V',
    ],
  ],
  solving: [
    ['solve(length of lead, so that: drop = 1.2 V, over: 1 m..100 m)', 15, 'm'],
    ['solve(length of lead, so that: drop ≥ 1.2 V, over: 1 m..100 m)', 15, 'm'], // the smallest from which on it holds
    ['solve(length of lead, so that: drop ≤ 1.2 V, over: 1 m..100 m)', 15, 'm'], // the largest at which it still holds
    ['solve(rating, so that: energy(harvest) ≥ 1 kWh, over: 0 W..500 W)', 1000 / 24, 'W'],
    ['solve(length of lead, so that: drop ≥ 0 V, over: 1 m..100 m)', 1, 'm'], // it holds from the low end on
  ],
  // The cool box takes 30 W until less than 60 Wh are left, then it is switched off and 5 W come in:
  // 100 − 180 = −80, then + 30 Wh in each of seven steps.
  'a circle through previous': [
    ['level', [-80, -50, -20, 10, 40, 70, -110, -80], 'Wh'],
    ['count(switched on)', 2],
    ['last(level) with nights = 1', 10, 'Wh'],
  ],
};

describe.each(Object.entries(CASES))('%s', (_, rows) => {
  test.each(rows)('%s', (formula, value, unit = '') => {
    const { cell, messages } = evaluated(BODY, formula);
    expect(messages).toEqual([]);
    const found = values(cell);
    const [wanted, got] = [value, found].map((v) => (Array.isArray(v) ? v : [v]));
    expect(got).toHaveLength(wanted?.length ?? -1);
    wanted?.forEach((v: unknown, i) => {
      expect(got?.[i]).toBeCloseTo(v as number, 6);
    });
    expect(cell.unit).toBe(unit);
  });
});

test('a result that still runs along a timeline that was changed is refused', () => {
  const { cell } = evaluated(BODY, 'harvest with nights = 3');
  expect(cell.error).toContain('Reduce it to one value first');
});

test('nothing in the range fits: the message gives both ends', () => {
  const { cell } = evaluated(BODY, 'solve(length of lead, so that: drop ≥ 80 V, over: 1 m..100 m)');
  expect(cell.value).toBeNull();
  expect(cell.error?.replace(/\u00a0/gu, ' ')).toMatch(
    /Nothing in the range fits: at 1 m it is .*, at 100 m 8 V/u,
  );
});

// ── scenarios ───────────────────────────────────────────────────────────────────────────────────

const SCENARIOS = `power = 100 W
hours = 4 h
work = power × hours as Wh
weather = table
  day | high | low
  1 | 20 °C |
  2 | 22 °C | 4 °C
warmest = highest(weather.high)
known low = lowest(weather.low)
loads = table
  item | draw
  lamp | 6 W
  box | 45 W
total = sum(loads.draw)
scenario Hot
  | A hot week.
  weather.high = weather.high + 8 K
  loads.draw("lamp") = 10 W
scenario Half
  power = power / 2
  hours = power / 25 W × 1 h
scenario Without
  weather.low = none
  loads.draw("box") = none
scenario By hand
  work = 10 Wh
scenario Broken
  powr = 3 W
  power = 3 V
  loads.draw("x") = 3 W
  weather = 3
  hours = 2 h`;

function inScenario(index: number, names: readonly string[]): unknown[] {
  const { cells } = openSession(notebook(SCENARIOS)).report(index, true);
  return names.map((name) => cells[name]?.value);
}

describe('scenarios', () => {
  test('the plan is column 0', () => {
    expect(inScenario(0, ['work', 'warmest', 'total'])).toEqual([400, 22, 51]);
  });

  test('a column and an entry are replaced', () => {
    expect(inScenario(1, ['work', 'warmest', 'total'])).toEqual([400, 30, 55]);
  });

  test('right sides are worked in the plan: hours are 100 W / 25 W, not 50 W / 25 W', () => {
    expect(inScenario(2, ['power', 'hours', 'work'])).toEqual([50, 4, 200]);
  });

  test('none takes entries away', () => {
    const { cells } = openSession(notebook(SCENARIOS)).report(3, true);
    expect(cells.total?.value).toBe(6);
    expect(cells['known low']?.error).toContain('no place is left');
    expect(inScenario(0, ['known low'])).toEqual([4]);
  });

  test('a derived cell may be replaced', () => {
    expect(inScenario(4, ['power', 'work'])).toEqual([100, 10]);
  });

  test('a broken override is told at its place and the others hold', () => {
    expect(inScenario(5, ['power', 'hours', 'work'])).toEqual([100, 2, 200]);
    const { messages } = report(SCENARIOS);
    const first = notebook(SCENARIOS).split('\n').indexOf('  powr = 3 W') + 1;
    expect(messages.filter((m) => m.line >= first).map((m) => [m.code, m.line - first])).toEqual([
      ['unknown-name', 0],
      ['override-kind', 1],
      ['unknown-row', 2],
      ['target-table', 3],
    ]);
  });

  test('equal editing the notebook', () => {
    const edited = report(SCENARIOS.replace('power = 100 W', 'power = 50 W'));
    const { cells } = openSession(notebook(SCENARIOS)).report(2, false);
    for (const name of ['power', 'work', 'total', 'warmest'])
      expect(cells[name]).toEqual(edited.cells[name]);
  });

  test('are found by name, whatever its case', () => {
    const session = openSession(notebook(SCENARIOS));
    expect([session.columnOf('by HAND'), session.columnOf('plan'), session.columnOf('x')]).toEqual([
      4, 0, -1,
    ]);
  });
});

test('the rows of a table are reduced first, at each step of a sweep', () => {
  // 1 + 2 at k = 1, 2 + 4 at k = 2, 3 + 6 at k = 3.
  const { cells, messages } = report(
    'k = 1\nt = table\n  x | n\n  a | 1\n  b | 2\ny = t.n × k\nz = sum((y with k = steps(1, 3, by: 1)))\ntop = highest(z)',
    0,
    true,
  );
  expect(messages).toEqual([]);
  expect(values(cells.z)).toEqual([3, 6, 9]);
  expect(cells.top?.value).toBe(9);
});

test('solving that would go beyond the work of a cell is refused at the first of its places', () => {
  // A year of minutes under the sun, looked at in 33 places and more.
  const session = openSession(
    notebook(
      'late = 5 min\nclock = timeline(from: 2027-01-01, until: 2028-01-01, by: 1 min)\nup = time while(sun position(clock + late).elevation > 0°)\nneed = solve(late, so that: up ≥ 4500 h, over: 0 min..100 min)',
    ),
  );
  const { machine } = session.evaluation.compiled;
  const work = machine.runCone.bind(machine);
  let passes = 0;
  machine.runCone = (...words) => {
    passes++;
    return work(...words);
  };
  expect(session.report(0, false).messages.map(({ code }) => code)).toEqual(['work-much']);
  expect(passes).toBe(1);
});

// Two sweeps of 10,000 are 100 million places, refused; what was done with the result took seconds
// and 800 MB all the same.
test.each([
  'lowest(swept)',
  'lowest(swept × 2)',
  '(if swept > 1 then 2 else 3)',
  'lowest(sin(swept × 1°))',
])('a refused sweep is worked no further: %s', (formula) => {
  const swept = '(z with x = steps(1, 10000, by: 1), y = steps(1, 10000, by: 1))';
  const session = openSession(
    `dapple 1\n\nx = 1\ny = 2\nz = x + y\na = ${formula.replace('swept', swept)}\n`,
  );
  const before = process.memoryUsage().arrayBuffers;
  while (session.continue(1e9, () => 0));
  expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(50e6);
  expect(session.snapshot().messages.map(({ code }) => code)).toEqual(['work-much']);
});
