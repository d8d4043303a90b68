// Small notebooks of every breed: opened and looked over, asked what the page asks, and under every
// other law for a share. A million of them by hand: see `test/tools/many-notebooks.ts`.

import { describe, expect, test } from 'vitest';
import { Hand } from '../../tools/dice.ts';
import { testCases } from '../../tools/test-cases.ts';
import { LAWS } from './notebook-laws.ts';
import { BREEDS, smallNotebook } from './small-notebook.ts';

const CASES = testCases(25);
const FROM = Number(process.env.CASES_FROM ?? 0);

describe.each(BREEDS)('small notebooks, %s', (breed) => {
  test.each([
    ['bytes', CASES * 4],
    ['printed', CASES * 4],
    ['opened', CASES],
    ['asked', Math.ceil(CASES / 2)],
    ['tidied', Math.ceil(CASES / 2)],
    ['edited', Math.ceil(CASES / 6)],
    ['overridden', Math.ceil(CASES / 6)],
    ['renamed', Math.ceil(CASES / 6)],
  ])('keep the law %s', { timeout: 60_000 + CASES * 1000 }, (name, cases) => {
    const broken = Array.from({ length: cases }, (_, i) => FROM + i).flatMap((seed) =>
      (LAWS[name]?.(smallNotebook(breed, seed), new Hand(seed)) ?? ['no such law']).map(
        (one) => `${seed}: ${one}`,
      ),
    );
    expect(broken).toEqual([]);
  });

  test('are the same for the same number, and small', () => {
    expect(smallNotebook(breed, 5)).toBe(smallNotebook(breed, 5));
    expect(smallNotebook(breed, 5)).not.toBe(smallNotebook(breed, 6));
    const lengths = Array.from({ length: 50 }, (_, i) => smallNotebook(breed, i).length);
    expect(lengths.sort((a, b) => a - b)[25]).toBeLessThan(2000);
  });
});
