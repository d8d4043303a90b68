// Charts by hand and by key on the built page: reading values, the table, saving, and the outline of
// the sky drawn and undone.

import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Download, Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { axeFindings } from './axe.ts';
import { lookingTest, lastingTest as test } from './harness.ts';
import { atRest, lookAtStarter, openStarter, rowOf } from './sheet.ts';

/** The chart whose row has this title, brought into sight and drawn. */
async function chartOf(page: Page, title: string): Promise<Locator> {
  const chart = page
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: title }) })
    .locator('dapple-chart');
  await chart.scrollIntoViewIfNeeded();
  await chart.locator('.chart-picture svg, .sky svg').first().waitFor();
  return chart;
}

async function saved(page: Page, chart: Locator, as: string): Promise<Download> {
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    chart.getByRole('button', { name: `Save as ${as}` }).click(),
  ]);
  return file;
}

async function contentOf(file: Download): Promise<Buffer> {
  return readFileSync(await file.path());
}

const TRIP_CHART = 'charge, harvest';

lookingTest(
  'keys read a time chart step by step, by the day, and to its ends',
  async ({ visit, address }) => {
    const { page } = visit;
    await lookAtStarter(page, address, 'trip');
    const chart = await chartOf(page, TRIP_CHART);
    const reader = chart.getByRole('slider');
    await reader.focus();
    await page.keyboard.press('Home');
    const text = async (): Promise<string> => (await reader.getAttribute('aria-valuetext')) ?? '';
    const first = await text();
    // A rate is read over its step, a state at the step's end: the same minute stands in both.
    const [, from = '', to = '', end = ''] =
      first.match(/ (\d\d:\d\d)–(\d\d:\d\d) · charge .* at (\d\d:\d\d)/u) ?? [];
    expect(end).toBe(to);
    const minutes = (clock: string): number =>
      Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3));
    const step = minutes(to) - minutes(from);
    expect(1440 % step).toBe(0);
    expect(minutes(from) % step).toBe(0);
    await page.keyboard.press('ArrowRight');
    await expect.poll(text).toContain(` ${to}–`);
    await page.keyboard.press('Home');
    await page.keyboard.press('PageDown');
    await expect.poll(() => reader.getAttribute('aria-valuenow')).toBe(String(1440 / step));
    // A day later the clock reads the same, on another date.
    expect(await text()).toContain(` ${from}–${to}`);
    expect((await text()).slice(0, 6)).not.toBe(first.slice(0, 6));
    await page.keyboard.press('End');
    const last = await reader.getAttribute('aria-valuemax');
    await expect.poll(() => reader.getAttribute('aria-valuenow')).toBe(last);
    expect(visit.complaints).toEqual([]);
  },
);

lookingTest(
  'the place under the mouse is read, and a table shows the same',
  async ({ visit, address }) => {
    const { page } = visit;
    await lookAtStarter(page, address, 'trip');
    const chart = await chartOf(page, TRIP_CHART);
    const reader = chart.getByRole('slider');
    const words = chart.locator('.hover-words');
    // The table has one row in some of many: the hand goes on until its step is one of those.
    const count = Number(await reader.getAttribute('aria-valuemax')) + 1;
    await chart.getByRole('button', { name: 'Show as table' }).click();
    const rows = await chart.getByRole('row').allTextContents();
    const every = Math.ceil(count / (rows.length - 1));
    await chart.getByRole('button', { name: 'Show the picture' }).click();
    await chart.locator('.chart-picture svg').first().waitFor();
    // Clear of the verdict, which stands over the top of the sheet.
    await chart.evaluate((element) => element.scrollIntoView({ block: 'center' }));
    const box = await reader.boundingBox();
    if (!box) throw new Error('no paper');
    const atHand = async (): Promise<number> => Number(await reader.getAttribute('aria-valuenow'));
    for (let x = Math.round(box.width / 2); x < box.width - 20; x++) {
      await page.mouse.move(box.x + x, box.y + 60);
      await expect.poll(() => words.count()).toBe(1);
      if ((await atHand()) % every === 0) break;
    }
    const index = await atHand();
    expect(index % every).toBe(0);
    expect(Math.abs(index / count - 0.5)).toBeLessThan(0.1);
    const said = (await words.textContent()) ?? '';
    const [, from = '', to = '', charge = ''] =
      said.match(/^(\w+ \d+ \w+ \d\d:\d\d)–(.*?) · charge (\S+) %/u) ?? [];
    expect(from).not.toBe('');
    expect(rows[0]).toBe(
      'fromtocharge at the end, %charge, Two grey days at the end, %charge, Hot week at the end, %harvest, W',
    );
    const row = rows[1 + index / every] ?? '';
    expect(row.startsWith(from)).toBe(true);
    expect(row).toContain(`${to.slice(-5)}${charge}`);
    expect(rows.length).toBeGreaterThan(100);
  },
);

test('a picture saved on a phone, opened as a file of its own, has its letters and cuts off no word', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await page.setViewportSize({ width: 412, height: 860 });
  await openStarter(page, address, 'tour');
  const chart = await chartOf(page, 'lowest charge against panel rating');
  const file = await saved(page, chart, 'SVG');
  const folder = mkdtempSync(join(tmpdir(), 'dapple-saved-'));
  const path = join(folder, file.suggestedFilename());
  await file.saveAs(path);
  const alone = await context.newPage();
  await alone.goto(pathToFileURL(path).href);
  const seen = await alone.evaluate(async () => {
    await document.fonts.ready;
    const root = document.documentElement.getBoundingClientRect();
    const words = [...document.querySelectorAll('text')].map((one) => ({
      text: one.textContent ?? '',
      box: one.getBoundingClientRect(),
    }));
    return {
      fonts: [...document.fonts].map(
        ({ family, status }) => `${family.replaceAll('"', '')} ${status}`,
      ),
      titles: words.filter(({ text }) => /^lowest charge|as map$/u.test(text)).length,
      cut: words
        .filter(({ box }) => box.left < 0 || box.right > root.right || box.bottom > root.bottom)
        .map(({ text }) => text),
    };
  });
  rmSync(folder, { recursive: true });
  expect(seen.fonts).toEqual(['Atkinson Hyperlegible Next loaded']);
  // The title's beginning and its end stand in two lines.
  expect(seen.titles).toBe(2);
  expect(seen.cut).toEqual([]);
  expect(visit.complaints).toEqual([]);
});

lookingTest('a chart is saved as CSV, SVG and PNG', async ({ visit, address }) => {
  const { page } = visit;
  await lookAtStarter(page, address, 'trip');
  const chart = await chartOf(page, TRIP_CHART);

  const csv = await saved(page, chart, 'CSV');
  expect(csv.suggestedFilename()).toBe('charge-harvest.csv');
  const lines = (await contentOf(csv)).toString('utf8').replace('\uFEFF', '').split('\r\n');
  expect(lines[0]).toBe(
    'from,to,charge at the end (%),"charge, Two grey days at the end (%)","charge, Hot week at the end (%)",harvest (W)',
  );
  expect(lines[1]).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d,\d{4}-\d\d-\d\dT\d\d:\d\d(,[\d.]+){4}$/u);
  const count = Number(await chart.getByRole('slider').getAttribute('aria-valuemax')) + 1;
  expect(lines.filter(Boolean).length).toBe(count + 1);

  const file = await saved(page, chart, 'SVG');
  expect(file.suggestedFilename()).toBe('charge-harvest.svg');
  const text = (await contentOf(file)).toString('utf8');
  expect(text).not.toMatch(/class=|var\(|<script|href=/u);
  expect(text).toContain('sans-serif');
  // It is well formed, stands alone, and names the chart. Its letters are looked at above: read into
  // the page they would be held to the page's policy.
  const title = await page.evaluate(
    (source) => {
      const parsed = new DOMParser().parseFromString(source, 'image/svg+xml');
      return parsed.querySelector('parsererror')
        ? 'not well formed'
        : parsed.querySelector('title')?.textContent;
    },
    text.replace(/<style>.*<\/style>/u, ''),
  );
  expect(title).toBe(TRIP_CHART);
  const [, width = ''] = text.match(/ width="(\d+)"/u) ?? [];

  await chart.getByRole('button', { name: 'Save as PNG' }).focus();
  const [png] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  expect(png.suggestedFilename()).toBe('charge-harvest.png');
  const bytes = await contentOf(png);
  expect(bytes.subarray(1, 4).toString('latin1')).toBe('PNG');
  // The width stands in the header's first field (PNG specification, IHDR): twice the page's.
  expect(bytes.readUInt32BE(16)).toBe(2 * Number(width));
  expect(visit.complaints).toEqual([]);
});

lookingTest('axe finds nothing on the charts in each light', async ({ visit, address }) => {
  const { page } = visit;
  await lookAtStarter(page, address, 'trip');
  await chartOf(page, 'trees as sky');
  const chart = await chartOf(page, TRIP_CHART);
  const picture = (): Promise<string> => chart.locator('.chart-picture').innerHTML();
  const light = (): Promise<string | undefined> =>
    page.evaluate(() => document.documentElement.dataset.theme);
  expect(await light()).toBe('light');
  expect(await axeFindings(page, undefined, 'dapple-chart')).toEqual([]);
  // By the page's own button, so that the pictures are drawn anew; only colours are others then.
  for (const other of ['dark', 'red']) {
    const shown = await picture();
    await page.getByRole('button', { name: /^Light: / }).click();
    await chart.scrollIntoViewIfNeeded();
    await expect.poll(picture).not.toBe(shown);
    expect(await light()).toBe(other);
    expect(await axeFindings(page, ['color-contrast'], 'dapple-chart')).toEqual([]);
  }
  await page.getByRole('button', { name: /^Light: / }).click();
  expect(await light()).toBe('light');
});

lookingTest(
  'of two things in bars the one named first stands at the left',
  async ({ visit, address }) => {
    const { page } = visit;
    await lookAtStarter(page, address, 'trip');
    const chart = rowOf(page, 'daily harvest, daily need as bars');
    await chart.scrollIntoViewIfNeeded();
    const bars = chart.locator('.chart-picture g.mark-rect path');
    await expect.poll(() => bars.count(), { timeout: 20_000 }).toBe(14);
    const left = (at: number) => bars.nth(at).evaluate((bar) => bar.getBoundingClientRect().left);
    // Seven days of harvest, then seven days of need.
    for (let day = 0; day < 7; day++) expect(await left(day)).toBeLessThan(await left(day + 7));
  },
);

lookingTest('a hand on a map reads the cell beneath it', async ({ visit, address }) => {
  const { page } = visit;
  await lookAtStarter(page, address, 'cable');
  const chart = await chartOf(page, 'drop share');
  const reader = chart.getByRole('slider');
  const box = await reader.boundingBox();
  if (!box) throw new Error('no paper');
  const words = chart.locator('.hover-words');
  const read = async (x: number, y: number): Promise<readonly number[]> => {
    await page.mouse.move(x, y);
    await expect.poll(() => words.count()).toBe(1);
    const said = (await words.textContent()) ?? '';
    const [, length = '', power = ''] =
      said.match(/cable length ([\d.]+) m · array power ([\d.]+) W · /u) ?? [];
    return [Number(length), Number(power)];
  };
  const [left, top, right, bottom] = [box.x + 90, box.y + 20, box.x + box.width - 20, box.y + 170];
  const [shortStrong, longWeak] = [await read(left, top), await read(right, bottom)];
  // The line sweeps 5 to 50 m across and 100 to 600 W upward.
  expect(shortStrong[0]).toBeLessThan(12);
  expect(shortStrong[1]).toBeGreaterThan(500);
  expect(longWeak[0]).toBeGreaterThan(40);
  expect(longWeak[1]).toBeLessThan(200);
  await expect.poll(() => chart.locator('.hover-spot').count()).toBe(1);
  expect(visit.complaints).toEqual([]);
});

test('a picture whose rows were exchanged is as one drawn afresh', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  await rowOf(page, 'panel rating').getByRole('rowheader').click();
  const slider = page.getByRole('complementary', { name: 'Bench' }).getByRole('slider');
  const chart = await chartOf(page, TRIP_CHART);
  // Numbers that a picture gives its clips are its own.
  const picture = async (): Promise<string> =>
    (await chart.locator('.chart-picture').innerHTML()).replaceAll(/clip\d+/gu, 'clip');
  const before = await picture();
  await slider.focus();
  for (let press = 0; press < 3; press++) await page.keyboard.press('ArrowLeft');
  await expect.poll(picture).not.toBe(before);
  const exchanged = await atRest(page, picture);
  // Every change of light draws anew; at the end the first one is back.
  const light = page.getByRole('button', { name: /^Light: / });
  const first = await light.getAttribute('aria-label');
  const seen = new Set<string>();
  do {
    const shown = await picture();
    await light.click();
    // The sheet may go to its selected row, and a chart out of sight waits.
    await chart.scrollIntoViewIfNeeded();
    await expect.poll(picture).not.toBe(shown);
    seen.add(await picture());
  } while ((await light.getAttribute('aria-label')) !== first);
  expect(seen.size).toBeGreaterThan(1);
  await expect.poll(picture).toBe(exchanged);
});

test('the outline is moved, put in and taken out by key, one step of undo each', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const chart = await chartOf(page, 'trees as sky');
  const entry = async (row: number, column: number): Promise<string> =>
    (
      (await rowOf(page, 'trees').locator(`[data-entry="${row},${column}"]`).textContent()) ?? ''
    ).trim();
  const rows = (): Promise<number> => rowOf(page, 'trees').locator('[data-entry$=",0"]').count();
  const before = [await entry(2, 0), await entry(2, 1), await rows()];
  expect(before).toEqual(['85°', '57°', 13]);
  const point = chart.getByRole('button', { name: /^point 3:/ });
  await point.focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowUp');
  await expect.poll(() => entry(2, 0)).toBe('86°');
  await expect.poll(() => entry(2, 1)).toBe('62°');
  await page.keyboard.press('Insert');
  await expect.poll(rows).toBe(14);
  // Half way between 86° and the next point, 98°, and between 62° and 36° high.
  expect([await entry(3, 0), await entry(3, 1)]).toEqual(['92°', '49°']);
  await expect
    .poll(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label')))
    .toBe('point 4: 92°, 49° high');
  await page.keyboard.press('Delete');
  await expect.poll(rows).toBe(13);
  for (let steps = 0; steps < 4; steps++) await page.getByRole('button', { name: 'Undo' }).click();
  await expect
    .poll(async () => [await entry(2, 0), await entry(2, 1), await rows()])
    .toEqual(before);
  expect(visit.complaints).toEqual([]);
});

test('a stroke along the trees draws the outline anew, as one step', async ({ visit, address }) => {
  const { page } = visit;
  await openStarter(page, address, 'trip');
  const chart = await chartOf(page, 'trees as sky');
  await chart.getByRole('button', { name: 'Draw along the trees' }).click();
  // The rows above it may still be finding their heights.
  await chart.locator('.disc').hover({ trial: true });
  const disc = await chart.locator('.disc').boundingBox();
  if (!disc) throw new Error('no sky');
  const heights = async (): Promise<readonly string[]> =>
    rowOf(page, 'trees').locator('[data-entry$=",1"]').allTextContents();
  const before = await heights();
  // East to west over the south at 20° high: the horizon lies 212 of 480 from the middle.
  const centre = { x: disc.x + disc.width / 2, y: disc.y + disc.height / 2 };
  const reach = ((disc.width / 480) * 212 * 70) / 90;
  const at = (azimuth: number): { x: number; y: number } => ({
    x: centre.x - reach * Math.sin((azimuth * Math.PI) / 180),
    y: centre.y - reach * Math.cos((azimuth * Math.PI) / 180),
  });
  await page.mouse.move(at(90).x, at(90).y);
  await page.mouse.down();
  for (let azimuth = 95; azimuth <= 270; azimuth += 5) {
    await page.mouse.move(at(azimuth).x, at(azimuth).y);
  }
  await page.mouse.up();
  await expect.poll(heights).not.toEqual(before);
  const azimuths = await rowOf(page, 'trees').locator('[data-entry$=",0"]').allTextContents();
  const drawn = (await heights()).flatMap((height, row) => {
    const azimuth = Number.parseFloat(azimuths[row] ?? '');
    return azimuth >= 90 && azimuth <= 270 ? [Number.parseFloat(height)] : [];
  });
  // The stroke is level, so its ends say it all.
  expect(drawn.length).toBeGreaterThanOrEqual(2);
  expect(drawn.length).toBeLessThanOrEqual(4);
  for (const height of drawn) expect(Math.abs(height - 20)).toBeLessThanOrEqual(1);
  // The points in the north were not passed and stay.
  expect(azimuths.map((text) => text.trim())).toEqual(
    expect.arrayContaining(['0°', '45°', '85°', '285°', '330°']),
  );
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(heights).toEqual(before);
  expect(visit.complaints).toEqual([]);
});
