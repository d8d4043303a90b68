// Writing formulas in a real browser, by mouse and by keyboard alone.

import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

test('power added to energy is marked at its characters and explained', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'spilled').locator('.phrase').click();
  const editor = page.getByRole('textbox', { name: /spilled/ });
  await editor.waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('panel rating + label energy');
  const message = rowOf(page, 'spilled').getByRole('alert');
  await message.waitFor();
  expect(await message.textContent()).toMatch(/adds a power \(W\) to an energy \(Wh\)/);
  const marked = await page.locator('dapple-editor .wave').allInnerTexts();
  expect(marked.join('')).toContain('panel rating + label energy');
});

test('a formula with a mistake is kept, and what draws on it says what it waits for', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  const name = 'panel voltage';
  await rowOf(page, name).locator('[data-col="0"]').click();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('no such cell');
  await page.keyboard.press('Enter');
  await expect.poll(() => rowOf(page, name).textContent()).toMatch(/No cell is called/);
  await expect.poll(() => page.getByText(`waits for ${name}`).count()).toBeGreaterThan(0);
  expect(visit.complaints).toEqual([]);
});

test('the keyboard alone changes a given and finds its way back', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await page.keyboard.press('Control+k');
  await page.keyboard.type('label energy');
  await page.keyboard.press('Enter');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await page.getByRole('textbox', { name: /label energy/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('2048 Wh');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'label energy')).toMatch(/^2048 Wh/);
  const focused = await page.evaluate(() => document.activeElement?.getAttribute('role'));
  expect(focused).toBe('gridcell');
  await page.keyboard.press('Control+z');
  await expect.poll(() => shownValue(page, 'label energy')).toMatch(/^1024 Wh/);
  await page.keyboard.press('Control+Shift+z');
  await expect.poll(() => shownValue(page, 'label energy')).toMatch(/^2048 Wh/);
});

test('a new row is written below the selected one', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'reserve').getByRole('rowheader').click();
  await page.keyboard.press('Control+Enter');
  await page.getByRole('textbox', { name: 'new row' }).waitFor();
  await page.keyboard.type('twice the reserve = 2 × reserve as %');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'twice the reserve')).toMatch(/^40 %/);
});
