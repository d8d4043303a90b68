// Dimensions are interned vectors: equal vectors are one object, and arithmetic keeps to it.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as dimensions from '../../../engine/dimension/dimension.ts';
import {
  bases,
  coherentSymbol,
  type Dimension,
  dimensionName,
  dimensionOf,
  divide,
  exponentsOf,
  multiply,
  plain,
  power,
} from '../../../engine/dimension/dimension.ts';

const anyDimension: fc.Arbitrary<Dimension> = fc
  .array(fc.integer({ min: -8, max: 8 }), { minLength: bases.length, maxLength: bases.length })
  .map((halves) =>
    dimensionOf(Object.fromEntries(bases.map((base, place) => [base, (halves[place] ?? 0) / 2]))),
  );

describe('a dimension', () => {
  test('is the same object for the same exponents, and another for others', () => {
    expect(dimensionOf({ length: 2, time: -1 })).toBe(
      dimensionOf({ time: -1, length: 2, mass: 0 }),
    );
    expect(dimensionOf({ length: 1 })).not.toBe(dimensionOf({ mass: 1 }));
    expect(dimensionOf({ length: 1 }).id).not.toBe(dimensionOf({ length: 2 }).id);
  });

  test('does not tell a negative zero from zero', () => {
    expect(dimensionOf({ length: -0 })).toBe(plain);
    expect(power(dimensionOf({ length: 1 }), -0)).toBe(plain);
  });

  test('has an id for each vector', () => {
    fc.assert(
      fc.property(anyDimension, anyDimension, (a, b) => {
        const equal = a.doubled.every((exponent, place) => exponent === b.doubled[place]);
        expect(a === b).toBe(equal);
        expect(a.id === b.id).toBe(equal);
      }),
    );
  });

  test('is frozen', () => {
    expect(Object.isFrozen(plain)).toBe(true);
    expect(Object.isFrozen(plain.doubled)).toBe(true);
  });

  test('with an exponent of a third is refused', () => {
    expect(() => dimensionOf({ length: 1 / 3 })).toThrow(RangeError);
  });

  test('gives back its exponents', () => {
    expect(exponentsOf(dimensions.voltage)).toEqual({ mass: 1, length: 2, time: -3, current: -1 });
    expect(exponentsOf(plain)).toEqual({});
  });
});

describe('arithmetic of dimensions', () => {
  test('obeys the laws of a commutative group', () => {
    fc.assert(
      fc.property(anyDimension, anyDimension, anyDimension, (a, b, c) => {
        expect(multiply(a, b)).toBe(multiply(b, a));
        expect(multiply(multiply(a, b), c)).toBe(multiply(a, multiply(b, c)));
        expect(divide(multiply(a, b), b)).toBe(a);
        expect(multiply(a, plain)).toBe(a);
        expect(power(a, 2)).toBe(multiply(a, a));
        expect(power(a, -1)).toBe(divide(plain, a));
      }),
    );
  });

  test('a root of a square is the thing itself, a quarter power of a length is none', () => {
    expect(power(dimensions.area, 0.5)).toBe(dimensions.length);
    expect(power(dimensions.length, 0.5)).toBe(dimensionOf({ length: 0.5 }));
    expect(power(dimensions.length, 0.25)).toBeUndefined();
    expect(power(dimensions.length, 1 / 3)).toBeUndefined();
    expect(power(dimensions.length, Number.NaN)).toBeUndefined();
    expect(power(plain, 1 / 3)).toBe(plain);
  });

  test('products of the trade hold (SI Brochure, 9th ed., table 4)', () => {
    expect(multiply(dimensions.voltage, dimensions.current)).toBe(dimensions.wattage);
    expect(multiply(dimensions.wattage, dimensions.time)).toBe(dimensions.energy);
    expect(multiply(dimensions.charge, dimensions.voltage)).toBe(dimensions.energy);
    expect(multiply(dimensions.resistance, dimensions.current)).toBe(dimensions.voltage);
    expect(multiply(dimensions.force, dimensions.length)).toBe(dimensions.energy);
    expect(multiply(dimensions.pressure, dimensions.area)).toBe(dimensions.force);
    expect(multiply(dimensions.irradiance, dimensions.time)).toBe(dimensions.irradiation);
    expect(multiply(dimensions.capacitance, dimensions.voltage)).toBe(dimensions.charge);
    expect(exponentsOf(dimensions.resistance)).toEqual({
      mass: 1,
      length: 2,
      time: -3,
      current: -2,
    });
  });
});

describe('the name of a dimension', () => {
  test.each([
    [dimensions.wattage, 'power'],
    [divide(dimensions.energy, dimensions.time), 'power'],
    [dimensions.energy, 'energy'],
    [dimensions.current, 'current'],
    [dimensions.voltage, 'voltage'],
    [dimensions.resistance, 'resistance'],
    [dimensions.irradiance, 'light (W/m²)'],
    [plain, 'a plain number'],
    // Coherent derived units, as the SI brochure (9th edition, 2.3.4, table 6) spells such amounts.
    [divide(dimensions.wattage, dimensions.length), 'W/m'],
    [divide(dimensions.wattage, dimensions.time), 'W/s'],
    [divide(dimensions.heatLoss, dimensions.length), 'W/m/K'],
    [divide(dimensions.temperature, dimensions.wattage), 'K/W'],
    [multiply(dimensions.voltage, dimensions.time), 'V·s'],
    [divide(dimensions.current, dimensions.voltage), '1/Ω'],
    [divide(dimensions.mass, dimensions.time), 'kg/s'],
    [dimensionOf({ mass: 1, length: 2 }), 'kg·m²'],
    [dimensionOf({ temperature: -2, time: -0.5 }), '1/s^0.5/K²'],
  ])('%o is %s', (dimension, name) => {
    expect(dimensionName(dimension)).toBe(name);
  });

  test('and its SI unit is empty for plain numbers alone', () => {
    fc.assert(
      fc.property(anyDimension, (dimension) => {
        expect(coherentSymbol(dimension) === '').toBe(dimension === plain);
      }),
    );
  });
});
