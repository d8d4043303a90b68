// Without a network and with the server gone: after one visit everything is there. A newer version
// waits to be taken, and nothing that was being written is lost when it is.

import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { builtFolder } from '../../web/host/build.mjs';
import { createStaticServer, listen } from '../../web/host/static-server.mjs';
import { STARTERS } from '../../web/screen/starters.ts';
import { keepingTest, openVisit } from './harness.ts';
import { rowOf, shownValue, strip } from './sheet.ts';

interface Site {
  readonly address: string;
  readonly folder: string;
  /** Serves what is in the folder now, on the same port. */
  readonly serveAgain: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const test = keepingTest.extend('site', async ({ browserPath: _ }, { onCleanup }) => {
  const folder = mkdtempSync(join(tmpdir(), 'dapple-'));
  cpSync(builtFolder, folder, { recursive: true });
  let server: Server = createStaticServer(folder);
  const port = await listen(server, { host: '127.0.0.1', port: 0 });
  const stop = (): Promise<void> =>
    new Promise((done) => {
      server.close(() => done());
      server.closeAllConnections();
    });
  onCleanup(async () => {
    await stop();
    rmSync(folder, { recursive: true });
  });
  const site: Site = {
    address: `http://localhost:${port}/`,
    folder,
    stop,
    serveAgain: async () => {
      await stop();
      server = createStaticServer(folder);
      await listen(server, { host: '127.0.0.1', port });
    },
  };
  return site;
});

async function keptForOffline(page: Page): Promise<void> {
  await page.evaluate(() => navigator.serviceWorker.ready);
  await expect
    .poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null))
    .toBe(true);
}

test('everything works after one visit, with the server gone and no second load', async ({
  browser,
  site,
}) => {
  const { page, context, ...witness } = await openVisit(
    browser,
    { keepsItself: true },
    site.address,
  );
  await page.goto(site.address);
  await keptForOffline(page);
  await site.stop();
  await context.setOffline(true);
  for (const { id, title } of STARTERS) {
    await page.goto(`${site.address}#/${id}`);
    await expect.poll(() => page.title()).toBe(`${title} · Dapple`);
  }
  // The trials of the worker, a chart, an edit, the dialogs: parts that are loaded when needed.
  await page.goto(`${site.address}#/battery`);
  await page
    .getByText(/of \d+ trials/)
    .first()
    .waitFor();
  await page.goto(`${site.address}#/tour`);
  await expect.poll(() => page.title()).toMatch(/^A tour/);
  await page.locator('dapple-chart').first().scrollIntoViewIfNeeded();
  await page.locator('.chart-picture svg').first().waitFor();
  await typeInto(page, 'panel voltage', '19 V');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  await page.keyboard.press('F1');
  await page.getByRole('dialog', { name: 'Help' }).waitFor();
  await page.keyboard.press('Escape');
  await page.keyboard.press('Control+e');
  await page.getByRole('dialog', { name: 'Send' }).getByRole('textbox', { name: 'Link' }).waitFor();
  await page.keyboard.press('Escape');
  await page.reload();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  expect(witness.complaints).toEqual([]);
  expect(witness.foreignRequests).toEqual([]);
  await context.close();
});

test('the page can be installed', async ({ browser, site }) => {
  const { page, context } = await openVisit(browser, { keepsItself: true }, site.address);
  await page.goto(site.address);
  await keptForOffline(page);
  const session = await context.newCDPSession(page);
  const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
  // A clean profile is a private one, in which nothing may be installed.
  expect(installabilityErrors.map((error) => error.errorId)).toEqual(['in-incognito']);
  const { errors, url } = await session.send('Page.getAppManifest');
  expect(url).toBe(`${site.address}manifest.webmanifest`);
  expect(errors).toEqual([]);
  await context.close();
});

/** A second version of the page: the same, with another title on it. */
function makeNewer(folder: string): void {
  const page = join(folder, 'index.html');
  writeFileSync(
    page,
    readFileSync(page, 'utf8').replace('lang="en"', 'lang="en" data-version="2"'),
  );
  const worker = join(folder, 'sw.js');
  const text = readFileSync(worker, 'utf8');
  // The list of files gives each its revision; another one makes the file new.
  const changed = text.replace(
    /(\{url:"index\.html",revision:")[0-9a-f]+|(revision:")[0-9a-f]+(",url:"index\.html")/,
    '$1$2feed$3',
  );
  expect(changed).not.toBe(text);
  writeFileSync(worker, changed);
  expect(readdirSync(folder)).toContain('sw.js');
}

async function beginEdit(
  page: Page,
  address: string,
  starter: string,
  cell: string,
): Promise<void> {
  await page.goto(`${address}#/${starter}`);
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
  await keptForOffline(page);
  await rowOf(page, cell).waitFor();
}

async function typeInto(page: Page, cell: string, text: string): Promise<void> {
  await strip(page, cell).click();
  await page.getByRole('textbox', { name: new RegExp(cell) }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
}

const version = (page: Page): Promise<string | undefined> =>
  page.evaluate(() => document.documentElement.dataset.version);

test('a newer version waits, and when it is taken every tab keeps what was being written', async ({
  browser,
  site,
}) => {
  const { page: first, context } = await openVisit(browser, { keepsItself: true }, site.address);
  const second = await context.newPage();
  await beginEdit(first, site.address, 'cable', 'panel voltage');
  await beginEdit(second, site.address, 'tour', 'panel voltage');
  makeNewer(site.folder);
  await site.serveAgain();
  await first.evaluate(async () => (await navigator.serviceWorker.ready).update());
  for (const page of [first, second]) await page.getByText('A new version is ready').waitFor();
  // It waits: a reload still shows the version that is here.
  await second.reload();
  await second.getByText('A new version is ready').waitFor();
  expect([await version(first), await version(second)]).toEqual([undefined, undefined]);

  await typeInto(first, 'panel voltage', '19 V');
  await typeInto(second, 'panel voltage', '21 V');
  await first.getByRole('button', { name: 'Take it' }).click();
  await expect.poll(() => version(first)).toBe('2');
  await expect.poll(() => version(second)).toBe('2');
  await expect.poll(() => shownValue(first, 'panel voltage')).toMatch(/^19 V/);
  await expect.poll(() => shownValue(second, 'panel voltage')).toMatch(/^21 V/);
  await context.close();
});

test('a tab that is in the midst of a reading finishes it before it loads again', async ({
  browser,
  site,
}) => {
  const { page: first, context } = await openVisit(browser, { keepsItself: true }, site.address);
  const second = await context.newPage();
  await beginEdit(first, site.address, 'cable', 'panel voltage');
  await beginEdit(second, site.address, 'trip', 'panel rating');
  await second.keyboard.press('Control+k');
  await second.keyboard.type('New reading');
  await second.keyboard.press('Enter');
  const reading = second.getByRole('dialog', { name: /New reading/ });
  await reading.getByRole('textbox').nth(1).fill('61');
  makeNewer(site.folder);
  await site.serveAgain();
  await first.evaluate(async () => (await navigator.serviceWorker.ready).update());
  await first.getByRole('button', { name: 'Take it' }).click();
  await expect.poll(() => version(first)).toBe('2');
  await second.getByText('A newer version was taken').waitFor({ state: 'attached' });
  expect(await reading.getByRole('textbox').nth(1).inputValue()).toBe('61');
  await reading.getByRole('button', { name: 'Log it' }).click();
  await expect.poll(() => version(second)).toBe('2');
  await second.getByRole('gridcell', { name: '61 %' }).first().waitFor();
  await context.close();
});
