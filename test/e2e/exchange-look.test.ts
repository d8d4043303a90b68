// The dialogs of sending and of tables, looked at by axe-core in each light and on a narrow page, and
// what very large files do.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { axeFindingsInEachLight } from './axe.ts';
import { lastingTest as test } from './harness.ts';
import { dropFile } from './open-text.ts';
import { openStarter } from './sheet.ts';

async function command(page: Page, name: string): Promise<void> {
  await page.keyboard.press('Control+k');
  await page.keyboard.type(name);
  await page.keyboard.press('Enter');
}

for (const [lights, width] of [
  [['light', 'dark'], 1280],
  [['red'], 390],
] as const) {
  test(`axe finds nothing on the dialogs: ${lights.join(' and ')}, ${width} wide`, async ({
    visit,
    address,
  }) => {
    const { page } = visit;
    const findings = () => axeFindingsInEachLight(page, 'html', lights);
    await page.setViewportSize({ width, height: 844 });
    await openStarter(page, address, 'battery');
    await page.keyboard.press('Control+e');
    await page.getByRole('dialog', { name: 'Send' }).waitFor();
    expect(await findings()).toEqual([]);
    await page.keyboard.press('Escape');
    await command(page, 'Take a table in');
    await page
      .getByRole('dialog', { name: 'Take a table in' })
      .getByRole('textbox')
      .fill('day;low (°C)\n1;9,5\n2;n/a');
    expect(await findings()).toEqual([]);
    await page.keyboard.press('Escape');
    await command(page, 'Take a table out');
    await page.getByRole('dialog', { name: 'Take a table out' }).waitFor();
    expect(await findings()).toEqual([]);
    // Nothing is wider than the page.
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
    ).toBeLessThanOrEqual(0);
    expect(visit.complaints).toEqual([]);
  });
}

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
