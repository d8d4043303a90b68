// Reading again after a change gives what reading the whole text gives, messages and places included.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { rereadNotebook, rereadWithin } from '../../../engine/notebook/reread-notebook.ts';
import { keepWritten, writeNotebook } from '../../../engine/notebook/write-notebook.ts';
import { testCases } from '../../tools/test-cases.ts';
import { SAMPLE, STARTERS } from './sample.ts';

const texts = [
  SAMPLE,
  SAMPLE.replaceAll('\n', '\r\n'),
  SAMPLE.replaceAll('\n', '\r'),
  SAMPLE.trimEnd(),
  'a = 1\nb = 2',
  '',
  ...STARTERS.map(([, text]) => text),
];
const put = fc
  .array(
    fc.constantFrom(
      '\n',
      '\r',
      '\r\n',
      ' ',
      '  x | y',
      'a = 1',
      'words',
      '|',
      '#',
      '[',
      ']',
      ' -- n',
      '"',
      '=',
    ),
    { maxLength: 6 },
  )
  .map((pieces) => pieces.join(''));

test('a notebook read again equals the notebook read whole', () => {
  fc.assert(
    fc.property(fc.constantFrom(...texts), fc.nat(), fc.nat(60), put, (text, place, cut, words) => {
      const start = place % (text.length + 1);
      const end = Math.min(text.length, start + cut);
      const after = text.slice(0, start) + words + text.slice(end);
      const again = rereadNotebook(readNotebook(text), after, { start, end });
      expect(again).toEqual(readNotebook(after));
    }),
    { numRuns: testCases(4000) },
  );
});

test('a change within a cell, with the text it makes and the one it takes away', () => {
  let found = 0;
  fc.assert(
    fc.property(fc.constantFrom(...texts), fc.nat(), fc.nat(8), put, (text, place, cut, words) => {
      const start = place % (text.length + 1);
      const changed = { start, end: Math.min(text.length, start + cut) };
      const before = keepWritten(readNotebook(text), text);
      const within = rereadWithin(before, changed, words);
      if (!within) return;
      found++;
      const after = text.slice(0, start) + words + text.slice(changed.end);
      expect(within.notebook).toEqual(readNotebook(after));
      expect(within.removed).toBe(text.slice(start, changed.end));
      const back = rereadWithin(
        within.notebook,
        { start, end: start + words.length },
        within.removed,
      );
      expect(back?.notebook).toEqual(readNotebook(text));
      // Whether the text is asked for at once or only after another change.
      if (place % 2 === 0) expect(writeNotebook(within.notebook)).toBe(after);
      if (back) expect(writeNotebook(back.notebook)).toBe(text);
    }),
    { numRuns: testCases(4000) },
  );
  expect(found).toBeGreaterThan(100);
});

test('items away from the change are the same objects', () => {
  const before = readNotebook(SAMPLE);
  const start = SAMPLE.indexOf('caption');
  const after = SAMPLE.replace('caption', 'subject');
  const again = rereadNotebook(before, after, { start, end: start + 'caption'.length });
  const same = again.items.filter((item, index) => item === before.items[index]);
  expect(same.length).toBe(before.items.length - 3);
});

test('lines that stood alone, indented, belong above however many they are', () => {
  // The blank line kept them from the formula.
  const text = 'dapple 1\n\na = 1 +\n\n  2 +\n  3 +\n  4\nb = 5\n';
  const blank = text.indexOf('\n\n  2') + 1;
  const after = text.slice(0, blank) + text.slice(blank + 1);
  const again = rereadNotebook(readNotebook(text), after, { start: blank, end: blank + 1 });
  expect(again).toEqual(readNotebook(after));
  expect(again.items.map(({ line }) => line)).toEqual([3, 7]);
});
