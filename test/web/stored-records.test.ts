// What stands on a device may be damaged, or written by somebody else: the reader of records takes
// whole ones and leaves everything else, and never throws.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readKept } from '../../web/storage.ts';

const whole = { id: 'a', title: 'A', text: 'dapple 1\n', headline: 'The plan holds', when: 5 };

test('a whole record is read as it was written', () => {
  expect(readKept(whole)).toEqual(whole);
  expect(readKept({ ...whole, gone: 7 })).toEqual({ ...whole, gone: 7 });
});

test('a record with damaged extras keeps its text', () => {
  expect(readKept({ ...whole, title: 3, headline: null, when: Number.NaN, gone: 'yes' })).toEqual({
    id: 'a',
    title: '',
    text: 'dapple 1\n',
    headline: '',
    when: 0,
  });
});

test('anything at all is a record with its text, or none', () => {
  const value = fc.oneof(
    fc.anything(),
    fc.record(
      { id: fc.anything(), text: fc.anything(), when: fc.anything(), gone: fc.anything() },
      { requiredKeys: [] },
    ),
    fc.json().map((text) => JSON.parse(text) as unknown),
  );
  fc.assert(
    fc.property(value, (given) => {
      const read = readKept(given);
      if (read === undefined) return;
      expect(typeof read.id).toBe('string');
      expect(typeof read.text).toBe('string');
      expect(Number.isFinite(read.when)).toBe(true);
      expect(Object.getPrototypeOf(read)).toBe(Object.prototype);
    }),
    { numRuns: 2000 },
  );
});
