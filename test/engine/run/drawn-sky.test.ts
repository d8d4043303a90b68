// Drawn weather with the sky of a dry and of a wet day given. The chain is that of Gabriel & Neumann
// 1962 with 0.55 after a wet and 0.20 after a dry day; its odds were counted over all ways that the days
// can go: any wet day in five 0.7164, two in a row in four 0.3215, in seven 0.5054.

import { expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';

/** 0.2 / 0.65 of 30 days, in spells of 1 / 0.45. */
const CHAIN = 'wet days: 9.2307692, wet spell: 2.2222222';
const TRIALS = 4000;

function report(days: number, given: string) {
  const session = openSession(`dapple 1
trials: ${TRIALS}
seed: 5

clock = timeline(from: 2027-05-10, until: 2027-05-10 + ${days} × 24 h, by: 1 h)
sky = drawn sky(at: clock, ${CHAIN}${given})
wet = daily mean(sky) ≤ 1 %
rain = count(wet)
rows = count(wet and previous(wet, first: 2 < 1))
any = chance(rain ≥ 1)
two = chance(rows ≥ 1)
mean sky = mean(sky)
`);
  while (session.continue(1000, () => 0));
  return session.report(0, false);
}

/** Four standard errors of a share of the trials. */
const error = (p: number): number => 4 * Math.sqrt((p * (1 - p)) / TRIALS);

test.each([
  ['any', 5, 0.7164],
  ['two', 4, 0.3215],
  ['two', 7, 0.5054],
])('%s wet in %i days', (name, days, odds) => {
  const { cells, messages } = report(days, ', dry day: 100 %, wet day: 0 %');
  expect(messages).toEqual([]);
  expect(Math.abs((cells[name]?.value as number) / 100 - odds)).toBeLessThan(error(odds));
});

test('the plan counts with the mean: 1 − 0.2/0.65 of a clear sky', () => {
  const mean = report(4, ', dry day: 100 %, wet day: 0 %').cells['mean sky']?.value as number;
  expect(mean).toBeCloseTo(100 * (1 - 0.2 / 0.65), 4);
});

test('a day left out keeps its mix of classes: wet 0.3 × 65 % + 0.7 × 25 % = 37 %', () => {
  const mean = report(4, ', dry day: 100 %').cells['mean sky']?.value as number;
  expect(mean).toBeCloseTo(100 * (1 - 0.2 / 0.65) + 37 * (0.2 / 0.65), 4);
});

test('what is no clear index is told', () => {
  expect(report(4, ', dry day: 95').messages.map(({ code }) => code)).toEqual(['out-of-range']);
});
