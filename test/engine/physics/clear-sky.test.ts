// The clear sky over its whole range, and published values of the irradiance above the air.

import { describe, expect, test } from 'vitest';
import {
  extraterrestrialNormal,
  HOTTEL_CLIMATES,
  type HottelClimate,
  haurwitz,
  hottelBeamTransmittance,
  ineichenPerez,
  standardPressure,
} from '../../../engine/physics/clear-sky.ts';

const DEGREE = Math.PI / 180;

test.each([
  [3, 1408.7],
  [185, 1315.5],
])('on day %d a plane facing the sun gets %d W/m² above the air (Spencer 1971)', (day, outside) => {
  expect(extraterrestrialNormal(day)).toBeCloseTo(outside, 1);
});

test('sea level has the standard pressure (ICAO Doc 7488)', () => {
  expect(standardPressure(0)).toBe(101_325);
});

describe('the clear sky', () => {
  test('is closed and never negative', () => {
    for (let degrees = 0.1; degrees <= 90; degrees += 0.7) {
      for (const altitude of [0, 1500, 4000]) {
        for (let turbidity = 1; turbidity <= 10; turbidity += 0.5) {
          const sky = ineichenPerez(degrees * DEGREE, altitude, turbidity, 1361);
          expect(sky.dni * Math.sin(degrees * DEGREE) + sky.dhi).toBeCloseTo(sky.ghi, 9);
          for (const part of [sky.ghi, sky.dni, sky.dhi]) expect(part).toBeGreaterThanOrEqual(0);
        }
      }
    }
  });

  test('is dark at and below the horizon', () => {
    expect(ineichenPerez(0, 0, 3, 1361)).toEqual({ ghi: 0, dni: 0, dhi: 0 });
    expect(ineichenPerez(-0.3, 0, 3, 1361).ghi).toBe(0);
  });

  test('agrees with Haurwitz to 5 % above 30° at turbidity 3 and sea level', () => {
    for (let degrees = 31; degrees <= 90; degrees += 1) {
      const ratio = ineichenPerez(degrees * DEGREE, 0, 3, 1361).ghi / haurwitz(degrees * DEGREE);
      expect(Math.abs(ratio - 1)).toBeLessThan(0.05);
    }
  });

  test('carries NaN through', () => {
    expect(ineichenPerez(Number.NaN, 0, 3, 1361).ghi).toBeNaN();
    expect(ineichenPerez(0.5, 0, Number.NaN, 1361).dni).toBeNaN();
  });
});

describe('Hottel’s clear sky', () => {
  // Duffie & Beckman, example 2.8.1 (from memory): 270 m up at mid-latitude in summer the book prints
  // a0* = 0.154, a1* = 0.736 and k* = 0.363 before the climate's factors 0.97, 0.99 and 1.02.
  test.each([90, 60, 30, 10])('with the printed constants at 270 m, the sun %d° up', (degrees) => {
    const sine = Math.sin(degrees * DEGREE);
    const wanted = 0.97 * 0.154 + 0.99 * 0.736 * Math.exp((-1.02 * 0.363) / sine);
    const climate = HOTTEL_CLIMATES['mid-latitude summer'] as HottelClimate;
    const found = hottelBeamTransmittance(degrees * DEGREE, 270, climate);
    expect(Math.abs(found - wanted)).toBeLessThan(0.001);
  });

  // The table of the paper, worked at 0 and at 2500 m where its three parabolas have known ends:
  // a0 = 0.4237 − 0.00821 · 36 and 0.4237 − 0.00821 · 12.25, and so on.
  test.each([
    [0, 0.4237 - 0.29556, 0.5055 + 0.2513875, 0.2711 + 0.116125],
    [2500, 0.4237 - 0.1005725, 0.5055 + 0.0952, 0.2711],
  ])('at %d m from the sums of the paper', (altitude, constant, scale, decay) => {
    for (const [name, r0, r1, rk] of [
      ['tropical', 0.95, 0.98, 1.02],
      ['mid-latitude summer', 0.97, 0.99, 1.02],
      ['sub-arctic summer', 0.99, 0.99, 1.01],
      ['mid-latitude winter', 1.03, 1.01, 1],
    ] as const) {
      const climate = HOTTEL_CLIMATES[name] as HottelClimate;
      const wanted = r0 * constant + r1 * scale * Math.exp(-rk * decay);
      expect(hottelBeamTransmittance(Math.PI / 2, altitude, climate)).toBeCloseTo(wanted, 9);
    }
  });

  test('has no beam from a sun that is down', () => {
    const climate = HOTTEL_CLIMATES.tropical as HottelClimate;
    expect(hottelBeamTransmittance(0, 0, climate)).toBe(0);
    expect(hottelBeamTransmittance(-0.1, 0, climate)).toBe(0);
  });
});
