// A browser that is killed with SIGKILL while somebody types, and opened again on what it left: what
// of the edits is there? Shared by the test, which kills a few, and by the hand-run script, which
// kills many.

import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { type Browser, chromium, type Page } from 'playwright-core';

interface Running {
  readonly child: ChildProcess;
  readonly browser: Browser;
  readonly page: Page;
}

const SWITCHES = [
  '--headless',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
  '--remote-debugging-port=0',
];

async function launch(path: string, profile: string): Promise<Running> {
  rmSync(join(profile, 'DevToolsActivePort'), { force: true });
  const root = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const child = spawn(path, [...SWITCHES, ...root, `--user-data-dir=${profile}`, 'about:blank'], {
    detached: true,
    stdio: 'ignore',
  });
  let port = '';
  for (let wait = 0; port === '' && wait < 400; wait++) {
    await pause(50);
    try {
      port = readFileSync(join(profile, 'DevToolsActivePort'), 'utf8').split('\n')[0] ?? '';
    } catch {
      // Not written yet.
    }
  }
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
  const [context] = browser.contexts();
  if (!context) throw new Error('the browser has no window');
  return { child, browser, page: context.pages()[0] ?? (await context.newPage()) };
}

function kill({ child }: Running): void {
  try {
    // The whole group: the browser is many processes.
    process.kill(-(child.pid ?? 0), 'SIGKILL');
  } catch {
    child.kill('SIGKILL');
  }
}

async function open(page: Page, address: string): Promise<void> {
  await page.goto(`${address}#/cable`);
  await page.getByRole('grid', { name: 'Cells' }).waitFor();
}

export interface Kill {
  /** The number of the last edit made so many ms or more before the kill, and of the last one made. */
  readonly due10: number;
  readonly due250: number;
  readonly made: number;
  /** The number found after opening again, −1 when there is none. */
  readonly found: number;
  readonly messages: number;
}

/**
 * One kill: edits a given some milliseconds apart, each to the next number, kills after `after` ms,
 * opens again and looks. Times are the page's own clock, told by the page as it makes each edit.
 */
export async function killOnce(path: string, address: string, after: number): Promise<Kill> {
  const profile = mkdtempSync(join(tmpdir(), 'dapple-kill-'));
  try {
    const first = await launch(path, profile);
    await open(first.page, address);
    const times: { readonly number: number; readonly at: number }[] = [];
    await first.page.exposeFunction('noteEdit', (number: number, at: number) => {
      times.push({ number, at });
    });
    await first.page.evaluate(() => {
      const row = [...document.querySelectorAll<HTMLElement>('.row')].find(
        (one) => one.querySelector('.name')?.textContent?.trim() === 'cable length',
      );
      row?.querySelector<HTMLElement>('[data-col="0"]')?.focus();
      let number = 0;
      // Steps by the key a person uses, with an uneven pause between them.
      const step = (): void => {
        number++;
        const key = number % 2 === 1 ? '+' : '-';
        document.activeElement?.dispatchEvent(
          new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }),
        );
        const title = document.querySelector<HTMLInputElement>('input.title');
        if (title) {
          title.value = `Edit ${number}`;
          title.dispatchEvent(new Event('change'));
        }
        const note: unknown = Reflect.get(window, 'noteEdit');
        if (typeof note === 'function') note(number, Date.now());
        setTimeout(step, 5 + ((number * 37) % 60));
      };
      step();
    });
    await pause(after);
    const killedAt = Date.now();
    kill(first);
    await first.browser.close().catch(() => {});
    await pause(150);
    const again = await launch(path, profile);
    await open(again.page, address);
    const title = await again.page.getByRole('textbox', { name: 'Title' }).inputValue();
    const text = await again.page.evaluate(
      () => document.querySelectorAll('.row .msg, .notice').length,
    );
    kill(again);
    await again.browser.close().catch(() => {});
    await pause(100);
    const found = /^Edit (\d+)$/u.exec(title);
    return {
      due10: times.findLast(({ at }) => at <= killedAt - 10)?.number ?? 0,
      due250: times.findLast(({ at }) => at <= killedAt - 250)?.number ?? 0,
      made: times.at(-1)?.number ?? 0,
      found: found ? Number(found[1]) : times.length === 0 ? 0 : -1,
      messages: text,
    };
  } finally {
    rmSync(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}
