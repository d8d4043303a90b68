// Mistakes of ours: whatever is thrown, the notebook is safe and the page is not blank.

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './harness.ts';
import { openStarter, shownValue } from './sheet.ts';

/** A headless browser cannot show its dialog for saving; without it the page downloads. */
const withoutPicker = (page: Page) =>
  page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));

test('an exception is told, the notebook stays, and a report can be copied', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  await openStarter(page, address, 'cable');
  await page.evaluate(() => {
    setTimeout(() => {
      throw new RangeError('made to fail');
    });
  });
  const alert = page.getByRole('alert').filter({ hasText: 'Something in the page went wrong' });
  await alert.waitFor();
  expect(await alert.textContent()).toContain('RangeError: made to fail');
  await alert.getByRole('button', { name: 'Copy a report' }).click();
  await page.getByText('The report is copied').waitFor();
  const report = await page.evaluate(() => navigator.clipboard.readText());
  expect(report).toContain('RangeError: made to fail');
  expect(report).not.toContain('panel voltage');
  await alert.getByRole('checkbox').check();
  await alert.getByRole('button', { name: 'Copy a report' }).click();
  await expect
    .poll(() => page.evaluate(() => navigator.clipboard.readText()))
    .toContain('panel voltage');
  await alert.getByRole('button', { name: 'Carry on' }).click();
  expect(await alert.count()).toBe(0);
  expect(await shownValue(page, 'panel voltage')).toMatch(/V$/);
});

test('a notebook that cannot be drawn is shown as text and can be saved', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await withoutPicker(page);
  await openStarter(page, address, 'cable');
  // Something that the page asks for while it draws is taken away from it.
  await page.evaluate(() => {
    Object.defineProperty(Array.prototype, 'findIndex', {
      value: () => {
        throw new TypeError('broken while drawing');
      },
    });
    dispatchEvent(new Event('resize'));
  });
  await page.getByRole('heading', { name: 'The notebook as text' }).waitFor();
  const shown = await page.getByRole('textbox', { name: 'The notebook’s text' }).inputValue();
  expect(shown).toContain('panel voltage');
  const downloading = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the file' }).click();
  expect(readFileSync(await (await downloading).path(), 'utf8')).toBe(shown);
});

test('a worker that fails leaves the page working', async ({ visit, address }) => {
  const { page } = visit;
  await page.addInitScript(() => {
    const Real = Worker;
    Object.assign(window, {
      Worker: class extends Real {
        constructor(address: string | URL, options?: WorkerOptions) {
          super(address, options);
          setTimeout(() => this.dispatchEvent(new ErrorEvent('error', { message: 'gone' })), 50);
        }
      },
    });
  });
  await openStarter(page, address, 'battery');
  // What the worker was to work out comes from the page itself.
  await expect.poll(() => shownValue(page, 'odds'), { timeout: 30_000 }).toMatch(/%/);
});
