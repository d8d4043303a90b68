// One browser for all files that a worker of vitest runs, and what a page keeps put away before each
// test. Each visit notes what the page must never do: print an error, throw, break its content policy,
// or ask another origin for anything.

import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
} from 'playwright-core';
import { inject, test as plainTest } from 'vitest';

/** What went wrong on a page, in the order it happened; both lists grow while the page lives. */
export interface Witness {
  /** Errors of the console, uncaught exceptions, policy violations: one line each. */
  readonly complaints: readonly string[];
  /** Every address asked for outside the page's own origin. */
  readonly foreignRequests: readonly string[];
  /** Empties both lists. */
  readonly forget: () => void;
}

export interface Visit extends Witness {
  readonly context: BrowserContext;
  readonly page: Page;
}

const ALWAYS = [
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-default-apps',
  '--disable-sync',
  '--disable-quic',
  '--no-first-run',
];

/** Opens the system's browser. `extra` are further command line switches. */
export function launchBrowser(path: string, extra: readonly string[] = []): Promise<Browser> {
  const isRoot = process.getuid?.() === 0;
  return chromium.launch({
    executablePath: path,
    // The browser refuses to run its sandbox as root.
    args: [...ALWAYS, ...(isRoot ? ['--no-sandbox'] : []), ...extra],
  });
}

/**
 * Pages of tests live for seconds. Having what they run compiled once more, as fast as it can be made,
 * takes the processors longer than all the rest: a third of the trip's opening and a few edits.
 */
const SHORT_LIVED = '--js-flags=--no-opt --interrupt-budget-for-maglev=300000';

/** Watches every page of a context, those opened later too. */
export async function watch(context: BrowserContext, origin: string): Promise<Witness> {
  const complaints: string[] = [];
  const foreignRequests: string[] = [];
  await context.exposeFunction('reportViolation', (sentence: string) => {
    complaints.push(sentence);
  });
  await context.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      const report: unknown = Reflect.get(window, 'reportViolation');
      if (typeof report === 'function') {
        report(`policy: ${event.violatedDirective} blocked ${event.blockedURI} ${event.sample}`);
      }
    });
  });
  context.on('console', (message) => {
    if (message.type() === 'error') {
      complaints.push(`console: ${message.text()} (${message.location().url})`);
    }
  });
  context.on('weberror', (failure) => {
    complaints.push(`uncaught: ${failure.error().stack ?? failure.error().message}`);
  });
  context.on('request', (request) => {
    const { protocol, origin: asked } = new URL(request.url());
    if (protocol !== 'data:' && protocol !== 'blob:' && asked !== origin) {
      foreignRequests.push(request.url());
    }
  });
  const forget = (): void => {
    complaints.length = 0;
    foreignRequests.length = 0;
  };
  return { complaints, foreignRequests, forget };
}

/** The longest that a part of the page is on its way when `LATE_PARTS` is set, ms. */
const LATEST = 1500;

/**
 * A poor line: each part of the page comes late by a time of its own. For finding tests, and places of
 * the page, that count on what is not sure to be there yet.
 */
async function holdPartsBack(context: BrowserContext): Promise<void> {
  let asked = 0;
  await context.route(/\/assets\//u, async (route) => {
    asked++;
    // The fraction of multiples of the golden ratio: spread evenly, the same in every run.
    const late = ((asked * 0.618034) % 1) * LATEST;
    await new Promise((done) => setTimeout(done, late));
    await route.fallback().catch(() => {});
  });
}

export interface VisitOptions extends BrowserContextOptions {
  /**
   * The page keeps itself for use without a network. For tests about just that: to fetch and keep the
   * whole page takes a visit a quarter longer.
   */
  readonly keepsItself?: boolean;
}

const SIZE = { width: 1280, height: 800 };

/** A page in a clean profile, watched, not yet anywhere. `address` is where it is going to be. */
export async function openVisit(
  browser: Browser,
  { keepsItself = false, ...options }: VisitOptions = {},
  address: string = inject('address'),
): Promise<Visit> {
  const context = await browser.newContext({
    locale: 'en-GB',
    timezoneId: 'Europe/London',
    viewport: SIZE,
    ...options,
  });
  // A busy machine takes its time, and no test fails on a time.
  context.setDefaultTimeout(60_000);
  if (!keepsItself) {
    await context.addInitScript(() => {
      if (!('ServiceWorkerContainer' in window)) return;
      ServiceWorkerContainer.prototype.register = () => Promise.reject(new Error('not now'));
    });
  }
  if (process.env.LATE_PARTS) await holdPartsBack(context);
  const witness = await watch(context, new URL(address).origin);
  return { ...witness, context, page: await context.newPage() };
}

/** What the page keeps on a device. */
const KEPT = 'local_storage,indexeddb,file_systems';

/**
 * Makes a visit as new: one page of the usual size on the first page, which has kept nothing. The page
 * is loaded anew, but where its code has just run, in a third of the time of the first.
 */
async function startAfresh({ page, context, forget }: Visit, address: string): Promise<void> {
  for (const other of context.pages()) if (other !== page) await other.close();
  const first = page.getByRole('heading', { name: 'Dapple' });
  // The notebook that is open is left, and with it kept, before everything kept is put away.
  await page.goto(`${address}#/`);
  await first.waitFor();
  await page.setViewportSize(SIZE);
  await page.emulateMedia({ media: null, colorScheme: null, forcedColors: null });
  await page.mouse.move(0, 0);
  const session = await context.newCDPSession(page);
  const { origin } = new URL(address);
  for (let turn = 0; ; turn++) {
    await session.send('Storage.clearDataForOrigin', { origin, storageTypes: KEPT });
    await page.reload();
    await first.waitFor();
    // Something may have been on its way to be kept.
    if (await page.evaluate(() => localStorage.length === 0)) break;
    if (turn === 5) throw new Error('the first page keeps something unasked');
  }
  await session.detach();
  forget();
}

/** A visit that many tests make one after the other. */
class LastingVisit {
  readonly #browser: Browser;
  #visit: Visit | undefined;
  /** Whether the test before left everything as it found it. */
  #isAsFound = false;

  constructor(browser: Browser) {
    this.#browser = browser;
  }

  /** As new; or, for one of several tests that change nothing, as the one before left it. */
  async begin(address: string, changesNothing = false): Promise<Visit> {
    if (this.#visit?.page.isClosed()) await this.close();
    const stays = this.#isAsFound && changesNothing;
    this.#isAsFound = changesNothing;
    if (this.#visit && stays) this.#visit.forget();
    else if (this.#visit) await startAfresh(this.#visit, address);
    this.#visit ??= await openVisit(this.#browser, {}, address);
    return this.#visit;
  }

  async close(): Promise<void> {
    const visit = this.#visit;
    this.#visit = undefined;
    // A browser that was closed before took the context with it.
    if (visit && this.#browser.isConnected()) await visit.context.close().catch(() => {});
  }
}

const base = plainTest
  .extend('address', { scope: 'worker' }, () => inject('address'))
  .extend('wholeAddress', { scope: 'worker' }, () => inject('wholeAddress'))
  .extend('browserPath', { scope: 'worker' }, () => inject('browserPath'))
  .extend('lightBrowserPath', { scope: 'worker' }, () => inject('lightBrowserPath'));

/**
 * vitest's `test` with a browser. `visit` is a fresh page in a clean profile; `browser` opens more of
 * them with `openVisit`; `address` is where the built page is served with few trials in its starters,
 * `wholeAddress` where it is served as it is.
 */
export const test = base
  .extend('browser', { scope: 'worker' }, async ({ lightBrowserPath }, { onCleanup }) => {
    const browser = await launchBrowser(lightBrowserPath, [SHORT_LIVED]);
    onCleanup(() => browser.close());
    return browser;
  })
  .extend('visit', async ({ browser }, { onCleanup }) => {
    const visit = await openVisit(browser);
    onCleanup(() => visit.context.close());
    return visit;
  });

/** The same where time and memory are measured: as fast as the browser gets, and the page as it is. */
export const measuringTest = base
  .extend('address', { scope: 'worker' }, ({ wholeAddress }) => wholeAddress)
  .extend('browser', { scope: 'worker' }, async ({ lightBrowserPath }, { onCleanup }) => {
    const browser = await launchBrowser(lightBrowserPath);
    onCleanup(() => browser.close());
    return browser;
  })
  .extend('visit', async ({ browser, address }, { onCleanup }) => {
    const visit = await openVisit(browser, {}, address);
    onCleanup(() => visit.context.close());
    return visit;
  });

/**
 * `test`, and `visit` is one page for many tests, made as new before each. For tests that change
 * nothing of it but its size, its media and what it keeps: no scripts put in, no routes, no rights.
 */
export const lastingTest = test
  .extend('lasting', { scope: 'worker' }, ({ browser }, { onCleanup }) => {
    const lasting = new LastingVisit(browser);
    onCleanup(() => lasting.close());
    return lasting;
  })
  .extend('visit', async ({ lasting, address, task }, { onCleanup }) => {
    const visit = await lasting.begin(address);
    // What a test that failed leaves behind is nobody's.
    onCleanup(async () => {
      if (task.result?.state !== 'pass') await lasting.close();
    });
    return visit;
  });

/**
 * The same for tests that only look: where one follows another, the page is left to it as it is. What a
 * test turned, it turns back.
 */
export const lookingTest = lastingTest.extend(
  'visit',
  async ({ lasting, address, task }, { onCleanup }) => {
    const visit = await lasting.begin(address, true);
    onCleanup(async () => {
      if (task.result?.state !== 'pass') await lasting.close();
    });
    return visit;
  },
);

/**
 * The same as `test` in a whole browser, with visits that keep the page for use without a network, as
 * a reader's browser does, and the page as it is.
 */
export const keepingTest = base
  .extend('address', { scope: 'worker' }, ({ wholeAddress }) => wholeAddress)
  .extend('browser', { scope: 'worker' }, async ({ browserPath }, { onCleanup }) => {
    const browser = await launchBrowser(browserPath);
    onCleanup(() => browser.close());
    return browser;
  })
  .extend('visit', async ({ browser, address }, { onCleanup }) => {
    const visit = await openVisit(browser, { keepsItself: true }, address);
    onCleanup(() => visit.context.close());
    return visit;
  });
