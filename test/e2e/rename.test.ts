// A notebook is renamed in the list of those kept here, and by command.

import { expect } from 'vitest';
import { axeFindingsInEachLight } from './axe.ts';
import { lastingTest as test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

test('a notebook is renamed in the list, and nothing else of it changes', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  const before = await shownValue(page, 'cable length');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  await page.keyboard.press('+');
  await expect.poll(() => shownValue(page, 'cable length')).not.toBe(before);
  const changed = await shownValue(page, 'cable length');
  const title = await page.getByRole('textbox', { name: 'Title' }).inputValue();
  await page.getByRole('link', { name: 'To the first page' }).first().click();
  await page.getByRole('button', { name: `Rename ${title}` }).click();
  const dialog = page.getByRole('dialog', { name: 'Rename the notebook' });
  await dialog.waitFor();
  expect(await axeFindingsInEachLight(page, 'dialog[open]')).toEqual([]);
  await dialog.getByLabel('Title').fill('  Cable to   the clearing ');
  await dialog.getByRole('button', { name: 'Keep' }).click();
  await page.getByRole('link', { name: 'Cable to the clearing' }).click();
  await expect.poll(() => page.title()).toBe('Cable to the clearing · Dapple');
  expect(await shownValue(page, 'cable length')).toBe(changed);
  await page.reload();
  await expect.poll(() => page.title()).toBe('Cable to the clearing · Dapple');
  expect(visit.complaints).toEqual([]);
});

test('the command to rename leads to the title', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await page.keyboard.press('Control+k');
  await page.getByRole('combobox').fill('rename');
  await page.keyboard.press('Enter');
  await page.keyboard.type('Another name');
  await page.keyboard.press('Enter');
  await expect.poll(() => page.title()).toBe('Another name · Dapple');
  expect(visit.complaints).toEqual([]);
});
