// Labels under bars keep to their places whole.

import { expect, test } from 'vitest';
import { fittedLabels, wrapped } from '../../web/chart/fitted-labels.ts';

test('a label is broken between words', () => {
  expect(wrapped('mains outlet idle', 6)).toEqual(['mains', 'outlet', 'idle']);
  expect(wrapped('mains outlet idle', 12)).toEqual(['mains outlet', 'idle']);
  expect(wrapped('Sun 13', 8)).toEqual(['Sun 13']);
  // The word has six letters.
  expect(wrapped('mains outlet idle', 5)).toBeUndefined();
  // Four words of three letters in four lines are too many.
  expect(wrapped('one two six ten', 4)).toBeUndefined();
});

test('labels lie while every word fits and stand upright when one does not', () => {
  // 65 px are ten letters of 6.5 px.
  expect(fittedLabels(['cool box', 'recorder packs'], 65)).toEqual({
    shown: ['cool box', 'recorder\npacks'],
    angle: 0,
    extra: 15,
  });
  const upright = fittedLabels(['cool box', 'recorder packs'], 40);
  expect(upright.angle).toBe(-90);
  expect(upright.shown).toEqual(['cool box', 'recorder packs']);
  // Fourteen letters of 6.5 px stand where one line of 15 px was.
  expect(upright.extra).toBe(14 * 6.5 - 15);
});

test('only a very long name that stands upright is shortened', () => {
  const long = 'thermoelectric cool box in the shade';
  expect(fittedLabels([long], 40).shown).toEqual(['thermoelectric cool b…']);
});
