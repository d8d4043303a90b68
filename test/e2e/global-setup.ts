// Before the first end-to-end test: a browser is found, the page is built once, in a process of its
// own so that nothing of the test runner enters the build, and served as `npm start` serves it.

import { execFileSync } from 'node:child_process';
import { resolve } from 'node:path';
import type { TestProject } from 'vitest/node';
import { builtFolder } from '../../web/host/build.mjs';
import { projectRoot } from '../../web/host/prepare.mjs';
import { createStaticServer, listen } from '../../web/host/static-server.mjs';
import { findBrowser, findLightBrowser } from '../tools/find-browser.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the page is served, with a slash at its end. */
    readonly address: string;
    /** A whole browser: one that keeps pages, installs them and has profiles. */
    readonly browserPath: string;
    /** Where pages are only looked at: the light browser when there is one. */
    readonly lightBrowserPath: string;
  }
}

export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  project.provide('browserPath', findBrowser());
  project.provide('lightBrowserPath', findLightBrowser());
  const { VITEST: _, NODE_ENV: __, ...environment } = process.env;
  execFileSync(process.execPath, [resolve(projectRoot, 'web/host/build.mjs')], {
    env: environment,
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const server = createStaticServer(builtFolder);
  const port = await listen(server, { host: '127.0.0.1', port: 0 });
  project.provide('address', `http://localhost:${port}/`);
  return () =>
    new Promise((done) => {
      server.close(() => done());
      server.closeAllConnections();
    });
}
