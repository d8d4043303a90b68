// Notebooks woven from every form of the language, and notebooks cut from the starters and damaged,
// under all laws that must hold of any text. More of them, from another number on:
// `CASES=10000 CASES_FROM=5000 npx vitest run --project unit test/engine/run/woven-notebooks.test.ts`.

import { describe, expect, test } from 'vitest';
import { Hand } from '../../tools/dice.ts';
import { testCases } from '../../tools/test-cases.ts';
import { LAWS } from './notebook-laws.ts';
import { splicedNotebook } from './spliced-notebook.ts';
import { wovenNotebook } from './woven-notebook.ts';

const CASES = testCases(12);
const FROM = Number(process.env.CASES_FROM ?? 0);

/**
 * Numbers of notebooks that once went wrong. Woven: signs that touch their names (21, 72), a sky with
 * a height beyond 90° (1111), a scenario in place of a percentile (1276, 1340), a look back as another
 * unit (20224), a gain as times (30060). Spliced: a unit that cannot be written (20660), a gain as
 * times (30278).
 */
const WOVEN = [21, 72, 1111, 1276, 1340, 20_224, 30_060];
const SPLICED = [20_660, 30_278];

function breaches(make: (seed: number) => string, seed: number): readonly string[] {
  const text = make(seed);
  return Object.entries(LAWS).flatMap(([name, law]) => {
    try {
      return law(text, new Hand(seed)).map((one) => `${seed}, ${name}: ${one}`);
    } catch (error) {
      const words = error instanceof Error ? (error.stack ?? error.message) : error;
      return [`${seed}, ${name}: thrown ${words}`];
    }
  });
}

describe.each([
  ['woven notebooks', wovenNotebook, WOVEN],
  ['spliced notebooks', splicedNotebook, SPLICED],
] as const)('%s', (_, make, kept) => {
  test('keep every law', { timeout: 60_000 + CASES * 10_000 }, () => {
    const seeds = [...kept, ...Array.from({ length: CASES }, (__, i) => FROM + i)];
    expect(seeds.flatMap((seed) => breaches(make, seed))).toEqual([]);
  });

  test('are the same for the same number', () => {
    expect(make(5)).toBe(make(5));
    expect(make(5)).not.toBe(make(6));
  });
});
