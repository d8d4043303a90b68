// What hurried people write, and that the remedy of its message works when it is followed to the
// letter. Values are sums by hand; feet, inches and horsepower after NIST SP 811 (2008), appendix B.

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';

const HEAD = 'dapple 1\nplace: 45 °N, 7 °E, 600 m, UTC+2\n\n';
const CELLS = `foo = 3 W
t = table
  item  | power
  lamp  | 5 W
  radio | 20 W
`;

function report(formula: string) {
  return openSession(`${HEAD}${CELLS}a = ${formula}\n`).report(0, false);
}

describe('a slip is answered with what works', () => {
  test.each([
    ['20 °c', 8, 'Write °C.', '20 °C', '20 °C'],
    ['5\' 6"', 5, '(5 ft + 6 in)', '(5 ft + 6 in) as cm', '168 cm'],
    ['#10', 5, '10 AWG', '10 AWG', '10 AWG'],
    ['AWG10', 5, '10 AWG', '10 AWG', '10 AWG'],
    ['1013 mb', 10, 'mbar', '1013 mbar', '1013 mbar'],
    ['3x4', 6, '×', '3 × 4', '12'],
    ['√2', 5, 'sqrt(2)', 'sqrt(2)', '1.41'],
    ['√(4 m²)', 5, 'sqrt(…)', 'sqrt(4 m²)', '2 m'],
    ['|3|', 5, 'abs(3)', 'abs(3)', '3'],
    ['5–10 W', 5, '5..10 W', '5..10 W', '5..10 W'],
    ['17:00–21:00', 5, '17:00..21:00', '17:00..21:00', '17:00..21:00'],
    ['½ W', 5, '0.5', '0.5 W', '0.5 W'],
    ['2½ h', 5, '2.5', '2.5 h', '2.5 h'],
    ['10^3 W', 8, '1e3 W', '1e3 W', '1000 W'],
    ['1·10³ W', 5, '1e3', '1e3 W', '1000 W'],
    ['2.5×10⁻³ A', 5, '2.5e-3', '2.5e-3 A', '0.0025 A'],
    ['5 W +- 2 W', 9, '±', '5 W ± 2 W', '5 W'],
    ['100 W ± 5', 13, '5 W', '100 W ± 5 W', '100 W'],
    ['12 V : 3', 10, '/', '12 V / 3', '4 V'],
    ['May 14, 2027', 5, '2027-05-14', '2027-05-14', 'Fri 14 May 00:00'],
    ['sin 30°', 9, 'sin(30°)', 'sin(30°)', '0.5'],
    ['if(3>2, 1, 2)', 5, 'if … then … else …', 'if 3 > 2 then 1 else 2', '1'],
    ['log(100)', 5, 'log10(…)', 'log10(100)', '2'],
    ['floor(2.3)', 5, 'round down(…)', 'round down(2.3)', '2'],
    ['average(t.power)', 5, 'mean(…)', 'mean(t.power)', '12.5 W'],
    ['next fuse(12.5)', 15, '12.5 A', 'next fuse(12.5 A)', '15 A'],
    [
      'noise level("rural", frequency: 7.1)',
      37,
      '7.1 MHz',
      'noise level("rural", frequency: 7.1 MHz)',
      '−96.6 dBm',
    ],
    ['foo in kW', 5, 'foo as kW', 'foo as kW', '0.003 kW'],
    ['foo 2', 5, 'foo × 2', 'foo × 2', '6 W'],
    ['power × 2', 5, 't.power', 't.power("lamp") × 2', '10 W'],
    ['t.power(lamp)', 13, '"lamp"', 't.power("lamp")', '5 W'],
    ['foo is less than 5 W', 5, 'foo < 5 W', 'foo < 5 W', 'yes'],
  ])('%s', (written, column, remedy, followed, value) => {
    const { messages } = report(written);
    expect(messages.map((m) => [m.line, m.column])).toEqual([[9, column]]);
    expect(messages[0]?.text).toContain(remedy);
    const after = report(followed);
    expect(after.messages).toEqual([]);
    expect(after.cells.a?.text.replaceAll('\u00a0', ' ')).toBe(value);
  });

  test('signs apart are a sum: 5 − 2 is 3', () => {
    expect(report('5 W + -2 W').cells.a?.value).toBe(3);
  });
});

describe('entries of a table', () => {
  const faults = (rows: string): readonly (string | number)[][] =>
    openSession(`${HEAD}t = table\n${rows}\n`)
      .report(0, false)
      .messages.map(({ line, column, code, text }) => [line, column, code, text]);

  test.each([
    ['  item | power\n  lamp | 5 watts\n  fan  | 20 watts', 6, 12, 'Write W'],
    ['  item | power\n  lamp | 5 W\n  fan  | 20 w', 7, 13, 'Write W'],
    ['  item | power\n  lamp | 5 W\n  fan  | 5,5 W', 7, 11, '5.5'],
    ['  item | power\n  lamp | 5 W\n  fan  | –', 7, 10, 'Leave the entry empty'],
    ['  item | hours\n  lamp | 17:00-21:00\n  fan  | 08:00..09:00', 6, 10, '17:00..21:00'],
    ['  item | hours\n  lamp | 17:00-21:00', 6, 10, '17:00..21:00'],
    ['  | item | power |\n  | lamp | 5 W |', 5, 3, 'Leave out the one'],
  ])('%s', (rows, line, column, remedy) => {
    const [fault, ...more] = faults(rows);
    expect(more).toEqual([]);
    expect(fault?.slice(0, 2)).toEqual([line, column]);
    expect(fault?.[3]).toContain(remedy);
  });

  test('words that begin with a figure stay words', () => {
    expect(faults('  item | note\n  lamp | 3 clouds\n  fan  | 2nd one')).toEqual([]);
    expect(faults('  item | note\n  lamp | 170 Wh counted')).toEqual([]);
  });

  test('rows that are not indented are told so', () => {
    const all = faults('item | power\nlamp | 5 W');
    expect(all.map(([line, , code]) => [line, code])).toEqual([
      [4, 'table-empty'],
      [5, 'line-row'],
      [6, 'line-row'],
    ]);
  });
});

test('a value beyond the rows is told with both ends', () => {
  const text = `${HEAD}t = table\n  x | y\n  1 m | 2 V\n  3 m | 6 V\nb = t.y(4 m)\n`;
  expect(openSession(text).report(0, false).messages[0]?.text.replaceAll('\u00a0', ' ')).toBe(
    '4 m lies outside the rows of t, which run from 1 m to 3 m; beyond the ends nothing is known. Add a row, or ask for a value between.',
  );
});

test('the next wire in AWG sizes is shown in AWG: 8 AWG is 8.37 mm²', () => {
  expect(report('next wire(7 mm², sizes: "AWG")').cells.a?.text.replaceAll('\u00a0', ' ')).toBe(
    '8 AWG',
  );
});

test('cells and tables are reported in the order of the file', () => {
  expect(Object.keys(report('3 W').cells)).toEqual(['foo', 't', 'a']);
});

test('a name that begins with "check" is told what it begins', () => {
  const { messages } = openSession(`${HEAD}check voltage = 5 V\n`).report(0, false);
  expect(messages[0]?.text).toContain('"check" begins a check');
  expect(
    openSession(`${HEAD}chart width = 5 m\n`)
      .report(0, false)
      .messages.map((m) => m.code),
  ).toEqual(['line-word']);
});
