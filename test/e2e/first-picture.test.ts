// What stands in the window before the engine has come: a starter's picture, drawn when the page was
// built. It says what the notebook itself says a moment later, at the same places, and gives way to it.

import type { BrowserContextOptions, Page } from 'playwright-core';
import { expect } from 'vitest';
import { openVisit, measuringTest as test } from './harness.ts';
import { holdBack, openStarter, rowOf, shownValue } from './sheet.ts';

const ENGINE = /\/assets\/engine-/u;
const DESK = { viewport: { width: 1280, height: 800 } };
const MIDDLE = { viewport: { width: 1000, height: 700 } };
const WIDE = { viewport: { width: 1920, height: 1080 } };
const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/**
 * Notes what is read in the window, each part with its place, size and colour: of the picture when
 * asked, and of the notebook when the picture gives way to it.
 */
async function watchPicture(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const parts = '.bar > *, .say, .vhd, .switch, .row > *, .bench p, .bench b, .foot-bar button';
    const seen = (root: Element | null): readonly string[] =>
      [...(root?.querySelectorAll(parts) ?? [])]
        .map((part) => ({ part, box: part.getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && box.top < innerHeight)
        .map(({ part, box }) => {
          const words = part instanceof HTMLTextAreaElement ? part.value : part.textContent;
          const at = [box.left, box.top, box.width, box.height].map(Math.round).join(' ');
          const { color, backgroundColor } = getComputedStyle(part);
          return `${words.replace(/\s+/gu, ' ').trim()} · ${at} · ${color} ${backgroundColor}`;
        });
    Reflect.set(window, 'seenNow', () => seen(document.querySelector('#first')));
    let stood = false;
    new MutationObserver(() => {
      const stands = document.querySelector('#first') !== null;
      if (stood && !stands)
        Reflect.set(window, 'seenThen', seen(document.querySelector('dapple-app')));
      stood = stands;
    }).observe(document, { childList: true, subtree: true });
  });
}

const then = (page: Page): Promise<readonly string[]> =>
  page.waitForFunction(() => Reflect.get(window, 'seenThen')).then((list) => list.jsonValue());

for (const [what, id, size] of [
  ['at a desk', 'trip', DESK],
  ['in a wide window', 'battery', WIDE],
  ['in a small window', 'cable', MIDDLE],
  ['on a phone', 'trip', PHONE],
  ['in the dark', 'workshop', { ...DESK, colorScheme: 'dark' }],
] as readonly (readonly [string, string, BrowserContextOptions])[]) {
  test(`${what} the picture of ${id} is what its notebook then shows`, async ({
    browser,
    address,
  }) => {
    const visit = await openVisit(browser, size, address);
    const { page } = visit;
    await watchPicture(page);
    const letThrough = await holdBack(page, ENGINE);
    await page.goto(`${address}#/${id}`);
    await page.locator('#first .row').first().waitFor();
    await page.evaluate(() => document.fonts.ready);
    const before: unknown = await page.evaluate(() => Reflect.get(window, 'seenNow')());
    // Nobody is told of a button that would not answer.
    expect(await page.getByRole('button').count()).toBe(0);

    letThrough();
    const after = await then(page);
    expect(after.length).toBeGreaterThan(20);
    expect(before).toEqual(after);
    expect(visit.complaints).toEqual([]);
    await visit.context.close();
  });
}

test('a starter that was changed here has no picture of what it was', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await openStarter(page, address, 'cable');
  await rowOf(page, 'cable length').getByRole('rowheader').click();
  await page.keyboard.press('+');
  await expect.poll(() => shownValue(page, 'cable length')).toContain('16 m');
  await page.goto('about:blank');
  const asked: string[] = [];
  page.on('request', (request) => asked.push(new URL(request.url()).pathname));
  await openStarter(page, address, 'cable');
  expect(asked.filter((path) => path.includes('first'))).toEqual([]);
  expect(await shownValue(page, 'cable length')).toContain('16 m');
});

test('no other name of a notebook is asked for', async ({ visit, address }) => {
  const { page } = visit;
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.goto(`${address}#/page-mine`);
  await page.getByRole('button', { name: /Light:/u }).waitFor();
  expect(asked.filter((url) => /first\/|mine/u.test(url))).toEqual([]);
  expect(await page.locator('#first').count()).toBe(0);
});

test('a picture that cannot be had is missed by nobody', async ({ visit, address }) => {
  const { page } = visit;
  await page.route(/\/first\//u, (route) => route.fulfill({ status: 404, body: 'none' }));
  await openStarter(page, address, 'harvest');
  expect(await page.locator('#first').count()).toBe(0);
  expect(visit.complaints.filter((line) => !line.includes('404'))).toEqual([]);
});
