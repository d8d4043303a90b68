// One browser a test file and one clean profile a test. Each visit notes what the page must never
// do: print an error, throw, break its content policy, or ask another origin for anything.

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
  return { complaints, foreignRequests };
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

/** A page in a clean profile, watched, not yet anywhere. */
export async function openVisit(
  browser: Browser,
  { keepsItself = false, ...options }: VisitOptions = {},
  address: string = inject('address'),
): Promise<Visit> {
  const context = await browser.newContext({
    locale: 'en-GB',
    timezoneId: 'Europe/London',
    viewport: { width: 1280, height: 800 },
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

const base = plainTest
  .extend('address', { scope: 'file' }, () => inject('address'))
  .extend('browserPath', { scope: 'file' }, () => inject('browserPath'))
  .extend('lightBrowserPath', { scope: 'file' }, () => inject('lightBrowserPath'));

/**
 * vitest's `test` with a browser. `visit` is a fresh page in a clean profile; `browser` opens more of
 * them with `openVisit`; `address` is where the built page is served.
 */
export const test = base
  .extend('browser', { scope: 'file' }, async ({ lightBrowserPath }, { onCleanup }) => {
    const browser = await launchBrowser(lightBrowserPath);
    onCleanup(() => browser.close());
    return browser;
  })
  .extend('visit', async ({ browser }, { onCleanup }) => {
    const visit = await openVisit(browser);
    onCleanup(() => visit.context.close());
    return visit;
  });

/**
 * The same in a whole browser, with visits that keep the page for use without a network, as a
 * reader's browser does.
 */
export const keepingTest = base
  .extend('browser', { scope: 'file' }, async ({ browserPath }, { onCleanup }) => {
    const browser = await launchBrowser(browserPath);
    onCleanup(() => browser.close());
    return browser;
  })
  .extend('visit', async ({ browser }, { onCleanup }) => {
    const visit = await openVisit(browser, { keepsItself: true });
    onCleanup(() => visit.context.close());
    return visit;
  });
