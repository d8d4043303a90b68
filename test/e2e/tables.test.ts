// Tables between a notebook and the clipboard, and files of separated text.

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { dropFile } from './open-text.ts';
import { openStarter } from './sheet.ts';

async function paste(page: Page, text: string): Promise<void> {
  await page.evaluate((content) => {
    const data = new DataTransfer();
    data.setData('text/plain', content);
    document.activeElement?.dispatchEvent(
      new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }),
    );
  }, text);
}

const NOTEBOOK =
  'dapple 1\ntitle: Loads\n\nloads = table\n  item  | power | hours | energy = power × hours as Wh\n  lamp  | 6 W   | 2 h   |\n  radio | 38 W  | 1 h   |\nday = sum(loads.energy) as Wh\n';

async function openLoads(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await dropFile(page, 'loads.dapple', NOTEBOOK);
  await page.getByRole('grid', { name: 'loads' }).waitFor();
}

async function entries(page: Page, name = 'loads'): Promise<readonly string[]> {
  const rows = await page.getByRole('grid', { name, exact: true }).getByRole('row').allInnerTexts();
  return rows.slice(1).map((row) =>
    row
      .replaceAll('\u00a0', ' ')
      .split(/\s*\t\s*|\n+/)
      .join('|'),
  );
}

test('rows of another program go into a table from the entry in hand on, as one step', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openLoads(page, address);
  await page.locator('[data-entry="1,0"]').focus();
  await paste(page, 'fan\t10,5\t2 h\npump\t20,5\t3 h\n');
  await expect
    .poll(() => entries(page))
    .toEqual(['lamp|6 W|2 h|12 Wh', 'fan|10.5 W|2 h|21 Wh', 'pump|20.5 W|3 h|61.5 Wh']);
  await page.keyboard.press('Control+z');
  await expect.poll(() => entries(page)).toEqual(['lamp|6 W|2 h|12 Wh', 'radio|38 W|1 h|38 Wh']);
  expect(visit.complaints).toEqual([]);
});

test('a pasted table becomes a table of its own', async ({ visit, address }) => {
  const { page } = visit;
  await openLoads(page, address);
  await page.keyboard.press('Control+k');
  await page.keyboard.type('Take a table in');
  await page.keyboard.press('Enter');
  const dialog = page.getByRole('dialog', { name: 'Take a table in' });
  await dialog.getByRole('textbox').fill('day;clear index (%);low (°C)\n1;95,5;9\n2;n/a;10');
  await dialog.getByText('1 entry such as “n/a” became empty.').waitFor();
  await dialog.getByRole('button', { name: 'As a table of its own' }).click();
  await expect.poll(() => entries(page, 'table taken in')).toEqual(['1|95.5 %|9 °C', '2|–|10 °C']);
  expect(visit.complaints).toEqual([]);
});

test('a table goes out as a file with its units in the heads', async ({ visit, address }) => {
  const { page } = visit;
  await openLoads(page, address);
  await page.keyboard.press('Control+k');
  await page.keyboard.type('Take a table out');
  await page.keyboard.press('Enter');
  const dialog = page.getByRole('dialog', { name: 'Take a table out' });
  const downloading = page.waitForEvent('download');
  await dialog.getByRole('button', { name: 'Save, commas between' }).click();
  const download = await downloading;
  expect(download.suggestedFilename()).toBe('loads.csv');
  expect(readFileSync(await download.path(), 'utf8')).toBe(
    '\ufeffitem,power (W),hours (h),energy (Wh)\r\nlamp,6,2,12\r\nradio,38,1,38\r\n',
  );
});

test('a file of separated text opens as a notebook, and into an open one after a look', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  const drop = (): Promise<void> =>
    dropFile(page, 'camp loads.csv', 'item,power (W)\nlamp,6\nradio,38\n');
  await page.goto(address);
  await drop();
  await expect.poll(() => entries(page, 'camp loads')).toEqual(['lamp|6 W', 'radio|38 W']);
  await openStarter(page, address, 'cable');
  await drop();
  const dialog = page.getByRole('dialog', { name: 'Take a table in' });
  await dialog.getByRole('cell', { name: '38 W' }).waitFor();
  await dialog.getByRole('button', { name: 'As a table of its own' }).click();
  await expect.poll(() => entries(page, 'camp loads')).toEqual(['lamp|6 W', 'radio|38 W']);
  expect(visit.complaints).toEqual([]);
});
