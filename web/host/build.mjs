// Builds the page into dist/. Run on its own by `npm run build`, and by whoever needs the built page.

import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { prepare, projectRoot } from './prepare.mjs';

/** Where the built page lies. */
export const builtFolder = resolve(projectRoot, 'dist');

/**
 * @returns {Promise<void>}
 */
export async function buildPage() {
  // Otherwise a NODE_ENV that the shell or a test runner set would build a development page.
  process.env.NODE_ENV = 'production';
  const { build } = await import('vite');
  await build({ configFile: resolve(projectRoot, 'vite.config.ts'), logLevel: 'warn' });
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  prepare();
  const started = performance.now();
  await buildPage();
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  process.stdout.write(`Built the page into ${builtFolder} in ${seconds} s.\n`);
}
