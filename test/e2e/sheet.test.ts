// Rows as a person handles them: several in hand, copied, cut, pasted, the same once more; scenarios
// copied and put in order; any words found.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test as freshTest, lastingTest as test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

const names = (page: Page) =>
  page
    .getByRole('rowheader')
    .allTextContents()
    .then((all) => all.map((text) => text.replace(/\s+/g, ' ').trim()));

async function take(page: Page, name: string): Promise<void> {
  await rowOf(page, name).getByRole('rowheader').click();
}

freshTest(
  'several rows are copied and pasted with names of their own, as one step',
  async ({ visit, address }) => {
    const { page, context } = visit;
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    await openStarter(page, address, 'cable');
    const before = await names(page);
    const from = before.indexOf('panel voltage');
    await take(page, 'panel voltage');
    await page.keyboard.press('Shift+ArrowDown');
    await page.keyboard.press('Control+c');
    const copied = await page.evaluate(() => navigator.clipboard.readText());
    expect(copied.split('\n')[0]).toMatch(/^panel voltage\s+= /);
    await page.keyboard.press('Control+v');
    await rowOf(page, 'panel voltage 2').waitFor();
    expect(await shownValue(page, 'panel voltage 2')).toBe(await shownValue(page, 'panel voltage'));
    const after = await names(page);
    expect(after.length).toBe(before.length + 2);
    expect(after.indexOf('panel voltage 2')).toBe(from + 2);
    await page.keyboard.press('Control+z');
    await expect.poll(() => names(page)).toEqual(before);
    expect(visit.complaints).toEqual([]);
  },
);

freshTest(
  'rows are cut and put in elsewhere, and the formulas that use them still hold',
  async ({ visit, address }) => {
    const { page, context } = visit;
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    await openStarter(page, address, 'cable');
    const drop = await shownValue(page, 'panel voltage');
    await take(page, 'panel voltage');
    await page.keyboard.press('Control+x');
    await expect.poll(async () => (await names(page)).includes('panel voltage')).toBe(false);
    await page.keyboard.press('Control+v');
    await expect.poll(() => shownValue(page, 'panel voltage')).toBe(drop);
    expect(await page.locator('.msg').count()).toBe(0);
  },
);

test('the same once more, and a block taken away, by key', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  const before = await names(page);
  await take(page, 'panel voltage');
  await page.keyboard.press('Control+d');
  await rowOf(page, 'panel voltage 2').waitFor();
  await page.keyboard.press('Shift+Delete');
  await expect.poll(() => names(page)).toEqual(before);
  await take(page, 'panel voltage');
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('Shift+Delete');
  await expect.poll(async () => (await names(page)).length).toBe(before.length - 3);
  await page.keyboard.press('Control+z');
  await expect.poll(() => names(page)).toEqual(before);
});

test('a scenario is copied, put before another, and taken away', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const titles = () =>
    page
      .locator('.row.scenario')
      .getByRole('rowheader')
      .allTextContents()
      .then((all) => all.map((text) => text.replace(/\s*scenario\s*$/, '').trim()));
  const before = await titles();
  const hot = page.locator('.row.scenario').filter({ hasText: 'Hot week' }).first();
  await hot.getByRole('button', { name: 'Copy it' }).click();
  await expect.poll(titles).toEqual([...before, 'Hot week 2']);
  const copy = page.locator('.row.scenario').filter({ hasText: 'Hot week 2' });
  expect(await copy.textContent()).toMatch(/weather\.high\s*=\s*weather\.high \+ 5 K/);
  await copy.getByRole('button', { name: 'Earlier' }).click();
  await expect.poll(titles).toEqual([...before.slice(0, -1), 'Hot week 2', before.at(-1)]);
  await copy.getByRole('button', { name: 'Take the scenario away' }).click();
  await expect.poll(titles).toEqual(before);
});

test('words of a formula, a note or the prose are found and gone to', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await page.keyboard.press('Control+k');
  const field = page.getByRole('combobox');
  await field.fill('forest floor');
  const dialog = page.getByRole('dialog', { name: 'Go to' });
  expect(await dialog.getByRole('status').textContent()).toMatch(/^\d+ found$/);
  await page.keyboard.press('Enter');
  await expect
    .poll(() => page.locator('.row.sel').getByRole('rowheader').textContent())
    .toContain('light');
});

test('an entry of a table is changed in a scenario alone, and put back', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const weather = rowOf(page, 'weather');
  await weather.getByRole('rowheader', { name: 'weather' }).click();
  const whose = weather.getByRole('group', { name: 'Whose entries are changed' });
  await whose.getByRole('button', { name: 'Hot week' }).click();
  const entry = weather.locator('[data-entry="2,1"]');
  await entry.click();
  await page.getByRole('textbox').last().waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('31 %');
  await page.keyboard.press('Enter');
  await expect.poll(() => entry.textContent()).toMatch(/65\s%.*31\s% in Hot week/s);
  const hot = page.locator('.row.scenario').filter({ hasText: 'Hot week' }).first();
  expect(await hot.textContent()).toMatch(/weather\.clear index\(3\)\s*=\s*31 %/);
  await entry.click();
  await page.keyboard.press('Control+a');
  await page.keyboard.press('Delete');
  await page.keyboard.press('Enter');
  await expect.poll(() => entry.textContent()).not.toContain('Hot week');
  expect(visit.complaints).toEqual([]);
});
