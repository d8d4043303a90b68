// One notebook in two tabs: one writes, the other follows, and the pen passes on.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test } from './harness.ts';
import { openStarter, shownValue, strip } from './sheet.ts';

async function setVoltage(page: Page, written: string): Promise<void> {
  await strip(page, 'panel voltage').click();
  await page.getByRole('textbox', { name: /panel voltage/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(written);
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'panel voltage')).toContain(written.replace(' V', ''));
}

const following = (page: Page) => page.getByText('open in another tab');

test('the second tab follows, and takes over when asked', async ({ visit, address }) => {
  const { page: first, context } = visit;
  await openStarter(first, address, 'cable');
  const second = await context.newPage();
  await openStarter(second, address, 'cable');
  await following(second).waitFor();
  expect(await following(first).count()).toBe(0);
  await setVoltage(first, '19 V');
  await expect.poll(() => shownValue(second, 'panel voltage')).toMatch(/^19 V/);
  // A tab that follows opens no editor.
  await strip(second, 'panel voltage').click();
  expect(await second.getByRole('textbox', { name: /panel voltage/ }).count()).toBe(0);
  await second.getByRole('button', { name: 'Work here instead' }).click();
  await following(first).waitFor();
  await setVoltage(second, '24 V');
  await expect.poll(() => shownValue(first, 'panel voltage')).toMatch(/^24 V/);
  expect(visit.complaints).toEqual([]);
});

test('the writer closes: the other tab writes on, with nothing lost', async ({
  visit,
  address,
}) => {
  const { page: first, context } = visit;
  await openStarter(first, address, 'cable');
  const second = await context.newPage();
  await openStarter(second, address, 'cable');
  await following(second).waitFor();
  await setVoltage(first, '19 V');
  await first.close();
  await expect.poll(() => following(second).count()).toBe(0);
  await expect.poll(() => shownValue(second, 'panel voltage')).toMatch(/^19 V/);
  await setVoltage(second, '23 V');
  await second.close();
  const third = await context.newPage();
  await openStarter(third, address, 'cable');
  await expect.poll(() => shownValue(third, 'panel voltage')).toMatch(/^23 V/);
});

test('the follower closes: the writer does not notice', async ({ visit, address }) => {
  const { page: first, context } = visit;
  await openStarter(first, address, 'cable');
  const second = await context.newPage();
  await openStarter(second, address, 'cable');
  await following(second).waitFor();
  await second.close();
  await setVoltage(first, '19 V');
  await first.reload();
  await expect.poll(() => shownValue(first, 'panel voltage')).toMatch(/^19 V/);
  expect(await following(first).count()).toBe(0);
});

test('an edit just before the writer closes reaches the one that follows', async ({
  visit,
  address,
}) => {
  const { page: first, context } = visit;
  await openStarter(first, address, 'cable');
  const second = await context.newPage();
  await openStarter(second, address, 'cable');
  await following(second).waitFor();
  await setVoltage(first, '19 V');
  await first.close();
  await setVoltage(second, '20 V');
  await second.reload();
  await expect.poll(() => shownValue(second, 'panel voltage')).toMatch(/^20 V/);
});
