// Tables as text from outside: what is read, what is refused, and that writing and reading agree.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  DELIMITED_LIMITS,
  readDelimited,
  type Separator,
  withPlainNumber,
  writeDelimited,
} from '../../../engine/notebook/delimited-text.ts';
import { testCases } from '../../tools/test-cases.ts';

function rowsOf(text: string): readonly (readonly string[])[] {
  const read = readDelimited(text);
  if ('fault' in read) throw new Error(read.fault);
  return read.rows;
}

describe('the separator and the decimals', () => {
  test.each<[string, string, Separator, 'point' | 'comma' | 'unclear']>([
    ['commas', 'a,b\n1.5,2', ',', 'point'],
    ['semicolons with decimal commas', 'a;b\n1,5;2', ';', 'comma'],
    ['semicolons with decimal points', 'a;b\n1.5;2', ';', 'point'],
    ['semicolons, three decimals', 'a;b\n1,234;2', ';', 'comma'],
    ['tabs with decimal commas', 'a\tb\n1,5\t2', '\t', 'comma'],
    ['tabs that cannot be judged', 'a\tb\n1,234\t2', '\t', 'unclear'],
    ['tabs with thousands and a point', 'a\tb\n1,234\t0.5', '\t', 'point'],
    ['both kinds', 'a\tb\n1,5\t1.5', '\t', 'unclear'],
    ['a comma inside words', 'a;b\nnorth, upper;2', ';', 'point'],
    ['one column', 'a\n1.5\n2', ',', 'point'],
    ['separators inside quotes', '"a;b","c;d"\n"e;f","g;h"', ',', 'point'],
  ])('%s', (_, text, separator, decimal) => {
    expect(readDelimited(text)).toMatchObject({ separator, decimal });
  });
});

describe('fields', () => {
  test('quotes, doubled quotes, line ends inside, a byte order mark, three kinds of line end', () => {
    expect(rowsOf('\ufeffa,b\r\n"x, ""y""\nz",2\r3,\n')).toEqual([
      ['a', 'b'],
      ['x, "y"\nz', '2'],
      ['3', ''],
    ]);
  });
  test('what follows a closed quote belongs to the field', () => {
    expect(rowsOf('"a" b,c')).toEqual([['a b', 'c']]);
  });
  test('empty lines are left out', () => {
    expect(rowsOf('a,b\n\n,\n1,2')).toEqual([
      ['a', 'b'],
      ['1', '2'],
    ]);
  });
  test.each([
    ['nothing', ' \n\t\n', /nothing/],
    ['bytes that are no text', 'a,\0b', /no table of text/],
    ['a quote never closed', 'a,b\n1,"2\n3,4', /line 2 is never closed/],
    ['too many columns', 'a,'.repeat(DELIMITED_LIMITS.columns), /more than 60 columns/],
    ['too many rows', 'a,b\n'.repeat(DELIMITED_LIMITS.rows + 2), /more than 5000 rows/],
    ['too long', 'a'.repeat(DELIMITED_LIMITS.characters + 1), /too long/],
  ])('%s is refused in words', (_, text, why) => {
    expect(readDelimited(text)).toEqual({ fault: expect.stringMatching(why) });
  });
});

describe('numbers', () => {
  test.each<[string, 'point' | 'comma' | 'unclear', string]>([
    ['1.234,5', 'comma', '1234.5'],
    ['12,5 W', 'comma', '12.5 W'],
    ['-0,5', 'comma', '-0.5'],
    [',5', 'comma', '0.5'],
    ['1,234.5', 'point', '1234.5'],
    ['1,234,567 m', 'point', '1234567 m'],
    ['1 234', 'point', '1234'],
    ["12'500", 'point', '12500'],
    ['+3.5', 'point', '3.5'],
    ['1,5', 'point', '1,5'],
    ['1,234', 'unclear', '1,234'],
    ['2027-06-05 09:40', 'point', '2027-06-05 09:40'],
    ['19:00..21:00', 'comma', '19:00..21:00'],
    ['12 V lamp', 'comma', '12 V lamp'],
    ['three', 'comma', 'three'],
    ['1.2.3', 'point', '1.2.3'],
  ])('%s with a decimal %s is %s', (field, decimal, plain) => {
    expect(withPlainNumber(field, decimal)).toBe(plain);
  });
});

test('what is written is read again', () => {
  const field = fc.oneof(
    fc.string({ unit: 'grapheme', maxLength: 12 }),
    fc.constantFrom('a,b', 'a;b', 'a\tb', '"', 'a"b', 'a\nb', ' a ', ''),
  );
  fc.assert(
    fc.property(
      fc.integer({ min: 2, max: 4 }).chain((width) =>
        fc.array(fc.array(field, { minLength: width, maxLength: width }), {
          minLength: 1,
          maxLength: 6,
        }),
      ),
      fc.constantFrom<Separator>(',', ';', '\t'),
      (rows, separator) => {
        // A head of plain words, so that the separator can be told whatever the fields hold.
        const head = (rows[0] ?? []).map((_, c) => `head ${c}`);
        fc.pre(rows.every((row) => row.some((one) => one.trim() !== '')));
        fc.pre(!rows.flat().some((one) => one.includes('\0') || /[,;\t]/.test(one)));
        expect(rowsOf(writeDelimited([head, ...rows], separator))).toEqual([head, ...rows]);
      },
    ),
    { numRuns: testCases(1000) },
  );
});

test('any text is answered: with rows, or with one sentence', () => {
  fc.assert(
    fc.property(
      fc.array(
        fc.constantFrom('"', ',', ';', '\t', '\r', '\n', 'a', '1', '.', ' ', '\0', '\ufeff'),
      ),
      (parts) => {
        const read = readDelimited(parts.join(''));
        if ('fault' in read) expect(read.fault).toMatch(/^[A-Z].*\.$/);
        else expect(read.rows.length).toBeGreaterThan(0);
      },
    ),
    { numRuns: testCases(2000) },
  );
});
