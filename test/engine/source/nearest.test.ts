// The nearest name, and the number of slips between two words.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { NameIndex, nearest, slips } from '../../../engine/source/nearest.ts';

describe('slips', () => {
  // kitten/sitting is the classic example of Levenshtein's distance; ca/abc of the restricted
  // Damerau distance (3, since no part is edited twice).
  const known: readonly (readonly [string, string, number])[] = [
    ['kitten', 'sitting', 3],
    ['ca', 'abc', 3],
    ['ab', 'ba', 1],
    ['', 'abc', 3],
    ['same', 'same', 0],
  ];
  test.each(known)('%s to %s takes %i', (first, second, count) => {
    expect(slips(first, second, 9)).toBe(count);
  });

  test('count the same both ways and stop one beyond the limit', () => {
    const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 8 });
    fc.assert(
      fc.property(word, word, fc.nat(4), (first, second, limit) => {
        expect(slips(first, second, 9)).toBe(slips(second, first, 9));
        expect(slips(first, second, limit)).toBe(Math.min(slips(first, second, 9), limit + 1));
      }),
    );
  });
});

describe('the nearest name', () => {
  const names = ['panel voltage', 'panel current', 'load', 'leak'];
  test('is found within a third of its letters', () => {
    expect(nearest('panel volatge', names)).toBe('panel voltage');
    expect(nearest('Panel Curent', names)).toBe('panel current');
    expect(nearest('laod', names)).toBe('load');
  });

  test('is not forced', () => {
    expect(nearest('harvest', names)).toBeUndefined();
    expect(nearest('x', [])).toBeUndefined();
  });
});

describe('among very many names', () => {
  const many = Array.from({ length: 20_000 }, (_, i) => `part ${i}`);

  test('a slip of one letter is found where names begin alike', () => {
    const names = [...many, 'battery capacity', 'panel rating'];
    expect(new NameIndex(names).nearest('batery capacity', [])).toBe('battery capacity');
    expect(new NameIndex(names).nearest('panel ratting', [])).toBe('panel rating');
    expect(new NameIndex(names).nearest('quite another', [])).toBeUndefined();
  });

  test('names of the table at hand are looked at whatever they begin with', () => {
    expect(new NameIndex(many).nearest('qower', ['power'])).toBe('power');
  });

  test('among few names all are looked at', () => {
    expect(new NameIndex(['power', 'hours']).nearest('qower', [])).toBe('power');
  });
});
