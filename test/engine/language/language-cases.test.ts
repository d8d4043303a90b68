// Every doubtful formula of the language, how it reads, and the place and gist of its message. The
// readings are the language's own definition: they were settled before this parser was written.

import { describe, expect, test } from 'vitest';
import { isPointUnit, isUnit } from '../../../engine/dimension/unit.ts';
import { parseFormula } from '../../../engine/language/parser.ts';
import { printFormula } from '../../../engine/language/printer.ts';

const units = { isUnit, isPointUnit };

/** Written, and how it is printed after reading. */
const READINGS: readonly (readonly [written: string, reads: string])[] = [
  ['400 W/panel voltage', '400 W / panel voltage'],
  ['400 W / panel voltage', '400 W / panel voltage'],
  ['12 V/A rating', '12 V / A rating'],
  ['400 W/h', '400 W/h'],
  ['400 W/h total', '400 W / h total'],
  ['0.00393 1/K', '0.00393 1/K'],
  ['1 + 0.00393 1/K × 40 K', '1 + 0.00393 1/K × 40 K'],
  ['x as 1/m/s', 'x as 1/m/s'],
  ['21/K', '21 / K'],
  ['1000 W/m²', '1000 W/m²'],
  ['1000 W/m2 × area', '1000 W/m2 × area'],
  ['2 in', '2 in'],
  ['2 in × 3', '2 in × 3'],
  ['x as in', 'x as in'],
  ['5 min', '5 min'],
  ['5 min + min(a, b)', '5 min + min(a, b)'],
  ['min(5 min, t)', 'min(5 min, t)'],
  ['-40 °F', '-40 °F'],
  ['- 40 °F', '-(40 °F)'],
  ['air -40 °F', 'air - 40 °F'],
  ['air - -40 °F', 'air - -40 °F'],
  ['-40 W', '-40 W'],
  ['-2²', '-2²'],
  ['-x²', '-x²'],
  ['2^-1', '2^-1'],
  ['a^b^c', 'a^b^c'],
  ['40..55..70 W', '40..55..70 W'],
  ['-5..5 °C', '-5..5 °C'],
  ['0...5', '0...5'],
  ['0...5 W', '0...5 W'],
  ['a..b', 'a..b'],
  ['a.b..c.d', 'a.b..c.d'],
  ['day 2..day 5', 'day 2..day 5'],
  ['day 2.low', 'day 2.low'],
  ['320 W ± 5 %', '320 W ± 5 %'],
  ['x ± 2 % + 1', 'x ± 2 % + 1'],
  ['x within 11:30..15:00', 'x within 11:30..15:00'],
  ['not x within a..b', 'not x within a..b'],
  ['a and not b or c', 'a and not b or c'],
  ['f((x with a = 1), b: 2)', 'f((x with a = 1), b: 2)'],
  ['x with a = 1, b = 2', 'x with a = 1, b = 2'],
  ['x - y with a = 1', 'x - y with a = 1'],
  ['(x with a = 1) - y', '(x with a = 1) - y'],
  ['if a then b else c + 1', 'if a then b else c + 1'],
  ['if a then b else c with d = 1', 'if a then b else c with d = 1'],
  ['a = b', 'a = b'],
  ['10 V ≤ v ≤ 30 V', '10 V ≤ v ≤ 30 V'],
  ['day 2 harvest × 3', 'day 2 harvest × 3'],
  ['Voc25 × 2', 'Voc25 × 2'],
  ['h × 3 h', 'h × 3 h'],
  ['24 h', '24 h'],
  ['24 h × h', '24 h × h'],
  ['T2-T1', 'T2-T1'],
  ['T2 - T1', 'T2 - T1'],
  ['cool-box power', 'cool-box power'],
  ['4/0 AWG', '4/0 AWG'],
  ['4/0', '4 / 0'],
  ['4 / 0 AWG', '4 / 0 AWG'],
  ['2027-05-14', '2027-05-14'],
  ['2027-05-14 06:30', '2027-05-14 06:30'],
  ['2027-05-14 06:30..2027-05-15 06:30', '2027-05-14 06:30..2027-05-15 06:30'],
  ['2027 - 05 - 14', '2027 - 05 - 14'],
  ['11:30', '11:30'],
  ['25% × x', '25 % × x'],
  ['3 × -4', '3 × -4'],
  ['3 - -4', '3 - -4'],
  ['x as V as mV', 'x as V as mV'],
  ['x as AWG', 'x as AWG'],
  ['loads.power("cool box")', 'loads.power("cool box")'],
  ['aim.tilt(clock)', 'aim.tilt(clock)'],
  ['(charge with log.charge = none)(last read)', '(charge with log.charge = none)(last read)'],
  ['x with loads.power("a b") = 3 W', 'x with loads.power("a b") = 3 W'],
  ['steps(5 m, 50 m, by: 5 m)', 'steps(5 m, 50 m, by: 5 m)'],
  [
    'solve(p, so that: low ≥ 20 %, over: 50 W..800 W)',
    'solve(p, so that: low ≥ 20 %, over: 50 W..800 W)',
  ],
  ['x(3)', 'x(3)'],
  ['2 × panels', '2 × panels'],
  ['1.2e3 W', '1.2e3 W'],
  ['1e3 W', '1e3 W'],
  ['5 d', '5 d'],
  ['44.5 °N', '44.5 °N'],
  ['-73 dBm + 6 dB', '-73 dBm + 6 dB'],
  ['sky', 'sky'],
  ['a b c', 'a b c'],
  ['? A', '? A'],
  ['?', '?'],
  ['6.84 W·s/m³/K × v', '6.84 W·s/m³/K × v'],
  ['4.19 kJ/kg/K', '4.19 kJ/kg/K'],
  ['range 600 W', 'range 600 W'],
  ['panel rating 100 W..600 W', 'panel rating 100 W..600 W'],
  ['x²³', '(x²)³'],
  ['1 W/m²/K × 3 K', '1 W/m²/K × 3 K'],
  ['100 %/h', '100 %/h'],
  ['time within 05:00..06:00 and b', 'time within 05:00..06:00 and b'],
  ['sun.elevation within 0°..10°', 'sun.elevation within 0°..10°'],
  ['5°', '5°'],
  ['5 ° × 2', '5° × 2'],
  ['35 %/K', '35 %/K'],
  ['12 V·A', '12 V·A'],
  ['5 W/m² as mW/cm²', '5 W/m² as mW/cm²'],
  ['between(40 W, 70 W)', 'between(40 W, 70 W)'],
];

/** Written, the column of its message from 1, and what the message must say. */
const MISTAKES: readonly (readonly [written: string, column: number, says: string])[] = [
  ['5 minutes', 3, '"minutes" is no unit'],
  ['f(x with a = 1)', 5, 'in parentheses inside an argument list'],
  ['x with a = b = c', 14, 'in parentheses before "="'],
  ['1 + if a then b else c', 5, 'the part that begins with "if" in parentheses'],
  ['a < b within c..d', 3, 'Only <, ≤, =, >, ≥ can be chained'],
  ['x (3)', 3, 'leave out the space'],
  ['2 panels', 3, '"panels" is no unit'],
  ['5 m cable', 5, 'Something is missing before "cable"'],
  ['2 e', 3, '"e" is no unit'],
  ['3 C', 3, 'Write °C'],
  ['1 000 W', 3, 'Write 1000'],
  ['12,5 V', 3, 'Write 12.5'],
  ['within', 1, 'Something is missing before "within"'],
  ['not', 4, 'stops too early'],
  ['a + ', 5, 'stops too early'],
  ['(a', 3, '")" is missing here'],
  ['a)', 2, '")" cannot stand here'],
  ['"unclosed', 1, 'no closing quote'],
  ['x² y', 4, 'Something is missing before "y"'],
  ['10 A h', 6, 'Write Ah'],
];

describe('doubtful formulas that read', () => {
  test.each(READINGS)('%s reads as %s', (written, reads) => {
    const { node, diagnostics } = parseFormula(written, units);
    expect(diagnostics).toEqual([]);
    expect(printFormula(node, units)).toBe(reads);
  });
});

describe('doubtful formulas that do not', () => {
  test.each(MISTAKES)('%s has its message in column %i: %s', (written, column, says) => {
    const { diagnostics } = parseFormula(written, units);
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0]?.span.start).toBe(column - 1);
    expect(diagnostics[0]?.text).toContain(says);
  });
});
