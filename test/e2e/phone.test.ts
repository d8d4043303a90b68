// A phone, 390 by 844 and 360 by 640: everything one may press is large enough for a finger (24 by 24
// pixels, WCAG 2.2, 2.5.8) and nothing stands beyond the page's edge, on the sheet and in its dialogs.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { openVisit, test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

const LEAST = 24;

/** What is too small to press, and by how much the page is wider than the window. */
function faults(page: Page): Promise<readonly string[]> {
  return page.evaluate((least) => {
    const found: string[] = [];
    const beyond = document.documentElement.scrollWidth - document.documentElement.clientWidth;
    if (beyond > 0) found.push(`the page by ${beyond} pixels`);
    const pressed = 'button, a[href], input, select, textarea, summary, [role="button"]';
    let seen = 0;
    for (const element of document.querySelectorAll<HTMLElement>(pressed)) {
      const shown = { visibilityProperty: true, opacityProperty: true };
      if (!element.checkVisibility(shown)) continue;
      const { width, height } = element.getBoundingClientRect();
      // A row that is not near the window is not laid out yet.
      if (width === 0) continue;
      seen++;
      if (width >= least - 0.1 && height >= least - 0.1) continue;
      const name = element.getAttribute('aria-label') ?? element.textContent ?? '';
      found.push(`${element.tagName} ${name.trim()} ${width.toFixed(0)} × ${height.toFixed(0)}`);
    }
    if (seen === 0) found.push('nothing to press');
    return found;
  }, LEAST);
}

for (const [width, height] of [
  [390, 844],
  [360, 640],
] as const) {
  const phone = { viewport: { width, height }, hasTouch: true, isMobile: true };

  test(`a finger finds everything at ${width} by ${height}`, async ({ browser, address }) => {
    const visit = await openVisit(browser, phone);
    const { page } = visit;
    await page.goto(address);
    await page.getByRole('heading', { name: 'Dapple' }).waitFor();
    expect(await faults(page), 'first page').toEqual([]);
    await openStarter(page, address, 'workshop');
    expect(await faults(page), 'workshop').toEqual([]);
    await openStarter(page, address, 'trip');
    expect(await faults(page), 'trip').toEqual([]);
    const bench = page.getByRole('complementary', { name: 'Bench' });
    await rowOf(page, 'panel rating').getByRole('rowheader').tap();
    await bench.getByRole('heading', { name: 'panel rating' }).waitFor();
    expect(await faults(page), 'bench').toEqual([]);
    await bench.getByRole('button', { name: 'More by 20 W' }).tap();
    await bench.getByText('240', { exact: false }).first().waitFor();
    const tools = page.getByRole('navigation', { name: 'Tools' });
    await tools.getByRole('button', { name: 'Undo' }).tap();
    await bench.getByRole('button', { name: 'Close the bench' }).tap();
    await expect.poll(() => bench.count()).toBe(0);
    await tools.getByRole('button', { name: 'Reading' }).tap();
    await page.getByRole('dialog', { name: 'New reading, log' }).waitFor();
    expect(await faults(page), 'reading').toEqual([]);
    await page.getByRole('button', { name: 'Drop the reading' }).tap();
    await tools.getByRole('button', { name: 'Go to' }).tap();
    await page.getByRole('dialog', { name: 'Go to' }).waitFor();
    expect(await faults(page), 'go to').toEqual([]);
    await page.keyboard.press('Escape');
    for (const [words, title] of [
      ['Send', /Send/],
      ['Earlier versions', /Earlier versions/],
      ['Help', 'Help'],
    ] as const) {
      await page.getByRole('button', { name: 'File' }).tap();
      expect(await faults(page), 'menu').toEqual([]);
      await page.locator('#file-menu').getByRole('button', { name: words }).tap();
      const dialog = page.getByRole('dialog', { name: title });
      await dialog.waitFor();
      expect(await faults(page), words).toEqual([]);
      await dialog.getByRole('button', { name: /^Close/ }).tap();
      await expect.poll(() => dialog.count()).toBe(0);
    }
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });
}

test('a chip, a field and a step of the bench change the scenario in view, not the plan', async ({
  browser,
  address,
}) => {
  const visit = await openVisit(browser, {
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
  });
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const scenarios = page.getByRole('group', { name: 'Scenario' });
  const bench = page.getByRole('complementary', { name: 'Bench' });
  await scenarios.getByRole('button', { name: /Two grey days/ }).tap();
  // In the notebook: 6 mm² and 220 W, by 20 W, in the plan and in this scenario.
  await expect.poll(() => shownValue(page, 'cable gauge', 1)).toMatch(/^6 mm²/);
  const chips = rowOf(page, 'cable gauge').getByRole('group', { name: 'cable gauge' });
  await chips.getByRole('button', { name: '2.5 mm²' }).tap();
  await expect.poll(() => shownValue(page, 'cable gauge', 1)).toMatch(/^2\.5 mm²/);
  const pressed = (name: string) =>
    chips.getByRole('button', { name, exact: true }).getAttribute('aria-pressed');
  expect([await pressed('2.5 mm²'), await pressed('6 mm²')]).toEqual(['true', 'false']);
  await rowOf(page, 'cable gauge').getByRole('rowheader').tap();
  await bench.getByText('Changes only Two grey days').waitFor();
  await bench.getByRole('button', { name: '10 mm²' }).tap();
  await expect.poll(() => shownValue(page, 'cable gauge', 1)).toMatch(/^10 mm²/);
  await bench.getByRole('button', { name: 'Close the bench' }).tap();
  await rowOf(page, 'panel rating').getByRole('rowheader').tap();
  await bench.getByRole('slider', { name: 'panel rating' }).press('ArrowLeft');
  await expect.poll(() => shownValue(page, 'panel rating', 1)).toMatch(/^200 W/);
  await bench.getByRole('button', { name: 'Less by 20 W' }).tap();
  await expect.poll(() => shownValue(page, 'panel rating', 1)).toMatch(/^180 W/);
  await bench.getByRole('button', { name: 'Close the bench' }).tap();
  await scenarios.getByRole('button', { name: /Plan/ }).tap();
  await expect.poll(() => shownValue(page, 'panel rating', 0)).toMatch(/^220 W/);
  expect(await shownValue(page, 'cable gauge', 0)).toMatch(/^6 mm²/);
  expect([await pressed('6 mm²'), await pressed('10 mm²')]).toEqual(['true', 'false']);
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});

/** Where the field of the open editor and the note of its row stand, each line of the note by itself. */
function fieldAndNote(page: Page) {
  return page.evaluate(() => {
    const box = ({ left, right, top, bottom }: DOMRect) => ({ left, right, top, bottom });
    const editor = document.querySelector('dapple-editor');
    const note = editor?.closest('.row')?.querySelector('.note');
    if (!editor || !note) throw new Error('no field with a note beside it');
    const range = document.createRange();
    range.selectNodeContents(note);
    return {
      field: box(editor.getBoundingClientRect()),
      lines: [...range.getClientRects()].map(box),
      page: document.documentElement.scrollWidth,
    };
  });
}

// A sentence of several lines, and one word longer than the page is wide.
const LONG = ['2 × '.repeat(40), 'm'.repeat(90)];

test('what is written on a phone stays on the page, and the note of its row in sight', async ({
  browser,
  address,
}) => {
  const size = { width: 390, height: 640 };
  const visit = await openVisit(browser, { viewport: size, hasTouch: true, isMobile: true });
  const { page } = visit;
  await openStarter(page, address, 'cable');
  for (const name of ['record low', 'cable length']) {
    await rowOf(page, name).getByRole('rowheader').tap();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    const field = page.getByRole('textbox', { name: `${name}, value` });
    await field.waitFor();
    for (const text of LONG) {
      await page.keyboard.press('Control+a');
      await page.keyboard.insertText(text);
      await expect.poll(() => field.textContent()).toBe(text);
      for (const width of [320, 360, 390]) {
        await page.setViewportSize({ ...size, width });
        await expect.poll(() => page.evaluate(() => innerWidth)).toBe(width);
        const found = await fieldAndNote(page);
        expect(found.page).toBe(width);
        expect(found.field.left).toBeGreaterThanOrEqual(0);
        expect(found.field.right).toBeLessThanOrEqual(width);
        expect(found.field.right - found.field.left).toBeGreaterThan(width / 2);
        expect(found.lines.length).toBeGreaterThan(0);
        for (const { left, right, top, bottom } of found.lines) {
          expect(left).toBeGreaterThanOrEqual(0);
          expect(right).toBeLessThanOrEqual(width);
          const apart = top >= found.field.bottom || bottom <= found.field.top;
          expect(apart, `a note at ${top} beside a field to ${found.field.bottom}`).toBe(true);
        }
      }
    }
    await page.keyboard.press('Control+a');
    await page.keyboard.insertText('12');
    await page.keyboard.press('Enter');
    await expect.poll(() => field.count()).toBe(0);
  }
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});
