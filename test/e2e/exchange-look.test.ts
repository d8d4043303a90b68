// The dialogs of sending and of tables, looked at by axe-core in each light and on a narrow page, and
// what very large files do.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { openVisit, test } from './harness.ts';
import { dropFile } from './open-text.ts';
import { openStarter } from './sheet.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Finding {
  readonly id: string;
  readonly nodes: readonly { readonly target: readonly string[] }[];
}

async function findings(page: Page): Promise<readonly string[]> {
  await page.evaluate(AXE);
  const found = await page.evaluate(async () => {
    const run: unknown = Reflect.get(Object(Reflect.get(window, 'axe')), 'run');
    if (typeof run !== 'function') throw new Error('axe is not there');
    const result: unknown = await run.call(null, document);
    return Reflect.get(Object(result), 'violations') as readonly Finding[];
  });
  return found.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id} ${target.join(' ')}`));
}

async function command(page: Page, name: string): Promise<void> {
  await page.keyboard.press('Control+k');
  await page.keyboard.type(name);
  await page.keyboard.press('Enter');
}

test.for([
  ['light', 1280],
  ['dark', 1280],
  ['red', 390],
] as const)(
  'axe finds nothing on the dialogs: %s, %i wide',
  async ([theme, width], { browser, address }) => {
    const visit = await openVisit(browser, { viewport: { width, height: 844 } });
    const { page } = visit;
    await page.addInitScript((kept) => localStorage.setItem('dapple.theme', kept), theme);
    await openStarter(page, address, 'battery');
    await page.keyboard.press('Control+e');
    await page.getByRole('dialog', { name: 'Send' }).waitFor();
    expect(await findings(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await command(page, 'Take a table in');
    await page
      .getByRole('dialog', { name: 'Take a table in' })
      .getByRole('textbox')
      .fill('day;low (°C)\n1;9,5\n2;n/a');
    expect(await findings(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await command(page, 'Take a table out');
    await page.getByRole('dialog', { name: 'Take a table out' }).waitFor();
    expect(await findings(page)).toEqual([]);
    // Nothing is wider than the page.
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
    ).toBeLessThanOrEqual(0);
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  },
);

test.for([
  ['one cell again and again', 'x = 1 W\n', 3_000],
  ['parentheses without end', `y = ${'('.repeat(5_000)}\n`, 20],
  ['a circle of names and words', '# a\n| b [c](javascript:d) *e* `f`\n', 2_000],
  ['what cannot be read', '?'.repeat(300_000), 1],
] as const)(
  'a large file of %s is answered, and the page still answers',
  async ([, line, times], { visit, address }) => {
    const { page } = visit;
    await page.goto(address);
    const head = 'dapple 1\ntitle: Large\n\n';
    await dropFile(page, 'large.dapple', { head, text: line, times });
    await expect.poll(() => page.title(), { timeout: 40_000 }).toBe('Large · Dapple');
    await page.keyboard.press('Control+e');
    await page.getByRole('dialog', { name: 'Send' }).waitFor();
    expect(visit.complaints).toEqual([]);
  },
);
