// Random numbers as a function of (seed, trial, name, place) and of nothing else: any split of the
// trials over workers, and any scenario, sees the same draws.

import type { Distribution } from '../check/typed.ts';
import { inverseNormal, triangularEnds, triangularQuantile } from '../physics/weather-chance.ts';

/** 32-bit FNV-1a of a name's code units. */
export function nameNumber(name: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) {
    h ^= name.charCodeAt(i);
    h = Math.imul(h, 0x01000193);
  }
  return h >>> 0;
}

/** Finalising mix of MurmurHash3: every bit of the input reaches every bit of the output. */
function mix(h: number): number {
  let x = h;
  x ^= x >>> 16;
  x = Math.imul(x, 0x85ebca6b);
  x ^= x >>> 13;
  x = Math.imul(x, 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
}

/** Even on (0, 1), never 0 or 1. 52 bits from two mixes. */
export function uniform(seed: number, trial: number, name: number, place: number): number {
  let h = mix(seed ^ 0x9e3779b9);
  h = mix(h ^ Math.imul(trial + 1, 0x27d4eb2f));
  h = mix(h ^ name);
  h = mix(h ^ Math.imul(place + 1, 0x165667b1));
  const low = mix(h ^ 0x5bd1e995);
  return ((h >>> 6) * 67_108_864 + (low >>> 6) + 0.5) / 4_503_599_627_370_496;
}

/** Value of a distribution at a share of its trials. */
export function quantile(d: Distribution, share: number): number {
  const [a = 0, b = 0, c = 0] = d.parameters;
  switch (d.shape) {
    case 'uniform':
      return a + (b - a) * share;
    case 'normal':
      return a + b * inverseNormal(share);
    case 'triangular':
      return c > a ? triangularQuantile(share, a, b, c) : b;
    case 'usual': {
      if (!(c > a)) return b;
      const ends = triangularEnds(a, b, c);
      return triangularQuantile(share, ends.low, b, ends.high);
    }
  }
}
