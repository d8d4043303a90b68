// A notebook of 2,000 cells: an edit reaches its values, only rows that changed are drawn anew, and
// hundreds of edits leave nothing behind; by hand, `EDITS=1000`.

import type { CDPSession, Page } from 'playwright-core';
import { expect } from 'vitest';
import { measuringTest as test } from './harness.ts';
import { openText } from './open-text.ts';
import { rowOf, shownValue } from './sheet.ts';

const CELLS = 2000;
const EDITS = Number(process.env.EDITS ?? 150);
/**
 * Bytes that the edits may add. The text is about 60 KB, so that one kept at every edit would be five
 * times as much; the steps of undo that the slides make, one in twenty edits, are 3 KB an edit.
 */
const HEAP_ROOM = 3e6 + 12e3 * EDITS;

function notebook(): readonly string[] {
  const cells = Array.from({ length: CELLS - 2 }, (_, i) =>
    i % 10 === 0 ? `part ${i} = base × ${i + 1} as Wh` : `part ${i} = other × ${i + 1} as Wh`,
  );
  return [
    'dapple 1',
    'title: Many',
    '',
    'base = 2 Wh  [1 Wh..9 Wh by 1 Wh]',
    'other = 3 Wh',
    ...cells,
  ];
}

async function counted(
  session: CDPSession,
): Promise<{ nodes: number; listeners: number; heap: number }> {
  for (let turn = 0; turn < 3; turn++) await session.send('HeapProfiler.collectGarbage');
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters');
  const { usedSize } = await session.send('Runtime.getHeapUsage');
  return { nodes, listeners: jsEventListeners, heap: usedSize };
}

/** Moves the slider of `base` to and fro. Each edit is drawn; one in five is painted as well. */
async function slide(page: Page, edits: number): Promise<void> {
  await page.evaluate(async (count) => {
    const gauge = document.querySelector<HTMLInputElement>('.sheet input.gauge');
    if (!gauge) throw new Error('no slider');
    for (let edit = 0; edit < count; edit++) {
      gauge.value = String(1 + (edit % 9));
      gauge.dispatchEvent(new Event('input', { bubbles: true }));
      await new Promise((done) => {
        if (edit % 5 === 4) requestAnimationFrame(done);
        else setTimeout(done);
      });
      if (edit % 20 === 19) gauge.dispatchEvent(new Event('change', { bubbles: true }));
    }
  }, edits);
}

test('an edit among 2,000 cells redraws what it changed, and nothing piles up', async ({
  visit,
  address,
}) => {
  const { page, context } = visit;
  await openText(page, address, notebook());
  await expect.poll(() => page.locator('.sheet .row').count()).toBe(CELLS);
  await page.evaluate(() => {
    const touched = new Set<Element>();
    Reflect.set(window, 'touched', touched);
    new MutationObserver((records) => {
      for (const { target } of records) {
        const element = target instanceof Element ? target : target.parentElement;
        const row = element?.closest('.row');
        if (row && element !== row) touched.add(row);
      }
    }).observe(document.body, { subtree: true, childList: true, characterData: true });
  });
  await slide(page, 4);
  await expect.poll(() => shownValue(page, 'part 0')).toMatch(/^4 Wh/);
  const touched = await page.evaluate(() => {
    const set: unknown = Reflect.get(window, 'touched');
    return set instanceof Set ? set.size : -1;
  });
  // A tenth of the parts draw on `base`, and `base` itself.
  expect(touched).toBeGreaterThan(100);
  expect(touched).toBeLessThanOrEqual(CELLS / 10 + 2);
  const session = await context.newCDPSession(page);
  await slide(page, 60);
  const before = await counted(session);
  await slide(page, EDITS);
  const after = await counted(session);
  const edits = await page.evaluate(() =>
    performance
      .getEntriesByName('edit-to-values')
      .map(({ duration }) => duration)
      .toSorted((a, b) => a - b),
  );
  console.info(
    `edit to values, median ${edits[edits.length >> 1]?.toFixed(1)} ms of ${edits.length}; nodes ${before.nodes} → ${after.nodes}, listeners ${before.listeners} → ${after.listeners}, heap ${(before.heap / 1e6).toFixed(1)} → ${(after.heap / 1e6).toFixed(1)} MB`,
  );
  expect(after.nodes - before.nodes).toBeLessThan(EDITS / 2);
  expect(after.listeners - before.listeners).toBeLessThan(EDITS / 10);
  expect(after.heap - before.heap).toBeLessThan(HEAP_ROOM);
  expect(await rowOf(page, 'part 1').count()).toBe(1);
  expect(visit.complaints).toEqual([]);
}, 600_000);

test('of very many faulty lines only those near the window are drawn', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  const lines = 20_000;
  const faulty = Array.from({ length: lines }, (_, i) => `part ${i} = no such ${i} × 2`);
  await openText(page, address, ['dapple 1', 'title: Faulty', '', 'base = 2 Wh', ...faulty]);
  const drawn = () => page.locator('.sheet .row').count();
  await expect.poll(drawn, { timeout: 60_000 }).toBeGreaterThan(10);
  // A window of 800 pixels, with 1,200 above and below, holds at most 90 rows of 36 in 4 blocks of 50.
  expect(await drawn()).toBeLessThanOrEqual(200);
  expect(await page.getByRole('grid', { name: 'Cells' }).getAttribute('aria-rowcount')).toBe(
    String(lines + 1),
  );
  await rowOf(page, 'base').getByRole('rowheader').click();
  await page.keyboard.press('Control+End');
  const last = rowOf(page, `part ${lines - 1}`);
  await last.waitFor({ timeout: 60_000 });
  await expect
    .poll(() => last.evaluate((row) => row.getBoundingClientRect().top))
    .toBeLessThan(800);
  await expect.poll(drawn).toBeLessThanOrEqual(250);
  await page.evaluate(() => scrollTo(0, document.documentElement.scrollHeight / 2));
  const inSight = () =>
    page.evaluate(
      () =>
        document.elementFromPoint(300, 500)?.closest('.row')?.textContent?.includes('part') ===
        true,
    );
  await expect.poll(inSight, { timeout: 30_000 }).toBe(true);
  expect(visit.complaints).toEqual([]);
}, 240_000);
