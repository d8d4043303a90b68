// The light on a panel written out term by term, and what must hold at the borders.

import { describe, expect, test } from 'vitest';
import {
  angleOfIncidence,
  ashraeModifier,
  glassModifier,
  martinRuizModifier,
  planeOfArray,
} from '../../../engine/physics/transposition.ts';

const DEGREE = Math.PI / 180;

describe('the light on the plane', () => {
  // Sun 40° up in the south, plane tilted 30° to the south: cos θ = cos(90° − 40° − 30°).
  const plane = (dni: number, dhi: number, beamShare: number, skyShare: number, albedo = 0) =>
    planeOfArray(
      dni * Math.sin(40 * DEGREE) + dhi,
      dni,
      dhi,
      1361,
      40 * DEGREE,
      180 * DEGREE,
      30 * DEGREE,
      180 * DEGREE,
      albedo,
      beamShare,
      skyShare,
    );
  const ahead = Math.cos(20 * DEGREE);

  test('is the beam alone when the sky is dark: dni cos θ (1 − 0.05 (1/cos θ − 1))', () => {
    expect(plane(800, 0, 1, 0)).toBeCloseTo(800 * ahead * (1 - 0.05 * (1 / ahead - 1)), 9);
  });

  test('is 95 % of the dome when there is no beam', () => {
    expect(plane(0, 200, 1, 0.9)).toBeCloseTo(200 * 0.9 * 0.95, 9);
  });

  test('hides the ring round the sun with the beam', () => {
    const ring = (150 * (800 / 1361) * ahead) / Math.sin(40 * DEGREE);
    const beam = 800 * ahead * (1 - 0.05 * (1 / ahead - 1));
    expect(plane(800, 150, 1, 0) - plane(800, 150, 0, 0)).toBeCloseTo(beam + ring, 9);
    expect(plane(800, 150, 0, 0)).toBe(0);
  });

  test('adds E ρ (1 − cos β)/2 from the ground (Liu & Jordan 1963)', () => {
    const ghi = 800 * Math.sin(40 * DEGREE) + 150;
    const ground = (ghi * 0.2 * (1 - Math.cos(30 * DEGREE))) / 2;
    expect(plane(800, 150, 0.5, 0.5, 0.2) - plane(800, 150, 0.5, 0.5)).toBeCloseTo(ground, 9);
  });

  test('is dark at night and finite with the sun on the horizon', () => {
    expect(planeOfArray(0, 0, 0, 1361, -0.2, 0, 0.5, 0, 0.2, 0, 0.9)).toBe(0);
    const low = planeOfArray(5, 20, 5, 1361, 1e-9, 0, Math.PI / 2, 0, 0.2, 1, 0.5);
    expect(low).toBeGreaterThan(0);
    expect(low).toBeLessThan(60);
  });

  test('gets no beam from behind', () => {
    expect(planeOfArray(0, 800, 0, 1361, 0.3, 0, Math.PI / 2, Math.PI, 0, 1, 0.5)).toBe(0);
  });
});

describe('the angle of incidence', () => {
  test('on a level plane is the zenith angle wherever the plane looks', () => {
    for (const facing of [0, 1, 4]) {
      expect(angleOfIncidence(0.7, 2, 0, facing)).toBeCloseTo(Math.PI / 2 - 0.7, 12);
    }
  });

  test('is 0 with the sun square on the plane and π behind it', () => {
    expect(angleOfIncidence(0.5, 3, Math.PI / 2 - 0.5, 3)).toBeCloseTo(0, 7);
    expect(angleOfIncidence(-0.5, 3 + Math.PI, Math.PI / 2 - 0.5, 3)).toBeCloseTo(Math.PI, 7);
  });
});

describe('every angle modifier', () => {
  const modifiers: readonly (readonly [string, (incidence: number) => number])[] = [
    ['of ASHRAE', (incidence) => ashraeModifier(Math.cos(incidence))],
    ['of Martin & Ruiz', (incidence) => martinRuizModifier(incidence, 0.16)],
    ['of glass', (incidence) => glassModifier(incidence, 1.526, 0.008)],
  ];

  test.each(modifiers)(
    '%s is 1 square on, falls without a rise, and is 0 behind',
    (_, modifier) => {
      expect(modifier(0)).toBeCloseTo(1, 9);
      for (let degrees = 1; degrees <= 90; degrees += 1) {
        const before = modifier((degrees - 1) * DEGREE);
        expect(modifier(degrees * DEGREE)).toBeLessThanOrEqual(before + 1e-9);
      }
      expect(modifier(90 * DEGREE)).toBeCloseTo(0, 9);
      expect(modifier(120 * DEGREE)).toBeCloseTo(0, 9);
    },
  );
});
