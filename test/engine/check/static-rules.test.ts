// Every row of the table of static rules: what each operator needs and what it gives. Values stand
// beside the arithmetic that gives them; a broken rule gives one message, at its place.

import { describe, expect, test } from 'vitest';
import { columnOf, evaluated, report, type Value } from '../run/evaluated.ts';

const BODY = `power = 100 W
work = 50 Wh
stored = 10 Ah
volt = 12 V
air = 20 °C
cold = -10 °C
gap = 5 K
one = -73 dBm
two = -70 dBm
rise = 6 dB
share = 25 %
four = 4
start day = 2027-05-14
clock = timeline(from: 2027-05-14, until: 2027-05-16, by: 6 h)
harvest = power × during(clock, 06:00..18:00)
loads = table
  item | draw | hours
  lamp | 6 W | 20:30..23:00
  box | 45 W | 00:00..24:00
curve = table
  n | v
  1 | 2 W
  2 | 4 W
wake = 06:30
night = 21:00..06:00
area = 4 mm²
word = "yes"
sun = sun position(clock)`;

type Gives = [formula: string, value: Value, unit?: string];

const GIVES: Readonly<Record<string, readonly Gives[]>> = {
  'a + b': [
    ['power + 20 W', 120, 'W'],
    ['share + 5 %', 30, '%'],
    ['share + 1', 125, '%'],
    ['air + gap', 25, '°C'],
    ['gap + air', 25, '°C'],
    ['-40 °F + 9 K', -23.8, '°F'], // −40 °F + 9 · 9/5 °F
    ['one + rise', -67, 'dBm'],
    ['rise + one', -67, 'dBm'],
    ['rise + rise', 12, 'dB'],
    ['start day + 2 d', '2027-05-16', ''],
    ['start day + 6.5 h', '2027-05-14 06:30', ''],
    ['wake + 2 h', '08:30', ''],
    ['2 h + wake', '08:30', ''],
    ['23:00 + 2 h', '01:00', ''],
    ['wake + 48 h', '06:30', ''],
  ],
  'a - b': [
    ['power - 120 W', -20, 'W'],
    ['air - cold', 30, 'K'],
    ['air - 5 K', 15, '°C'],
    ['air - 5 °C', 15, 'K'],
    ['one - two', -3, 'dB'],
    ['one - rise', -79, 'dBm'],
    ['start day - 2027-05-10', 4, 'd'],
    ['start day - 6 h', '2027-05-13 18:00', ''],
    ['07:30 - wake', 1, 'h'],
    ['wake - 07:30', 23, 'h'], // forward round the clock
    ['wake - wake', 0, 'h'],
    ['01:00 - 2 h', '23:00', ''],
    ['3 - -4', 7, ''],
  ],
  'a × b, a / b': [
    ['volt × stored as Wh', 120, 'Wh'], // 12 · 10
    ['work / power as h', 0.5, 'h'],
    ['power / volt as A', 100 / 12, 'A'],
    ['power × share', 25, 'W'],
    ['power / 400 W/m²', 0.25, 'm²'],
    ['400 W/volt as A', 400 / 12, 'A'],
    ['gap × 2', 10, 'K'],
    ['air - (-273.15 °C)', 293.15, 'K'],
    ['3 m² as m²', 3, 'm²'],
    ['(3 m)²', 9, 'm²'],
  ],
  'a ^ b': [
    ['-2²', -4, ''],
    ['2^3^2', 512, ''], // 2^(3^2)
    ['2^-1', 0.5, ''],
    ['(9 m²)^0.5 as m', 3, 'm'],
    ['(2 m)³ as L', 8000, 'L'],
    ['four ^ four', 256, ''],
    ['sqrt(9 m²)', 3, 'm'],
  ],
  '-a': [
    ['-gap', -5, 'K'],
    ['-power', -100, 'W'],
    ['-rise', -6, 'dB'],
  ],
  comparisons: [
    ['1 < 2 < 3', true],
    ['1 < 3 < 2', false],
    ['10 V ≤ volt ≤ 12 V', true],
    ['volt = 12 V', true],
    ['volt ≠ 12 V', false],
    ['0.1 + 0.2 = 0.3', true], // equal within 1e-9 of the larger
    ['word = "yes"', true],
    ['word ≠ "no"', true],
    ['air > cold', true],
    ['start day < 2027-05-14 00:15', true],
    ['wake < 07:00', true],
    ['power > 1 W and volt > 12 V or word = "no"', false],
    ['not (volt > 12 V)', true],
  ],
  'a within s': [
    ['10 V within 10..30 V', true],
    ['30 V within 10..30 V', true],
    ['31 V within 10..30 V', false],
    ['12 V within 10 V ± 2 V', true],
    ['12.1 V within 10 V ± 20 %', false],
    ['22 °C within 20 °C ± 2 °C', true],
    ['23 °C within 20 °C ± 2 K', false],
    ['40 % within 50 % ± 10 %', true], // percentage points
    ['44 % within 50 % ± 5 %', false],
    ['05:59 within night', true],
    ['06:00 within night', false], // half open
    ['21:00 within night', true],
    ['2027-05-14 22:00 within night', true],
    ['12:00 within 08:00..08:00', false], // equal ends are never
    ['12:00 within 00:00..24:00', true],
    ['2027-05-16 within 2027-05-14..2027-05-16', false],
    ['count(clock within 06:00..18:00)', 4, ''], // middles 09:00 and 15:00, two days
  ],
  'a..b': [
    ['10..30 V', { start: 10, end: 30 }, 'V'],
    ['(10..30 V).length', 20, 'V'],
    ['(-5..5 °C).length', 10, 'K'],
    ['(-5..5 °C).start', -5, '°C'],
    ['night.length', 9, 'h'],
    ['night.start', '21:00'],
    ['night.end', '06:00'],
    ['(00:00..24:00).length', 24, 'h'],
    ['(2027-05-14..2027-05-16).length', 48, 'h'],
    ['40..55..70 W', 55, 'W'], // the plain run uses the likely value
    ['320 W ± 5 %', 320, 'W'],
    ['between(40 W, 70 W)', 55, 'W'],
    ['usual(40 W, 55 W, 70 W)', 55, 'W'],
  ],
  'a as u': [
    ['power as kW', 0.1, 'kW'],
    ['air as °F', 68, '°F'], // 20 · 9/5 + 32
    ['gap as Δ°F', 9, 'Δ°F'],
    ['1 W as dBm', 30, 'dBm'], // 10 lg (1 W / 1 mW)
    ['30 dBm as W', 1, 'W'],
    ['100 as dB', 20, 'dB'],
    ['20 dB as times', 100, ''],
    ['one as dBm', -73, 'dBm'],
    ['10 AWG as mm²', 5.2612, 'mm²'], // ASTM B258: d = 0.127 mm · 92^((36 − 10)/39)
    ['5.2612 mm² as AWG', 10, 'AWG'],
    ['4/0 AWG as mm²', 107.219, 'mm²'],
    ['(-73 dBm as mW) + (-73 dBm as mW) as dBm', -69.9897, 'dBm'], // + 10 lg 2
  ],
  'if, and, or, not': [
    ['if power > 50 W then 1 else 2', 1, ''],
    ['if power > 50 W and not (volt > 12 V) then "a" else "b"', 'a'],
    ['if night.length > 8 h then air else cold', 20, '°C'],
    ['highest(if harvest > 50 W then harvest × 2 else 0 W)', 200, 'W'],
  ],
};

describe.each(Object.entries(GIVES))('%s', (_, rows) => {
  test.each(rows)('%s', (formula, value, unit = '') => {
    const { cell, messages } = evaluated(BODY, formula);
    expect(messages).toEqual([]);
    if (typeof value === 'number') expect(cell.value).toBeCloseTo(value, 3);
    else expect(cell.value).toEqual(value);
    expect(cell.unit).toBe(unit);
  });
});

type Refuses = [formula: string, code: string, at: string, words: string | RegExp];

const REFUSES: Readonly<Record<string, readonly Refuses[]>> = {
  dimensions: [
    [
      'power + work',
      'dimensions-differ',
      'power',
      /adds a power \(W\) to an energy \(Wh\)\. Multiply the power by a time first\.$/,
    ],
    ['harvest + work', 'dimensions-differ', 'harvest', 'or use energy(harvest)'],
    ['work - harvest', 'dimensions-differ', 'work', 'subtracts a power (W) from an energy (Wh)'],
    [
      'stored + work',
      'dimensions-differ',
      'stored',
      "Multiply the charge by the battery's voltage first",
    ],
    ['work > stored', 'kinds-differ', 'work', "battery's voltage"],
    [
      'volt + share',
      'dimensions-differ',
      'volt',
      'Percent of what? A share of it is volt × share.',
    ],
    ['power + 5', 'dimensions-differ', 'power', 'Give the plain number a unit'],
    ['start day + 2', 'dimensions-differ', 'start day', 'Give the plain number a unit'],
    [
      'volt < power',
      'kinds-differ',
      'volt',
      'a voltage (V) and cannot be compared with "power", a power (W)',
    ],
    ['if volt > 1 V then power else work', 'kinds-differ', 'if', 'a power (W)'],
    ['if volt > 1 V then "a" else 1', 'kinds-differ', 'if', '"a" is a text'],
    ['10 V..30 A', 'kinds-differ', '10 V', 'a voltage (V)'],
    ['volt within 10..30 W', 'kinds-differ', 'volt', '"10..30 W", a power (W)'],
    ['power ^ 0.3', 'power-open', '0.3', 'must be a number such as 2, 3 or 0.5'],
    ['power ^ four', 'power-open', 'four', 'must be a number'],
    ['2 ^ power', 'power-dimension', 'power', 'A power is a plain number'],
    [
      'power as Wh',
      'as-dimension',
      'power',
      'is a power (W) and cannot be shown in Wh, which is an energy (Wh)',
    ],
    ['2 as dBm', 'as-dimension', '2', 'which is a level (dBm)'],
    [
      'rise as dBm',
      'as-dimension',
      'rise',
      'is a difference of level (dB) and cannot be shown in dBm',
    ],
    ['one as dB', 'as-dimension', 'one', 'is a level (dBm)'],
    ['area as A', 'as-dimension', 'area', 'which is a current (A)'],
    ['sin(30)', 'wrong-argument', '30', 'Write 30°.'],
    ['ln(power)', 'wrong-argument', 'power', 'a plain number'],
  ],
  'points and differences': [
    ['air + cold', 'points-added', 'air', 'adds two temperatures'],
    ['air + 5 °C', 'points-added', 'air', 'air + 5 K'],
    ['gap - air', 'point-subtracted', 'gap', 'Turn the two round'],
    ['-air', 'negated', '-air', 'cannot be negated'],
    ['air × 2', 'point-multiplied', 'air', 'air - (-273.15 °C)'],
    ['air as K', 'as-kelvin', 'air', 'air - (-273.15 °C)'],
    ['gap as °C', 'as-kelvin', 'gap', 'Show it as K'],
    ['air > gap', 'kinds-differ', 'air', 'One is a point on a scale, the other a difference'],
    ['one + two', 'points-added', 'one', '((one) as mW) + ((two) as mW) as dBm'],
    ['one × 2', 'point-multiplied', 'one', '(one as mW)'],
    ['start day + 2027-05-10', 'points-added', 'start day', 'Add a time to a moment'],
    ['start day as h', 'as-unit', 'h', 'is a moment and has no unit'],
    ['wake + wake', 'not-a-quantity', 'wake', 'A time of day is a clock reading'],
    ['sum(curve.v(1..2))', 'wrong-place', '1..2', 'is called with a plain number'],
  ],
  'truths, texts, spans': [
    ['if power then 1 else 2', 'not-truth', 'power', 'It needs a question with yes or no'],
    ['not power', 'not-truth', 'power', 'a question'],
    ['power and word', 'not-truth', 'power', 'joins questions'],
    ['word < "yes"', 'text-order', 'word', 'equal (=) or different (≠)'],
    [
      'power within night',
      'kinds-differ',
      'power',
      'only a moment or a time of day lies within hours',
    ],
    ['volt within power', 'not-a-span', 'power', 'Write a span'],
    ['night.middle', 'unknown-part', 'middle', 'start, end and length'],
    ['clock.middle', 'unknown-part', 'middle', 'start, end and step'],
    ['sun.height', 'unknown-part', 'height', 'elevation, azimuth, distance factor'],
    ['sun + 1', 'not-a-quantity', 'sun', 'sun.elevation'],
  ],
  axes: [
    [
      'harvest + loads.draw',
      'axes-differ',
      'harvest',
      '"harvest" runs along clock, "loads.draw" along the rows of loads',
    ],
    ['loads.draw + curve.v', 'axes-differ', 'loads.draw', 'the rows of curve'],
    [
      'sum(harvest, where: loads.draw > 1 W)',
      'axes-differ',
      'sum',
      '"where:" runs along the rows of loads',
    ],
    ['power(3)', 'not-callable', 'power', 'write × to multiply'],
    ['harvest(1)', 'wrong-place', '1', 'is called with a moment, not a plain number'],
    ['loads.draw("lampp")', 'unknown-row', '"lampp"', 'Did you mean "lamp"?'],
    ['loads.drw', 'unknown-column', 'drw', 'Did you mean "draw"?'],
    ['loads', 'table-alone', 'loads', 'Name one of its columns'],
    ['sum(power)', 'needs-series', 'power', 'works on a series'],
    ['sum(loads.hours)', 'not-a-quantity', 'loads.hours', 'a span of hours'],
    ['sum(curve.v) + sum(plan.low)', 'unknown-name', 'plan', 'No cell is called "plan"'],
    ['energy(loads.draw)', 'needs-timeline', 'loads.draw', 'Use sum(…)'],
    ['count(harvest)', 'not-truth', 'harvest', 'works on a question'],
    ['time while(loads.draw > 1 W)', 'needs-timeline', 'loads.draw', 'the rows of loads'],
    ['min(harvest)', 'one-value', 'min', 'lowest(harvest)'],
    ['max(harvest)', 'one-value', 'max', 'highest(harvest)'],
    ['steps(5 m, 15 m, by: 5 W)', 'wrong-argument', '5 W', 'the ends are a length (m)'],
  ],
  'uncertain, blank, none': [
    [
      'power + (40..55..70 W)',
      'uncertain-inside',
      '(40',
      'Give it a cell of its own, so that it can be ranked',
    ],
    ['power × between(1, 2)', 'uncertain-inside', 'between', 'Give it a cell of its own'],
    ['70..55..40 W', 'uncertain-order', '70', 'rise from low to high'],
    ['320 W ± 5 V', 'tolerance-dimension', '5 V', 'it must be a power (W) or a share of it'],
    ['power + ?', 'blank-inside', '?', 'the whole formula of a given'],
    ['none', 'nothing-used', 'none', 'only in a table or as a replacement'],
    ['chance(percentile(power, 10 %) > 3 W)', 'chance-inside', 'percentile', 'cannot stand inside'],
    ['percentile(chance(power > 3 W), 10 %)', 'chance-inside', 'chance', 'cannot stand inside'],
  ],
  with: [
    [
      'work with power = 3 V',
      'override-kind',
      '3 V',
      '"power" is a power (W); it cannot be replaced by a voltage (V)',
    ],
    ['power with powr = 50 W', 'unknown-name', 'powr', 'Did you mean "power"?'],
    ['power with loads = 3', 'target-table', 'loads', 'Name one of its columns'],
    ['power with sun.elevation = 3°', 'no-parts', 'elevation', 'only the whole cell'],
    ['power with power("x") = 3 W', 'no-entry', '"x"', 'only a whole cell'],
    ['power with loads.draw("x") = 3 W', 'unknown-row', '"x"', '"lamp", "box"'],
    ['power with loads.draw = harvest', 'override-axes', 'harvest', 'along clock'],
  ],
  'solve, steps, previous': [
    [
      'solve(3 W, so that: power > 1 W, over: 1 W..2 W)',
      'wrong-argument',
      '3 W',
      'begins with the name of a given',
    ],
    [
      'solve(harvest, so that: energy(harvest) > 1 Wh, over: 1 W..2 W)',
      'wrong-argument',
      'harvest',
      'looks for one amount',
    ],
    [
      'solve(power, so that: power, over: 1 W..2 W)',
      'wrong-argument',
      'power, over',
      'one comparison',
    ],
    [
      'solve(power, so that: harvest ≥ 10 W, over: 1 W..2 W)',
      'series-inside',
      'harvest',
      'reduce the series first',
    ],
    [
      'solve(power, so that: energy(harvest) ≥ 1 W, over: 1 W..2 W)',
      'kinds-differ',
      'energy',
      'an energy (Wh)',
    ],
    [
      'solve(power, so that: energy(harvest) ≥ 1 Wh, over: 1 V..2 V)',
      'wrong-argument',
      '1 V',
      'over a span',
    ],
    ['steps(5 m)', 'missing-argument', 'steps', 'two ends and a step'],
    ['previous(harvest, first: 0 V)', 'look-back-kind', 'previous', 'Give "first:" the same kind'],
    ['previous(power, first: 0 W)', 'look-back-kind', 'previous', 'is a power (W)'],
    ['result + 1', 'circle', 'result', 'result → result'],
  ],
  'calls and names': [
    ['powr', 'unknown-name', 'powr', 'No cell is called "powr". Did you mean "power"?'],
    ['lowst(harvest)', 'unknown-function', 'lowst', 'Did you mean "lowest"?'],
    ['unheard of', 'unknown-name', 'unheard', 'Give it a line of its own'],
    ['sum', 'function-alone', 'sum', 'sum(…)'],
    ['open sky', 'function-alone', 'open sky', 'with nothing in them: open sky().'],
    ['resistance(of: 4 mm², lenght: 3 m)', 'unknown-argument', 'lenght', 'Did you mean "length"?'],
    ['resistance(of: 4 mm²)', 'missing-argument', 'resistance', 'needs length'],
    ['clear sky(sun, 3)', 'too-many-arguments', '3', 'by name: turbidity:'],
    ['resistance(of: 4 mm², length: 3 m, lay: "soft")', 'unknown-choice', '"soft"', '"flexible"'],
    ['resistance(of: 4000 mm², length: 3 m)', 'argument-range', '4000 mm²', '0.05 mm² to 120 mm²'],
    ['25 C', 'unit-meant', 'C', 'Write °C'],
    ['5 kwh', 'unit-meant', 'kwh', 'Write kWh'],
  ],
};

describe.each(Object.entries(REFUSES))('%s', (_, rows) => {
  test.each(rows)('%s is refused: %s', (formula, code, at, words) => {
    const { cell, messages } = evaluated(BODY, formula);
    expect(messages.map((message) => message.code)).toEqual([code]);
    const [message] = messages;
    expect(message?.column).toBe(columnOf(formula, at));
    expect(message?.text).toMatch(words instanceof RegExp ? words : new RegExp(escaped(words)));
    expect(cell.value).toBeNull();
    expect(cell.error).toBe(message?.text);
  });
});

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
}

test('what waits for a broken cell names it and adds no message', () => {
  const { cell, messages } = evaluated(
    `${BODY}\nbroken = power + volt\nnext = broken × 2`,
    'next + 1 W',
  );
  expect(messages).toEqual([]);
  expect(cell).toMatchObject({ value: null, waits: 'broken', text: 'waits for broken' });
});

test('a circle of three is told once, with its way round', () => {
  const { cells, messages } = report('a = b + 1\nb = c + 1\nc = a + 1\nd = a + 1');
  expect(messages.map(({ code, line, column }) => [code, line, column])).toEqual([
    ['circle', 9, 5],
  ]);
  expect(messages[0]?.text).toContain('a → b → c → a');
  expect([cells.a?.waits, cells.b?.waits, cells.d?.waits]).toEqual(['c', 'c', 'c']);
  expect(cells.c?.error).toBe(messages[0]?.text);
});
