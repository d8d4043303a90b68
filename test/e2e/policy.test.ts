// What the page must never do, whoever wrote the notebook: run code or markup from text, or ask
// another origin for anything. What the test evaluates itself is exempt from the policy until its
// task ends, so everything is tried from a timer.

import { readdirSync, readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { linkOf } from '../../web/exchange/notebook-link.ts';
import { builtFolder } from '../../web/host/build.mjs';
import { listen } from '../../web/host/static-server.mjs';
import { openVisit, keepingTest as test } from './harness.ts';
import { dropFile } from './open-text.ts';
import { openStarter, shownValue, strip } from './sheet.ts';

/** Tries to run or to fetch in as many ways as there are, and says which of them worked. */
function attempts(page: Page, elsewhere: string): Promise<readonly string[]> {
  return page.evaluate(
    (foreign) =>
      new Promise<readonly string[]>((resolve) => {
        setTimeout(async () => {
          const done: string[] = [];
          Reflect.set(window, 'ran', (what: string) => done.push(what));
          const attempt = async (what: string, work: () => unknown): Promise<void> => {
            try {
              await work();
              done.push(what);
            } catch {
              // As it should be.
            }
          };
          await attempt('eval', () => Reflect.get(window, 'eval')('1'));
          await attempt('Function', () => Reflect.construct(Function, ['return 1']));
          await attempt('timer of text', () => {
            Reflect.apply(setTimeout, window, ['ran("timer of text")', 0]);
            throw new Error('it tells by itself');
          });
          const script = document.createElement('script');
          script.textContent = 'ran("inline script")';
          document.body.append(script);
          const handler = document.createElement('img');
          handler.setAttribute('onerror', 'ran("inline handler")');
          handler.src = './nothing-here.png';
          document.body.append(handler);
          const data = document.createElement('script');
          data.src = 'data:text/javascript,ran("data script")';
          document.body.append(data);
          const blob = document.createElement('script');
          blob.src = URL.createObjectURL(
            new Blob(['ran("blob script")'], { type: 'text/javascript' }),
          );
          document.body.append(blob);
          const link = document.createElement('a');
          link.href = 'javascript:ran("script address")';
          document.body.append(link);
          link.click();
          const frame = document.createElement('iframe');
          frame.srcdoc = '<script>parent.ran("frame")</script>';
          document.body.append(frame);
          await attempt('foreign fetch', () => fetch(foreign));
          // It says that it was taken even when it is refused: the requests tell.
          navigator.sendBeacon(foreign, 'x');
          await attempt(
            'socket',
            () =>
              new Promise((open, refuse) => {
                const socket = new WebSocket(foreign.replace('http', 'ws'));
                socket.onopen = open;
                socket.onerror = refuse;
              }),
          );
          await attempt(
            'blob worker',
            () =>
              new Promise((answer, refuse) => {
                const worker = new Worker(URL.createObjectURL(new Blob(['postMessage(1)'])));
                worker.onmessage = answer;
                worker.onerror = refuse;
              }),
          );
          const picture = new Image();
          picture.onload = (): number => done.push('foreign picture');
          picture.src = `${foreign}p.png`;
          setTimeout(() => resolve(done), 1_000);
        });
      }),
    elsewhere,
  );
}

/** Another origin that counts who asks it for anything, and lets everybody. */
async function listener(): Promise<{
  readonly address: string;
  readonly asked: string[];
  readonly stop: () => void;
}> {
  const asked: string[] = [];
  const server = createServer((request, response) => {
    if (request.url !== '/favicon.ico') asked.push(request.url ?? '');
    response.writeHead(200, {
      'Access-Control-Allow-Origin': '*',
      'Content-Type': 'image/svg+xml',
    });
    response.end('<svg xmlns="http://www.w3.org/2000/svg"/>');
  });
  server.on('upgrade', (request, socket) => {
    asked.push(`upgrade ${request.url}`);
    socket.destroy();
  });
  const port = await listen(server, { host: '127.0.0.1', port: 0 });
  return { address: `http://localhost:${port}/`, asked, stop: () => server.close() };
}

test('the policy blocks code from text, frames, and other origins', async ({ visit, address }) => {
  const elsewhere = await listener();
  // It can be reached: without a policy it answers.
  await visit.page.goto(`${elsewhere.address}seen`);
  expect(elsewhere.asked).toContain('/seen');
  const before = elsewhere.asked.length;
  await visit.page.goto(address);
  await visit.page.getByRole('link', { name: /six nights/ }).waitFor();
  expect(await attempts(visit.page, elsewhere.address)).toEqual([]);
  expect(elsewhere.asked.slice(before)).toEqual([]);
  const blocked = visit.complaints.filter((one) => one.startsWith('policy:')).join('\n');
  for (const directive of ['script-src', 'connect-src', 'img-src', 'worker-src']) {
    expect(blocked).toContain(`policy: ${directive}`);
  }
  elsewhere.stop();
});

test('the worker can neither make code from text nor ask anybody for anything', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  const elsewhere = await listener();
  await openStarter(page, address, 'battery');
  await expect.poll(() => page.workers().length).toBeGreaterThan(0);
  const [worker] = page.workers();
  const outcome = await worker?.evaluate(
    (foreign) =>
      new Promise<readonly string[]>((resolve) => {
        setTimeout(async () => {
          const made = ((): string => {
            try {
              return String(Reflect.construct(Function, ['return 1'])());
            } catch (reason) {
              return reason instanceof Error ? reason.name : 'thrown';
            }
          })();
          const fetched = await fetch(foreign).then(
            () => 'fetched',
            () => 'refused',
          );
          resolve([made, fetched]);
        });
      }),
    elsewhere.address,
  );
  expect(outcome).toEqual(['EvalError', 'refused']);
  expect(elsewhere.asked).toEqual([]);
  elsewhere.stop();
});

/** The scripts of the worker: its own, and those it takes in. */
function scriptsOfWorker(): readonly string[] {
  const folder = join(builtFolder, 'assets');
  const first = readdirSync(folder).filter((name) => /^study-worker.*\.js$/.test(name));
  const seen = new Set<string>();
  const visitScript = (name: string): void => {
    if (seen.has(name)) return;
    seen.add(name);
    const text = readFileSync(join(folder, name), 'utf8');
    for (const [, taken = ''] of text.matchAll(/(?:from|import)\s*\(?["'`]\.\/([\w.-]+\.js)["'`]/g))
      visitScript(taken);
  };
  for (const name of first) visitScript(name);
  return [...seen];
}

test('the worker’s own scripts hold nothing that a host without headers would have to forbid', () => {
  const scripts = scriptsOfWorker();
  expect(scripts.length).toBeGreaterThan(0);
  const texts = scripts.map((name) => readFileSync(join(builtFolder, 'assets', name), 'utf8'));
  // The engine is among them, so that the search is not for nothing.
  expect(texts.join('').length).toBeGreaterThan(100_000);
  for (const text of texts) {
    expect(text).not.toMatch(/\beval\s*\(|\bnew Function\b|(?<![.\w$])Function\s*\(/);
    expect(text).not.toMatch(
      /\bfetch\s*\(|\bXMLHttpRequest\b|\bWebSocket\b|\bEventSource\b|\bimportScripts\b|\bsendBeacon\b/,
    );
  }
});

const MARKUP = '<img src=x onerror="ran(1)"><script>ran(2)</script><svg onload=ran(3)>';

/** A notebook that tries at every place where text is shown. */
const HOSTILE = `dapple 1
title: ${MARKUP}

# ${MARKUP}
| ${MARKUP} [words](javascript:ran(4)) *a*
! ${MARKUP}
-- ${MARKUP}
__proto__ = 1 W -- ${MARKUP}
constructor = 2 W
toString = 3 W
hasOwnProperty = constructor + toString
prototype = hasOwnProperty × 2
valueOf = table
  __proto__ | constructor | toString = constructor × 2
  "${MARKUP.replaceAll('"', "'")}" | 1 W |
  b | 2 W |
check constructor < toString -- ${MARKUP}
chart toString
${MARKUP}
scenario __proto__
  | ${MARKUP}
  constructor = 5 W
scenario constructor
  constructor = 6 W
`;

async function untouched(page: Page): Promise<void> {
  expect(
    await page.evaluate(() => [
      Reflect.get(window, 'hit') ?? 'none',
      Object.keys(Object.prototype).length,
      Reflect.get({}, 'text') ?? 'none',
    ]),
  ).toEqual(['none', 0, 'none']);
}

test('a hostile notebook is only text, wherever its text is shown', async ({ visit, address }) => {
  const { page } = visit;
  await page.addInitScript(() => {
    Reflect.set(window, 'ran', (what: unknown) => Reflect.set(window, 'hit', what));
  });
  await page.goto(await linkOf(address, HOSTILE));
  await expect.poll(() => shownValue(page, 'hasOwnProperty')).toMatch(/^5 W/);
  await expect.poll(() => shownValue(page, 'prototype')).toMatch(/^10 W/);
  // The first scenario's strip, and a change in it: 5 + 3 W.
  await expect.poll(() => shownValue(page, 'hasOwnProperty', 1)).toMatch(/^8 W/);
  await strip(page, 'constructor').click();
  await page.getByRole('textbox', { name: /constructor/ }).waitFor();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('4 W');
  await page.keyboard.press('Enter');
  await expect.poll(() => shownValue(page, 'hasOwnProperty')).toMatch(/^7 W/);
  await page.keyboard.press('Control+k');
  await page.keyboard.type('img');
  await page.keyboard.press('Escape');
  await page.goto(`${address}#/`);
  await page
    .getByRole('complementary', { name: 'Your notebooks' })
    .getByRole('link', { name: MARKUP })
    .waitFor();
  await untouched(page);
  expect(await page.locator('img, iframe, [onerror], [onload]').count()).toBe(0);
  expect(visit.complaints).toEqual([]);
  expect(visit.foreignRequests).toEqual([]);
});

test('hostile names of files and what is kept on the device are only text', async ({
  visit,
  address,
}) => {
  const { page } = visit;
  await page.addInitScript(() => {
    Reflect.set(window, 'ran', (what: unknown) => Reflect.set(window, 'hit', what));
    localStorage.setItem('dapple.theme', '"><script>ran(9)</script>');
    localStorage.setItem(
      'dapple.journal',
      '{"__proto__":{"text":"x"},"id":"<img onerror=ran(8)>","when":1e99,"text":7}',
    );
  });
  await page.goto(address);
  for (const name of [
    '<img src=x onerror=ran(7)>.dapple',
    '..\\..\\__proto__.dapple',
    '\u202etxt.dapple',
    `${'n'.repeat(300)}.csv`,
  ]) {
    await dropFile(page, name, 'dapple 1\ntitle: x\n\n\npower = 6 W\n');
    await page.getByRole('button', { name: 'File', exact: true }).waitFor();
  }
  await untouched(page);
  expect(await page.locator('img').count()).toBe(0);
  expect(visit.complaints).toEqual([]);
});

test('no request leaves the origin while one opens, edits, studies, sends, prints and reads help', async ({
  browser,
  address,
}) => {
  const visit = await openVisit(browser, { keepsItself: true }, address);
  const { page } = visit;
  const asked: string[] = [];
  visit.context.on('request', (request) => asked.push(request.url()));
  await page.goto(address);
  for (const id of ['battery', 'tour']) {
    await openStarter(page, address, id);
    await page.locator('dapple-chart').first().waitFor();
  }
  await expect.poll(() => page.title()).toMatch(/^A tour/);
  await page.locator('dapple-chart').first().scrollIntoViewIfNeeded();
  await page.locator('.chart-picture svg').first().waitFor();
  await strip(page, 'panel voltage').click();
  await page.keyboard.press('Control+a');
  await page.keyboard.type('20 V');
  await page.keyboard.press('Enter');
  await page.keyboard.press('Control+e');
  await page.getByRole('dialog', { name: 'Send' }).getByRole('textbox', { name: 'Link' }).waitFor();
  await page.keyboard.press('Escape');
  await page.keyboard.press('F1');
  await page.getByRole('dialog', { name: 'Help' }).waitFor();
  await page.keyboard.press('Escape');
  await page.pdf();
  expect(asked.length).toBeGreaterThan(5);
  expect(asked.filter((one) => !one.startsWith(address) && !/^(?:blob|data):/.test(one))).toEqual(
    [],
  );
  expect(visit.foreignRequests).toEqual([]);
  expect(visit.complaints).toEqual([]);
  await visit.context.close();
});
