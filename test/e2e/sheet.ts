// How the end-to-end tests find their way about a notebook: by the names a reader sees, never by
// the page's inner structure beyond the roles it gives.

import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { STARTERS } from '../../web/screen/starters.ts';

function titleOf(id: string): string {
  const title = STARTERS.find((starter) => starter.id === id.replace('new/', ''))?.title;
  return `${title} · Dapple`;
}

/** Opens a starter notebook and waits until its values are shown. */
export async function openStarter(page: Page, address: string, id: string): Promise<void> {
  // Not until everything is loaded: a test may hold some of it back.
  await page.goto(`${address}#/${id}`, { waitUntil: 'commit' });
  // The notebook that was open before stands until this one is there.
  await expect.poll(() => page.title()).toBe(titleOf(id));
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
}

/** The same where the test before may have left it open. */
export async function lookAtStarter(page: Page, address: string, id: string): Promise<void> {
  if ((await page.title()) !== titleOf(id)) await openStarter(page, address, id);
}

/** Holds back the parts of the page that `which` matches, until what it gives is called. */
export async function holdBack(page: Page, which: RegExp): Promise<() => void> {
  let letThrough = (): void => {};
  const held = new Promise<void>((done) => {
    letThrough = done;
  });
  await page.route(which, async (route) => {
    await held;
    await route.continue();
  });
  return letThrough;
}

/** What `read` gives once it has given the same for a while: nothing more is on its way. */
export async function atRest<T>(page: Page, read: () => Promise<T>): Promise<T> {
  let last = await read();
  for (let same = 0; same < 3; ) {
    await page.waitForTimeout(250);
    const now = await read();
    same = now === last ? same + 1 : 0;
    last = now;
  }
  return last;
}

/** The row of a cell. */
export function rowOf(page: Page, name: string): Locator {
  return page
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name, exact: true }) })
    .first();
}

/** The strip of a cell's value, the plan's unless said otherwise. */
export function strip(page: Page, name: string, column = 0): Locator {
  return rowOf(page, name).locator(`[data-col="${column}"]`);
}

/** The figures in a strip, as one line. */
export async function shownValue(page: Page, name: string, column = 0): Promise<string> {
  const text = await strip(page, name, column).textContent();
  return (text ?? '').replace(/\s+/g, ' ').trim();
}

/** Puts another formula in for a given of the plan, by keyboard, and waits until its value shows. */
export async function putIn(page: Page, name: string, formula: string): Promise<void> {
  await strip(page, name).click();
  await page.getByRole('textbox', { name: new RegExp(name) }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type(formula);
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, name)).toContain(formula);
}
