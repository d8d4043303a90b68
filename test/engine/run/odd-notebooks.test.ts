// Notebooks that no person would write, found by writing a million at random. Each once showed a
// cell without a number and without a word, or stopped the program.

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import { silentCells } from './silent-cells.ts';

const odd = JSON.parse(
  readFileSync(new URL('../../reference/odd-notebooks.json', import.meta.url), 'utf8'),
) as readonly string[];

test.each(odd.map((text, number) => ({ number, text })))('odd notebook $number', ({ text }) => {
  expect(silentCells(text)).toEqual([]);
  expect(openSession(text).text).toBe(text);
});

describe('a value that its own unit has no number for', () => {
  const shown = (body: string, column = 0): Record<string, string> =>
    Object.fromEntries(
      Object.entries(openSession(`dapple 1\n\n${body}`).report(column, false).cells).map(
        ([name, cell]) => [name, cell.text.replace(/\s/gu, ' ')],
      ),
    );

  // 10 AWG is 5.261 mm² (ASTM B258); no wire has less than nothing.
  test('an area below zero is shown in mm², not as a gauge', () => {
    expect(shown('a = 10 AWG\nb = -10 AWG\nc = -10 AWG..10 AWG')).toEqual({
      a: '10 AWG',
      b: '−5.26 mm²',
      c: '−5.26..5.26 mm²',
    });
  });

  test('so it is in every column as soon as one has such a value', () => {
    const body = 'a = 10 AWG\nscenario Odd\n  a = 10 AWG - 2 AWG';
    expect(shown(body).a).toBe('5.26 mm²');
    // 2 AWG is 33.63 mm²; 5.26 − 33.63 = −28.37.
    expect(shown(body, 1).a).toBe('−28.4 mm²');
  });

  // 1e309° is 1.7453e307 rad.
  test('an angle too large for degrees is shown in radians', () => {
    expect(shown('a = 1e9° × 1e300')).toEqual({ a: '1.75 × 10³⁰⁷ rad' });
  });

  test('an amount too large for its unit is shown in a larger one', () => {
    expect(shown('a = 1e300 km\nb = 1e4 × a as mm')).toEqual({
      a: '1 × 10³⁰⁰ km',
      b: '1 × 10³⁰⁴ km',
    });
  });
});

describe('bounds that run backwards', () => {
  const told = (line: string): readonly unknown[] =>
    openSession(`dapple 1\n\n${line}`)
      .report(0, false)
      .messages.map(({ code }) => code);

  test.each([
    'a = 5 W [10..1 W]',
    'a = 5 W [1 kW..10 W]',
    'a = 2027-05-14 [2027-05-20..2027-05-01]',
  ])('%s is a message', (line) => expect(told(line)).toEqual(['bounds-reversed']));

  // 1000 W is 1 kW; hours pass midnight; 10 AWG is thinner than 2 AWG.
  test.each([
    'a = 5 W [1..10 W]',
    'a = 900 W [800 W..1 kW]',
    'a = 5 W [5 W..5 W]',
    'a = 23:00 [22:00..06:00]',
    'a = 4 AWG [10 AWG..2 AWG]',
    'a = 4 AWG [2 AWG..10 AWG]',
    'a = -3 °C [-5..5 °C]',
  ])('%s is none', (line) => expect(told(line)).toEqual([]));

  test('the ends are swapped when the reader takes the offer', () => {
    const { messages } = openSession('dapple 1\n\na = 5 W [10..1 W]').snapshot();
    expect(messages[0]?.fixes?.map(({ text }) => text)).toEqual(['1 W..10 W']);
  });
});

describe('a moment beyond the calendar', () => {
  const opened = (body: string): ReturnType<ReturnType<typeof openSession>['report']> =>
    openSession(`dapple 1\nplace: 44.5 °N, 110.2 °W, 2100 m, UTC-6\n\n${body}`).report(0, true);

  // The page stood still for ever: the year of 1e300 days was looked for by ones.
  test.each([
    ['a = 2027-06-11 12:00 + 1e300 d', 'after the year 9999'],
    ['a = 2027-06-11 12:00 - 1e300 d', 'before the year 0'],
    ['a = 2027-06-11 + 1e9 d', 'after the year 9999'],
  ])('%s says so', (line, text) => {
    const { cells, messages } = opened(line);
    expect([messages, cells.a?.text]).toEqual([[], text]);
  });

  test.each(['1e300 d', '1e9 d', '-1e9 d'])('no timeline lies there: %s', (far) => {
    const { messages } = opened(
      `from = 2027-06-11 + ${far}\nclock = timeline(from: from, until: from + 1 d, by: 6 h)`,
    );
    expect(messages.map(({ code, line }) => [code, line])).toEqual([
      // To a number of 1e300 days a day makes no difference.
      [far === '1e300 d' ? 'timeline-order' : 'timeline-years', 5],
    ]);
  });

  test.each(['sunrise(on: a)', 'trip day(a)', 'time of day(a)', 'sun position(a).elevation'])(
    '%s of it is answered',
    (formula) => {
      const text = `dapple 1\nplace: 44.5 °N, 110.2 °W, 2100 m, UTC-6\n\na = 2027-06-11 + 1e300 d\nb = ${formula}\n`;
      expect(silentCells(text)).toEqual([]);
    },
  );
});

// Each of these ran out of stack: an item of a chart was not held to the depth of a formula, and the
// larger of many values leaned as deep as they were many.
describe('as much as a line may hold', () => {
  const told = (line: string): readonly unknown[] => {
    const session = openSession(`dapple 1\n\nb = 1 W\n${line}\n`);
    for (const row of session.snapshot().rows) if (row.kind === 'chart') session.chart(row.item);
    return session.report(0, false).messages.map(({ code }) => code);
  };

  test.each([
    ['parts of parts in a chart', `chart b${'.b'.repeat(9_000)}`],
    ['parts of what a chart is drawn against', `chart b against b${'.b'.repeat(9_000)}`],
    ['a sum in a chart', `chart b${' + b'.repeat(4_900)}`],
    ['values to try', `chart b against b = 1 W${' + 1 W'.repeat(3_000)}`],
  ])('%s: told that it is too many', (_, line) => {
    expect(told(line)).toEqual(['formula-terms']);
  });

  test.each([
    ['max', 6_500],
    ['min', 1],
  ])('%s of 6,500 values', (name, wanted) => {
    const values = Array.from({ length: 3_250 }, (_, k) => [k + 1, 6_500 - k]).flat();
    // More than the characters of one formula may name are given a cell each.
    const half = (from: number): string => values.slice(from, from + 3_250).join(', ');
    const { cells, messages } = openSession(
      `dapple 1\n\na = ${name}(${half(0)})\nb = ${name}(${half(3_250)})\nc = ${name}(a, b)\n`,
    ).report(0, false);
    expect(messages).toEqual([]);
    expect(cells.c?.value).toBe(wanted);
  });
});

test('a sweep whose steps pass every number says so in words', () => {
  const { messages } = openSession('dapple 1\n\ny = steps(-1e308, 1e308, by: 1e-308)').report(
    0,
    false,
  );
  expect(messages.map(({ text }) => text)).toEqual([
    'This would be endlessly many steps; at most 10000 are worked. Take a longer step.',
  ]);
});

describe('what is worked for two at once does not double with each of many in each other', () => {
  const nested = (of: (inner: string) => string, first: string): string =>
    Array.from({ length: 40 }).reduce<string>((inner) => of(inner), first);

  test('squares of squares', () => {
    const { cells } = openSession(
      `dapple 1\n\nx = 3 m\ny = x${'²'.repeat(40)}\nz = ${nested((inner) => `((${inner})² / 1 m)`, '1 m')}\n`,
    ).report(0, false);
    expect(cells.y?.error).toBeDefined();
    expect(cells.z?.value).toBe(1);
  });

  test.each([
    ['chains of comparisons', (inner: string) => `(if 1 m < ${inner} < 3 m then 2 m else 1 m)`],
    ['tolerances', (inner: string) => `(if 2 m within ${inner} ± 10 % then 2 m else 1 m)`],
  ])('%s', (_, of) => {
    const { messages } = openSession(`dapple 1\n\ny = ${nested(of, '2 m')}\n`).report(0, false);
    expect(messages.map(({ code }) => code)).toEqual(['formula-terms']);
    const few = openSession(`dapple 1\n\ny = ${of(of(of('2 m')))}\n`).report(0, false);
    expect(few.messages).toEqual([]);
    expect(few.cells.y?.value).toBe(2);
  });
});
