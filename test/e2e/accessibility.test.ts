// Every screen held against axe-core in the three lights, and what people set for themselves: larger
// text, no movement, colours of their own.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { axeFindingsInEachLight } from './axe.ts';
import { lastingTest, openVisit, test } from './harness.ts';
import { openStarter, rowOf } from './sheet.ts';

const STARTERS = [
  'harvest',
  'battery',
  'cable',
  'cool-box',
  'quiet-hours',
  'trial',
  'trip',
  'workshop',
  'tour',
  'rules',
] as const;

lastingTest('the first page is for everybody in each light', async ({ visit, address }) => {
  await visit.page.goto(address);
  await visit.page.getByRole('heading', { name: 'Dapple' }).waitFor();
  expect(await axeFindingsInEachLight(visit.page)).toEqual([]);
});

for (const id of STARTERS) {
  lastingTest(`the notebook ${id} is for everybody in each light`, async ({ visit, address }) => {
    await openStarter(visit.page, address, id);
    await visit.page.locator('.row').first().waitFor();
    expect(await axeFindingsInEachLight(visit.page)).toEqual([]);
  });
}

const DIALOGS: readonly (readonly [string | RegExp, (page: Page) => Promise<void>])[] = [
  ['Help', (page) => page.keyboard.press('F1')],
  ['Go to', (page) => page.keyboard.press('Control+k')],
  ['Send', (page) => page.keyboard.press('Control+e')],
  ['Earlier versions', (page) => runCommand(page, 'Earlier versions')],
  [/^New reading/, (page) => runCommand(page, 'New reading')],
  ['Board', (page) => page.keyboard.press('F9')],
];

/** Runs a command by its words, as a person without the keys in mind does. */
async function runCommand(page: Page, words: string): Promise<void> {
  await page.keyboard.press('Control+k');
  await page.getByRole('combobox').fill(words);
  await page.keyboard.press('Enter');
}

lastingTest(
  'the bench and every dialog are for everybody in each light',
  async ({ visit, address }) => {
    const { page } = visit;
    await openStarter(page, address, 'tour');
    await page.getByRole('rowheader').first().click();
    await page.getByRole('complementary', { name: 'Bench' }).waitFor();
    expect(await axeFindingsInEachLight(page, '.bench')).toEqual([]);
    for (const [name, open] of DIALOGS) {
      await open(page);
      const dialog = page.getByRole('dialog', { name });
      await dialog.waitFor();
      expect(await axeFindingsInEachLight(page, 'dialog[open]'), String(name)).toEqual([]);
      await page.keyboard.press('Escape');
      await expect.poll(() => dialog.count(), { message: String(name) }).toBe(0);
    }
  },
);

lastingTest('an empty page is for everybody in each light', async ({ visit, address }) => {
  const { page } = visit;
  await page.goto(address);
  await page.getByRole('button', { name: 'Begin with an empty page' }).click();
  await page.getByLabel('Title').waitFor();
  expect(await axeFindingsInEachLight(page)).toEqual([]);
});

lastingTest('a notebook with faults is for everybody in each light', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  for (const line of [
    'wrong kind = cable length + panel voltage',
    'unknown = no such name × 2',
    'check 3 m',
  ]) {
    await page.keyboard.press('Control+Enter');
    await page.locator('.cm-content').fill(line);
    await page.keyboard.press('Enter');
    await page.locator('.cm-content').waitFor({ state: 'detached' });
  }
  await expect.poll(() => page.locator('.msg').count()).toBeGreaterThanOrEqual(2);
  expect(await axeFindingsInEachLight(page)).toEqual([]);
});

for (const scheme of ['light', 'dark'] as const) {
  test(`marks keep their meaning in the reader's own colours, ${scheme}`, async ({
    browser,
    address,
  }) => {
    const visit = await openVisit(browser, { forcedColors: 'active', colorScheme: scheme });
    const { page } = visit;
    await openStarter(page, address, 'cable');
    const look = (name: string, part: string) =>
      rowOf(page, name)
        .locator(part)
        .first()
        .evaluate((element) => {
          const { backgroundColor, outlineColor, outlineStyle } = getComputedStyle(element);
          return { backgroundColor, outlineColor, outlineStyle };
        });
    const ground = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    const given = await look('cable length', '.mk');
    const derived = await look('cable drop', '.mk');
    // A filled mark is a given, a hollow one is not: the fill must not be taken away.
    expect(given.backgroundColor).not.toBe(ground);
    expect(given.backgroundColor).not.toBe(derived.backgroundColor);
    await rowOf(page, 'cable drop').locator('[data-col="0"]').click();
    const chosenLine = async () => (await look('cable drop', '[data-col="0"]')).outlineStyle;
    await expect.poll(chosenLine).toBe('solid');
    const chosen = await look('cable drop', '[data-col="0"]');
    expect(chosen.outlineColor).not.toBe(ground);
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });
}

test('nothing rises or fades for those who want no movement', async ({ browser, address }) => {
  const visit = await openVisit(browser, {
    reducedMotion: 'reduce',
    viewport: { width: 390, height: 844 },
    hasTouch: true,
  });
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  await page.getByRole('complementary', { name: 'Bench' }).waitFor();
  const moving = await page.evaluate(() =>
    document
      .getAnimations()
      .filter((animation) => Number(animation.effect?.getComputedTiming().duration ?? 0) > 1)
      .map((animation) => String(Reflect.get(animation, 'transitionProperty') ?? animation.id)),
  );
  expect(moving).toEqual([]);
  await visit.context.close();
});

for (const width of [1280, 640]) {
  test(`words twice as large are whole at ${width} pixels`, async ({ browser, address }) => {
    const visit = await openVisit(browser, { viewport: { width, height: 900 } });
    const { page } = visit;
    await page.addInitScript(() => {
      addEventListener('DOMContentLoaded', () => {
        document.documentElement.style.fontSize = '200%';
      });
    });
    await openStarter(page, address, 'cable');
    await rowOf(page, 'cable length').getByRole('rowheader').click();
    expect(await cutOff(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.keyboard.press('F1');
    await page.getByRole('dialog', { name: 'Help' }).waitFor();
    expect(await cutOff(page)).toEqual([]);
    await visit.context.close();
  });
}

/** Words that their own box cuts off, and a page that is wider than the window. */
function cutOff(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const beyond = document.documentElement.scrollWidth - innerWidth;
    if (beyond > 0) found.push(`the page by ${beyond} pixels`);
    const parts = '.bar *, .verdict *, .name, .formula, .val, .bench *, dialog[open] *';
    for (const element of document.querySelectorAll<HTMLElement>(parts)) {
      if (!element.checkVisibility() || element.closest('.vh') || element instanceof SVGElement)
        continue;
      const { overflowX, overflowY } = getComputedStyle(element);
      const wide = element.scrollWidth > element.clientWidth + 1;
      const tall = element.scrollHeight > element.clientHeight + 1;
      // A field scrolls its own words.
      if (element instanceof HTMLInputElement) continue;
      if ((overflowX === 'hidden' && wide) || (overflowY === 'hidden' && tall)) {
        found.push(`${element.className}: ${(element.textContent ?? '').trim().slice(0, 40)}`);
      }
    }
    return found;
  });
}

for (const id of ['', ...STARTERS]) {
  lastingTest(
    `letters set twice as large are whole in ${id === '' ? 'the first page' : id}`,
    async ({ visit, address }) => {
      const { page } = visit;
      await page.setViewportSize({ width: 780, height: 900 });
      // As set by the reader for every page: the usual letter is 32 pixels instead of 16.
      const session = await visit.context.newCDPSession(page);
      await session.send('Page.setFontSizes', { fontSizes: { standard: 32, fixed: 26 } });
      if (id === '') {
        await page.goto(address);
        await page.getByRole('heading', { name: 'Dapple' }).waitFor();
      } else await openStarter(page, address, id);
      const letter = await page.evaluate(() =>
        getComputedStyle(document.documentElement).getPropertyValue('font-size'),
      );
      expect(Number.parseFloat(letter)).toBeGreaterThanOrEqual(28);
      // Rows far below are laid out too.
      await page.evaluate(() => {
        for (const row of document.querySelectorAll<HTMLElement>('.row'))
          row.style.contentVisibility = 'visible';
      });
      expect(await cutOff(page)).toEqual([]);
      if (id === 'tour') {
        for (const [name, open] of DIALOGS) {
          await open(page);
          const dialog = page.getByRole('dialog', { name });
          await dialog.waitFor();
          expect(await cutOff(page), String(name)).toEqual([]);
          await dialog.evaluate((box) => {
            if (box instanceof HTMLDialogElement) box.close();
          });
          await expect.poll(() => dialog.count()).toBe(0);
        }
      }
      expect(visit.complaints).toEqual([]);
      await session.send('Page.setFontSizes', { fontSizes: { standard: 16, fixed: 13 } });
    },
  );
}

test('a map keeps its shades in the reader’s own colours', async ({ browser, address }) => {
  const visit = await openVisit(browser, { forcedColors: 'active', colorScheme: 'light' });
  const { page } = visit;
  await openStarter(page, address, 'battery');
  const map = rowOf(
    page,
    'lowest charge against label energy = 300 Wh..3000 Wh, day harvest = 200 Wh..900 Wh',
  );
  await map.scrollIntoViewIfNeeded();
  const shades = () =>
    map
      .locator('.chart-picture path')
      .evaluateAll((paths) => new Set(paths.map((path) => getComputedStyle(path).fill)).size);
  // Twelve by eleven cells, of charges from 0 to 86 %.
  await expect.poll(shades, { timeout: 20_000 }).toBeGreaterThan(5);
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});

lastingTest(
  'pictures take on the reader’s own colours while they stand',
  async ({ visit, address }) => {
    const { page } = visit;
    await page.emulateMedia({ forcedColors: 'none', colorScheme: 'light' });
    await openStarter(page, address, 'trip');
    const chart = page.locator('dapple-chart').first();
    await chart.scrollIntoViewIfNeeded();
    const ink = () => chart.locator('.chart-picture svg text').first().getAttribute('fill');
    await chart.locator('.chart-picture svg text').first().waitFor();
    const own = await ink();
    await page.emulateMedia({ forcedColors: 'active' });
    // A colour of the page's own is written as a hex number, one of the reader's as its amounts.
    await expect.poll(ink).toMatch(/^rgb/);
    await page.emulateMedia({ forcedColors: 'none' });
    await expect.poll(ink).toBe(own);
    expect(visit.complaints).toEqual([]);
  },
);
