// A lesson as a learner and a teacher use it: blanks filled in, answers told or asked for, progress,
// and the board for a room.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { openVisit, lastingTest as test } from './harness.ts';
import { openStarter, rowOf, strip } from './sheet.ts';

function plain(text: string | null): string {
  return (text ?? '').replace(/\s+/g, ' ').trim();
}

function verdictWords(page: Page): Promise<string | null> {
  return page.getByRole('region', { name: 'Verdict' }).getByRole('heading').first().textContent();
}

async function fill(page: Page, name: string, formula: string): Promise<void> {
  await strip(page, name).click();
  await page.locator('dapple-editor').waitFor();
  await page.keyboard.type(formula);
  await page.keyboard.press('Enter');
}

test('a wrong answer tells how far off it is, a right one shows the sum', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'workshop');
  expect(await verdictWords(page)).toBe('0 of 11 right');
  await fill(page, 'panel current', '1800 A');
  // 100 W / 18 V = 5.56 A; the product in place of the quotient is 18 × 18 = 324 times too large.
  const row = rowOf(page, 'panel current');
  await expect.poll(async () => plain(await row.textContent())).toContain('324 times too large');
  expect(await row.textContent()).not.toContain('panel rating / panel voltage');
  await fill(page, 'panel current', 'panel rating / panel voltage');
  await expect.poll(async () => plain(await row.textContent())).toContain('Right.');
  expect(plain(await row.textContent())).toContain('panel rating / panel voltage ± 1 % = 5.56 A');
  expect(await verdictWords(page)).toBe('1 of 11 right');
  expect(visit.complaints).toEqual([]);
});

test('an answer is asked back once, shown, and hidden again, by keyboard', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'workshop');
  await page.getByRole('button', { name: 'panel current', exact: true }).click();
  const row = rowOf(page, 'panel current');
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('Enter');
  expect(await row.textContent()).not.toContain('panel rating / panel voltage');
  await row.getByRole('button', { name: 'Show it now' }).waitFor();
  await page.keyboard.press('Enter');
  await expect
    .poll(async () => plain(await row.textContent()))
    .toContain('The answer: panel rating / panel voltage ± 1 % = 5.56 A');
  // Having asked is not having answered.
  expect(await verdictWords(page)).toBe('0 of 11 right');
  await page.keyboard.press('Enter');
  await expect.poll(() => row.textContent()).not.toContain('The answer:');
  expect(visit.complaints).toEqual([]);
});

test('a learner on a phone fills in a blank', async ({ browser, address }) => {
  const visit = await openVisit(browser, { viewport: { width: 360, height: 640 }, hasTouch: true });
  const { page } = visit;
  await openStarter(page, address, 'workshop');
  await page.getByRole('button', { name: 'panel current', exact: true }).tap();
  await strip(page, 'panel current').tap();
  // The bench from below leaves the field in sight, and a finger reaches it.
  const field = page.locator('dapple-editor');
  await field.waitFor();
  await field.tap();
  await page.keyboard.type('100 W / 18 V');
  await page.keyboard.press('Enter');
  await expect.poll(() => verdictWords(page)).toBe('1 of 11 right');
  const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(beyond).toBeLessThanOrEqual(0);
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});

test('the board shows one cell large, steps with arrows, changes a given, leaves with Escape', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await page.keyboard.press('F9');
  const board = page.getByRole('dialog', { name: 'Board' });
  await board.waitFor();
  const names = async (): Promise<string | null> =>
    board.getByRole('heading').first().textContent();
  const first = await names();
  await page.keyboard.press('ArrowDown');
  await expect.poll(names).not.toBe(first);
  await page.keyboard.press('PageUp');
  await expect.poll(names).toBe(first);
  // A capital is seen at 10 m when it is a 400th of that high, 25 mm: a 36th of a screen 0.9 m high.
  const heights = await board
    .locator('h2, .board-line, .board-note')
    .evaluateAll((lines) =>
      lines.map((line) => Number.parseFloat(getComputedStyle(line).fontSize) * 0.7),
    );
  const tall = page.viewportSize()?.height ?? 0;
  expect(Math.min(...heights)).toBeGreaterThanOrEqual(tall / 36);
  const field = board.getByRole('textbox');
  const metres = async (): Promise<boolean> =>
    (await field.count()) > 0 && /^\d+ m$/.test(await field.inputValue());
  for (let at = 0; at < 20 && !(await metres()); at++) await page.keyboard.press('ArrowRight');
  const given = (await names()) ?? '';
  await field.fill('11');
  await page.keyboard.press('Enter');
  await expect.poll(() => field.inputValue()).toBe('11 m');
  await page.keyboard.press('Escape');
  await expect.poll(() => board.count()).toBe(0);
  expect(plain(await strip(page, given).textContent())).toContain('11');
  expect(visit.complaints).toEqual([]);
});
