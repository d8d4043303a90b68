// The outline between its sightings, the sun's disc behind it, and the view of the sky from a plane
// against an integral over the hemisphere done here by brute force.

import { describe, expect, test } from 'vitest';
import {
  beamShare,
  makeSkyWindow,
  openSky,
  type SkyWindow,
  skyShare,
  windowHeight,
  windowThrough,
} from '../../../engine/physics/sky-window.ts';

const DEGREE = Math.PI / 180;

/** A window from rows of degrees, degrees and shares. */
function sightings(rows: readonly (readonly [number, number, number])[]): SkyWindow {
  return makeSkyWindow(
    rows.map(([azimuth]) => azimuth * DEGREE),
    rows.map(([, height]) => height * DEGREE),
    rows.map(([, , through]) => through),
  );
}

const pines = sightings([
  [10, 40, 0.1],
  [60, 50, 0.1],
  [90, 45, 0.1],
  [120, 38, 0.15],
  [150, 22, 0],
  [210, 22, 0],
  [240, 48, 0.1],
  [350, 50, 0.3],
]);

describe('the outline', () => {
  test.each([
    [10, 40],
    [35, 45],
    [75, 47.5],
    [180, 22],
    [350, 50],
    // Straight across north, from 350° to 10°.
    [355, 47.5],
    [0, 45],
    [5, 42.5],
    [-5, 47.5],
    [360 + 75, 47.5],
  ])('at %d° stands %d° high', (azimuth, height) => {
    expect(windowHeight(pines, azimuth * DEGREE) / DEGREE).toBeCloseTo(height, 9);
  });

  test('runs straight in the light it lets through', () => {
    expect(windowThrough(pines, 135 * DEGREE)).toBeCloseTo(0.075, 12);
    expect(windowThrough(pines, 0)).toBeCloseTo(0.2, 12);
  });

  test('keeps an upright edge between two sightings of one azimuth', () => {
    const edge = sightings([
      [0, 10, 0],
      [90, 10, 0],
      [90, 40, 0],
      [360, 40, 0],
    ]);
    expect(windowHeight(edge, 89.999 * DEGREE) / DEGREE).toBeCloseTo(10, 9);
    expect(windowHeight(edge, 90.001 * DEGREE) / DEGREE).toBeCloseTo(40, 9);
    expect(windowHeight(edge, 359.999 * DEGREE) / DEGREE).toBeCloseTo(40, 9);
    expect(windowHeight(edge, 0.001 * DEGREE) / DEGREE).toBeCloseTo(10, 9);
  });

  test('is one height all round from a single sighting', () => {
    const ring = sightings([[200, 30, 0.5]]);
    for (const azimuth of [0, 100, 200, 300, 359.9]) {
      expect(windowHeight(ring, azimuth * DEGREE) / DEGREE).toBeCloseTo(30, 9);
    }
  });

  test('of a descending or impossible list is refused', () => {
    expect(() => makeSkyWindow([], [], [])).toThrow(RangeError);
    expect(() => makeSkyWindow([0, 1], [0], [0, 0])).toThrow(RangeError);
    expect(() => makeSkyWindow([1, 0], [0, 0], [0, 0])).toThrow(RangeError);
    expect(() => makeSkyWindow([7], [0], [0])).toThrow(RangeError);
    expect(() => makeSkyWindow([0], [2], [0])).toThrow(RangeError);
    expect(() => makeSkyWindow([0], [0], [1.01])).toThrow(RangeError);
    expect(() => makeSkyWindow([Number.NaN], [0], [0])).toThrow(RangeError);
  });

  test('does not follow later changes of the lists it was made from', () => {
    const height = [0.5];
    const window = makeSkyWindow([0], height, [0]);
    height[0] = 1;
    expect(windowHeight(window, 2)).toBe(0.5);
  });
});

describe('the beam share', () => {
  const crown = sightings([[0, 30, 0.2]]);
  const at = (elevation: number) => beamShare(crown, elevation * DEGREE, 1);

  // The disc's radius is 16 minutes of arc, 0.27° (Astronomical Almanac).
  test.each([
    [45, 1],
    [30.28, 1],
    [30.135, 0.75 + 0.25 * 0.2],
    [30, 0.5 + 0.5 * 0.2],
    [29.865, 0.25 + 0.75 * 0.2],
    [29.72, 0.2],
    [1, 0.2],
    [0, 0],
    [-5, 0],
  ])('with the sun %d° up over a crown of 30° that lets a fifth through is %d', (up, share) => {
    expect(at(up)).toBeCloseTo(share, 9);
  });

  test('is 1 under the open sky once the disc has risen', () => {
    expect(beamShare(openSky(), 0.28 * DEGREE, 3)).toBe(1);
    expect(beamShare(openSky(), -0.01 * DEGREE, 3)).toBe(0);
  });

  test('carries NaN through', () => {
    expect(beamShare(crown, Number.NaN, 1)).toBeNaN();
    expect(beamShare(crown, 30 * DEGREE, Number.NaN)).toBeNaN();
  });
});

/** (1/π) ∫∫ max(0, cos θ) cos e w de dA, on half-degree cells of the hemisphere. */
function bruteSkyShare(window: SkyWindow, tilt: number, facing: number): number {
  const cell = 0.5 * DEGREE;
  let sum = 0;
  for (let a = cell / 2; a < 2 * Math.PI; a += cell) {
    const height = windowHeight(window, a);
    const through = windowThrough(window, a);
    for (let e = cell / 2; e < Math.PI / 2; e += cell) {
      const cosine =
        Math.sin(e) * Math.cos(tilt) + Math.cos(e) * Math.sin(tilt) * Math.cos(a - facing);
      const weight = e > height ? 1 : through;
      sum += Math.max(0, cosine) * Math.cos(e) * weight * cell * cell;
    }
  }
  return sum / Math.PI;
}

describe('the sky share', () => {
  test.each([0, 10, 35, 60, 90, 120, 180])(
    'behind trees of a plane tilted %d° is the integral over the hemisphere',
    (tilt) => {
      for (const facing of [0, 100, 205, 300]) {
        const angles = [tilt * DEGREE, facing * DEGREE] as const;
        expect(skyShare(pines, ...angles)).toBeCloseTo(bruteSkyShare(pines, ...angles), 3);
      }
    },
  );

  test.each([0, 30, 75, 90, 135, 180])('in the open at tilt %d° is (1 + cos β)/2', (tilt) => {
    const angle = tilt * DEGREE;
    expect(skyShare(openSky(), angle, 1)).toBeCloseTo((1 + Math.cos(angle)) / 2, 5);
  });

  test('of an obstacle that lets everything through is that of the open sky', () => {
    const glass = sightings([[0, 50, 1]]);
    expect(skyShare(glass, 0.6, 2)).toBeCloseTo(skyShare(openSky(), 0.6, 2), 9);
  });

  test('mixes masked and open by the share of light that passes', () => {
    const opaque = skyShare(sightings([[0, 30, 0]]), 0.5, 2);
    const leaky = skyShare(sightings([[0, 30, 0.25]]), 0.5, 2);
    const open = skyShare(openSky(), 0.5, 2);
    expect(leaky).toBeCloseTo(0.75 * opaque + 0.25 * open, 12);
  });

  test('carries NaN through', () => {
    expect(skyShare(pines, Number.NaN, 1)).toBeNaN();
    expect(skyShare(pines, 0.5, Number.NaN)).toBeNaN();
  });
});
