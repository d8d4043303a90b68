// The noise of the surroundings at amateur frequencies, computed from Recommendation ITU-R P.372 by
// two independent programs, in a lossless short antenna and 2.4 kHz.

import { describe, expect, test } from 'vitest';
import {
  addLevels,
  type Environment,
  externalNoise,
  interfererLevel,
} from '../../../engine/physics/radio-noise.ts';

const rows: readonly (readonly [Environment, number, number])[] = [
  ['city', 3.6, -78.8],
  ['city', 50, -110.4],
  ['residential', 7.1, -91.3],
  ['residential', 28.5, -108],
  ['rural', 14.2, -104.9],
  ['rural', 50, -120],
  ['quiet rural', 7.1, -110.9],
  ['quiet rural', 28.5, -128.2],
  ['galactic', 14.2, -114.7],
  ['galactic', 50, -127.2],
];

test.each(rows)('%s at %d MHz gives %d dBm', (environment, megahertz, level) => {
  expect(Math.abs(externalNoise(environment, megahertz * 1e6, 2400) - level)).toBeLessThan(0.051);
});

describe('outside its range the noise is unknown', () => {
  const outside: readonly (readonly [Environment, number])[] = [
    ['city', 0.29e6],
    ['rural', 251e6],
    ['quiet rural', 30.1e6],
    ['galactic', 9.9e6],
    ['galactic', 101e6],
  ];
  test.each(outside)('%s at %d Hz', (environment, frequency) => {
    expect(externalNoise(environment, frequency, 2400)).toBeNaN();
  });
});

test('an interferer comes back from the sum it made', () => {
  expect(interfererLevel(addLevels([-97, -92]), -97)).toBeCloseTo(-92, 9);
  expect(interfererLevel(-98, -97)).toBeNaN();
});
