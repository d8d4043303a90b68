// What is promised about a notebook on the device: it is listed, can be copied, taken away and put
// back, and gone back to as it was; and when the device refuses, work goes on and nothing is hidden.

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest, test } from './harness.ts';
import { openStarter, putIn, shownValue } from './sheet.ts';

const CABLE = 'A long cable to the sunny spot';

const notebooks = (page: Page): ReturnType<Page['getByRole']> =>
  page.getByRole('complementary', { name: 'Your notebooks' });

/** The file as it is handed over where the browser has no way to ask for a place. */
async function savedFile(page: Page): Promise<string> {
  await page.evaluate(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  const downloading = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the file' }).first().click();
  return readFileSync(await (await downloading).path(), 'utf8');
}

/** Writes records straight into the page's database, as a damaged disk might hold them. */
async function putRecords(page: Page, records: readonly object[]): Promise<void> {
  await page.evaluate(
    (all) =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('dapple');
        request.onerror = (): void => reject(request.error);
        request.onsuccess = (): void => {
          const transaction = request.result.transaction('notebooks', 'readwrite');
          for (const record of all) transaction.objectStore('notebooks').put(record);
          transaction.oncomplete = (): void => {
            request.result.close();
            resolve();
          };
        };
      }),
    records,
  );
}

lastingTest('a notebook is copied, taken away and put back', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await putIn(page, 'panel voltage', '19 V');
  await page.goto(`${address}#/`);
  const side = notebooks(page);
  await side.getByRole('button', { name: `Make a copy of ${CABLE}` }).click();
  await expect.poll(() => side.getByRole('link', { name: CABLE }).count()).toBe(2);
  await side
    .getByRole('button', { name: `Take ${CABLE} away` })
    .first()
    .click();
  await expect.poll(() => side.getByRole('link', { name: CABLE }).count()).toBe(1);
  await side
    .getByRole('button', { name: `Take ${CABLE} away` })
    .first()
    .click();
  await expect.poll(() => side.getByRole('link', { name: CABLE }).count()).toBe(0);
  await page.reload();
  await side.getByText('Taken away (2)').click();
  await side
    .getByRole('button', { name: `Put ${CABLE} back` })
    .first()
    .click();
  await expect.poll(() => side.getByRole('link', { name: CABLE }).count()).toBe(1);
  await side.getByRole('link', { name: CABLE }).click();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  expect(visit.complaints).toEqual([]);
});

lastingTest(
  'what was taken away just now can be put back with one button',
  async ({ visit, address }) => {
    const { page } = visit;
    await openStarter(page, address, 'cable');
    await putIn(page, 'panel voltage', '19 V');
    await page.goto(`${address}#/`);
    const side = notebooks(page);
    await side.getByRole('button', { name: `Take ${CABLE} away` }).click();
    await side.getByRole('status').getByRole('button', { name: 'Put back' }).click();
    await expect.poll(() => side.getByRole('link', { name: CABLE }).count()).toBe(1);
    expect(visit.complaints).toEqual([]);
  },
);

lastingTest(
  'an earlier version is compared and gone back to, and that can be undone',
  async ({ visit, address }) => {
    const { page } = visit;
    await openStarter(page, address, 'cable');
    const before = await shownValue(page, 'panel voltage');
    await putIn(page, 'panel voltage', '21 V');
    const open = async (): Promise<ReturnType<Page['getByRole']>> => {
      await page.keyboard.press('Control+k');
      await page.keyboard.type('earlier versions');
      await page.keyboard.press('Enter');
      const dialog = page.getByRole('dialog', { name: 'Earlier versions' });
      await dialog.waitFor();
      return dialog;
    };
    const dialog = await open();
    expect(await dialog.getByText('as it was opened').count()).toBe(1);
    await dialog.getByRole('listitem').first().getByRole('button').first().click();
    const rows = dialog.getByRole('table', { name: 'Changed lines' }).locator('.gone, .new');
    expect(await rows.allInnerTexts()).toHaveLength(2);
    expect((await rows.allInnerTexts()).join(' ')).toContain('21 V');
    await dialog.getByRole('button', { name: 'Go back to this' }).click();
    await expect.poll(() => shownValue(page, 'panel voltage')).toBe(before);
    await page.getByRole('button', { name: 'Undo: earlier version' }).click();
    await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^21 V/);
    // What was there before going back is a version too.
    expect(await (await open()).getByText('before an earlier version was taken').count()).toBe(1);
    expect(visit.complaints).toEqual([]);
  },
);

lastingTest('damaged records hide no other and are told', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await putIn(page, 'panel voltage', '19 V');
  await putRecords(page, [
    { id: 'no-text', title: 'Gone' },
    { id: 'numbers', text: 12, when: 'never' },
    { id: 'half', text: 'dapple 1\ntitle: Half a record\n', when: Number.NaN, title: 7 },
  ]);
  await page.goto(`${address}#/`);
  await page.reload();
  const side = notebooks(page);
  await side.getByText('2 records kept here cannot be read. The others are whole.').waitFor();
  expect(await side.getByRole('link', { name: CABLE }).count()).toBe(1);
  await page.goto(`${address}#/half`);
  await expect.poll(() => page.title()).toContain('Half a record');
  expect(visit.complaints).toEqual([]);
});

test('a database without its stores is mended', async ({ visit, address }) => {
  const { page } = visit;
  await page.route('**/blank.html', (route) =>
    route.fulfill({ contentType: 'text/html', body: '<link rel="icon" href="icon.svg">' }),
  );
  await page.goto(`${address}blank.html`);
  await page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const request = indexedDB.open('dapple', 7);
        request.onsuccess = (): void => {
          request.result.close();
          resolve();
        };
      }),
  );
  await openStarter(page, address, 'cable');
  await putIn(page, 'panel voltage', '19 V');
  await page.getByText('Saved on this device').waitFor();
  // The journal is not what is read here.
  await page.evaluate(() => localStorage.clear());
  await page.reload();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  expect(visit.complaints).toEqual([]);
});

test('a full disk is told, a file offered, and keeping tried again', async ({ visit, address }) => {
  const { page, context } = visit;
  const protocol = await context.newCDPSession(page);
  await openStarter(page, address, 'cable');
  const { origin } = new URL(address);
  await protocol.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  await putIn(page, 'panel voltage', '19 V');
  await page.getByRole('alert').getByText('Not saved: the disk is full').waitFor();
  expect(await savedFile(page)).toMatch(/^panel voltage\s*=\s*19 V/m);
  await putIn(page, 'panel voltage', '20 V');
  await protocol.send('Storage.overrideQuotaForOrigin', { origin });
  await page.getByText('Saved on this device').waitFor();
  expect(await page.getByText('Not saved').count()).toBe(0);
  await page.evaluate(() => localStorage.clear());
  await page.reload();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^20 V/);
  expect(visit.complaints).toEqual([]);
});

test('without any storage the page works, says so and offers the file', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await context.addInitScript(() => {
    const refuse = (): never => {
      throw new DOMException('denied', 'SecurityError');
    };
    Object.defineProperty(window, 'indexedDB', { get: refuse });
    Object.defineProperty(window, 'localStorage', { get: refuse });
  });
  await page.goto(address);
  await notebooks(page).getByText('this browser lets the page keep nothing').waitFor();
  await page.goto(`${address}#/new/cable`);
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
  await putIn(page, 'panel voltage', '19 V');
  await page.getByRole('alert').getByText('this browser lets the page keep nothing').waitFor();
  expect(await savedFile(page)).toMatch(/^panel voltage\s*=\s*19 V/m);
  expect(visit.complaints).toEqual([]);
});

test('a database that fails to open keeps in the journal and mends when it opens again', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await context.addInitScript(() => {
    const open = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (name, version): IDBOpenDBRequest {
      if (Reflect.get(window, 'mended') === true) return open.call(this, name, version);
      throw new DOMException('broken', 'UnknownError');
    };
  });
  await page.goto(`${address}#/new/cable`);
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
  await putIn(page, 'panel voltage', '19 V');
  await page.getByText('only a reserve copy of the last text is kept').waitFor();
  await page.reload();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  await page.evaluate(() => Reflect.set(window, 'mended', true));
  await putIn(page, 'panel voltage', '20 V');
  await page.getByText('Saved on this device').waitFor();
  expect(visit.complaints).toEqual([]);
});

test('what cannot be seen now is not written over by a fresh notebook', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await openStarter(page, address, 'cable');
  await putIn(page, 'panel voltage', '19 V');
  await page.getByText('Saved on this device').waitFor();
  await page.evaluate(() => localStorage.clear());
  const other = await context.newPage();
  await other.addInitScript(() => {
    IDBObjectStore.prototype.get = (): never => {
      throw new DOMException('broken', 'UnknownError');
    };
  });
  await page.close();
  await openStarter(other, address, 'cable');
  await putIn(other, 'panel voltage', '33 V');
  await other.close();
  const again = await context.newPage();
  await openStarter(again, address, 'cable');
  await expect.poll(() => shownValue(again, 'panel voltage')).toMatch(/^19 V/);
});

test('the browser is asked to keep the notebooks after the first edit, not before', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await context.addInitScript(() => {
    const asked: boolean[] = [];
    Reflect.set(window, 'asked', asked);
    StorageManager.prototype.persisted = (): Promise<boolean> => Promise.resolve(false);
    StorageManager.prototype.persist = (): Promise<boolean> => {
      asked.push(true);
      return Promise.resolve(true);
    };
  });
  const asked = (): Promise<unknown> => page.evaluate(() => Reflect.get(window, 'asked'));
  await openStarter(page, address, 'cable');
  expect(await asked()).toEqual([]);
  await putIn(page, 'panel voltage', '19 V');
  await putIn(page, 'panel voltage', '20 V');
  await expect.poll(asked).toEqual([true]);
});
