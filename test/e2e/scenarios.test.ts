// Scenarios in a real browser: added, named, described, copied, put in another order, taken away,
// each of it undone; and what they change, with the way back.

import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { openText } from './open-text.ts';
import { openStarter, rowOf, shownValue, strip } from './sheet.ts';

/** The names of the scenarios' rows, from top to bottom. */
async function scenarioNames(page: Page): Promise<readonly string[]> {
  const heads = await page.locator('.row.scenario > .name').allTextContents();
  return heads.map((text) => text.replace(/scenario$/, '').trim());
}

function scenarioRow(page: Page, name: string) {
  return page.locator('.row.scenario').filter({ hasText: name }).first();
}

test('a scenario is named, described, copied, moved and taken away, and all of it undone', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  const before = await scenarioNames(page);
  expect(before.length).toBeGreaterThan(1);
  const first = before[0] ?? '';

  await scenarioRow(page, first).getByRole('button', { name: 'Name', exact: true }).click();
  await page.getByRole('textbox', { name: new RegExp(first) }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('Shorter days');
  await page.keyboard.press('Enter');
  await expect.poll(() => scenarioNames(page)).toContain('Shorter days');

  await scenarioRow(page, 'Shorter days').getByRole('button', { name: 'Describe' }).click();
  await page.getByRole('textbox', { name: /Shorter days/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('Late in the year.');
  await page.keyboard.press('Enter');
  await expect
    .poll(() => scenarioRow(page, 'Shorter days').textContent())
    .toContain('Late in the year.');

  await scenarioRow(page, 'Shorter days').getByRole('button', { name: 'Copy it' }).click();
  await expect.poll(() => scenarioNames(page)).toContain('Shorter days 2');
  expect(await scenarioRow(page, 'Shorter days 2').textContent()).toContain('Late in the year.');

  const copied = await scenarioNames(page);
  await scenarioRow(page, 'Shorter days 2').getByRole('button', { name: 'Earlier' }).click();
  const moved = [...copied.slice(0, -2), 'Shorter days 2', copied.at(-2)];
  await expect.poll(() => scenarioNames(page)).toEqual(moved);

  await scenarioRow(page, 'Shorter days 2')
    .getByRole('button', { name: 'Take the scenario away' })
    .click();
  await expect.poll(() => scenarioNames(page)).toEqual(copied.slice(0, -1));
  for (let step = 0; step < 5; step++) {
    await page.getByRole('button', { name: /^Undo/ }).first().click();
  }
  await expect.poll(() => scenarioNames(page)).toEqual(before);
  expect(visit.complaints).toEqual([]);
});

test('a derived cell is put in for a scenario, told against the plan, and put back', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openText(page, address, [
    'dapple 1',
    '',
    'rating = 100 W',
    'hours = 4 h',
    'harvest = rating × hours as Wh',
    'check harvest ≥ 300 Wh',
    '',
    'scenario Cloudy',
  ]);
  await strip(page, 'harvest', 1).click();
  await page.keyboard.press('Enter');
  await page.getByRole('textbox', { name: /harvest/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('250 Wh');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'harvest', 1)).toContain('250 Wh');
  expect(await strip(page, 'harvest', 1).getAttribute('class')).toContain('over');
  const row = scenarioRow(page, 'Cloudy');
  await expect
    .poll(async () => (await row.textContent())?.replaceAll('\u00a0', ' '))
    .toContain('plan 400 Wh');
  expect(await row.textContent()).toContain('Fails 1 of 1');
  await row.locator('.name').click();
  const bench = page.getByRole('complementary', { name: 'Bench' });
  await expect.poll(() => bench.textContent()).toContain('holds → fails');
  await row.getByRole('button', { name: 'Put back harvest' }).click();
  await expect.poll(() => row.textContent()).toContain('As the plan');
  expect(await rowOf(page, 'harvest').textContent()).not.toContain('250');
  expect(visit.complaints).toEqual([]);
});
