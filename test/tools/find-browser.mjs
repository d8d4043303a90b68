// Finds the Chromium or Chrome that the end-to-end tests drive: CHROME_PATH, then the places where
// systems keep it, then Debian's own packages when we may install them, else one sentence.
// Run on its own it prints the path.

import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The same engine without windows, menus and profiles: a page opens in half the time. */
const LIGHT_NAMES = ['chromium-headless-shell', 'chrome-headless-shell'];
const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome', 'chrome'];

/**
 * @param {string} file
 * @returns {boolean}
 */
function isExecutable(file) {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/**
 * @param {NodeJS.ProcessEnv} environment
 * @param {readonly string[]} names
 * @returns {readonly string[]}
 */
function onThePath(environment, names) {
  const folders = (environment.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  return [
    ...new Set([...folders, '/usr/bin', '/usr/local/bin', '/snap/bin', '/opt/google/chrome']),
  ].flatMap((folder) => names.map((name) => join(folder, name)));
}

/**
 * @param {NodeJS.Platform} platform
 * @param {NodeJS.ProcessEnv} environment
 * @returns {readonly string[]} where a browser may be, the likeliest first
 */
export function likelyPlaces(platform, environment) {
  if (platform === 'darwin') {
    return ['/Applications', join(environment.HOME ?? '', 'Applications')].flatMap((folder) => [
      join(folder, 'Chromium.app/Contents/MacOS/Chromium'),
      join(folder, 'Google Chrome.app/Contents/MacOS/Google Chrome'),
    ]);
  }
  if (platform === 'win32') {
    return [environment.PROGRAMFILES, environment['PROGRAMFILES(X86)'], environment.LOCALAPPDATA]
      .filter((folder) => folder !== undefined)
      .flatMap((folder) => [
        join(folder, 'Chromium\\Application\\chrome.exe'),
        join(folder, 'Google\\Chrome\\Application\\chrome.exe'),
      ]);
  }
  return onThePath(environment, NAMES);
}

/**
 * @returns {boolean} whether Debian's packages are installed now
 */
function installFromDebian() {
  const isRoot = process.getuid?.() === 0;
  if (!isRoot || !existsSync('/etc/debian_version')) return false;
  process.stderr.write('Installing Chromium for the browser tests (apt-get) …\n');
  const run = (/** @type {readonly string[]} */ args) =>
    spawnSync('apt-get', args, {
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
      stdio: ['ignore', 'ignore', process.stderr.fd],
    }).status === 0;
  const install = (/** @type {string} */ name) =>
    run(['install', '-y', '--no-install-recommends', name]);
  if (!run(['update']) || !install('chromium')) return false;
  // Older releases have no light one; the tests then take the whole browser, and longer.
  install('chromium-headless-shell');
  return true;
}

/**
 * The browser's program. Throws with one sentence when there is none.
 *
 * @returns {string}
 */
export function findBrowser() {
  const chosen = process.env.CHROME_PATH;
  if (chosen) {
    if (isExecutable(chosen)) return chosen;
    throw new Error(`CHROME_PATH is ${chosen}, and that is no program.`);
  }
  const find = () => likelyPlaces(process.platform, process.env).find(isExecutable);
  const found = find() ?? (installFromDebian() ? find() : undefined);
  if (found) return found;
  throw new Error(
    'The browser tests need Chromium or Chrome: install one, or set CHROME_PATH to its program.',
  );
}

/**
 * The browser for tests that need nothing but pages: the light one where the system has it and nobody
 * chose another, else the whole one.
 *
 * @returns {string}
 */
export function findLightBrowser() {
  const whole = findBrowser();
  if (process.env.CHROME_PATH) return whole;
  return onThePath(process.env, LIGHT_NAMES).find(isExecutable) ?? whole;
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
  process.stdout.write(`${findBrowser()}\n`);
}
