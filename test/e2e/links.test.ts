// A notebook sent as a link: opened as a copy, exact, and answered in words when it is not whole.

import { deflateRawSync } from 'node:zlib';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { checkSum } from '../../web/exchange/packing.ts';
import { test as freshTest, openVisit, lastingTest as test } from './harness.ts';
import { openStarter, shownValue, strip } from './sheet.ts';

async function write(page: Page, cell: string, text: string): Promise<void> {
  await strip(page, cell).click();
  await page.getByRole('textbox', { name: new RegExp(cell) }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
}

async function linkOf(page: Page): Promise<string> {
  await page.keyboard.press('Control+e');
  const link = await page.getByRole('textbox', { name: 'Link' }).inputValue();
  await page.getByRole('dialog', { name: 'Send' }).getByRole('button', { name: 'Close' }).click();
  return link;
}

freshTest(
  'a sent notebook opens elsewhere as it was, and nothing went to a server',
  async ({ visit, address, browser }) => {
    const asked: string[] = [];
    visit.context.on('request', (request) =>
      asked.push(request.url() + (request.postData() ?? '')),
    );
    await openStarter(visit.page, address, 'cable');
    await write(visit.page, 'panel voltage', '19.5 V');
    await expect.poll(() => shownValue(visit.page, 'panel voltage')).toMatch(/^19.5 V/);
    const link = await linkOf(visit.page);
    expect(link).toMatch(/#\/carried\/[\w-]+$/);
    const letters = link.split('/carried/')[1] ?? '-';
    expect(asked.filter((one) => one.includes(letters.slice(0, 40)))).toEqual([]);
    expect(asked.filter((one) => !one.startsWith(address))).toEqual([]);

    const other = await openVisit(browser);
    await other.page.goto(link);
    await expect.poll(() => shownValue(other.page, 'panel voltage')).toMatch(/^19.5 V/);
    expect(await other.page.getByText('Came by link; a copy of your own').isVisible()).toBe(true);
    expect(other.page.url()).not.toContain('carried');
    // The copy is kept: a reload and the first page have it.
    await other.page.reload();
    await expect.poll(() => shownValue(other.page, 'panel voltage')).toMatch(/^19.5 V/);
    expect(await linkOf(other.page)).toBe(link);
    expect([...visit.complaints, ...other.complaints]).toEqual([]);
    await other.context.close();
  },
);

test('a link never takes the place of a notebook of one’s own', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await write(page, 'panel voltage', '19 V');
  const link = await linkOf(page);
  await page.goto(link);
  await page.getByText('Came by link').waitFor();
  await write(page, 'panel voltage', '30 V');
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^30 V/);
  await openStarter(page, address, 'cable');
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
});

test('a link that is cut, changed or too large is answered in words on the first page', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  const link = await linkOf(page);
  const bytes = Buffer.alloc(60_000_000);
  const head = Buffer.alloc(5);
  head.writeUInt8(1);
  head.writeUInt32BE(checkSum(bytes), 1);
  const bomb = Buffer.concat([head, deflateRawSync(bytes)]).toString('base64url');
  for (const [bad, words] of [
    [link.slice(0, -30), /not whole/],
    [`${link.slice(0, 200)}A${link.slice(201)}`, /not whole/],
    [`${address}#/carried/`, /not whole/],
    [`${address}#/carried/%00%ff<script>alert(1)</script>`, /not whole/],
    [`${address}#/carried/${bomb}`, /more than a notebook can hold/],
  ] as const) {
    await page.goto('about:blank');
    await page.goto(bad);
    await page.getByRole('status').filter({ hasText: words }).waitFor();
    await page.getByRole('link', { name: /six nights/ }).waitFor();
  }
  expect(visit.complaints).toEqual([]);
});

test('the dialog says how long the link is, and shows it for a camera while it fits', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await page.goto(`${address}#/small`);
  // The first page has a button for opening a file.
  await page.getByRole('button', { name: 'File', exact: true }).waitFor();
  await page.keyboard.press('Control+e');
  const dialog = page.getByRole('dialog', { name: 'Send' });
  await dialog.getByRole('img', { name: /picture for a camera/ }).waitFor();
  const link = await dialog.getByRole('textbox', { name: 'Link' }).inputValue();
  expect(await dialog.getByText(`${link.length} letters`).count()).toBe(1);
  await page.keyboard.press('Escape');
  await openStarter(page, address, 'trip');
  await page.keyboard.press('Control+e');
  await dialog.getByText(/Too long for a picture/).waitFor();
  expect(visit.complaints).toEqual([]);
});

freshTest('the link is copied to the clipboard', async ({ visit, address }) => {
  const { page } = visit;
  await visit.context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await openStarter(page, address, 'cable');
  await page.keyboard.press('Control+e');
  const dialog = page.getByRole('dialog', { name: 'Send' });
  await dialog.getByRole('button', { name: 'Copy the link' }).click();
  await dialog.getByText('Copied.').waitFor();
  expect(await page.evaluate(() => navigator.clipboard.readText())).toBe(
    await dialog.getByRole('textbox', { name: 'Link' }).inputValue(),
  );
});
