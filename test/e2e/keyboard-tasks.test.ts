// Whole tasks by keys alone, as somebody without a mouse does them: nothing is clicked and the focus is
// never put anywhere but by a key.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

async function press(page: Page, ...keys: readonly string[]): Promise<void> {
  for (const key of keys) await page.keyboard.press(key);
}

/** Ctrl K, some letters of what is wanted, Enter. */
async function goTo(page: Page, letters: string): Promise<void> {
  await press(page, 'Control+k');
  await page.keyboard.type(letters);
  await press(page, 'Enter');
}

/** The words of what has the focus. */
function inHand(page: Page): Promise<string> {
  return page.evaluate(() => {
    const active = document.activeElement;
    if (active === document.body) return 'nowhere';
    return active?.getAttribute('aria-label') ?? active?.textContent?.trim() ?? '';
  });
}

/** Opens the editor on what is in hand and writes. */
async function write(page: Page, text: string): Promise<void> {
  await press(page, 'Enter');
  await page.locator('dapple-editor .cm-content').waitFor();
  await page.keyboard.type(text);
  await press(page, 'Enter');
}

test('an earlier version is found in the list and gone back to', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  // Looking at the board keeps the notebook as it was opened, which is no earlier version yet.
  await press(page, 'F9');
  await page.getByRole('dialog').waitFor();
  await press(page, 'Escape');
  await goTo(page, 'cable length');
  await press(page, 'ArrowRight');
  await write(page, '17 m');
  await expect.poll(() => shownValue(page, 'cable length')).toBe('17 m');
  await goTo(page, 'earlier versions');
  // The newest is in hand, not the button that closes the list.
  await expect.poll(() => inHand(page)).toMatch(/^\w{3,4} \d+ \w+, \d\d:\d\d$/u);
  await press(page, 'Enter', 'Tab');
  expect(await inHand(page)).toBe('Go back to this');
  await press(page, 'Enter');
  await expect.poll(() => shownValue(page, 'cable length')).toBe('15 m');
  await expect.poll(() => inHand(page)).toContain('cable length');
  expect(visit.complaints).toEqual([]);
});

test('a table is taken in, changed and used', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await goTo(page, 'cable length');
  await goTo(page, 'take a table in');
  await expect.poll(() => inHand(page)).toBe('Rows of a table');
  await page.keyboard.insertText('lamp;power (W)\ndesk;7\nporch;12\n');
  await press(page, 'Tab', 'Tab');
  expect(await inHand(page)).toBe('As a table of its own');
  await press(page, 'Enter');
  // The table is in hand: its entries are one key away, and the keys for a row below are the usual.
  await expect.poll(() => inHand(page)).toContain('porch');
  await press(page, 'Enter', 'ArrowRight', 'ArrowDown');
  await write(page, '9 W');
  await expect.poll(() => inHand(page)).toBe('9 W');
  await press(page, 'Control+Enter');
  await page.locator('dapple-editor .cm-content').waitFor();
  await page.keyboard.type('lamps = sum(table taken in.power)');
  await press(page, 'Enter');
  // 7 W and 9 W.
  await expect.poll(() => shownValue(page, 'lamps')).toBe('16 W');
  expect(visit.complaints).toEqual([]);
});

test('a scenario is added, named, given a value of its own and compared', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await goTo(page, 'add a scenario');
  await expect.poll(() => inHand(page)).toContain('Otherwise 1');
  await page.keyboard.type('Far away');
  await page.locator('dapple-editor .cm-content').waitFor();
  await press(page, 'Enter');
  await expect.poll(() => inHand(page)).toContain('Far away');
  await goTo(page, 'cable length');
  // From the plan along the strips, those out of view too, until the last one.
  const seen: string[] = [];
  for (let step = 0; step < 8 && !seen.at(-1)?.includes('Far away'); step++) {
    await press(page, 'ArrowRight');
    await expect.poll(() => inHand(page)).toMatch(/^cable length, /u);
    seen.push(await inHand(page));
  }
  expect(seen.at(-1)).toMatch(/^cable length, Far away, 15 m/u);
  await write(page, '40 m');
  await expect.poll(() => inHand(page)).toContain('Far away, 40 m');
  // 40 m against 15 m.
  expect((await rowOf(page, 'cable length').textContent())?.replace(/\s+/gu, ' ')).toContain(
    '+25 m',
  );
  expect(await shownValue(page, 'cable length')).toBe('15 m');
  await press(page, 'ArrowLeft');
  expect(await inHand(page)).not.toContain('Far away');
  await press(page, 'ArrowRight');
  await expect.poll(() => inHand(page)).toContain('Far away, 40 m');
  expect(visit.complaints).toEqual([]);
});

test('a lesson is begun, answered, and its next answer asked for', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'workshop');
  // From the top: the verdict says what is next.
  await press(page, 'F6', 'Tab');
  expect(await inHand(page)).toBe('panel current');
  await press(page, 'Enter');
  await expect.poll(() => inHand(page)).toContain('to be filled in');
  await write(page, 'panel rating / panel voltage');
  const verdict = page.getByRole('region', { name: 'Verdict' }).getByRole('heading').first();
  await expect.poll(() => verdict.textContent()).toBe('1 of 11 right');
  await press(page, 'F6', 'F6', 'Tab', 'Enter');
  await expect.poll(() => inHand(page)).toContain('to be filled in');
  await press(page, 'Shift+Tab');
  expect(await inHand(page)).toBe('Show the answer');
  await press(page, 'Enter', 'Enter');
  await expect
    .poll(() => page.locator('.sheet .row.sel .solution').textContent())
    .toMatch(/^The answer: /u);
  // The way back into the sheet leads to the blank, not to the button before it.
  await press(page, 'F6', 'F6', 'F6');
  await expect.poll(() => inHand(page)).toContain('to be filled in');
  expect(visit.complaints).toEqual([]);
});

test('a chart is saved in each kind', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await goTo(page, 'plugs.margin');
  await expect.poll(() => page.locator('.sheet .row.sel .chart-picture svg').count()).toBe(1);
  await press(page, 'Tab');
  expect(await inHand(page)).toBe('Values of plugs.margin');
  await press(page, 'Tab');
  for (const kind of ['PNG', 'SVG', 'CSV']) {
    await press(page, 'Tab');
    expect(await inHand(page)).toBe(`Save as ${kind}`);
    const [file] = await Promise.all([page.waitForEvent('download'), press(page, 'Enter')]);
    expect(file.suggestedFilename()).toBe(`plugs-margin.${kind.toLowerCase()}`);
  }
  expect(visit.complaints).toEqual([]);
});

/** In the cable notebook, a line being written below its length. */
async function beginSpareLead(page: Page, address: string): Promise<void> {
  await openStarter(page, address, 'cable');
  await goTo(page, 'cable length');
  await press(page, 'Control+Enter');
  await page.locator('dapple-editor .cm-content').waitFor();
  await page.keyboard.type('spare lead = 3 m');
}

test('a row that goes between two keys leaves the hand in the sheet', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await beginSpareLead(page, address);
  await press(page, 'Enter');
  await expect.poll(() => shownValue(page, 'spare lead')).toBe('3 m');
  await goTo(page, 'plugs.margin');
  await expect.poll(() => page.locator('.sheet .row.sel .chart-picture svg').count()).toBe(1);
  await press(page, 'Tab', 'Home', 'ArrowRight');
  expect(await inHand(page)).toBe('Values of plugs.margin');
  // The row above goes, and all below it are drawn one place higher.
  await press(page, 'Control+z');
  await expect.poll(() => rowOf(page, 'spare lead').count()).toBe(0);
  const isInSheet = (): Promise<boolean> =>
    page.evaluate(() => document.activeElement?.closest('.sheet .row') !== null);
  await expect.poll(isInSheet).toBe(true);
  expect(visit.complaints).toEqual([]);
});

test('among many versions the way out stays in sight, and keys go through them', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await goTo(page, 'cable length');
  await press(page, 'ArrowRight');
  await write(page, '17 m');
  await expect.poll(() => shownValue(page, 'cable length')).toBe('17 m');
  // As many as a year and more of work leaves: one an hour, one a day, one a month.
  await page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((done) => {
      const asked = indexedDB.open('dapple');
      asked.onsuccess = () => done(asked.result);
    });
    const transaction = database.transaction('versions', 'readwrite');
    const day = 86_400_000;
    const ago = [
      ...Array.from({ length: 23 }, (_, hour) => ((hour + 1) * day) / 24),
      ...Array.from({ length: 29 }, (_, days) => (days + 1) * day),
      ...Array.from({ length: 14 }, (_, months) => (months + 1) * 30.5 * day),
    ];
    for (const gone of ago)
      transaction.objectStore('versions').put({
        ...{ id: 'cable', when: Date.now() - gone, text: `dapple 1\nat = ${gone} s\n` },
        ...{ headline: 'The plan holds', why: 'edited' },
      });
    await new Promise((done) => {
      transaction.oncomplete = done;
    });
    database.close();
  });
  await page.setViewportSize({ width: 390, height: 760 });
  await goTo(page, 'earlier versions');
  const dialog = page.getByRole('dialog', { name: 'Earlier versions' });
  await expect.poll(() => dialog.getByRole('listitem').count()).toBe(67);
  await press(page, 'End');
  // Fourteen months ago is another year, which is said.
  await expect.poll(() => inHand(page)).toMatch(/ \d{4}, \d\d:\d\d$/u);
  const oldest = await inHand(page);
  const close = dialog.getByRole('button', { name: 'Close earlier versions' });
  // A hand can reach it: nothing lies over it, and it is in the window.
  await close.click({ trial: true });
  await press(page, 'ArrowUp', 'Enter', 'Tab');
  expect(await inHand(page)).toBe('Go back to this');
  await press(page, 'ArrowDown');
  expect(await inHand(page)).toBe(oldest);
  const [top, below] = await Promise.all([
    dialog.locator('.top').boundingBox(),
    page.locator(':focus').boundingBox(),
  ]);
  expect(below?.y).toBeGreaterThanOrEqual((top?.y ?? 0) + (top?.height ?? 0));
  expect(visit.complaints).toEqual([]);
});

test('going elsewhere keeps what is being written, and a row that it adds moves the goal', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await beginSpareLead(page, address);
  await goTo(page, 'cable heat');
  await expect.poll(() => shownValue(page, 'spare lead')).toBe('3 m');
  const here = (): Promise<string | null | undefined> =>
    page.evaluate(
      () => document.activeElement?.closest('.row')?.querySelector('.name')?.textContent,
    );
  await expect.poll(async () => (await here())?.trim()).toBe('cable heat');
  expect(visit.complaints).toEqual([]);
});
