// The editor's help in a real browser: the argument being written, and a formula tidied.

import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { openText } from './open-text.ts';
import { rowOf } from './sheet.ts';

const LINES = [
  'dapple 1',
  'title: Lead',
  '',
  'length = 15 m',
  'lead = resistance(of: 10 AWG, length: length, at: 40 °C) as mΩ',
];

test('the argument at the caret is named and explained while a call is written', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openText(page, address, LINES);
  await rowOf(page, 'lead').locator('.phrase').click();
  await page.getByRole('textbox', { name: /lead/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('resistance(of: 10 AWG, length: ');
  const help = page.locator('.signature');
  await help.waitFor();
  expect(await help.locator('b').textContent()).toBe('length:');
  expect(await help.locator('small').textContent()).toMatch(/a length/);
  await page.keyboard.type('3 m, at: 20 °C)');
  await expect.poll(() => help.count()).toBe(0);
  await page.keyboard.press('Escape');
  expect(visit.complaints).toEqual([]);
});

test('a formula is tidied by key, and undone with the keys of the editor', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openText(page, address, LINES);
  await rowOf(page, 'lead').locator('.phrase').click();
  const editor = page.getByRole('textbox', { name: /lead/ });
  await editor.waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('length*2/length>=1.5');
  await page.keyboard.press('Control+Shift+F');
  await expect.poll(() => editor.textContent()).toBe('length × 2 / length ≥ 1.5');
  await page.keyboard.press('Control+z');
  await expect.poll(() => editor.textContent()).toBe('length*2/length>=1.5');
  await page.keyboard.press('Escape');
  expect(visit.complaints).toEqual([]);
});
