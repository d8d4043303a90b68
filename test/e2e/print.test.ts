// On paper: a plan to carry, black on white whatever the light of the page, every chart drawn though
// it was never in view, and nothing of the interface.

import { readFileSync } from 'node:fs';
import { expect } from 'vitest';
import { test } from './harness.ts';
import { openStarter } from './sheet.ts';

const trip = readFileSync(new URL('../../notebooks/trip.dapple', import.meta.url), 'utf8');
const scenarios = [...trip.matchAll(/^scenario\s+"?([^"\n]*?)"?\s*$/gm)].map((found) => found[1]);

test('the trip prints as a plan, in black, with every chart', async ({ visit, address }) => {
  const { page } = visit;
  await page.addInitScript(() => localStorage.setItem('dapple.theme', 'red'));
  await openStarter(page, address, 'trip');
  await page.waitForLoadState('networkidle');
  await page.getByRole('button', { name: /Light: Red/ }).waitFor();
  // What draws charts is fetched once the page rests.
  await expect
    .poll(() => page.locator('dapple-chart').count(), { timeout: 10_000 })
    .toBeGreaterThan(2);
  await page.waitForFunction(() =>
    performance.getEntriesByType('resource').some(({ name }) => /chart-view-.*\.js/.test(name)),
  );
  await page.waitForTimeout(500);
  await page.emulateMedia({ media: 'print' });
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  const paper = page.locator('.paper');
  expect(await paper.getByRole('heading', { level: 1 }).textContent()).toBe(
    'Owl survey, six nights in the pines',
  );
  const order = await paper.locator('h2').allInnerTexts();
  expect(order.slice(1)).toEqual([
    'Checks',
    'What was put in',
    'If it turns out otherwise',
    'Before you connect',
    'The working',
  ]);
  expect(await paper.locator('.paper-checks thead th').allInnerTexts()).toEqual([
    'must hold',
    'Plan',
    ...scenarios,
  ]);
  expect(await paper.locator('.paper-care').textContent()).toContain('Fuse at the battery');
  const drawn = await page.locator('dapple-chart').evaluateAll((charts) =>
    charts.map((chart) => ({
      drawn: chart.querySelector('svg, table') !== null,
      words: (chart.textContent ?? '').includes('working'),
    })),
  );
  expect(drawn.length).toBeGreaterThan(2);
  expect(drawn.filter((chart) => !chart.drawn && !chart.words)).toEqual([]);
  const wrong = await page.evaluate(() => {
    const found = new Set<string>();
    for (const element of document.querySelectorAll('.paper *, .sheet *')) {
      if (element.getClientRects().length === 0) continue;
      const style = getComputedStyle(element);
      for (const name of ['color', 'fill', 'stroke']) {
        const [red, green, blue, alpha] = (style.getPropertyValue(name).match(/[\d.]+/g) ?? []).map(
          Number,
        );
        if (red === undefined || alpha === 0 || element.closest('dapple-chart')) continue;
        if (red !== green || red !== blue)
          found.add(`${element.tagName}.${element.getAttribute('class')} ${name}`);
      }
    }
    return [...found];
  });
  expect(wrong).toEqual([]);
  for (const part of ['.bar', '.bench', '.foot-bar', '.chart-tools', '.verdict']) {
    const shown = await page
      .locator(part)
      .evaluateAll((elements) => elements.filter((one) => one.getClientRects().length > 0).length);
    expect(shown, part).toBe(0);
  }
  await page.emulateMedia({ media: 'screen' });
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await expect.poll(() => paper.count()).toBe(0);
  expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('red');
  expect(visit.complaints).toEqual([]);
});
