// Slips that people make when they write down what they know: each is answered at its place with what
// to write instead. What is offered as a fix is taken, and must then be read as it was meant.

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import { evaluated, notebook } from '../run/evaluated.ts';

const KNOWN = 'panel voltage = 18 V\npanel current = 5 A\nair = 25 °C';

/** What the line says once the first fix that is offered has been taken. */
function mended(line: string): unknown {
  const session = openSession(notebook(`${KNOWN}\n${line}`));
  const [message] = session.snapshot().messages;
  const [fix] = message?.fixes ?? [];
  if (!message || !fix) return undefined;
  const { offset = 0 } = session.evaluation.checked.scope.notebook.items[message.item] ?? {};
  const { text } = session;
  const after =
    text.slice(0, offset + fix.span.start) + fix.text + text.slice(offset + fix.span.end);
  const { cells, messages } = openSession(after).report(0, false);
  return messages.length > 0 ? messages : cells.result?.text.replace(/\s/gu, ' ');
}

describe('a slip is named with what to write instead', () => {
  test.each([
    ['3,5 A', '3,5', 'decimal-comma', 'Write 3.5', '3.5 A'],
    ['1.234,5 W', '1.234,5', 'thousands', 'Write 1234.5.', '1234.5 W'],
    ['1,234.5 W', '1,234.5', 'thousands', 'Write 1234.5.', '1234.5 W'],
    ["1'234 W", "1'234", 'thousands', 'Write 1234.', '1234 W'],
    ['1 234 W', '234', 'number-space', 'Write 1234', '1234 W'],
    ['7:30pm', '7:30pm', 'clock-halves', '19:30', '19:30'],
    ['12:05 am', '12:05 am', 'clock-halves', '00:05', '00:05'],
    ['8 a.m.', '8 a.m.', 'clock-halves', '08:00', '08:00'],
    ['3.6.2026', '3.6.2026', 'date-order', '2026-06-03', 'Wed 3 Jun 00:00'],
    ['2026/06/03', '2026/06/03', 'date-order', '2026-06-03', 'Wed 3 Jun 00:00'],
    ['14/5/2027', '14/5/2027', 'date-order', '2027-05-14', 'Fri 14 May 00:00'],
    ['3 June 2026', '3 June 2026', 'date-order', '2026-06-03', 'Wed 3 Jun 00:00'],
    ['10 A h', 'h', 'unit-two', 'Write Ah.', '10 Ah'],
    ['12V A', 'A', 'unit-two', 'Write V·A.', '12 V·A'],
    ['12 V DC', 'DC', 'unit-two', 'Write V.', '12 V'],
    ['12 VDC', 'VDC', 'unit-hint', 'Write V.', '12 V'],
    ['5 litres', 'litres', 'unit-hint', 'Write L.', '5 L'],
    ['6 sq mm', 'sq mm', 'unit-hint', 'Write mm².', '6 mm²'],
    ['20 deg C', 'deg C', 'unit-hint', 'Write °C.', '20 °C'],
    ['20 degrees C', 'degrees C', 'unit-hint', 'Write °C.', '20 °C'],
    ['1 kwh', 'kwh', 'unit-meant', 'Write kWh', '1 kWh'],
    ['20 C', 'C', 'unit-meant', 'Write °C', '20 °C'],
    ['1h30', '1h30', 'time-parts', '1 h + 30 min', '1.5 h'],
    ['2 h 30 min', '2 h 30 min', 'time-parts', '2 h + 30 min', '2.5 h'],
    ["44°30'", "44°30'", 'angle-parts', '44.5°', '44.5°'],
    ['2 x 5 W', 'x', 'times-letter', 'Write × or *', '10 W'],
    ['panel voltage x panel current', 'panel', 'times-letter', '× panel current', '90 W'],
    ['5 W to kW', 'to kW', 'sign-meant', 'as kW', '0.005 kW'],
    ['5 W -> kW', '-> kW', 'sign-meant', 'as kW', '0.005 kW'],
    ['2 ** 3', '**', 'sign-meant', 'Write ^', '8'],
    ['1 < 2 && 2 < 3', '&&', 'sign-meant', 'Write and', 'yes'],
    ['50 % of 100 W', 'of', 'share-of', 'write ×', '50 W'],
    ['5 to 10 W', '5 to', 'range-word', '5..10 W', '5..10 W'],
    ['1 h to 9 h', '1 h', 'range-word', 'Write two points between its ends: 1 h..9 h', '1..9 h'],
    ['5 W/m² until 10 W/m²', '5 W', 'range-word', '5 W/m²..10 W/m²', '5..10 W/m²'],
    ['08:00 to 17:00', '08:00', 'range-word', '08:00..17:00', '08:00..17:00'],
    ['5 W # lamp', '#', 'note-mark', 'Write --', '5 W'],
    ['5. A', '5.', 'number-dot', 'Write 5', '5 A'],
    ['sqrt 9', 'sqrt', 'function-alone', 'sqrt(9)', '3'],
    ['AWG 10', 'AWG', 'unit-alone', '10 AWG', '10 AWG'],
  ])('%s', (formula, at, code, words, after) => {
    const { messages } = evaluated(KNOWN, formula);
    expect(messages.map((message) => message.code)).toEqual([code]);
    expect(messages[0]?.text).toContain(words);
    // "decimal-comma" stands at the comma, after the number's first figure.
    const column =
      'result = '.length + formula.indexOf(at) + 1 + (code === 'decimal-comma' ? 1 : 0);
    expect(messages[0]?.column).toBe(column);
    expect(mended(`result = ${formula}`)).toBe(after);
  });

  test.each([
    ['3/6/2026', 'date-order', '2026-06-03 or 2026-03-06'],
    ['June 3', 'date-order', 'year, month, day'],
    ['1,234 W', 'thousands', 'Write 1234, or 1.234'],
    ['true', 'truth-word', 'Write a comparison'],
    ['5 Wh/day', 'unit-alone', 'Write d.'],
    ['12 V*A', 'unit-alone', 'V·A'],
    ['panel voltage > 12 V ? 1 : 2', 'sign-meant', 'if … then … else …'],
    ['panel voltage × panel current as Wh', 'as-dimension', 'Multiply it by a time'],
    ['panel current as W', 'as-dimension', 'Multiply it by a voltage'],
    ['air + 5 °C', 'points-added', 'air + 5 K'],
    ['100 W + 5 %', 'dimensions-differ', '100 W × 5 %'],
  ])('%s, where more than one thing may be meant', (formula, code, words) => {
    const { messages } = evaluated(KNOWN, formula);
    expect(messages.map((message) => message.code)).toEqual([code]);
    expect(messages[0]?.text).toContain(words);
  });

  test.each([
    ['result 5 W', 'equals-missing', '5 W'],
    ['result: 5 W', 'equals-missing', '5 W'],
    ['result := 5 W', 'equals-missing', '5 W'],
    ['result == 5 W', 'sign-meant', '5 W'],
  ])('%s', (line, code, after) => {
    const { messages } = openSession(notebook(line)).report(0, false);
    expect(messages.map((message) => message.code)).toEqual([code]);
    expect(mended(line)).toBe(after);
  });
});

describe('what can be read is read as it is written', () => {
  test.each([
    ['12V', '12 V'],
    ['1.5mm2', '1.5 mm²'],
    ['5 µA', '5 µA'],
    ['5 μA', '5 µA'],
    ['5 − 3', '2'],
    ['3 / 6 / 2000', '0.00025'],
    ['12/2/3', '2'],
    ['4/0 AWG', '4/0 AWG'],
    ['PANEL VOLTAGE × 2', '36 V'],
    ['"3/6/2026"', '3/6/2026'],
    ['"5 to 10"', '5 to 10'],
  ])('%s', (formula, text) => {
    const { cell, messages } = evaluated(KNOWN, formula);
    expect(messages).toEqual([]);
    expect(cell.text.replace(/\s/gu, ' ')).toBe(text);
  });

  test('a line of prose is not taken for a cell', () => {
    const { messages } = openSession(
      notebook('We arrive at the lake around 5 pm\nsome words\nnote: bring rope'),
    ).report(0, false);
    expect(messages.map((message) => message.code)).toEqual(Array(3).fill('line-unread'));
  });

  test('plain words of a table stay words', () => {
    const { cells, messages } = openSession(
      notebook('t = table\n  k | what\n  1 | from 5 to 10\n  2 | lamp x fan'),
    ).report(0, true);
    expect(messages).toEqual([]);
    expect(JSON.stringify(cells.t?.value)).toContain('from 5 to 10');
  });
});

test.each([
  ['from 1 A to 9 A', 'panel current = 1 A..9 A'],
  ['from 1 A to 9 A by 2 A', 'panel current = steps(1 A, 9 A, by: 2 A)'],
])('chart … against panel current %s', (values, written) => {
  const lines = (against: string): string =>
    [
      'dapple 1',
      'panel current = 5 A',
      'drop = 0.2 Ω × panel current',
      `chart drop against ${against}`,
      '',
    ].join('\n');
  const session = openSession(lines(`panel current ${values}`));
  const [message, ...more] = session.report(0, false).messages;
  expect(more).toEqual([]);
  expect(message?.code).toBe('sign-meant');
  expect(message?.text).toContain(`Write ${written}.`);
  expect(openSession(lines(written)).report(0, false).messages).toEqual([]);
});

// Each of these took seconds to hours: patterns of slips that try every stretch of the formula.
describe('a formula as long as one may be, of one thing over and over, is answered', () => {
  test.each([
    ['9', 'number-huge'],
    ['W ', 'unknown-name'],
    ['a from 1 to ', 'unknown-name'],
    ['1:', 'cannot-stand'],
    ['½', 'sign-meant'],
    ['a', 'unknown-name'],
  ])('%s: %s, in a message no longer than one is read', (piece, code) => {
    const formula = piece.repeat(Math.floor(19_900 / piece.length));
    const session = openSession(notebook(`a = ${formula}`));
    const [message] = session.snapshot().messages;
    expect(message?.code).toBe(code);
    expect(message?.text.length).toBeLessThan(500);
    session.completions('a', formula, formula.length);
  });

  test('a slip far along it is named at its place', () => {
    const long = '1 W + '.repeat(800);
    const [message, ...more] = openSession(notebook(`a = ${long}1'234 W`)).snapshot().messages;
    expect(more).toEqual([]);
    expect([message?.code, message?.column]).toEqual([
      'thousands',
      'a = '.length + long.length + 1,
    ]);
  });

  test('and one further off than the place where reading stopped is not made up of half a number', () => {
    const [message] = openSession(notebook(`a = 1 W $ ${'5'.repeat(290)}.5 W`)).snapshot().messages;
    expect(message?.code).toBe('character-unknown');
  });
});
