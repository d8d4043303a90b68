// What the page keeps beside the engine: starters as they are listed, readings as they are written,
// and what counts as unchanged. Expected values are the notebooks' own lines or worked by hand.

import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { tightest } from '../../web/chart/chart-time.ts';
import { sameValue } from '../../web/parts/same-value.ts';
import { momentNow, writtenEntry } from '../../web/screen/reading-sheet.ts';
import { STARTERS, starterText } from '../../web/screen/starters.ts';

const folder = resolve(import.meta.dirname, '../../notebooks');
const files = readdirSync(folder).filter((name) => name.endsWith('.dapple'));

test('every notebook is listed under its own title and a sentence of its own', () => {
  expect(STARTERS.map(({ id }) => `${id}.dapple`).toSorted()).toEqual(files.toSorted());
  for (const { id, title, line } of STARTERS) {
    const text = readFileSync(resolve(folder, `${id}.dapple`), 'utf8');
    expect(text).toContain(`\ntitle: ${title}\n`);
    const prose = text.split('\n').filter((one) => one.startsWith('|'));
    expect(prose.map((one) => one.slice(1).trim()).join(' ')).toContain(line);
  }
});

test('the text of a starter is the file, and of anything else there is none', async () => {
  const text = readFileSync(resolve(folder, 'cable.dapple'), 'utf8');
  expect(await starterText('cable')).toBe(text);
  expect(await starterText('no such notebook')).toBeUndefined();
});

test('plain data is the same when it says the same, and absent numbers are', () => {
  expect(sameValue({ a: [1, Number.NaN], b: 'x' }, { b: 'x', a: [1, Number.NaN] })).toBe(true);
  expect(sameValue([1, 2], [1, 3])).toBe(false);
  expect(sameValue([1, 2], [1, 2, 3])).toBe(false);
  expect(sameValue({ a: undefined }, { b: undefined })).toBe(false);
  expect(sameValue([], {})).toBe(false);
  expect(sameValue(null, {})).toBe(false);
  expect(sameValue(new Float64Array([1, 2]), new Float64Array([1, 2]))).toBe(true);
});

test('a bare number gets the unit of its column, anything else stays as it was typed', () => {
  const charge = { key: 'charge', name: 'charge', formula: '', given: true, added: false };
  const column = { ...charge, unit: '%', numeric: true };
  expect(writtenEntry(' 64 ', column)).toBe('64 %');
  expect(writtenEntry('64,5', column)).toBe('64.5 %');
  expect(writtenEntry('64 %', column)).toBe('64 %');
  expect(writtenEntry('', column)).toBe('');
  expect(writtenEntry('64', { ...column, unit: '', numeric: false })).toBe('64');
  // A bar would begin another column.
  expect(writtenEntry('rain | wind', { ...column, numeric: false })).toBe('rain / wind');
});

test('the moment now is written as a log holds it', () => {
  expect(momentNow(new Date(2027, 5, 2, 7, 4))).toBe('2027-06-02 07:04');
});

test('the tightest moment is the lowest above a limit and the highest below one', () => {
  const xs = [10, 20, 30, 40];
  expect(tightest(xs, [90, 34, 60, Number.NaN], 20)).toEqual({ x: 20, y: 34 });
  expect(tightest(xs, [10, 34, 39, 20], 40)).toEqual({ x: 30, y: 39 });
  expect(tightest(xs, [Number.NaN, Number.NaN], 40)).toBeUndefined();
});
