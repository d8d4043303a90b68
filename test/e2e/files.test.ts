// Files in and out: saved to where they came from, never over what another program wrote, and
// answered in words when they are no notebook. The browser's own file system stands for the disk:
// its handles are those the pickers give.

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { dropFile } from './open-text.ts';
import { openStarter, shownValue, strip } from './sheet.ts';

const TEXT =
  'dapple 1\r\ntitle: Lamp\r\n\r\npower = 6 W   -- on the label\r\n???? what is this\r\nhours = 4 h\r\n';

/** Makes the pickers give files of the browser's own file system. */
async function fakePickers(page: Page): Promise<void> {
  await page.evaluate(() => {
    const handle = async (name: string): Promise<FileSystemFileHandle> =>
      (await navigator.storage.getDirectory()).getFileHandle(name, { create: true });
    Reflect.set(window, 'showOpenFilePicker', async () => [
      await handle(String(Reflect.get(window, 'nextFile') ?? 'lamp.dapple')),
    ]);
    Reflect.set(window, 'showSaveFilePicker', async () =>
      handle(String(Reflect.get(window, 'nextFile') ?? 'other.dapple')),
    );
  });
}

async function putOnDisk(page: Page, name: string, text: string): Promise<void> {
  await page.evaluate(
    async ([file, content]) => {
      const directory = await navigator.storage.getDirectory();
      const handle = await directory.getFileHandle(file ?? '', { create: true });
      const writer = await handle.createWritable();
      await writer.write(content ?? '');
      await writer.close();
    },
    [name, text],
  );
}

async function onDisk(page: Page, name: string): Promise<string> {
  return page.evaluate(async (file) => {
    const directory = await navigator.storage.getDirectory();
    return (await (await directory.getFileHandle(file)).getFile()).text();
  }, name);
}

async function openLamp(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await fakePickers(page);
  await putOnDisk(page, 'lamp.dapple', TEXT);
  await page.getByRole('button', { name: 'Open a file' }).click();
  await expect.poll(() => shownValue(page, 'power')).toMatch(/^6 W/);
}

async function setPower(page: Page, text: string): Promise<void> {
  await strip(page, 'power').click();
  await page.getByRole('textbox', { name: /power/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'power')).toContain(text);
}

test('a file that is opened is saved to itself, and only the edit is different', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openLamp(page, address);
  await page.getByText('One line of this file cannot be read').waitFor();
  await setPower(page, '9 W');
  await page.keyboard.press('Control+s');
  await page.getByText('Saved to “lamp.dapple”').waitFor();
  expect(await onDisk(page, 'lamp.dapple')).toBe(TEXT.replace('6 W', '9 W'));
  await setPower(page, '10 W');
  await page.keyboard.press('Control+s');
  await expect.poll(() => onDisk(page, 'lamp.dapple')).toBe(TEXT.replace('6 W   --', '10 W  --'));
  expect(visit.complaints).toEqual([]);
});

test('after a reload the notebook still knows its file', async ({ visit, address }) => {
  const { page } = visit;
  await openLamp(page, address);
  await setPower(page, '9 W');
  await page.reload();
  await setPower(page, '11 W');
  await page.keyboard.press('Control+s');
  await page.getByText('Saved to “lamp.dapple”').waitFor();
  expect(await onDisk(page, 'lamp.dapple')).toBe(TEXT.replace('6 W   --', '11 W  --'));
});

test('a file that another program changed is not written over unasked', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  const theirs = TEXT.replace('6 W', '7 W');
  const question = page.getByRole('dialog', { name: 'The file has changed' });
  await openLamp(page, address);
  await setPower(page, '9 W');
  await putOnDisk(page, 'lamp.dapple', theirs);
  await page.keyboard.press('Control+s');
  await question.waitFor();
  expect(await onDisk(page, 'lamp.dapple')).toBe(theirs);

  await question.getByRole('button', { name: 'Save as another file' }).click();
  await page.getByText('Saved to “other.dapple”').waitFor();
  expect(await onDisk(page, 'other.dapple')).toBe(TEXT.replace('6 W', '9 W'));
  expect(await onDisk(page, 'lamp.dapple')).toBe(theirs);
});

test('theirs opens as a copy beside one’s own, and writing over is possible when it is said', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  const theirs = TEXT.replace('6 W', '7 W');
  const question = page.getByRole('dialog', { name: 'The file has changed' });
  await openLamp(page, address);
  await setPower(page, '9 W');
  await putOnDisk(page, 'lamp.dapple', theirs);
  const mine = page.url();
  await page.keyboard.press('Control+s');
  await question.getByRole('button', { name: 'Open theirs as a copy' }).click();
  await expect.poll(() => shownValue(page, 'power')).toMatch(/^7 W/);
  expect(page.url()).not.toBe(mine);
  await page.goBack();
  await expect.poll(() => shownValue(page, 'power')).toMatch(/^9 W/);
  await page.keyboard.press('Control+s');
  await question.getByRole('button', { name: 'Write over it' }).click();
  await page.getByText('Saved to “lamp.dapple”').waitFor();
  expect(await onDisk(page, 'lamp.dapple')).toBe(TEXT.replace('6 W', '9 W'));
});

test('the same text written again elsewhere is no change', async ({ visit, address }) => {
  const { page } = visit;
  await openLamp(page, address);
  await setPower(page, '9 W');
  await putOnDisk(page, 'lamp.dapple', TEXT);
  await page.keyboard.press('Control+s');
  await page.getByText('Saved to “lamp.dapple”').waitFor();
});

test('a file that is gone is told, and the notebook can be saved elsewhere', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openLamp(page, address);
  await setPower(page, '9 W');
  await page.evaluate(async () =>
    (await navigator.storage.getDirectory()).removeEntry('lamp.dapple'),
  );
  await page.keyboard.press('Control+s');
  await page.getByText('“lamp.dapple” is no longer where it was').waitFor();
  await page.keyboard.press('Control+s');
  await page.getByText('Saved to “other.dapple”').waitFor();
});

test('what is no notebook is told in words, and the open one stays', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  const at = page.url();
  for (const [name, bytes, words] of [
    ['ten.dapple', 10_000_000, /“ten.dapple” is too large to be a notebook: it has 10 MB/],
    ['wide.dapple', [...Buffer.from('\ufeffdapple 1\n', 'utf16le')], /is written in UTF-16/],
    [
      'old.dapple',
      [...Buffer.from('dapple 1\naim = 3\u00b0\n', 'latin1')],
      /line 2 stands the byte 0xB0/,
    ],
    ['picture.dapple', [0x89, 0x50, 0x4e, 0x47, 0, 0, 0, 0x0d], /is no text/],
    ['broken.zip', [0x50, 0x4b, 3, 4, 0, 0], /archive is damaged/],
  ] as const) {
    await dropFile(page, name, bytes);
    await page.getByRole('status').filter({ hasText: words }).waitFor();
    expect(page.url()).toBe(at);
  }
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/V/);
  expect(visit.complaints).toEqual([]);
});

test('a file of a newer version opens to be read, and is not changed', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  const text = 'dapple 9\ntitle: Later\n\npower = 6 W\n';
  await page.goto(address);
  await dropFile(page, 'later.dapple', [...Buffer.from(text)]);
  await page.getByText(/newer/).first().waitFor();
  await expect.poll(() => shownValue(page, 'power')).toMatch(/^6 W/);
  await strip(page, 'power').click();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+a');
  await page.keyboard.type('9 W');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await expect.poll(() => shownValue(page, 'power')).toMatch(/^6 W/);
  await page.keyboard.press('Control+e');
  await page.getByRole('dialog', { name: 'Send' }).waitFor();
});

test('all notebooks go into one archive and come back from it', async ({ visit, address }) => {
  const { page } = visit;
  await openLamp(page, address);
  await openStarter(page, address, 'cable');
  await strip(page, 'panel voltage').click();
  await page.getByRole('textbox', { name: /panel voltage/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('19 V');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  await page.goto(`${address}#/`);
  const downloading = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save all as one archive' }).click();
  const saved = await downloading;
  expect(saved.suggestedFilename()).toMatch(/^dapple-notebooks-\d{4}-\d\d-\d\d\.zip$/);
  const bytes = readFileSync(await saved.path());

  const kept = page.getByRole('complementary', { name: 'Your notebooks' });
  for (const title of ['Lamp', 'A long cable to the sunny spot'])
    await kept.getByRole('button', { name: `Take ${title} away` }).click();
  await expect.poll(() => kept.getByRole('link', { name: 'Lamp' }).count()).toBe(0);
  await dropFile(page, 'all.zip', [...bytes]);
  await page.getByText('2 notebooks from “all.zip” kept here').waitFor();
  await kept.getByRole('link', { name: 'A long cable to the sunny spot' }).click();
  await expect.poll(() => shownValue(page, 'panel voltage')).toMatch(/^19 V/);
  await page.goto(`${address}#/`);
  await kept.getByRole('link', { name: 'Lamp' }).click();
  await expect.poll(() => shownValue(page, 'power')).toMatch(/^6 W/);
  expect(visit.complaints).toEqual([]);
});
