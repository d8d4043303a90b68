// Never losing an edit: kept on the device, saved to a file, opened again.

import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { lastingTest, test } from './harness.ts';
import { dropFile } from './open-text.ts';
import { holdBack, openStarter, rowOf, shownValue, strip } from './sheet.ts';

async function changeLength(page: import('playwright-core').Page): Promise<void> {
  await strip(page, 'panel voltage').click();
  await page.getByRole('textbox', { name: /panel voltage/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('19 V');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
}

lastingTest(
  'an edited notebook is there after a reload, and listed on the first page',
  async ({ visit, address }) => {
    const { page } = visit;
    await openStarter(page, address, 'cable');
    await changeLength(page);
    await page.reload();
    await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
    await page.goto(`${address}#/`);
    const kept = page.getByRole('complementary', { name: 'Your notebooks' });
    await kept.getByRole('link', { name: 'A long cable to the sunny spot' }).click();
    await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
    expect(visit.complaints).toEqual([]);
  },
);

test('a saved file holds the edit and opens again', async ({ visit, address }) => {
  const { page } = visit;
  // A browser that cannot ask where to save.
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  await openStarter(page, address, 'cable');
  await changeLength(page);
  const downloading = page.waitForEvent('download');
  await page.keyboard.press('Control+s');
  const download = await downloading;
  expect(download.suggestedFilename()).toBe('a-long-cable-to-the-sunny-spot.dapple');
  const text = readFileSync(await download.path(), 'utf8');
  expect(text).toMatch(/^panel voltage\s*=\s*19 V/m);
  await dropFile(page, 'again.dapple', text.replace('19 V', '21 V'));
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^21 V/);
});

test('an edit made just before the page is torn down is not lost', async ({ visit, address }) => {
  const { page, context } = visit;
  await openStarter(page, address, 'cable');
  await changeLength(page);
  await page.close();
  const again = await context.newPage();
  await openStarter(again, address, 'cable');
  await expect.poll(() => shownValue(again, 'panel voltage')).toMatch(/^19 V/);
});

test('a notebook one has left takes nothing more while the next is on its way', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  const letThrough = await holdBack(page, /\/assets\/battery-[\w-]+\.js$/u);
  await openStarter(page, address, 'cable');
  const before = await shownValue(page, 'cable length');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  const box = await rowOf(page, 'cable length').boundingBox();
  const asked = page.waitForRequest(/\/assets\/battery-/u);
  await page.evaluate(() => {
    location.hash = '#/battery';
  });
  await asked;
  await page.keyboard.press('+');
  if (box) await page.mouse.dblclick(box.x + 10, box.y + 10);
  await page.keyboard.type('7 m');
  letThrough();
  await expect.poll(() => page.title()).toMatch(/battery lasts/u);
  await rowOf(page, 'loads').getByRole('rowheader').click();
  await openStarter(page, address, 'cable');
  expect(await shownValue(page, 'cable length')).toBe(before);
  expect(visit.complaints).toEqual([]);
});
