// One notebook in several tabs: one writes, the others follow, and in whatever order they close no
// edit is lost. All tabs of a test share one profile, as the windows of one browser do.

import type { Page } from 'playwright-core';
import { describe, expect } from 'vitest';
import { lastingTest, test } from './harness.ts';
import { openStarter, putIn, shownValue } from './sheet.ts';

const FOLLOWS = 'Open in another tab; this one follows.';

const follows = (page: Page): Promise<number> => page.getByText(FOLLOWS).count();

const voltage = (page: Page): Promise<string> => shownValue(page, 'panel voltage');

lastingTest('the second tab follows what the first one changes', async ({ visit, address }) => {
  const { page: first, context } = visit;
  await openStarter(first, address, 'cable');
  const second = await context.newPage();
  await openStarter(second, address, 'cable');
  await expect.poll(() => follows(second)).toBe(1);
  expect(await follows(first)).toBe(0);
  await putIn(first, 'panel voltage', '19 V');
  await expect.poll(() => voltage(second)).toMatch(/^19 V/);
  // Typing in the following tab opens no editor.
  await second.bringToFront();
  await second.locator('.sheet [tabindex="0"]').first().focus();
  await second.keyboard.press('Enter');
  expect(await second.locator('dapple-editor').count()).toBe(0);
  expect(visit.complaints).toEqual([]);
});

lastingTest(
  'a tab that was opened later sees what the first has not closed yet',
  async ({ visit, address }) => {
    const { page: first, context } = visit;
    await openStarter(first, address, 'cable');
    await putIn(first, 'panel voltage', '19 V');
    const second = await context.newPage();
    await openStarter(second, address, 'cable');
    await expect.poll(() => voltage(second)).toMatch(/^19 V/);
    await expect.poll(() => follows(second)).toBe(1);
  },
);

lastingTest(
  'work moves over, what was being typed with it, and back again',
  async ({ visit, address }) => {
    const { page: first, context } = visit;
    await openStarter(first, address, 'cable');
    const second = await context.newPage();
    await openStarter(second, address, 'cable');
    await first.bringToFront();
    await first.locator('[data-col="0"]').first().waitFor();
    await putIn(first, 'panel voltage', '19 V');
    // Typed and not yet kept.
    await first.keyboard.press('Enter');
    await first.getByRole('textbox', { name: /panel voltage/ }).waitFor();
    await first.keyboard.press('Control+a');
    await first.keyboard.type('20 V');
    await second.bringToFront();
    await second.getByRole('button', { name: 'Work here instead' }).click();
    await expect.poll(() => follows(second)).toBe(0);
    await expect.poll(() => voltage(second)).toMatch(/^20 V/);
    await expect.poll(() => follows(first)).toBe(1);
    await putIn(second, 'panel voltage', '21 V');
    await expect.poll(() => voltage(first)).toMatch(/^21 V/);
    await first.bringToFront();
    await first.getByRole('button', { name: 'Work here instead' }).click();
    await expect.poll(() => follows(first)).toBe(0);
    await putIn(first, 'panel voltage', '22 V');
    await expect.poll(() => voltage(second)).toMatch(/^22 V/);
    expect(visit.complaints).toEqual([]);
  },
);

/** Which of three tabs closes, in turn; the last one left makes another edit. */
const ORDERS = [
  [0, 1, 2],
  [0, 2, 1],
  [1, 0, 2],
  [1, 2, 0],
  [2, 0, 1],
  [2, 1, 0],
] as const;

describe('three tabs, closed in every order', () => {
  lastingTest.for(ORDERS.map((order) => ({ order })))(
    '$order',
    async ({ order }, { visit, address }) => {
      // A page that stays on the first page meanwhile, and is the one to look afterwards.
      const { page: again, context } = visit;
      const page = await context.newPage();
      const pages = [page, await context.newPage(), await context.newPage()] as const;
      for (const one of pages) await openStarter(one, address, 'cable');
      let volts = 18;
      let open = [...pages];
      for (const index of order) {
        // Exactly one tab writes, whichever it now is.
        await expect
          .poll(async () => (await Promise.all(open.map(follows))).filter((n) => n === 0).length)
          .toBe(1);
        const following = await Promise.all(open.map(follows));
        const writer = open[following.indexOf(0)] ?? page;
        volts++;
        await writer.bringToFront();
        await putIn(writer, 'panel voltage', `${volts} V`);
        // At once: nothing is waited for between the edit and the closing.
        const closing = pages[index];
        await closing.close();
        open = open.filter((one) => one !== closing);
        for (const one of open) {
          await expect.poll(() => voltage(one)).toMatch(new RegExp(`^${volts} V`));
        }
      }
      await again.bringToFront();
      await openStarter(again, address, 'cable');
      await expect.poll(() => voltage(again)).toMatch(new RegExp(`^${volts} V`));
      expect(await follows(again)).toBe(0);
      expect(visit.complaints).toEqual([]);
    },
  );
});

test('when the writing tab crashes, the follower writes on', async ({ visit, address }) => {
  const { page: first, context } = visit;
  await openStarter(first, address, 'cable');
  const second = await context.newPage();
  await openStarter(second, address, 'cable');
  await first.bringToFront();
  await putIn(first, 'panel voltage', '19 V');
  await expect.poll(() => voltage(second)).toMatch(/^19 V/);
  const protocol = await context.newCDPSession(first);
  // The answer never comes: the tab is gone.
  protocol.send('Page.crash').catch(() => {});
  await second.bringToFront();
  await expect.poll(() => follows(second), { timeout: 20_000 }).toBe(0);
  await putIn(second, 'panel voltage', '20 V');
  await second.reload();
  await expect.poll(() => voltage(second)).toMatch(/^20 V/);
});

lastingTest(
  'the first page of another tab lists what is kept and taken away here',
  async ({ visit, address }) => {
    const { page: first, context } = visit;
    const second = await context.newPage();
    await second.goto(address);
    await openStarter(first, address, 'cable');
    await putIn(first, 'panel voltage', '19 V');
    const link = second.getByRole('link', { name: 'A long cable to the sunny spot' });
    const listed = second.getByRole('complementary').filter({ has: link });
    await expect.poll(() => listed.count()).toBe(1);
    await first.goto(`${address}#/`);
    await first.getByRole('button', { name: /^Take .* away$/ }).click();
    await expect.poll(() => listed.count()).toBe(0);
    expect(visit.complaints).toEqual([]);
  },
);

lastingTest(
  'two notebooks in two tabs do not write over each other',
  async ({ visit, address }) => {
    const { page: first, context } = visit;
    const second = await context.newPage();
    await openStarter(first, address, 'cable');
    await openStarter(second, address, 'new/cable');
    await putIn(first, 'panel voltage', '19 V');
    await second.bringToFront();
    await putIn(second, 'panel voltage', '33 V');
    const journals = await second.evaluate(() =>
      Object.keys(localStorage).filter((key) => key.startsWith('dapple.journal.')),
    );
    expect(journals).toHaveLength(2);
    await first.reload();
    await second.reload();
    await expect.poll(() => voltage(first)).toMatch(/^19 V/);
    await expect.poll(() => voltage(second)).toMatch(/^33 V/);
  },
);
