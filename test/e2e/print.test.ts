// On paper: a plan to carry, black on white whatever the light of the page, every chart drawn though
// it was never in view, and nothing of the interface.

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest, openVisit, test } from './harness.ts';
import { openStarter, strip } from './sheet.ts';

const trip = readFileSync(new URL('../../notebooks/trip.dapple', import.meta.url), 'utf8');
const scenarios = [...trip.matchAll(/^scenario\s+"?([^"\n]*?)"?\s*$/gm)].map((found) => found[1]);

interface OnPaper {
  readonly title: string;
  /** Shapes that stand for values, or entries of a table. */
  readonly marks: number;
  /** What stands instead of a picture. */
  readonly says: string;
}

/** What stands on paper for each chart. */
function onPaper(page: Page): Promise<readonly OnPaper[]> {
  return page.locator('dapple-chart').evaluateAll((charts) =>
    charts.map((chart) => ({
      title: chart.closest('[role="row"]')?.querySelector('[role="rowheader"]')?.textContent ?? '',
      marks: [
        ...chart.querySelectorAll(
          '.chart-picture .mark-line path, .chart-picture .mark-rect path, .chart-picture .mark-area path, .chart-picture .mark-symbol path, .sky .trk-sun, td',
        ),
      ].filter((one) => one.getClientRects().length > 0).length,
      says: (chart.querySelector('.chart-wait')?.textContent ?? '').trim(),
    })),
  );
}

/** As a browser does when it prints: the media changes, and the page is told. */
async function beginPrint(page: Page): Promise<void> {
  await page.waitForFunction(() =>
    performance.getEntriesByType('resource').some(({ name }) => /chart-view-.*\.js/.test(name)),
  );
  // What was fetched is also run once the page has nothing else to do.
  for (let idle = 0; idle < 3; idle++) {
    await page.waitForTimeout(200);
    await page.evaluate(() => new Promise((rest) => requestIdleCallback(() => rest(undefined))));
  }
  await page.emulateMedia({ media: 'print' });
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
}

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
  await beginPrint(page);
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
  const charts = await onPaper(page);
  expect(charts.length).toBe(trip.match(/^chart /gmu)?.length);
  for (const { title, marks, says } of charts)
    if (marks === 0) expect(says, title).toBe('Still being worked out when this was printed.');
  expect(charts.filter(({ marks }) => marks > 0).length).toBeGreaterThanOrEqual(5);
  const wrong = await page.evaluate(() => {
    const found = new Set<string>();
    for (const element of document.querySelectorAll('.paper *, .sheet *')) {
      if (element.getClientRects().length === 0) continue;
      const style = getComputedStyle(element);
      for (const name of ['color', 'fill', 'stroke']) {
        const [red, green, blue, alpha] = (style.getPropertyValue(name).match(/[\d.]+/g) ?? []).map(
          Number,
        );
        if (red === undefined || alpha === 0) continue;
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

/** What an A4 page of print.css holds, CSS px: 210 × 297 mm without its margins, at 96 px an inch. */
const PAGE = { width: Math.floor((184 / 25.4) * 96), height: Math.floor((273 / 25.4) * 96) };

lastingTest.for(['trip', 'cable', 'workshop'])(
  'no row or chart of %s is cut by a page',
  async (id, { visit, address }) => {
    const { page } = visit;
    await openStarter(page, address, id);
    await beginPrint(page);
    await page.setViewportSize({ width: PAGE.width, height: PAGE.height });
    const cut = await page.evaluate((tall) => {
      const rows = [
        ...document.querySelectorAll('.sheet .row, dapple-chart, .paper-care, .paper tr'),
      ];
      const shown = rows.filter((row) => row.getClientRects().length > 0);
      if (shown.length === 0) return ['nothing on paper'];
      return shown.flatMap((row) => {
        const avoided = getComputedStyle(row).breakInside === 'avoid';
        const fits = row.getBoundingClientRect().height <= tall;
        // A table longer than a page must break; its lines keep together.
        if (!fits && row.querySelector('table, .tbl')) return [];
        return avoided && fits
          ? []
          : [`${row.getAttribute('class')} ${row.textContent?.slice(0, 40)}`];
      });
    }, PAGE.height);
    expect(cut).toEqual([]);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    expect(pdf.subarray(0, 5).toString('latin1')).toBe('%PDF-');
  },
);

test('a phone that shows a scenario prints the plan', async ({ browser, address }) => {
  const { page, context } = await openVisit(browser, { viewport: { width: 390, height: 844 } });
  await openStarter(page, address, 'trip');
  const shown = async (column: number): Promise<string> =>
    ((await strip(page, 'lowest charge', column).textContent()) ?? '').trim();
  const plan = await shown(0);
  await page.getByRole('button', { name: /^Two grey days/u }).click();
  await expect.poll(() => strip(page, 'lowest charge', 1).count()).toBe(1);
  expect(await shown(1)).not.toBe(plan);
  await beginPrint(page);
  await expect.poll(() => strip(page, 'lowest charge').isVisible()).toBe(true);
  expect(await shown(0)).toBe(plan);
  expect(await strip(page, 'lowest charge', 1).isVisible()).toBe(false);
  await context.close();
});
