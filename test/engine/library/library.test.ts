// The library as a description: complete enough for a reference, and true to what `apply` does with
// arguments and results.

import { describe, expect, test } from 'vitest';
import { libraryFunctions } from '../../../engine/library/library.ts';
import { recordFields } from '../../../engine/library/records.ts';
import { type LibraryFunction, RECORD_SORTS } from '../../../engine/library/signature.ts';

const functions = [...libraryFunctions.values()];
const elements = functions.filter(({ apply }) => apply !== undefined);
const forms = functions.filter(({ apply }) => apply === undefined);

test('there are functions of both sorts, under their lower-case names', () => {
  expect(elements.length).toBeGreaterThanOrEqual(24);
  expect(forms.length).toBeGreaterThanOrEqual(36);
  for (const [key, { name }] of libraryFunctions) expect(key).toBe(name.toLowerCase());
});

test('no two functions share a name', async () => {
  const lists = await Promise.all([
    import('../../../engine/library/numbers.ts').then((file) => file.numberFunctions),
    import('../../../engine/library/series.ts').then((file) => file.seriesFunctions),
    import('../../../engine/library/time.ts').then((file) => file.timeFunctions),
    import('../../../engine/library/chance.ts').then((file) => file.chanceFunctions),
    import('../../../engine/library/sun-and-sky.ts').then((file) => file.sunAndSkyFunctions),
    import('../../../engine/library/cable.ts').then((file) => file.cableFunctions),
    import('../../../engine/library/battery.ts').then((file) => file.batteryFunctions),
    import('../../../engine/library/radio.ts').then((file) => file.radioFunctions),
  ]);
  expect(lists.flat().map(({ name }) => name)).toHaveLength(libraryFunctions.size);
});

describe.each(functions.map((each): [string, LibraryFunction] => [each.name, each]))(
  '%s',
  (name, each) => {
    test('says what it means, where that comes from, and shows it', () => {
      expect(each.meaning).toMatch(/^[A-Z].{8,}\.$/u);
      expect(each.meaning).not.toContain('\n');
      expect(each.source.length).toBeGreaterThan(3);
      const shown = [...(each.example.before ?? []), each.example.formula].join('\n');
      expect(shown).toContain(`${name}(`);
      expect(each.example.gives).not.toBe('');
    });

    test('explains every argument once', () => {
      const names = each.parameters.map((parameter) => parameter.name);
      expect(new Set(names).size).toBe(names.length);
      for (const { meaning } of each.parameters) expect(meaning.length).toBeGreaterThan(3);
    });

    test('takes by position no more than it has', () => {
      const any = ['min', 'max', 'steps'].includes(name);
      expect(each.positional).toBeLessThanOrEqual(any ? 99 : each.parameters.length);
    });

    test('has ranges in words too, and defaults inside them', () => {
      for (const { range, rangeText, default: usual, choices } of each.parameters) {
        expect(rangeText === undefined).toBe(range === undefined);
        if (range !== undefined) expect(range[0]).toBeLessThan(range[1]);
        if (range !== undefined && usual !== undefined) {
          expect(usual).toBeTypeOf('number');
          expect(Number(usual)).toBeGreaterThanOrEqual(range[0]);
          expect(Number(usual)).toBeLessThanOrEqual(range[1]);
        }
        if (choices !== undefined && usual !== undefined) expect(choices).toContain(usual);
      }
    });

    test('names records that are known', () => {
      for (const { kind, sort } of each.parameters) {
        if (kind === 'record') expect(RECORD_SORTS).toContain(sort);
      }
      if (each.result.kind === 'record') {
        expect(each.result.fields).toEqual(recordFields(each.result.sort));
      }
    });
  },
);

test('element functions leave no kind, dimension or result to the checker', () => {
  const left = elements.flatMap(({ name, parameters, result }) => [
    ...parameters
      .filter(({ kind, dimension, optional }) =>
        kind === 'quantity' ? dimension === undefined : kind === 'any' || optional === true,
      )
      .map((parameter) => `${name}: ${parameter.name}`),
    ...(result.kind === 'form' ? [`${name}: result`] : []),
  ]);
  expect(left).toEqual([]);
});

test('arguments without a default stand before those with one', () => {
  for (const { name, parameters } of elements) {
    const given = parameters.map((parameter) => parameter.default !== undefined);
    expect(given, name).toEqual(given.toSorted((a, b) => Number(a) - Number(b)));
  }
});

test('records have the fields that formulas name', () => {
  expect(recordFields('sun').map(({ name }) => name)).toEqual([
    'elevation',
    'azimuth',
    'distance factor',
  ]);
  expect(recordFields('sky').map(({ name }) => name)).toEqual([
    'beam',
    'diffuse',
    'global',
    'beam outside',
  ]);
  expect(recordFields('store').map(({ name }) => name)).toEqual([
    'charge',
    'energy',
    'stored',
    'spilled',
    'unserved',
  ]);
  expect(() => recordFields('moon')).toThrow(RangeError);
});
