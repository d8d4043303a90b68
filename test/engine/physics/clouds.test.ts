// A dimmed sky: closed, bounded and without jumps at any sun and any clear index.

import { describe, expect, test } from 'vitest';
import { ineichenPerez } from '../../../engine/physics/clear-sky.ts';
import { cloudedSky, erbsDiffuseFraction } from '../../../engine/physics/clouds.ts';

const DEGREE = Math.PI / 180;
const OUTSIDE = 1361;

const elevations = [0.01, 0.1, 0.5, 1, 3, 5, 10, 20, 40, 60, 90].map((each) => each * DEGREE);
const indexes = Array.from({ length: 23 }, (_, n) => n * 0.05);

function dimmed(elevation: number, index: number, turbidity = 3) {
  const clear = ineichenPerez(elevation, 0, turbidity, OUTSIDE);
  return { clear, sky: cloudedSky(clear.ghi, elevation, OUTSIDE, index, clear.dni) };
}

describe('a clouded sky', () => {
  test('is closed: ghi = dni sin h + dhi, and nothing is negative', () => {
    for (const elevation of elevations) {
      for (const index of indexes) {
        const { clear, sky } = dimmed(elevation, index);
        expect(sky.ghi).toBeCloseTo(clear.ghi * index, 9);
        expect(sky.dni * Math.sin(elevation) + sky.dhi).toBeCloseTo(sky.ghi, 9);
        expect(sky.dni).toBeGreaterThanOrEqual(0);
        expect(sky.dhi).toBeGreaterThanOrEqual(0);
      }
    }
  });

  test('never has more beam than the clear one', () => {
    for (const turbidity of [1, 2, 3, 5, 10]) {
      for (const elevation of elevations) {
        const { clear, sky } = dimmed(elevation, 1.1, turbidity);
        expect(sky.dni).toBeLessThanOrEqual(clear.dni);
      }
    }
  });

  test('has its beam from Erbs: (1 − d(k)) ghi / sin h', () => {
    const elevation = 50 * DEGREE;
    const { sky } = dimmed(elevation, 0.65);
    const clearness = sky.ghi / (OUTSIDE * Math.sin(elevation));
    const beam = ((1 - erbsDiffuseFraction(clearness)) * sky.ghi) / Math.sin(elevation);
    expect(sky.dni).toBeCloseTo(beam, 9);
  });

  test('changes by less than 1 % of the clear light when the index changes by 0.001', () => {
    for (const elevation of elevations) {
      for (let index = 0; index < 1.1; index += 0.001) {
        const { clear, sky } = dimmed(elevation, index);
        const { sky: more } = dimmed(elevation, index + 0.001);
        expect(Math.abs(more.dni - sky.dni)).toBeLessThan(0.01 * OUTSIDE);
        expect(Math.abs(more.dhi - sky.dhi)).toBeLessThan(0.01 * clear.ghi + 1e-12);
      }
    }
  });

  test('stays finite when more light is given than there is above the air', () => {
    const sky = cloudedSky(50, 0.001, OUTSIDE, 1);
    expect(sky.dni).toBeLessThan(OUTSIDE);
    expect(sky.dni * Math.sin(0.001) + sky.dhi).toBeCloseTo(50, 9);
  });

  test('is dark below the horizon and NaN for NaN', () => {
    expect(cloudedSky(0, -0.1, OUTSIDE, 1)).toEqual({ ghi: 0, dni: 0, dhi: 0 });
    expect(cloudedSky(Number.NaN, 0.5, OUTSIDE, 1).ghi).toBeNaN();
    expect(cloudedSky(500, Number.NaN, OUTSIDE, 1).dni).toBeNaN();
  });
});

test('Erbs has no step of a hundredth where its branches meet', () => {
  for (const border of [0.22, 0.8]) {
    const step = erbsDiffuseFraction(border + 1e-9) - erbsDiffuseFraction(border);
    expect(Math.abs(step)).toBeLessThan(0.01);
  }
});
