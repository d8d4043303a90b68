// The trip notebook in a real browser: a number is moved, and what draws on it moves with it.

import { expect } from 'vitest';
import { test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

test('the panel rating’s slider moves the lowest charge and the chart of the charge', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'panel rating').getByRole('rowheader').click();
  const slider = page.getByRole('complementary', { name: 'Bench' }).getByRole('slider');
  await page.locator('dapple-chart').first().scrollIntoViewIfNeeded();
  await page.locator('.chart-picture svg').first().waitFor();
  const chargeBefore = await shownValue(page, 'lowest charge');
  const pictureBefore = await page.locator('.chart-picture').first().innerHTML();
  await slider.focus();
  for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowLeft');
  expect(await shownValue(page, 'panel rating')).toMatch(/^100 W/);
  await expect.poll(() => shownValue(page, 'lowest charge')).not.toBe(chargeBefore);
  expect(await page.locator('.chart-picture').first().innerHTML()).not.toBe(pictureBefore);
  expect(visit.complaints).toEqual([]);
  expect(visit.foreignRequests).toEqual([]);
});

test('a slide is one step of undo', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const slider = rowOf(page, 'panel rating').getByRole('slider');
  await slider.evaluate((element) => element.scrollIntoView({ block: 'center' }));
  const box = await slider.boundingBox();
  if (!box) throw new Error('the slider has no place');
  const middle = box.y + box.height / 2;
  await page.mouse.move(box.x + box.width * 0.3, middle);
  await page.mouse.down();
  for (const share of [0.4, 0.5, 0.6, 0.7])
    await page.mouse.move(box.x + box.width * share, middle);
  await page.mouse.up();
  expect(await shownValue(page, 'panel rating')).not.toMatch(/^220 W/);
  await page.keyboard.press('Control+z');
  await expect.poll(() => shownValue(page, 'panel rating')).toMatch(/^220 W/);
});

test('an edit and its charts are measured', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'panel rating').getByRole('rowheader').click();
  await page.keyboard.press('+');
  await expect.poll(() => shownValue(page, 'panel rating')).toMatch(/^240 W/);
  const measured = await page.evaluate(() =>
    ['edit-to-values', 'edit-to-charts'].map((name) => performance.getEntriesByName(name).length),
  );
  expect(Math.min(...measured)).toBeGreaterThan(0);
});

test('a scenario’s strip takes a value of its own and gives it back', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'reserve').locator('[data-col="1"]').click();
  await page.keyboard.type('35 %');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'reserve', 1)).toMatch(/^35 %/);
  expect(await shownValue(page, 'reserve')).toMatch(/^20 %/);
  await page.keyboard.press('Delete');
  await expect.poll(() => shownValue(page, 'reserve', 1)).toMatch(/^20 %/);
});
