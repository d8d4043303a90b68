// Series: called at a place, reduced, stepped, with entries absent. A day of four steps of six hours
// keeps every value within reach of mental arithmetic.

import { describe, expect, test } from 'vitest';
import { evaluated, report, type Value, values } from './evaluated.ts';

// The clock runs from Friday 18:00 to Sunday 06:00 in six steps of six hours:
//
//     step     18–24   0–6   6–12  12–18  18–24   0–6
//     load      50 W  100 W   0 W    0 W   50 W  100 W    100 W from 21:00 to 06:00
//     harvest    0 W    0 W 100 W  100 W    0 W    0 W    100 W from 06:00 to 18:00
const BODY = `power = 100 W
clock = timeline(from: 2027-05-14 18:00, until: 2027-05-16 06:00, by: 6 h)
night = 21:00..06:00
load = power × during(clock, night)
harvest = power × during(clock, 06:00..18:00)
aim = table
  from | tilt | mode
  06:00 | 30° | "east"
  12:30 | 50° | "west"
plan = table
  day | low | word
  2027-05-14 | 3 °C | dry
  2027-05-15 | 5 °C | wet
curve = table
  x | y | z | w
  0 | 0 W | 1 |
  10 | 100 W | 2 | 4 W
  20 | 50 W | | 6 W
loads = table
  item | draw | hours | day = draw × hours.length as Wh
  lamp | 6 W | 20:30..23:00 |
  box | 45 W | 00:00..24:00 | = 45 W × 8 h
  radio | | 19:00..21:00 |
log = table
  moment | charge | counted
  2027-05-14 18:00 | 100 % |
  2027-05-15 06:00 | | 610 Wh
  2027-05-15 12:30 | 80 % | 90 Wh
profile = load profile(power: loads.draw, hours: loads.hours, at: clock)
store = battery run(charging: harvest, load: load, capacity: 1000 Wh, start: 50 %, round trip: 100 %)
state = store.charge
read store = battery run(charging: harvest, load: load, capacity: 1000 Wh, start: 50 %, round trip: 100 %,
  readings: log.charge, read at: log.moment)
read state = read store.charge
total = running total(harvest, start: 0 Wh)`;

type Case = [formula: string, value: Value, unit?: string];

const CASES: Readonly<Record<string, readonly Case[]>> = {
  'a table of texts, numbers, times or dates is called at a row': [
    ['loads.draw("box")', 45, 'W'],
    ['curve.y(10)', 100, 'W'],
    ['curve.y(5)', 50, 'W'], // straight between 0 W and 100 W
    ['curve.y(15)', 75, 'W'],
    ['curve.y(curve.x)', [0, 100, 50], 'W'],
    ['aim.tilt(06:00)', 30, '°'],
    ['aim.tilt(12:29)', 30, '°'], // holds until the next row
    ['aim.tilt(12:30)', 50, '°'],
    ['aim.tilt(05:59)', 50, '°'], // the last row holds past midnight
    ['aim.mode(05:00)', 'west'],
    ['aim.tilt(2027-05-14 13:00)', 50, '°'], // a moment is met by its clock reading
    ['aim.mode(clock)', ['west', 'west', 'east', 'west', 'west', 'west']], // 21, 3, 9, 15, 21, 3 o'clock
    ['plan.low(2027-05-14 23:59)', 3, '°C'],
    ['plan.low(2027-05-15)', 5, '°C'],
    ['plan.word(2027-05-20)', 'wet'],
  ],
  // One end is the same at every place, the other is a series: each place has both.
  'spans along an axis': [
    ['(05:00..aim.from)(06:00)', { start: '05:00', end: '06:00' }],
    ['(05:00..aim.from)(13:00)', { start: '05:00', end: '12:30' }],
    ['(aim.from..22:00)(13:00)', { start: '12:30', end: '22:00' }],
    ['last(05:00..aim.from)', { start: '05:00', end: '12:30' }],
    [
      'previous(05:00..aim.from, first: 01:00..02:00)',
      [
        { start: '01:00', end: '02:00' },
        { start: '05:00', end: '06:00' },
      ],
    ],
    ['(1 W..curve.y)(10)', { start: 1, end: 100 }, 'W'],
  ],
  'a rate holds through its step, a state runs straight between the ends': [
    ['load(2027-05-14 18:00)', 50, 'W'],
    ['load(2027-05-15 05:59)', 100, 'W'],
    ['load(2027-05-15 06:00)', 0, 'W'],
    ['load(2027-05-16 06:00)', 100, 'W'],
    ['total(2027-05-15 12:00)', 600, 'Wh'], // 100 W × 6 h at the end of the third step
    ['total(2027-05-15 15:00)', 900, 'Wh'], // half way to 1200 Wh
    ['total(2027-05-14 18:00)', 0, 'Wh'], // at the very start: the first value
    ['state(2027-05-14 18:00)', 20, '%'],
    ['total(2027-05-16 06:00)', 1200, 'Wh'], // at the very end: 100 W × 12 h
    ['state(2027-05-15 00:00)', 20, '%'], // 500 Wh − 50 W × 6 h of 1000 Wh
  ],
  'a timeline': [
    [
      'clock',
      [
        '2027-05-14 21:00',
        '2027-05-15 03:00',
        '2027-05-15 09:00',
        '2027-05-15 15:00',
        '2027-05-15 21:00',
        '2027-05-16 03:00',
      ],
    ],
    ['clock.start', '2027-05-14 18:00'],
    ['clock.end', '2027-05-16 06:00'],
    ['clock.step as h', 6, 'h'],
    ['trip day(clock)', [1, 2, 2, 2, 2, 3]],
    ['trip day(2027-05-15 12:00)', 2],
    ['time of day(2027-05-15 12:15)', '12:15'],
    ['during(clock, night)', [50, 100, 0, 0, 50, 100], '%'],
    ['during(clock, 2027-05-14 18:00..2027-05-15 03:00)', [100, 50, 0, 0, 0, 0], '%'],
    ['during(clock, 12:00..12:00)', [0, 0, 0, 0, 0, 0], '%'],
  ],
  reductions: [
    ['energy(load)', 1800, 'Wh'], // (50 + 100 + 50 + 100) W × 6 h
    ['energy(load, where: clock within 2027-05-15..2027-05-16)', 900, 'Wh'],
    ['mean(harvest)', 100 / 3, 'W'],
    ['time while(load > 0 W)', 24, 'h'],
    ['first moment(harvest > 0 W)', '2027-05-15 06:00'], // a rate: the start of the step
    ['first moment(total ≥ 600 Wh)', '2027-05-15 12:00'], // a state: its end
    ['first moment(total > 1 kWh, otherwise: 2027-06-01)', '2027-05-15 18:00'],
    ['first moment(total > 5 kWh, otherwise: 2027-06-01)', '2027-06-01'],
    ['sum(curve.y, where: curve.x > 5)', 150, 'W'],
    ['sum(curve.y, where: curve.x > 50)', 0, 'W'],
    ['last(curve.y, where: curve.x > 50, otherwise: 7 W)', 7, 'W'],
    ['count(curve.y > 20 W)', 2],
    ['lowest(aim.from)', '06:00'],
    ['at highest(curve.y)', 10],
    ['at lowest(loads.draw)', 'lamp'],
    ['at highest(harvest)', '2027-05-15 09:00'], // the earliest of equals, at its middle
    ['highest(steps(3 m, 7 m, 5 m))', 7, 'm'],
    ['at highest(steps(3 m, 7 m, 5 m))', 7, 'm'],
  ],
  'absent entries': [
    ['sum(curve.w)', 10, 'W'],
    ['mean(curve.w)', 5, 'W'],
    ['first(curve.w)', 4, 'W'],
    ['last(curve.z)', 2],
    ['count(curve.w > 4 W)', 1],
    ['curve.w + 1 W', [null, 5, 7], 'W'],
    ['curve.w + curve.y', [null, 104, 56], 'W'],
    ['sum(curve.w + curve.y)', 160, 'W'],
    ['at lowest(curve.w)', 10],
    ['loads.draw("radio")', null, 'W'],
    ['loads.day', [15, 360, null], 'Wh'], // 6 W × 2.5 h; the entry replaces the formula
    ['sum(loads.day)', 375, 'Wh'],
    ['last(log.charge)', 80, '%'],
    ['sum(log.counted)', 700, 'Wh'],
  ],
  'day by day, also days in part': [
    ['daily energy(load)', [300, 900, 600], 'Wh'],
    ['daily energy(harvest)', [0, 1200, 0], 'Wh'],
    ['daily mean(load)', [50, 37.5, 100], 'W'], // (100 + 0 + 0 + 50) / 4
    ['daily highest(load)', [50, 100, 100], 'W'],
    ['daily lowest(load)', [50, 0, 100], 'W'],
    ['daily energy(harvest)(2027-05-15)', 1200, 'Wh'],
    ['sum(daily energy(load)) - energy(load)', 0, 'Wh'],
  ],
  'steps through time': [
    ['total', [0, 0, 600, 1200, 1200, 1200], 'Wh'],
    ['running total(harvest, start: 0 Wh, most: 700 Wh)', [0, 0, 600, 700, 700, 700], 'Wh'],
    ['running total(curve.y)', [0, 100, 150], 'W'],
    [
      'running total(harvest - load, start: 800 Wh, least: 100 Wh)',
      [500, 100, 700, 1300, 1000, 400],
      'Wh',
    ], // 500 − 600 stops at 100
    ['previous(load, first: 7 W)', [7, 50, 100, 0, 0, 50], 'W'],
    ['previous(load, first: 7 W) as kW', [0.007, 0.05, 0.1, 0, 0, 0.05], 'kW'],
    ['(previous(load, first: 7 W) as kW) + 1 W', [0.008, 0.051, 0.101, 0.001, 0.001, 0.051], 'kW'],
    ['previous(curve.x, first: 0)', [0, 0, 10]],
    // 45 W all day, the lamp's 15 Wh an evening in a step of 6 h; the radio's power is absent.
    ['profile', [47.5, 45, 45, 45, 47.5, 45], 'W'],
    ['energy(profile)', 1650, 'Wh'], // 45 W × 36 h + 2 × 15 Wh
  ],
  'a battery': [
    // 500 Wh − 300 Wh = 200 Wh; 600 Wh asked, 200 Wh there, 400 Wh short.
    ['energy(store.unserved)', 400, 'Wh'],
    ['state(2027-05-15 06:00)', 0, '%'],
    ['state(2027-05-15 12:00)', 60, '%'], // 100 W × 6 h
    // What comes in and what is there at first is what goes out, is spilled or is left.
    [
      '500 Wh + energy(harvest) - energy(store.spilled) - (energy(load) - energy(store.unserved)) - last(store.energy)',
      0,
      'Wh',
    ],
    // A reading stands at the end of the step that holds it.
    ['read state(2027-05-15 00:00)', 100, '%'],
    ['read state(2027-05-15 06:00)', 40, '%'], // − 100 W × 6 h
    ['read state(2027-05-15 18:00)', 80, '%'],
    ['read state(2027-05-16 00:00)', 50, '%'], // − 50 W × 6 h
    ['(read state with log.charge = none)(2027-05-15)', 20, '%'],
  ],
};

describe.each(Object.entries(CASES))('%s', (_, rows) => {
  test.each(rows)('%s', (formula, value, unit = '') => {
    const { cell, messages } = evaluated(BODY, formula);
    expect(messages).toEqual([]);
    const found = values(cell);
    if (Array.isArray(value) && typeof value[1] === 'number') {
      expect(found).toHaveLength(value.length);
      value.forEach((wanted: unknown, i) => {
        const one: unknown = Array.isArray(found) ? found[i] : undefined;
        if (wanted === null) expect(one).toBeNull();
        else expect(one).toBeCloseTo(wanted as number, 6);
      });
    } else if (typeof value === 'number') expect(found).toBeCloseTo(value, 6);
    else expect(found).toEqual(value);
    expect(cell.unit).toBe(unit);
  });
});

describe('a place that is not there is an error of the value', () => {
  test.each([
    ['curve.y(21)', 'outside-rows', 'outside the rows of curve'],
    ['curve.y(-1)', 'outside-rows', 'outside the rows of curve'],
    ['plan.low(2027-05-13)', 'outside-rows', 'before the first row of plan'],
    [
      'load(2027-05-14 17:59)',
      'outside-axis',
      'Fri 14 May 17:59 lies outside clock, which runs from Fri 14 May 18:00',
    ],
    ['load(2027-05-16 06:01)', 'outside-axis', 'outside clock'],
    [
      'daily energy(load)(2027-05-17)',
      'outside-axis',
      'is none of the days of clock, which go from Fri 14 May to Sun 16',
    ],
    ['lowest(curve.y, where: curve.x > 50)', 'nothing-left', 'no place is left'],
    ['last(curve.y, where: curve.x > 50)', 'nothing-left', 'otherwise:'],
    ['first moment(state > 200 %)', 'nothing-left', 'otherwise:'],
    ['1 / (power - 100 W)', 'divided-by-zero', 'divides by zero: "power - 100 W" is 0'],
    ['sqrt(-1)', 'root-negative', 'below zero'],
  ])('%s: %s', (formula, code, words) => {
    const { cell, messages } = evaluated(BODY, formula);
    expect(messages.map((message) => message.code)).toEqual([code]);
    expect(cell.value).toBeNull();
    expect(cell.error).toContain(words);
  });
});

describe('tables', () => {
  test.each([
    ['t = table\n  a | b\n  x | 1\n  x | 2', 'rows-order', 'Two rows have the same name'],
    ['t = table\n  a | b\n  2 | 1\n  1 | 2', 'rows-order', 'must rise'],
    [
      't = table\n  a | b\n  x | 1 W\n  y | 2 V',
      'column-kind',
      '"2 V" is a voltage (V), but the entry above is a power (W)',
    ],
    ['t = table\n  a | b\n  | 1', 'row-unnamed', 'every row needs a plain value'],
    ['t = table\n  a | a\n  x | 1', 'column-taken', 'two columns called "a"'],
  ])('%s is refused', (body, code, words) => {
    const { cells, messages: told } = report(`${body}\nother = 1`);
    expect(cells.other?.value).toBe(1);
    expect(told.map((message) => message.code)).toEqual([code]);
    expect(told[0]?.text).toContain(words);
  });
});

test('a circle may stand before the clock it runs along', () => {
  // 4 W, then twice the one before and 4 W more: 4, 12, 28, 60.
  const { cells } = report(
    `doubled = grown × 2
grown = previous(doubled, first: 0 W) + 4 W
clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)`,
    0,
    true,
  );
  expect(values(cells.grown)).toEqual([4, 12, 28, 60]);
  expect(values(cells.doubled)).toEqual([8, 24, 56, 120]);
});

// "An absent table entry is left out and the cell says how many were": the language's own definition.
test('a sum over absent entries says how many it leaves out', () => {
  const { cells } = report(
    't = table\n  k | n | share\n  a | 210 Wh | 71 %\n  b | | 58 %\n  c | 260 Wh | 64 %\n  d | | 7 %\ntotal = sum(t.n)\neach = mean(t.n)\nleast = lowest(t.n)\nshares = sum(t.share)\nfirst one = first(t.n)',
  );
  const texts = Object.entries(cells).map(([name, { text }]) => [
    name,
    text.replaceAll('\u00a0', ' '),
  ]);
  expect(Object.fromEntries(texts)).toMatchObject({
    total: '470 Wh (2 absent left out)',
    each: '235 Wh (2 absent left out)',
    least: '210 Wh (2 absent left out)',
    shares: '200 %',
    'first one': '210 Wh',
  });
});

test('a share is reported with the digits it was written with', () => {
  // 0.58, 0.07 and 0.29 times a hundred are no whole numbers in binary floating point.
  const { cells } = report('a = 58 %\nb = 7 %\nc = 29 %');
  expect([cells.a?.value, cells.b?.value, cells.c?.value]).toEqual([58, 7, 29]);
});

test('a difference of two readings in °F is told in its own degrees', () => {
  // 88 °F is 28 degrees above 60 °F; a degree of Fahrenheit is 5/9 K.
  const { cells } = report(
    'a = 88 °F\nb = 60 °F\nc = 20 °C\nrise = a - b\nmixed = a - c\nkelvin = a - b as K',
  );
  expect(cells.rise).toMatchObject({ value: 28, unit: 'Δ°F' });
  expect(cells.kelvin?.value).toBeCloseTo(15.5556, 4);
  expect(cells.mixed).toMatchObject({ unit: 'K' });
});
