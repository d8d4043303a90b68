// How the page is built and how the tests run. The page is static files that work under any folder
// of any host, offline once loaded. Tests are two projects: `unit` runs in Node alone, `e2e` runs a
// real browser against the page as `npm start` serves it.

import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { resolve } from 'node:path';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';
import { firstPictures } from './web/host/first-pictures.mjs';
import { leaveOut } from './web/host/leave-out.mjs';
import { preloadPage } from './web/host/preload-page.mjs';
import { securityHeaders } from './web/host/security-headers.mjs';
import { sharedWorkers } from './web/host/shared-workers.mjs';
import { unitSizes } from './web/host/unit-sizes.mjs';
import { siteFiles } from './web/host/write-site-files.mjs';

const projectRoot = import.meta.dirname;
const cores = availableParallelism();
const packageJson = JSON.parse(readFileSync(resolve(projectRoot, 'package.json'), 'utf8')) as {
  readonly version: string;
};

/** The engine, wherever the project lies: a folder around it may be called engine as well. */
const ENGINE = new RegExp(
  `^${resolve(projectRoot, 'engine').replaceAll(/[$()*+.?[\\\]^{|}]/gu, '\\$&')}/|unit-sizes|rolldown/runtime`,
  'u',
);
/** What only the help shows, so that a notebook does not wait for it. */
const REFERENCE = /\/engine\/(?:run\/reference|source\/catalogue[\w-]*)\.ts$/u;

export default defineConfig({
  root: resolve(projectRoot, 'web'),
  base: './',
  define: { __DAPPLE_VERSION__: JSON.stringify(packageJson.version) },
  cacheDir: resolve(projectRoot, 'node_modules/.vite'),
  build: {
    outDir: resolve(projectRoot, 'dist'),
    emptyOutDir: true,
    target: 'es2023',
    // The content policy lets no font and no script come out of a data address.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // Vega is one large chunk that is loaded only when a notebook shows a chart.
    chunkSizeWarningLimit: 1200,
    rolldownOptions: {
      treeshake: { moduleSideEffects: [{ test: REFERENCE, sideEffects: false }] },
      output: {
        // The manifest of the installed page names the icon, so its name must not change.
        assetFileNames: ({ names }) =>
          names.includes('icon.svg') ? '[name][extname]' : 'assets/[name]-[hash][extname]',
        // What several parts share would be a small file each, and a browser asks for six at a time.
        codeSplitting: {
          groups: [
            {
              name: 'reference',
              test: REFERENCE,
              priority: 1,
              includeDependenciesRecursively: false,
            },
            { name: 'engine', test: ENGINE },
            {
              name: 'page',
              test: /\/node_modules\/(?:@?lit|lit-\w+)\/|\/web\/\w+\/(?:shapes|files)\.ts$/u,
            },
            {
              name: 'notebook',
              test: /\/web\/\w+\/(?:place|table-paste|same-value|chart-(?:theme|words|panel|study))\.ts$/u,
            },
          ],
        },
      },
    },
  },
  worker: { format: 'es' },
  server: { fs: { allow: [projectRoot] } },
  preview: { headers: { ...securityHeaders } },
  plugins: [
    sharedWorkers(),
    leaveOut(projectRoot),
    unitSizes(projectRoot),
    firstPictures(),
    preloadPage(),
    siteFiles(projectRoot),
    VitePWA({
      strategies: 'generateSW',
      registerType: 'prompt',
      // The page registers the worker itself: no inline script.
      injectRegister: false,
      manifest: {
        name: 'Dapple',
        short_name: 'Dapple',
        description: 'Plan small solar power where trees leave only a window of sky.',
        start_url: './',
        scope: './',
        display: 'standalone',
        background_color: '#e9ede6',
        theme_color: '#e9ede6',
        icons: [
          { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml', purpose: 'any' },
          { src: 'icon-192.png', sizes: '192x192', type: 'image/png', purpose: 'any' },
          { src: 'icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
          { src: 'icon-full-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
      workbox: {
        globPatterns: ['**/*.{js,css,html,svg,png,txt,woff2}'],
        maximumFileSizeToCacheInBytes: 4 * 1024 * 1024,
        cleanupOutdatedCaches: true,
        // The first visit too is served from what was kept, so that its network may go at once.
        clientsClaim: true,
      },
    }),
  ],
  test: {
    root: projectRoot,
    projects: [
      {
        root: projectRoot,
        test: {
          name: 'unit',
          environment: 'node',
          include: ['test/**/*.test.ts'],
          exclude: ['test/e2e/**'],
          // The files of a worker share the modules they import; none of them leaves anything behind
          // in one. Reading the engine anew for each file cost as much as the tests.
          isolate: false,
          maxWorkers: Math.max(2, cores),
          sequence: { groupOrder: 1 },
          // Many random cases on a slow machine take their time; no test fails on a time.
          testTimeout: 180_000,
          hookTimeout: 180_000,
        },
      },
      {
        root: projectRoot,
        test: {
          name: 'e2e',
          environment: 'node',
          include: ['test/e2e/**/*.test.ts'],
          globalSetup: ['test/e2e/global-setup.ts'],
          // The files of a worker share its browser, and a page that many tests use in turn.
          isolate: false,
          // Two browsers at a time: while one waits for a page, the other has the machine. Times
          // that tests print are worth something when their file runs alone.
          maxWorkers: 2,
          // A browser on a busy machine now and then loses a race that is not the page's: such a test
          // is tried again, twice at most, and the run names it.
          retry: 2,
          sequence: { groupOrder: 2 },
          // What a page takes its time for is waited for: no test fails on a time.
          expect: { poll: { timeout: 45_000 } },
          testTimeout: 300_000,
          hookTimeout: 300_000,
        },
      },
    ],
  },
});
