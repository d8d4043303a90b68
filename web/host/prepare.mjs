// Installs the locked packages when node_modules does not hold them, so that every npm script works
// on a fresh clone. It is plain JavaScript on Node's built-ins, because it runs before anything else
// is there, and it is silent when nothing is missing. What npm says goes to the error stream: the
// standard output belongs to the program that runs next.

import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

/**
 * @typedef {{ readonly version?: string, readonly optional?: boolean }} LockedPackage
 * @typedef {Readonly<Record<string, LockedPackage>>} LockedPackages path in the project → package
 */

const OLDEST_NODE = /** @type {const} */ ([20, 19]);

/** The repository's top folder. */
export const projectRoot = fileURLToPath(new URL('../../', import.meta.url));

/**
 * Whether the installed packages are the locked ones. An optional package may be missing: binaries
 * for other systems are locked too and never installed.
 *
 * @param {LockedPackages} locked
 * @param {LockedPackages} installed
 * @returns {boolean}
 */
export function isInstalled(locked, installed) {
  const complete = Object.entries(locked).every(
    ([path, { version, optional }]) =>
      path === '' || (installed[path] ? installed[path].version === version : optional === true),
  );
  return complete && Object.keys(installed).every((path) => path in locked);
}

/**
 * @param {string} lockFile
 * @returns {LockedPackages}
 */
function readPackages(lockFile) {
  return JSON.parse(readFileSync(lockFile, 'utf8')).packages ?? {};
}

/**
 * Installs what the lock file names, if it is not there. Ends the process with a sentence when that
 * is impossible.
 *
 * @returns {void}
 */
export function prepare() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  if (major < OLDEST_NODE[0] || (major === OLDEST_NODE[0] && minor < OLDEST_NODE[1])) {
    process.stderr.write(
      `Dapple needs Node ${OLDEST_NODE.join('.')} or newer; this is ${process.version}.\n`,
    );
    process.exit(1);
  }
  const installedFile = resolve(projectRoot, 'node_modules/.package-lock.json');
  const lockFile = resolve(projectRoot, 'package-lock.json');
  if (existsSync(installedFile) && isInstalled(readPackages(lockFile), readPackages(installedFile)))
    return;

  process.stderr.write('Installing packages (npm ci) …\n');
  // `--include=dev` because a NODE_ENV of production would leave out the tools that build the page.
  const { status } = spawnSync('npm', ['ci', '--include=dev', '--no-audit', '--no-fund'], {
    cwd: projectRoot,
    stdio: ['ignore', process.stderr.fd, process.stderr.fd],
    shell: process.platform === 'win32',
  });
  if (status !== 0) {
    process.stderr.write('The packages could not be installed; npm says why above.\n');
    process.exit(1);
  }
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) prepare();
