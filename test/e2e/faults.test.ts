// Mistakes of ours: whatever goes wrong, the notebook is safe, the page says what happened, and there
// is a file and a report. The mistakes are put in from outside, by making the browser's own functions
// fail, so that the page has nothing made for these tests.

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest, test } from './harness.ts';
import { openStarter, putIn, shownValue } from './sheet.ts';

const trouble = (page: Page): ReturnType<Page['getByRole']> =>
  page.getByRole('alert', { name: 'Something went wrong' });

async function savedFile(page: Page): Promise<string> {
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const downloading = page.waitForEvent('download');
  await trouble(page).getByRole('button', { name: 'Save the file' }).click();
  return readFileSync(await (await downloading).path(), 'utf8');
}

lastingTest(
  'an exception is told, reported without the notebook, and carried on from',
  async ({ visit, address }) => {
    const { page } = visit;
    await openStarter(page, address, 'cable');
    await putIn(page, 'panel voltage', '19 V');
    await page.evaluate(() => {
      setTimeout(() => {
        throw new RangeError('a made-up mistake near “panel voltage”');
      });
    });
    const notice = trouble(page);
    await notice.waitFor();
    expect(await notice.textContent()).toContain('Your text is safe');
    await notice.getByText('A report to send').click();
    const report = notice.getByRole('textbox', { name: 'Report' });
    expect(await report.inputValue()).toMatch(/^Dapple \d+\.\d+\.\d+\n.*Chrome/);
    expect(await report.inputValue()).toContain('RangeError: a made-up mistake');
    expect(await report.inputValue()).not.toContain('panel voltage');
    await notice.getByRole('checkbox', { name: /With the notebook/ }).check();
    expect(await report.inputValue()).toMatch(/^panel voltage\s*=\s*19 V/m);
    expect(await savedFile(page)).toMatch(/^panel voltage\s*=\s*19 V/m);
    await notice.getByRole('button', { name: 'Carry on' }).click();
    expect(await notice.count()).toBe(0);
    await putIn(page, 'panel voltage', '20 V');
    await page.reload();
    await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^20 V/);
  },
);

lastingTest(
  'a page that cannot be drawn any more shows the text with the last edit',
  async ({ visit, address }) => {
    const { page } = visit;
    await openStarter(page, address, 'cable');
    await putIn(page, 'panel voltage', '19 V');
    await page.evaluate(() => {
      Document.prototype.importNode = (): never => {
        throw new TypeError('cannot make nodes');
      };
    });
    // Help is not drawn yet, so that drawing it makes nodes.
    await page.keyboard.press('F1');
    const text = page.getByRole('textbox', { name: 'Text of the notebook' });
    await text.waitFor();
    expect(await text.inputValue()).toMatch(/^panel voltage\s*=\s*19 V/m);
    expect(await page.getByRole('alert').textContent()).toContain('cannot make nodes');
    await page.reload();
    await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  },
);

test('a notebook that cannot be opened is shown as it is written, and saved', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await context.route('**/assets/notebook-parts-*.js', (route) => route.abort());
  await page.goto(`${address}#/cable`);
  const text = page.getByRole('textbox', { name: 'Text of the notebook' });
  await text.waitFor();
  expect(await text.inputValue()).toMatch(/^panel voltage/m);
  expect(await trouble(page).textContent()).toContain('while opening this notebook');
  expect(await savedFile(page)).toMatch(/^panel voltage/m);
  await page.getByRole('link', { name: 'To the first page' }).click();
  await page.getByRole('heading', { name: 'Start from a question' }).waitFor();
});

test('without its worker the notebook computes all the same', async ({ visit, address }) => {
  const { page, context } = visit;
  await context.addInitScript(() => {
    Object.defineProperty(window, 'Worker', {
      value: class {
        constructor() {
          throw new DOMException('no workers here', 'SecurityError');
        }
      },
    });
  });
  await openStarter(page, address, 'cable');
  await putIn(page, 'panel voltage', '19 V');
  await page.reload();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
});
