// A browser that is killed in the middle of edits and opened again on the same profile. The edits are
// steps of one given, by key, as fast as the page takes them; each tells its number and the moment
// at which the page was through with it.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { dropFile } from './open-text.ts';

/** Long enough for a half-written record to show. */
const FILLING = Array.from({ length: 60 }, (_, n) => `| Line ${n + 1}: what was measured here.`);

const TITLE = 'Steps until the battery is flat';

const NOTEBOOK = [
  'dapple 1',
  `title: ${TITLE}`,
  'steps = 0 W [0..9000000 W by 1 W]',
  ...FILLING,
  'last line = 7 W',
  '',
].join('\n');

export interface Killing {
  readonly browserPath: string;
  readonly address: string;
  readonly profile: string;
  /** Between the first edit and the killing, ms. */
  readonly editing: number;
  /** Between two edits, ms; 0 is as fast as the page takes them. */
  readonly between: number;
}

export interface Killed {
  /** How many edits were known of before the killing. */
  readonly edits: number;
  /** How many of them were not there afterwards. */
  readonly lost: number;
  /** How old the oldest lost edit was at the killing, ms; 0 when none was lost. */
  readonly oldestLost: number;
  /** What was wrong with the notebook afterwards; empty when it was whole. */
  readonly damage: string;
}

interface Running {
  readonly process: ChildProcess;
  readonly browser: Browser;
  readonly page: Page;
}

async function launch({ browserPath, profile }: Killing): Promise<Running> {
  rmSync(join(profile, 'DevToolsActivePort'), { force: true });
  const root = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const child = spawn(
    browserPath,
    [
      '--headless=new',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
      '--disable-background-networking',
      '--disable-component-update',
      '--no-first-run',
      ...root,
      'about:blank',
    ],
    // A group of its own: all its processes are killed at once.
    { detached: true, stdio: 'ignore' },
  );
  const portFile = join(profile, 'DevToolsActivePort');
  for (;;) {
    try {
      const [port, path] = readFileSync(portFile, 'utf8').split('\n');
      if (path) {
        const browser = await chromium.connectOverCDP(`ws://127.0.0.1:${port}${path}`);
        const context = browser.contexts()[0];
        if (!context) throw new Error('The browser has no window.');
        return { process: child, browser, page: await context.newPage() };
      }
    } catch (reason) {
      if (child.exitCode !== null) throw reason;
    }
    await new Promise((resolve) => setTimeout(resolve, 40));
  }
}

/** Kills the browser and all its processes, and waits until it is gone. */
async function kill({ process: child, browser }: Running): Promise<number> {
  const gone = once(child, 'exit');
  const at = Date.now();
  if (child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
  await gone;
  await browser.close().catch(() => {});
  return at;
}

async function shownSteps(page: Page): Promise<number> {
  const row = page.getByRole('row').filter({
    has: page.getByRole('rowheader', { name: 'steps', exact: true }),
  });
  const text = await row.locator('[data-col="0"]').textContent();
  return Number((text ?? '').replace(/[^\d]/g, ''));
}

/** Opens the notebook on the first page, or brings it in when it is not there yet. */
async function openNotebook(page: Page, address: string, isFirst: boolean): Promise<void> {
  await page.goto(address);
  if (isFirst) {
    await dropFile(page, 'steps.dapple', NOTEBOOK);
  } else {
    await page.getByRole('link', { name: TITLE }).click();
  }
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
}

/** What is wrong with the notebook as it is shown; empty when it is whole. */
async function damageOf(page: Page): Promise<string> {
  const last = page.getByRole('rowheader', { name: 'last line', exact: true });
  if ((await last.count()) !== 1) return 'the last line is not there';
  if ((await page.getByText('cannot be read').count()) > 0) return 'something cannot be read';
  const text = (await page.locator('.sheet').textContent()) ?? '';
  const lines = text.match(/Line \d+: what was measured here\./g)?.length ?? 0;
  return lines === FILLING.length ? '' : `${lines} of ${FILLING.length} lines are there`;
}

/** Edits, kills, opens again, and tells what was lost. */
export async function killWhileEditing(killing: Killing, isFirst: boolean): Promise<Killed> {
  const running = await launch(killing);
  const { page } = running;
  await openNotebook(page, killing.address, isFirst);
  const before = await shownSteps(page);
  const moments: number[] = [];
  await page.exposeFunction('tellEdit', (at: number) => {
    moments.push(at);
  });
  await page.locator('[data-col="0"]').first().click();
  await page.keyboard.press('Escape');
  await page.evaluate((between) => {
    const tell: unknown = Reflect.get(window, 'tellEdit');
    const edit = (): void => {
      const key = new KeyboardEvent('keydown', { key: '+', bubbles: true, cancelable: true });
      // The sheet takes the key exactly when it made an edit of it.
      const isTaken = document.querySelector('.sheet [data-col="0"]')?.dispatchEvent(key) === false;
      if (isTaken && typeof tell === 'function') tell(performance.timeOrigin + performance.now());
      setTimeout(edit, between);
    };
    setTimeout(edit, 0);
  }, killing.between);
  while (moments.length === 0) await new Promise((resolve) => setTimeout(resolve, 5));
  await new Promise((resolve) => setTimeout(resolve, killing.editing));
  const at = await kill(running);
  const known = moments.filter((moment) => moment <= at);

  const again = await launch(killing);
  try {
    await openNotebook(again.page, killing.address, false);
    const there = (await shownSteps(again.page)) - before;
    const lost = Math.max(0, known.length - there);
    const oldest = known[there];
    return {
      edits: known.length,
      lost,
      oldestLost: lost > 0 && oldest !== undefined ? at - oldest : 0,
      damage: await damageOf(again.page),
    };
  } finally {
    await kill(again);
  }
}
