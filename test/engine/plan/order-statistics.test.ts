// Quantiles by selection against the same sample put in order.

import { describe, expect, test } from 'vitest';
import { percentileOf, quantilesOf } from '../../../engine/plan/order-statistics.ts';

const SHARES = [0, 0.05, 0.25, 0.5, 0.75, 0.95, 1];

/** Park and Miller's generator (1988): the same numbers every time. */
function* numbers(seed: number): Generator<number, never> {
  let state = seed;
  while (true) {
    state = (state * 16_807) % 2_147_483_647;
    yield state / 2_147_483_647;
  }
}

function fromSorted(sample: Float64Array): number[] {
  const sorted = Float64Array.from(sample).sort();
  return SHARES.map((share) => {
    const x = share * (sorted.length - 1);
    const [a, b] = [sorted[Math.floor(x)], sorted[Math.ceil(x)]] as [number, number];
    return x === Math.floor(x) ? a : a + (b - a) * (x - Math.floor(x));
  });
}

function selected(sample: Float64Array): number[] {
  const out: number[] = [];
  quantilesOf(Float64Array.from(sample), SHARES, out);
  return out;
}

describe('quantiles by selection', () => {
  test('1 to 11 stand at 1, 1.5, 3.5, 6, 8.5, 10.5 and 11', () => {
    expect(selected(Float64Array.of(7, 3, 11, 1, 9, 5, 2, 10, 4, 8, 6))).toEqual([
      1, 1.5, 3.5, 6, 8.5, 10.5, 11,
    ]);
  });

  test('are those of the sorted sample, whatever its size and however often numbers repeat', () => {
    const next = numbers(42);
    for (let size = 1; size <= 400; size += 7)
      for (const grain of [1e9, 10, 2, 1]) {
        const sample = Float64Array.from({ length: size }, () =>
          Math.floor(next.next().value * grain),
        );
        expect(selected(sample)).toEqual(fromSorted(sample));
      }
  });

  test('rising and falling samples are no trap', () => {
    const rising = Float64Array.from({ length: 1001 }, (_, i) => i);
    expect(selected(rising)).toEqual([0, 50, 250, 500, 750, 950, 1000]);
    expect(selected(rising.slice().reverse())).toEqual([0, 50, 250, 500, 750, 950, 1000]);
  });

  test('absent numbers count as the largest', () => {
    expect(selected(Float64Array.of(Number.NaN, 2, 1, Number.NaN, 3)).slice(0, 4)).toEqual([
      1, 1.2, 2, 3,
    ]);
  });
});

test('a share that falls on a number is that number, though its neighbour is absent', () => {
  // Of three, 50 % is the second, exactly; from there to the absent third there is nothing between.
  const sample = (): Float64Array => Float64Array.of(Number.NaN, 7, 3);
  expect(percentileOf(sample(), 0.5)).toBe(7);
  expect(percentileOf(sample(), 0.25)).toBe(5);
  expect(percentileOf(sample(), 0.75)).toBeNaN();
});
