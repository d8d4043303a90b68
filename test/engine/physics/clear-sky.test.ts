// The clear sky over its whole range, and published values of the irradiance above the air.

import { describe, expect, test } from 'vitest';
import {
  extraterrestrialNormal,
  haurwitz,
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
