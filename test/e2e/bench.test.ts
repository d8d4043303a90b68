// The bench in a real browser: another unit for a given, a chart against a given, and the given that
// makes a check hold.

import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { openText } from './open-text.ts';
import { rowOf, shownValue } from './sheet.ts';

const LINES = [
  'dapple 1',
  'title: Bench',
  '',
  'rating = 100 W   [50 W..800 W by 10 W]',
  'way = 1500 m',
  'harvest = rating × 4 h as Wh',
  'check harvest ≥ 600 Wh',
];

test('a given is converted exactly, and a result is charted against a given', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await page.setViewportSize({ width: 1440, height: 900 });
  await openText(page, address, LINES);
  const bench = page.getByRole('complementary', { name: 'Bench' });
  await rowOf(page, 'way').getByRole('rowheader').click();
  await bench.getByRole('button', { name: 'km', exact: true }).click();
  // 1500 m is 1.5 km.
  await expect.poll(() => shownValue(page, 'way')).toMatch(/^1\.5 km/);
  await rowOf(page, 'harvest').getByRole('rowheader').click();
  await bench.getByLabel('The given that moves').selectOption({ label: 'rating' });
  await bench.getByRole('button', { name: 'Chart it' }).click();
  await page.locator('.row.chart svg').first().waitFor();
  await page.keyboard.press('Control+z');
  await expect.poll(() => page.locator('.row.chart').count()).toBe(0);
  expect(visit.complaints).toEqual([]);
});

test('the given that makes a check hold is found and put in', async ({ visit, address }) => {
  const { page } = visit;
  await page.setViewportSize({ width: 1440, height: 900 });
  await openText(page, address, LINES);
  const bench = page.getByRole('complementary', { name: 'Bench' });
  await rowOf(page, 'check').getByRole('rowheader').click();
  await bench.getByLabel('The given looked for').selectOption({ label: 'rating' });
  await bench.getByRole('button', { name: 'Look for it' }).click();
  // 600 Wh in 4 h are 150 W.
  await bench.getByRole('button', { name: 'Put 150 W in' }).click();
  await expect.poll(() => shownValue(page, 'rating')).toMatch(/^150 W/);
  await expect.poll(() => rowOf(page, 'check').textContent()).toContain('holds');
  expect(visit.complaints).toEqual([]);
});
