// Finding: the contents of a notebook, and stepping through what words lead to, by key and by hand.

import { expect } from 'vitest';
import { axeFindingsInEachLight } from './axe.ts';
import { lookingTest, openVisit, test } from './harness.ts';
import { lookAtStarter, openStarter } from './sheet.ts';

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

lookingTest(
  'what was found is stepped through by key and by button',
  async ({ visit, address }) => {
    const { page } = visit;
    await lookAtStarter(page, address, 'trip');
    const named = (await page.locator('.row').allTextContents()).length;
    expect(named).toBeGreaterThan(20);
    await page.keyboard.press('Control+k');
    await page.getByRole('combobox').fill('battery');
    const told = await page
      .getByRole('dialog', { name: 'Go to' })
      .getByRole('status')
      .textContent();
    await page.keyboard.press('Enter');
    const bar = page.getByRole('region', { name: 'Found' });
    const words = () => bar.getByRole('status').textContent();
    await expect.poll(words).toMatch(/^battery \d+ of \d+$/);
    const [, first, total] = /(\d+) of (\d+)/.exec((await words()) ?? '') ?? [];
    expect(told).toBe(`${total} found`);
    const selected = () => page.locator('.row.sel').getAttribute('data-item');
    const began = await selected();
    await page.keyboard.press('F3');
    const next = (Number(first) % Number(total)) + 1;
    await expect.poll(words).toBe(`battery ${next} of ${total}`);
    expect(await selected()).not.toBe(began);
    await expect.poll(() => page.locator('.row.sel').textContent()).toMatch(/battery/i);
    await page.keyboard.press('Shift+F3');
    await expect.poll(words).toBe(`battery ${first} of ${total}`);
    expect(await selected()).toBe(began);
    // Round and round.
    for (let steps = 0; steps < Number(total); steps++)
      await bar.getByRole('button', { name: 'The next one found' }).click();
    await expect.poll(words).toBe(`battery ${first} of ${total}`);
    expect(await axeFindingsInEachLight(page, '.found-bar')).toEqual([]);
    await bar.getByRole('button', { name: 'Leave what was found' }).click();
    await expect.poll(() => bar.count()).toBe(0);
    expect(visit.complaints).toEqual([]);
  },
);

lookingTest('a name goes before words that only stand somewhere', async ({ visit, address }) => {
  const { page } = visit;
  await lookAtStarter(page, address, 'trip');
  await page.keyboard.press('Control+k');
  // Prose of the trip has all these words, too.
  await page.getByRole('combobox').fill('change the light');
  const first = page.getByRole('option').first();
  await expect.poll(() => first.textContent()).toMatch(/^Change the light\s*command/);
});

test('the contents are listed and gone to with keys, and on a phone', async ({
  browser,
  address,
}) => {
  const visit = await openVisit(browser, PHONE);
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const headings = await page.locator('.row.heading h2').allTextContents();
  const tools = page.getByRole('navigation', { name: 'Tools' });
  await tools.getByRole('button', { name: 'Go to' }).tap();
  const contents = page.getByRole('group', { name: 'Contents' });
  const listed = contents.getByRole('option').locator('span:first-child');
  expect(await listed.allTextContents()).toEqual(headings);
  await contents.getByRole('option').nth(2).tap();
  await expect
    .poll(() => page.locator('.row.sel').textContent())
    .toContain(headings[2] ?? 'no third heading');
  await expect.poll(() => page.locator('.row.sel').isVisible()).toBe(true);
  await page.keyboard.press('Control+k');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  await expect
    .poll(() => page.locator('.row.sel').textContent())
    .toContain(headings[1] ?? 'no second heading');
  await page.keyboard.press('Control+k');
  await page.getByRole('combobox').fill('panel rating');
  await page.keyboard.press('Enter');
  const bar = page.getByRole('region', { name: 'Found' });
  // One line of words beside three buttons of 48 pixels.
  await expect.poll(() => bar.evaluate((box) => box.clientHeight)).toBeLessThanOrEqual(64);
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});
