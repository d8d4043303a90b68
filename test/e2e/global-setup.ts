// Before the first end-to-end test: a browser is found, the page is built once, in a process of its
// own so that nothing of the test runner enters the build, and served as `npm start` serves it.

import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { TestProject } from 'vitest/node';
import { builtFolder } from '../../web/host/build.mjs';
import { projectRoot } from '../../web/host/prepare.mjs';
import { createStaticServer, listen } from '../../web/host/static-server.mjs';
import { findBrowser, findLightBrowser } from '../tools/find-browser.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the page is served with few trials in its starters, with a slash at its end. */
    readonly address: string;
    /** Where the page is served as it is. */
    readonly wholeAddress: string;
    /** A whole browser: one that keeps pages, installs them and has profiles. */
    readonly browserPath: string;
    /** Where pages are only looked at: the light browser when there is one. */
    readonly lightBrowserPath: string;
  }
}

/**
 * Trials of a starter in tests that are about something else. The hundreds that it has, in each of up
 * to six columns, keep every core at work for seconds after every opening and every edit.
 */
const FEW_TRIALS = 40;

/** A copy of the built page, the same but for the trials of its starters. */
function copyWithFewTrials(): string {
  const folder = mkdtempSync(join(tmpdir(), 'dapple-few-'));
  cpSync(builtFolder, folder, { recursive: true });
  const built = readdirSync(join(folder, 'assets'));
  let changed = 0;
  for (const notebook of readdirSync(resolve(projectRoot, 'notebooks'))) {
    if (!notebook.endsWith('.dapple')) continue;
    const own = new RegExp(`^${notebook.replace('.dapple', '')}-[\\w-]{8}\\.js$`, 'u');
    const file = join(folder, 'assets', built.find((name) => own.test(name)) ?? notebook);
    const text = readFileSync(file, 'utf8');
    const few = text.replace(/(?<=\n|\\n)trials: \d+(?=\n|\\n)/u, `trials: ${FEW_TRIALS}`);
    if (few !== text) changed++;
    writeFileSync(file, few);
  }
  if (changed === 0) throw new Error('no starter has trials');
  return folder;
}

interface Served {
  readonly address: string;
  readonly stop: () => Promise<void>;
}

async function serve(folder: string): Promise<Served> {
  const server: Server = createStaticServer(folder);
  const port = await listen(server, { host: '127.0.0.1', port: 0 });
  const stop = (): Promise<void> =>
    new Promise((done) => {
      server.close(() => done());
      server.closeAllConnections();
    });
  return { address: `http://localhost:${port}/`, stop };
}

export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  project.provide('browserPath', findBrowser());
  project.provide('lightBrowserPath', findLightBrowser());
  const { VITEST: _, NODE_ENV: __, ...environment } = process.env;
  execFileSync(process.execPath, [resolve(projectRoot, 'web/host/build.mjs')], {
    env: environment,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const copy = copyWithFewTrials();
  const [few, whole] = [await serve(copy), await serve(builtFolder)];
  // The server holds what it serves.
  rmSync(copy, { recursive: true });
  project.provide('address', few.address);
  project.provide('wholeAddress', whole.address);
  return async () => {
    await few.stop();
    await whole.stop();
  };
}
