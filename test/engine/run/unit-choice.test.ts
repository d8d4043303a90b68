// Another unit for a cell: numbers converted exactly, all else with its `as`.

import { expect, test } from 'vitest';
import { formulaInUnit, openSession } from '../../../engine/index.ts';

test('a number is converted where it is the same amount', () => {
  // 1 km = 1000 m, 1 kWh = 1000 Wh, 1 h = 60 min by definition.
  expect(formulaInUnit('1500 m', 'km')).toBe('1.5 km');
  expect(formulaInUnit('2 kWh', 'Wh')).toBe('2000 Wh');
  expect(formulaInUnit('90 min', 'h')).toBe('1.5 h');
});

test('what no short number says exactly keeps its words', () => {
  // One minute is 1/60 h, which has no finite decimal.
  expect(formulaInUnit('1 min', 'h')).toBe('1 min as h');
  expect(formulaInUnit('10 AWG', 'mm²')).toBe('10 AWG as mm²');
});

test('a formula gets its `as`, has it changed or loses it', () => {
  expect(formulaInUnit('a × b', 'Wh')).toBe('a × b as Wh');
  expect(formulaInUnit('a × b as Wh', 'kWh')).toBe('a × b as kWh');
  expect(formulaInUnit('a × b as Wh', '')).toBe('a × b');
  expect(formulaInUnit('if x > 1 m then a else b', 'Wh')).toBe('(if x > 1 m then a else b) as Wh');
  expect(formulaInUnit('a with b = 2 m', 'km')).toBe('(a with b = 2 m) as km');
  expect(formulaInUnit('a ×', 'km')).toBe('a ×');
});

test('"as times" stays, for a gain of 10 dB is ten times and not 10', () => {
  expect(formulaInUnit('10 dB as times', '%')).toBe('(10 dB as times) as %');
  expect(formulaInUnit('gain as times', '')).toBe('gain as times');
  const session = openSession('dapple 1\n\nrise = 10 dB as times\n');
  session.do({ do: 'formula', cell: 'rise', text: formulaInUnit('10 dB as times', '%') });
  expect(session.report(0, false).cells.rise?.value).toBeCloseTo(1000, 9);
});

test('the amount stays the same in a notebook', () => {
  const session = openSession('dapple 1\n\nway = 1500 m\ntwice = 2 × way as m\n');
  const twice = (): string => {
    const row = session.snapshot().rows.find((one) => one.kind === 'cell' && one.key === 'twice');
    return row?.kind === 'cell' ? (row.values[0]?.text ?? '') : '';
  };
  const before = twice();
  expect(session.do({ do: 'formula', cell: 'way', text: formulaInUnit('1500 m', 'km') })).toBe(
    true,
  );
  expect(twice()).toBe(before);
});
