// What the device keeps: put away and put back, copies, earlier versions, and what happens where it
// keeps nothing, is full, or holds something damaged.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './harness.ts';
import { openStarter, shownValue, strip } from './sheet.ts';

/** A headless browser cannot show its dialog for saving; without it the page downloads. */
const withoutPicker = (page: Page) =>
  page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));

async function setVoltage(page: Page, written: string): Promise<void> {
  await strip(page, 'panel voltage').click();
  await page.getByRole('textbox', { name: /panel voltage/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(written);
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'panel voltage')).toContain(written.replace(' V', ''));
}

const shelf = (page: Page) => page.getByRole('complementary', { name: 'Your notebooks' });
const TITLE = 'A long cable to the sunny spot';

test('a notebook is put away, put back, and copied', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await setVoltage(page, '19 V');
  await page.goto(`${address}#/`);
  await shelf(page)
    .getByRole('button', { name: `Put away ${TITLE}` })
    .click();
  await shelf(page).getByText('1 put away').click();
  expect(await shelf(page).getByRole('link', { name: TITLE }).count()).toBe(0);
  await shelf(page)
    .getByRole('button', { name: `Put back ${TITLE}` })
    .click();
  await shelf(page).getByRole('link', { name: TITLE, exact: true }).waitFor();
  await shelf(page)
    .getByRole('button', { name: `Copy ${TITLE}` })
    .click();
  await shelf(page)
    .getByRole('link', { name: `${TITLE}, a copy` })
    .click();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  expect(visit.complaints).toEqual([]);
});

test('an earlier version is compared, and gone back to as one step', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await setVoltage(page, '19 V');
  await page.goto(`${address}#/`);
  await shelf(page).getByRole('link', { name: TITLE }).click();
  await setVoltage(page, '23 V');
  await page.getByRole('button', { name: 'File' }).click();
  await page.getByRole('button', { name: 'Earlier versions' }).click();
  const dialog = page.getByRole('dialog', { name: 'Earlier versions' });
  const changes = dialog.getByRole('region', { name: 'What changed since' });
  await changes.waitFor();
  expect(await changes.textContent()).toMatch(/taken away\s*panel voltage\s*= 19 V/);
  expect(await changes.textContent()).toMatch(/added\s*panel voltage\s*= 23 V/);
  await dialog.getByRole('button', { name: 'Go back to this' }).click();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  await page.keyboard.press('Control+z');
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^23 V/);
  expect(visit.complaints).toEqual([]);
});

test('where the browser keeps nothing the page says so and goes on', async ({ visit, address }) => {
  const { page } = visit;
  await withoutPicker(page);
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('blocked', 'SecurityError');
    };
    Storage.prototype.setItem = () => {
      throw new DOMException('blocked', 'QuotaExceededError');
    };
  });
  await openStarter(page, address, 'cable');
  await setVoltage(page, '19 V');
  const alert = page.getByRole('alert').filter({ hasText: 'Not saved' });
  await alert.waitFor();
  expect(await alert.textContent()).toContain('lets the page keep nothing');
  const downloading = page.waitForEvent('download');
  await alert.getByRole('button', { name: 'Save the file' }).click();
  expect((await downloading).suggestedFilename()).toBe('a-long-cable-to-the-sunny-spot.dapple');
});

test('a full disk is told, work goes on, and it is kept when there is room again', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await page.evaluate(() => {
    const put = IDBObjectStore.prototype.put;
    Object.assign(window, {
      makeRoom: () => {
        IDBObjectStore.prototype.put = put;
      },
    });
    IDBObjectStore.prototype.put = () => {
      throw new DOMException('full', 'QuotaExceededError');
    };
  });
  await setVoltage(page, '19 V');
  await page.getByRole('alert').filter({ hasText: 'the disk is full' }).waitFor();
  await setVoltage(page, '20 V');
  await page.evaluate(() => {
    const make: unknown = Reflect.get(window, 'makeRoom');
    if (typeof make === 'function') make();
  });
  await setVoltage(page, '22 V');
  await page.getByText('Saved on this device').waitFor();
  await page.reload();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^22 V/);
});

test('a damaged record hides no other notebook', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await setVoltage(page, '19 V');
  await page.getByText('Saved on this device').waitFor();
  await page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const request = indexedDB.open('dapple');
        request.onsuccess = () => {
          const transaction = request.result.transaction('notebooks', 'readwrite');
          const store = transaction.objectStore('notebooks');
          store.put({ id: 'torn', text: 17 });
          store.put({
            id: 'odd',
            text: 'dapple 1\ntitle: Odd\n',
            when: 'yesterday',
            title: { a: 1 },
          });
          transaction.oncomplete = () => {
            request.result.close();
            resolve();
          };
        };
      }),
  );
  await page.evaluate(() => {
    localStorage.setItem('dapple.journal.half', '{"id":"half","text":"dap');
    localStorage.setItem('dapple.journal.other', '{"id":"elsewhere","text":"x"}');
  });
  await page.goto(`${address}#/`);
  await shelf(page).getByRole('link', { name: TITLE }).waitFor();
  await shelf(page).getByRole('link', { name: 'Untitled' }).waitFor();
  expect(await shelf(page).getByRole('link').count()).toBe(2);
  expect(visit.complaints).toEqual([]);
});
