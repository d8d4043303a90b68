// How the page looks: three lights, a narrow page, and what stays within its edge.

import { expect } from 'vitest';
import { axeFindings } from './axe.ts';
import { lastingTest, openVisit, test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

lastingTest('the chosen light is remembered', async ({ visit, address }) => {
  const { page } = visit;
  await page.goto(address);
  await page.getByRole('button', { name: /^Light: Day/ }).click();
  await page.getByRole('button', { name: /^Light: Dusk/ }).click();
  await page.reload();
  await page.getByRole('button', { name: /^Light: Red/ }).waitFor();
  const ground = await page.evaluate(
    () => getComputedStyle(document.documentElement).backgroundColor,
  );
  expect(ground).toBe('rgb(0, 0, 0)');
});

test('every colour of the red light has no green and no blue', async ({ visit, address }) => {
  const { page } = visit;
  await page.addInitScript(() => localStorage.setItem('dapple.theme', 'red'));
  await openStarter(page, address, 'trip');
  const wrong = await page.evaluate(() => {
    const found = new Set<string>();
    for (const element of document.querySelectorAll('*')) {
      const style = getComputedStyle(element);
      for (const name of ['color', 'background-color', 'border-top-color', 'fill', 'stroke']) {
        const [red, green, blue, alpha] = (style.getPropertyValue(name).match(/[\d.]+/g) ?? []).map(
          Number,
        );
        if (red === undefined || alpha === 0) continue;
        if ((green ?? 0) > 0 || (blue ?? 0) > 0)
          found.add(`${element.tagName}.${element.getAttribute('class')} ${name}`);
      }
    }
    return [...found];
  });
  expect(wrong).toEqual([]);
});

test('a narrow page has one strip, a scenario switch and nothing beyond its edge', async ({
  browser,
  address,
}) => {
  const visit = await openVisit(browser, { viewport: { width: 390, height: 844 }, hasTouch: true });
  const { page } = visit;
  await openStarter(page, address, 'trip');
  expect(await rowOf(page, 'panel rating').locator('.val').count()).toBe(1);
  const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(beyond).toBeLessThanOrEqual(0);
  await page
    .getByRole('group', { name: 'Scenario' })
    .getByRole('button', { name: /Two grey days/ })
    .click();
  expect(await rowOf(page, 'panel rating').locator('.val').getAttribute('data-col')).toBe('1');
  await rowOf(page, 'panel rating').locator('.val').click();
  await page.getByRole('complementary', { name: 'Bench' }).getByRole('slider').waitFor();
  expect(await axeFindings(page)).toEqual([]);
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});

test('a reading is logged on a phone', async ({ browser, address }) => {
  const visit = await openVisit(browser, { viewport: { width: 390, height: 844 }, hasTouch: true });
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await page.getByRole('button', { name: 'Reading' }).click();
  const sheet = page.getByRole('dialog', { name: 'New reading, log' });
  const rows = await rowOf(page, 'log').getByRole('row').count();
  // A moment alone is no reading, and says so.
  await sheet.getByRole('button', { name: 'Log it' }).click();
  const told = (): Promise<string> =>
    sheet.getByLabel('charge, %').evaluate((field: HTMLInputElement) => field.validationMessage);
  await expect.poll(told).toContain('at least one reading');
  expect(await sheet.count()).toBe(1);
  expect(await rowOf(page, 'log').getByRole('row').count()).toBe(rows);
  await sheet.getByLabel('moment').fill('2027-06-12 12:30');
  await sheet.getByLabel('charge, %').fill('64');
  expect(await axeFindings(page)).toEqual([]);
  await sheet.getByRole('button', { name: 'Log it' }).click();
  await expect.poll(() => sheet.count()).toBe(0);
  const added = rowOf(page, 'log').getByRole('row').last();
  expect(await added.getByRole('gridcell').allTextContents()).toEqual([
    '2027-06-12 12:30',
    '64 %',
    '–',
    '–',
  ]);
  await expect.poll(() => shownValue(page, 'last read')).toBe('Sat 12 Jun 12:30');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => shownValue(page, 'last read')).toBe('Sat 12 Jun 07:00');
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});

for (const [what, width] of [
  ['at 200 %', 640],
  ['reflowed to 320 pixels', 320],
] as const) {
  lastingTest(`the trip ${what} stays within the page`, async ({ visit, address }) => {
    await visit.page.setViewportSize({ width, height: 512 });
    await openStarter(visit.page, address, 'trip');
    const beyond = await visit.page.evaluate(
      () => document.documentElement.scrollWidth - innerWidth,
    );
    expect(beyond).toBeLessThanOrEqual(0);
  });
}
