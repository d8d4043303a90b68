// Which earlier versions stay: the rule in words is all of the last six hours, one an hour for a day,
// one a day for a month, then one a month, as far as they fit.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DAY, HOUR, isDue, keptVersions, MOST_CHARACTERS } from '../../web/versions.ts';

const NOW = Date.UTC(2027, 5, 15, 12, 30);

function kept(ages: readonly number[], size = 1000): number[] {
  const versions = ages.map((age) => ({ when: NOW - age, size }));
  return [...keptVersions(versions, NOW)].map((when) => NOW - when).toSorted((a, b) => a - b);
}

test('all of the last six hours stay', () => {
  const ages = [0, 60_000, 120_000, 3 * HOUR, 5.9 * HOUR];
  expect(kept(ages)).toEqual(ages);
});

test('of one hour yesterday the latest stays', () => {
  // 04:50, 04:40 and 04:10 on the same day, then 03:55.
  const ages = [7.67 * HOUR, 7.83 * HOUR, 8.33 * HOUR, 8.58 * HOUR];
  expect(kept(ages)).toEqual([7.67 * HOUR, 8.58 * HOUR]);
});

test('of one day last week the latest stays, of one month last year too', () => {
  const week = [7 * DAY, 7.2 * DAY, 8 * DAY];
  expect(kept(week)).toEqual([7 * DAY, 8 * DAY]);
  expect(kept([200 * DAY, 201 * DAY, 202 * DAY]).length).toBeLessThanOrEqual(2);
});

test('the oldest give way when all together are too long, the newest never', () => {
  expect(kept([0, HOUR, 2 * HOUR], MOST_CHARACTERS / 2)).toEqual([0, HOUR]);
  expect(kept([0, HOUR], 2 * MOST_CHARACTERS)).toEqual([0]);
});

test('thinning again takes nothing more away', () => {
  fc.assert(
    fc.property(
      fc.array(fc.integer({ min: 0, max: 400 * 24 * 3600 }), { maxLength: 60 }),
      (ages) => {
        const once = kept(ages.map((age) => age * 1000));
        expect(kept(once)).toEqual(once);
      },
    ),
  );
});

test('a version is due after an hour, and when none was kept yet', () => {
  expect(isDue(undefined, NOW)).toBe(true);
  expect(isDue(NOW - HOUR, NOW)).toBe(true);
  expect(isDue(NOW - HOUR + 1, NOW)).toBe(false);
});
