// The board for a room: whose values it shows and changes, in each light and on a phone.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { axeFindingsInEachLight } from './axe.ts';
import { openVisit, lastingTest as test } from './harness.ts';
import { openStarter, rowOf, shownValue } from './sheet.ts';

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

function board(page: Page) {
  return page.getByRole('dialog', { name: 'Board' });
}

test('the board changes the scenario it shows and leaves the plan', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  // In the notebook: 220 W, by 20 W.
  expect(await shownValue(page, 'panel rating')).toMatch(/^220 W/);
  await rowOf(page, 'panel rating').getByRole('rowheader').click();
  await page.keyboard.press('F9');
  const whose = board(page).getByRole('group', { name: 'Whose values' });
  expect(await whose.getByRole('button', { name: 'Plan' }).getAttribute('aria-pressed')).toBe(
    'true',
  );
  await whose.getByRole('button', { name: 'Two grey days' }).click();
  await board(page).getByText('as in the plan').waitFor();
  await board(page).getByRole('button', { name: 'More by 20 W in Two grey days' }).click();
  await board(page)
    .getByText(/plan 220\sW/)
    .waitFor();
  expect(await board(page).locator('.board-result').textContent()).toMatch(/240\sW/);
  expect(await board(page).getByRole('status').textContent()).toContain('Two grey days');
  // Stepping on keeps to the scenario.
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowUp');
  await board(page).getByRole('button', { name: 'Put back the plan’s value' }).waitFor();
  const field = board(page).getByRole('textbox', { name: 'panel rating, value' });
  await field.fill('260');
  await field.press('Enter');
  await expect.poll(() => board(page).locator('.board-result').textContent()).toMatch(/260\sW/);
  await page.keyboard.press('Escape');
  expect(await shownValue(page, 'panel rating')).toMatch(/^220 W/);
  await expect.poll(() => shownValue(page, 'panel rating', 1)).toMatch(/^260 W/);
  expect(visit.complaints).toEqual([]);
});

for (const [what, size] of [
  ['a projector', { viewport: { width: 1440, height: 900 } }],
  ['a phone', PHONE],
] as const) {
  test(`the board on ${what} is whole and for everybody in each light`, async ({
    browser,
    address,
  }) => {
    const visit = await openVisit(browser, size);
    const { page } = visit;
    await openStarter(page, address, 'trip');
    for (const name of ['panel rating', 'lowest charge']) {
      await page.keyboard.press('Control+k');
      await page.getByRole('combobox').fill(name);
      await page.keyboard.press('Enter');
      await page.keyboard.press('F9');
      await board(page).getByRole('heading', { name }).waitFor();
      expect(await axeFindingsInEachLight(page, '#board')).toEqual([]);
      const beyond = await board(page).evaluate((box) => box.scrollWidth - box.clientWidth);
      expect(beyond).toBeLessThanOrEqual(0);
      await board(page).getByRole('button', { name: 'Leave the board' }).click();
      await expect.poll(() => board(page).count()).toBe(0);
    }
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });
}
