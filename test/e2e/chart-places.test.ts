// What is read is what is drawn: the rule or the ring of a place stands on its mark within a pixel, in
// every kind of chart, also where long labels push the paper aside. Marks are measured as the browser
// laid them out.

import type { Locator } from 'playwright-core';
import { expect } from 'vitest';
import { lastingTest as test } from './harness.ts';
import { openText } from './open-text.ts';

const NOTEBOOK = [
  'dapple 1',
  'title: Places',
  'place: 44.5 °N, 110.2 °W, 2100 m, UTC-7',
  'clock = timeline(from: 2027-06-12, until: 2027-06-15, by: 1 h)',
  'sun = sun position(clock)',
  'sky = clear sky(sun, turbidity: 3)',
  'sun light = sky.global as W/m²',
  'shade = 8 °C + sun light / (1000 W/m²) × 14 K',
  'rating = 220 W',
  'day work = rating × hours as Wh',
  'by rating = day work with rating = steps(20 W, 500 W, by: 40 W)',
  'loads = table',
  '  load     | draws | work = draws × 300 h as Wh',
  '  receiver | 3 W   |',
  '  lamp     | 6 W   |',
  '  charger  | 20 W  |',
  '  cool box | 45 W  |',
  'chart sun light',
  'chart sky.beam, sky.diffuse as stack',
  'chart by rating',
  'chart loads.work',
  'chart loads.work against loads.draws',
  'chart shade against sun light',
  'chart day work against rating = 100 W..400 W, hours = 1 h..8 h',
  'hours = 4 h',
];

/** Each chart, and what in its picture marks its places: the ends of a line, or the middles of marks. */
const CHARTS = [
  ['sun light', '.mark-line path', 'ends'],
  ['sky.beam, sky.diffuse', '.mark-line path', 'ends'],
  ['by rating', '.mark-line path', 'ends'],
  ['loads.work', '.mark-rect path', 'middles'],
  ['loads.work against loads.draws', '.mark-symbol path', 'middles'],
  ['shade against sun light', '.mark-symbol path', 'middles'],
  ['day work against', '.mark-rect path', 'middles'],
] as const;

/** The place that is read and the marks, px from the paper's left, and how far the picture overhangs. */
function measured(chart: Locator, marks: string, by: 'ends' | 'middles') {
  return chart.evaluate(
    (element, [wanted, how]) => {
      const paper = element.querySelector('.chart-paper')?.getBoundingClientRect();
      const picture = element.querySelector('.chart-picture svg')?.getBoundingClientRect();
      const read = element.querySelector('.hover-rule, .hover-spot')?.getBoundingClientRect();
      if (!paper || !picture || !read) throw new Error('nothing is read');
      const found = [...element.querySelectorAll(wanted)].flatMap((mark) => {
        const { left, right } = mark.getBoundingClientRect();
        return how === 'ends' ? [left, right] : [(left + right) / 2];
      });
      return {
        read: (read.left + read.right) / 2 - paper.left,
        first: Math.min(...found) - paper.left,
        last: Math.max(...found) - paper.left,
        beyond: picture.right - paper.right,
        before: paper.left - picture.left,
      };
    },
    [marks, by] as const,
  );
}

for (const [what, width] of [
  ['at a desk', 1400],
  ['on a phone', 360],
] as const) {
  test(`every chart reads where its marks stand, ${what}`, async ({ visit, address }) => {
    const { page } = visit;
    await page.setViewportSize({ width, height: 900 });
    await openText(page, address, NOTEBOOK);
    for (const [title, marks, by] of CHARTS) {
      const chart = page
        .locator('.row.chart')
        .filter({ has: page.getByRole('rowheader', { name: title }) })
        .first()
        .locator('dapple-chart');
      await chart.scrollIntoViewIfNeeded();
      await chart.locator('.chart-picture svg').first().waitFor();
      const reader = chart.getByRole('slider');
      await reader.focus();
      for (const key of ['Home', 'End'] as const) {
        await page.keyboard.press(key);
        const wanted = key === 'Home' ? '0' : ((await reader.getAttribute('aria-valuemax')) ?? '');
        await expect.poll(() => reader.getAttribute('aria-valuenow')).toBe(wanted);
        const found = await measured(chart, marks, by);
        const mark = key === 'Home' ? found.first : found.last;
        expect(Math.abs(found.read - mark), `${title}, ${key}`).toBeLessThanOrEqual(1);
        expect(found.beyond, title).toBeLessThanOrEqual(0.5);
        expect(found.before, title).toBeLessThanOrEqual(0.5);
      }
    }
    expect(visit.complaints).toEqual([]);
  });
}
