// The page by its keys alone: the link past the bar, the regions in turn, a focus one can see, and
// where the focus is after a dialog.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { test as freshTest, lastingTest as test } from './harness.ts';
import { holdBack, openStarter, rowOf, shownValue } from './sheet.ts';

/** Where the focus is: the region, or the element's own words. */
function focusAt(page: Page): Promise<string> {
  return page.evaluate(() => {
    const active = document.activeElement;
    if (!active || active === document.body) return 'nowhere';
    if (active.closest('dialog')) return 'dialog';
    if (active.closest('.bench')) return 'bench';
    if (active.closest('.verdict')) return 'verdict';
    if (active.closest('#sheet')) return 'sheet';
    return active.getAttribute('aria-label') ?? active.textContent?.trim() ?? '';
  });
}

test('the first key leads past the bar into the sheet', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await page.evaluate(
    () => document.activeElement instanceof HTMLElement && document.activeElement.blur(),
  );
  await page.getByRole('link', { name: 'To the sheet' }).focus();
  await page.keyboard.press('Enter');
  expect(await focusAt(page)).toBe('sheet');
});

test('the link past the bar leads into an empty page too', async ({ visit, address }) => {
  const { page } = visit;
  await page.goto(address);
  await page.getByRole('button', { name: 'Begin with an empty page' }).click();
  await page.getByRole('link', { name: 'To the sheet' }).focus();
  await page.keyboard.press('Enter');
  expect(await focusAt(page)).toBe('sheet');
});

freshTest(
  'a key for the link is the link’s while the editor is still on its way',
  async ({ visit, address }) => {
    const { page } = visit;
    const letThrough = await holdBack(page, /\/assets\/formula-editor-[\w-]+\.js$/u);
    await page.goto(address);
    await page.getByRole('button', { name: 'Begin with an empty page' }).click();
    await page.getByRole('link', { name: 'To the sheet' }).focus();
    await page.keyboard.press('Enter');
    expect(await focusAt(page)).toBe('sheet');
    await page.keyboard.type('reach = 4');
    letThrough();
    const editor = page.getByRole('textbox', { name: /new row/i });
    await expect.poll(() => editor.textContent()).toBe('reach = 4');
    await page.keyboard.type(' m');
    await page.keyboard.press('Enter');
    await expect.poll(() => shownValue(page, 'reach')).toBe('4 m');
  },
);

test('F6 goes round verdict, sheet and bench', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  await page.keyboard.press('Escape');
  await page.getByRole('complementary', { name: 'Bench' }).waitFor();
  const round: string[] = [];
  for (let step = 0; step < 4; step++) {
    await page.keyboard.press('F6');
    round.push(await focusAt(page));
  }
  const at = round.indexOf('verdict');
  expect(at).toBeGreaterThanOrEqual(0);
  const turned = [...round, ...round.slice(1)].slice(at, at + 3);
  expect(turned).toEqual(['verdict', 'sheet', 'bench']);
  expect(round[3]).toBe(round[0]);
});

test('the focus is back in the sheet after each dialog', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  await page.keyboard.press('Escape');
  const here = () =>
    page.evaluate(() => document.activeElement?.closest('[data-item]')?.getAttribute('data-item'));
  await expect.poll(here).not.toBeUndefined();
  const before = await here();
  for (const keys of ['F1', 'Control+k', 'Control+e', 'F9']) {
    await page.keyboard.press(keys);
    await expect.poll(() => focusAt(page), { message: keys }).toBe('dialog');
    await page.keyboard.press('Escape');
    await expect.poll(() => page.locator('dialog[open]').count()).toBe(0);
    await expect.poll(here, { message: `after ${keys}` }).toBe(before);
  }
});

test('the focus can be seen on everything the Tab key reaches', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  await page.keyboard.press('Escape');
  await page.getByRole('link', { name: 'To the sheet' }).focus();
  const unseen: string[] = [];
  const reached = new Set<string>();
  for (let step = 0; step < 30; step++) {
    await page.keyboard.press('Tab');
    const [name, seen] = await page.evaluate(() => {
      const active = document.activeElement;
      if (!active || active === document.body) return ['', true] as const;
      const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(active);
      const ring = outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 1.5;
      const words = active.getAttribute('aria-label') ?? active.textContent ?? '';
      return [
        `${active.className} ${words.trim().slice(0, 30)}`,
        ring || boxShadow !== 'none',
      ] as const;
    });
    reached.add(name);
    if (!seen) unseen.push(name);
  }
  expect(reached.size).toBeGreaterThan(8);
  expect(unseen).toEqual([]);
});

test('a change is said aloud in the words of the strip it was made in', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'cable gauge').locator('[data-col="1"]').click();
  await expect.poll(() => page.locator('#spoken').textContent()).toMatch(/^Two grey days/);
});
