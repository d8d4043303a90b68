// Chains drawn day by day, distributions at printed values, and inverses.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  drawClass,
  drawFirstWet,
  drawNextWet,
  inverseNormal,
  meanWetSpell,
  normalShare,
  triangularEnds,
  triangularQuantile,
  triangularShare,
  wetChain,
  wetRunChance,
  wetShare,
  wilsonInterval,
} from '../../../engine/physics/weather-chance.ts';

describe('a chain from what people remember', () => {
  test.each([
    [9, 2.2],
    [3, 1],
    [20, 5],
  ])('%d wet days a month in spells of %d days has that share and that spell', (days, spell) => {
    const chain = wetChain(days, spell);
    expect(wetShare(chain)).toBeCloseTo(days / 30, 12);
    expect(meanWetSpell(chain)).toBeCloseTo(spell, 12);
  });

  test('contradicts itself when many wet days must lie in short spells', () => {
    expect(wetChain(25, 1).afterDry).toBeGreaterThan(1);
  });

  test('of a month of rain stays wet', () => {
    expect(wetShare(wetChain(30, 5))).toBe(1);
  });
});

/** Numbers from 0 to 1 from a seed (Lehmer, modulus 2³¹ − 1). */
function* evenly(seed: number): Generator<number, never> {
  for (let state = seed; ; ) {
    state = (state * 48_271) % 2_147_483_647;
    yield state / 2_147_483_647;
  }
}

test('trips drawn day by day hold two wet days in a row as often as computed', () => {
  const chain = { afterWet: 0.55, afterDry: 0.2 };
  const draw = evenly(1962);
  const trips = 20_000;
  let hits = 0;
  for (let trip = 0; trip < trips; trip += 1) {
    let wet = drawFirstWet(chain, draw.next().value);
    let found = false;
    for (let day = 1; day < 7; day += 1) {
      const next = drawNextWet(chain, wet, draw.next().value);
      found ||= wet && next;
      wet = next;
    }
    if (found) hits += 1;
  }
  // 0.5054: the chain against enumeration, done elsewhere. Three standard errors are 0.0106.
  expect(Math.abs(hits / trips - 0.505351)).toBeLessThan(0.0106);
  expect(Math.abs(hits / trips - wetRunChance(chain, 2, 7))).toBeLessThan(0.0106);
});

describe('a class drawn by its share', () => {
  test.each([
    [0, 0],
    [0.5999, 0],
    [0.6001, 1],
    [0.9499, 1],
    [0.9501, 2],
    [1, 2],
  ])('at %d is the class %d of 60, 35 and 5 %%', (uniform, index) => {
    expect(drawClass([0.6, 0.35, 0.05], uniform)).toBe(index);
  });

  test('is never one without a share', () => {
    expect(drawClass([0, 1, 0], 0)).toBe(1);
    expect(drawClass([0, 1, 0], 1)).toBe(1);
    expect(drawClass([0, 0], 0.5)).toBe(-1);
  });
});

describe('the normal distribution', () => {
  // Abramowitz & Stegun, Handbook of Mathematical Functions, tables 26.1 and 26.2.
  test.each([
    [0, 0.5, 1e-15],
    [1, 0.841344746068543, 2e-15],
    [2, 0.977249868051821, 2e-15],
    [3, 0.99865010196837, 2e-15],
    [-1, 0.158655253931457, 2e-15],
    [-3, 0.00134989803163, 2e-15],
    [-10, 7.61985302416e-24, 1e-31],
  ])('below %d lies %d', (z, share, tolerance) => {
    expect(Math.abs(normalShare(z) - share)).toBeLessThanOrEqual(tolerance);
  });

  test('has its 97.5 % at 1.959963984540054 and its 10 % at −1.2815515655446', () => {
    expect(inverseNormal(0.975)).toBeCloseTo(1.959963984540054, 12);
    expect(inverseNormal(0.1)).toBeCloseTo(-1.2815515655446, 12);
  });

  test('comes back through its inverse', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-12, max: 1 - 1e-12, noNaN: true }), (share) => {
        expect(Math.abs(normalShare(inverseNormal(share)) / share - 1)).toBeLessThan(1e-9);
      }),
      { endOnFailure: true },
    );
  });

  test('has no bottom and no top, and nothing outside', () => {
    expect(inverseNormal(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(inverseNormal(1)).toBe(Number.POSITIVE_INFINITY);
    expect(inverseNormal(1.1)).toBeNaN();
    expect(normalShare(Number.NaN)).toBeNaN();
    expect(normalShare(40)).toBe(1);
  });
});

describe('a triangle', () => {
  const sorted = fc
    .tuple(fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: 0, max: 500 }), fc.nat(500))
    .map(([low, left, right]) => [low, low + left, low + left + right + 1] as const);

  test('whose ends are passed once in ten has its tenths where they were given', () => {
    fc.assert(
      fc.property(sorted, ([low, likely, high]) => {
        const ends = triangularEnds(low, likely, high);
        const width = ends.high - ends.low;
        const first = triangularQuantile(0.1, ends.low, likely, ends.high);
        const last = triangularQuantile(0.9, ends.low, likely, ends.high);
        expect(Math.abs(first - low)).toBeLessThan(1e-9 * width);
        expect(Math.abs(last - high)).toBeLessThan(1e-9 * width);
      }),
      { endOnFailure: true },
    );
  });

  test('comes back through its inverse', () => {
    for (let share = 0; share <= 1; share += 0.01) {
      const value = triangularQuantile(share, 2, 4, 9);
      expect(triangularShare(value, 2, 4, 9)).toBeCloseTo(share, 12);
    }
  });
});

test('the interval of a share is never a bare 0 or 1 (Wilson 1927)', () => {
  expect(wilsonInterval(0, 1000)).toMatchObject({ low: 0 });
  expect(wilsonInterval(0, 1000).high).toBeGreaterThan(0.003);
  expect(wilsonInterval(1000, 1000).low).toBeLessThan(0.997);
});
