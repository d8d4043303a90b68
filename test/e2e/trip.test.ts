// The trip notebook in a real browser: a number is moved, and what draws on it moves with it.

import { cpus, loadavg } from 'node:os';
import { expect } from 'vitest';
import { lookingTest, measuringTest, lastingTest as test } from './harness.ts';
import { lookAtStarter, openStarter, rowOf, shownValue } from './sheet.ts';

test('the panel rating’s slider moves the lowest charge and the chart of the charge', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'panel rating').getByRole('rowheader').click();
  const slider = page.getByRole('complementary', { name: 'Bench' }).getByRole('slider');
  await page.locator('dapple-chart').first().scrollIntoViewIfNeeded();
  await page.locator('.chart-picture svg').first().waitFor();
  const chargeBefore = await shownValue(page, 'lowest charge');
  const pictureBefore = await page.locator('.chart-picture').first().innerHTML();
  await slider.focus();
  for (let press = 0; press < 6; press++) await page.keyboard.press('ArrowLeft');
  expect(await shownValue(page, 'panel rating')).toMatch(/^100 W/);
  await expect.poll(() => shownValue(page, 'lowest charge')).not.toBe(chargeBefore);
  expect(await page.locator('.chart-picture').first().innerHTML()).not.toBe(pictureBefore);
  expect(visit.complaints).toEqual([]);
  expect(visit.foreignRequests).toEqual([]);
});

test('a slide is one step of undo', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const slider = rowOf(page, 'panel rating').getByRole('slider');
  await slider.evaluate((element) => element.scrollIntoView({ block: 'center' }));
  const box = await slider.boundingBox();
  if (!box) throw new Error('the slider has no place');
  const middle = box.y + box.height / 2;
  await page.mouse.move(box.x + box.width * 0.3, middle);
  await page.mouse.down();
  for (const share of [0.4, 0.5, 0.6, 0.7])
    await page.mouse.move(box.x + box.width * share, middle);
  await page.mouse.up();
  expect(await shownValue(page, 'panel rating')).not.toMatch(/^220 W/);
  await page.keyboard.press('Control+z');
  await expect.poll(() => shownValue(page, 'panel rating')).toMatch(/^220 W/);
});

/** The middle one and the one that nineteen in twenty do not exceed. */
function ranked(durations: readonly number[]): { readonly median: number; readonly p95: number } {
  const sorted = durations.toSorted((a, b) => a - b);
  const at = (share: number): number => sorted[Math.floor(share * (sorted.length - 1))] ?? 0;
  return { median: Math.round(at(0.5) * 10) / 10, p95: Math.round(at(0.95) * 10) / 10 };
}

measuringTest(
  'every movement of a slide is measured to its values and to its charts',
  async ({ visit, address }) => {
    const { page } = visit;
    // As a reader has it, with all its trials.
    await openStarter(page, address, 'trip');
    await rowOf(page, 'panel rating').getByRole('rowheader').click();
    const slider = page.getByRole('complementary', { name: 'Bench' }).getByRole('slider');
    await page.locator('dapple-chart').first().scrollIntoViewIfNeeded();
    await page.locator('.chart-picture svg').first().waitFor();
    const box = await slider.boundingBox();
    if (!box) throw new Error('the slider has no place');
    const middle = box.y + box.height / 2;
    await page.mouse.move(box.x + box.width * 0.2, middle);
    await page.mouse.down();
    await page.evaluate(() => performance.clearMeasures());
    for (let step = 0; step < 50; step++) {
      const share = 0.3 + 0.4 * Math.abs(((step / 12) % 2) - 1);
      await page.mouse.move(box.x + box.width * share, middle);
      await page.waitForTimeout(30);
    }
    await page.mouse.up();
    const measures = (): Promise<readonly (readonly number[])[]> =>
      page.evaluate(() =>
        ['edit-to-values', 'edit-to-charts'].map((name) =>
          performance.getEntriesByName(name).map(({ duration }) => duration),
        ),
      );
    // The last edit's picture may still be on its way when the hand is off.
    const waiting = async (): Promise<number> => {
      const [edits, pictures] = await measures();
      return (edits?.length ?? 0) - (pictures?.length ?? 0);
    };
    await expect.poll(waiting).toBe(0);
    const [values = [], charts = []] = await measures();
    expect(values.length).toBeGreaterThan(20);
    const [toValues, toCharts] = [ranked(values), ranked(charts)];
    expect(toCharts.median).toBeGreaterThanOrEqual(toValues.median);
    process.stdout.write(
      `edit to values, ms: median ${toValues.median}, p95 ${toValues.p95}; ` +
        `edit to charts: median ${toCharts.median}, p95 ${toCharts.p95}; ` +
        `load ${loadavg()[0]?.toFixed(1)} on ${cpus().length} cores\n`,
    );
  },
);

test('a panel whose numbers stay the same is not drawn again', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'reserve').getByRole('rowheader').click();
  const slider = page.getByRole('complementary', { name: 'Bench' }).getByRole('slider');
  await page.locator('dapple-chart').first().scrollIntoViewIfNeeded();
  const panels = page.locator('dapple-chart').first().locator('.chart-picture svg');
  await expect.poll(() => panels.count()).toBe(2);
  // A picture stands and its rows are exchanged, so every change within it is counted.
  await panels.evaluateAll((all) => {
    for (const one of all)
      new MutationObserver((changes) => {
        const before = Number(one.parentElement?.dataset.changes ?? 0);
        if (one.parentElement) one.parentElement.dataset.changes = String(before + changes.length);
      }).observe(one, { subtree: true, childList: true, attributes: true, characterData: true });
  });
  const changes = (): Promise<readonly number[]> =>
    panels.evaluateAll((all) => all.map((one) => Number(one.parentElement?.dataset.changes ?? 0)));
  const moved = async (): Promise<readonly boolean[]> => (await changes()).map((n) => n > 0);
  await slider.focus();
  await page.keyboard.press('ArrowRight');
  // The reserve is a limit in the panel of the charge; the harvest has nothing to do with it.
  await expect.poll(moved).toEqual([true, false]);
  // Nothing follows when the hand rests.
  await page.waitForTimeout(600);
  expect(await moved()).toEqual([true, false]);
});

test('the sky is not drawn again when the panel’s rating moves', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'panel rating').getByRole('rowheader').click();
  const sky = page.locator('dapple-chart').filter({ has: page.locator('.sky') });
  await page.locator('dapple-chart').nth(2).scrollIntoViewIfNeeded();
  await sky.waitFor();
  // The element draws itself in its own `render`; each call is counted.
  await sky.evaluate((element) => {
    const own: () => unknown = Reflect.get(element, 'render').bind(element);
    const counted = (): unknown => {
      element.setAttribute('data-drawn', String(Number(element.getAttribute('data-drawn')) + 1));
      return own();
    };
    Reflect.set(element, 'render', counted);
  });
  const drawn = (): Promise<string | null> => sky.getAttribute('data-drawn');
  const measured = await page.evaluate(() => performance.getEntriesByName('edit-to-charts').length);
  await page.getByRole('complementary', { name: 'Bench' }).getByRole('slider').focus();
  await page.keyboard.press('ArrowRight');
  await page.waitForFunction(
    (before) => performance.getEntriesByName('edit-to-charts').length > before,
    measured,
  );
  expect(await drawn()).toBeNull();
});

lookingTest(
  'the chart rings the tightest moment and names the one the sheet gives',
  async ({ visit, address }) => {
    const { page } = visit;
    await lookAtStarter(page, address, 'trip');
    const moment = await shownValue(page, 'lowest at');
    const lowest = await shownValue(page, 'lowest charge');
    const chart = page.locator('dapple-chart').first();
    await chart.scrollIntoViewIfNeeded();
    await chart.locator('.chart-picture svg').first().waitFor();
    const texts = await chart.locator('.chart-picture svg text').allTextContents();
    expect(texts).toContain(`${lowest.split(' ')[0]} %, ${moment}`);
  },
);

lookingTest(
  'the bench of a result ranks what moves it',
  async ({ visit, address }) => {
    const { page } = visit;
    await lookAtStarter(page, address, 'trip');
    await rowOf(page, 'lowest charge').getByRole('rowheader').click();
    const bench = page.getByRole('complementary', { name: 'Bench' });
    await bench.getByRole('heading', { name: /^Over \d+ trials$/ }).waitFor({ timeout: 50_000 });
    expect(await bench.locator('.over-trials circle').count()).toBe(20);
    const given = bench.locator('.movers .given');
    await given.first().waitFor({ timeout: 50_000 });
    // The uncertain givens of the notebook that the charge draws on.
    expect((await given.allTextContents()).toSorted()).toEqual(['haze', 'label honesty', 'leak']);
    expect(visit.complaints).toEqual([]);
  },
  120_000,
);

test('an edit and its charts are measured', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'panel rating').getByRole('rowheader').click();
  await page.keyboard.press('+');
  await expect.poll(() => shownValue(page, 'panel rating')).toMatch(/^240 W/);
  const measured = await page.evaluate(() =>
    ['edit-to-values', 'edit-to-charts'].map((name) => performance.getEntriesByName(name).length),
  );
  expect(Math.min(...measured)).toBeGreaterThan(0);
});

test('a scenario’s strip takes a value of its own and gives it back', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'reserve').locator('[data-col="1"]').click();
  await page.keyboard.type('35 %');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'reserve', 1)).toMatch(/^35 %/);
  expect(await shownValue(page, 'reserve')).toMatch(/^20 %/);
  await page.keyboard.press('Delete');
  await expect.poll(() => shownValue(page, 'reserve', 1)).toMatch(/^20 %/);
});
