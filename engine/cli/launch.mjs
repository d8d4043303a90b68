// Runs a TypeScript program of this repository: `node engine/cli/launch.mjs engine/cli/main.ts ARG…`.
// Node 20 does not read TypeScript, so the program is bundled once into node_modules/.cache and the
// bundle is imported until the lock file or one of the files in it changes. The program exports
// `main(args): Promise<number>`; the number becomes the exit code. Nothing is printed here.

import { createHash } from 'node:crypto';
import {
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { isAbsolute, relative, resolve, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { prepare, projectRoot } from '../../web/host/prepare.mjs';

const cacheFolder = resolve(projectRoot, 'node_modules/.cache/dapple');
const MILLISECONDS_A_BUNDLE_IS_KEPT = 24 * 3600 * 1000;

/**
 * @typedef {object} Bundle
 * @property {readonly string[]} sources the files it was made from, relative to the project
 * @property {string} fingerprint of those files' contents
 * @property {string} file
 */

/**
 * @param {readonly string[]} sources
 * @returns {string | undefined} undefined when one of them is gone
 */
function fingerprintOf(sources) {
  const hash = createHash('sha256');
  try {
    for (const source of sources)
      hash.update(readFileSync(resolve(projectRoot, source))).update('\0');
  } catch {
    return undefined;
  }
  return hash.digest('hex');
}

/**
 * @param {string} record
 * @returns {Bundle | undefined}
 */
function readBundle(record) {
  try {
    return JSON.parse(readFileSync(record, 'utf8'));
  } catch {
    return undefined;
  }
}

/**
 * Writes in one step, so that a second process never reads half a file.
 *
 * @param {string} file
 * @param {string} text
 * @returns {void}
 */
function writeWhole(file, text) {
  const draft = `${file}.${process.pid}`;
  writeFileSync(draft, text);
  renameSync(draft, file);
}

/** @returns {void} */
function forgetOldBundles() {
  for (const name of readdirSync(cacheFolder)) {
    const file = resolve(cacheFolder, name);
    const age = Date.now() - (statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? Date.now());
    if (age > MILLISECONDS_A_BUNDLE_IS_KEPT) rmSync(file, { force: true });
  }
}

/**
 * @param {string} entry relative to the project
 * @param {string} name of the entry in the cache
 * @returns {Promise<Bundle>}
 */
async function bundle(entry, name) {
  const { build } = await import('vite');
  const result = await build({
    configFile: false,
    root: projectRoot,
    logLevel: 'silent',
    ssr: { noExternal: true },
    build: {
      ssr: resolve(projectRoot, entry),
      target: 'node20',
      write: false,
      minify: false,
      rolldownOptions: { output: { codeSplitting: false } },
    },
  });
  if (Array.isArray(result) || !('output' in result)) throw new Error(`Cannot bundle ${entry}.`);
  const [chunk] = result.output;
  const inside = chunk.moduleIds
    .filter((id) => isAbsolute(id))
    .map((id) => relative(projectRoot, id.replace(/\?.*$/, '')).split(sep).join('/'))
    .filter((path) => !path.startsWith('..') && !path.startsWith('node_modules/'));
  const sources = [...new Set([entry, 'package-lock.json', ...inside])].sort();
  const fingerprint = fingerprintOf(sources);
  if (!fingerprint) throw new Error(`A source of ${entry} vanished while it was bundled.`);

  mkdirSync(cacheFolder, { recursive: true });
  forgetOldBundles();
  const made = { sources, fingerprint, file: `${name}-${fingerprint.slice(0, 16)}.mjs` };
  writeWhole(resolve(cacheFolder, made.file), chunk.code);
  writeWhole(resolve(cacheFolder, `${name}.json`), JSON.stringify(made));
  return made;
}

/**
 * The program's module, bundled anew only when its sources changed.
 *
 * @param {string} entry relative to the project
 * @returns {Promise<{ main(args: readonly string[]): Promise<number> }>}
 */
async function load(entry) {
  const name = entry.replace(/\.ts$/, '').replaceAll('/', '-');
  const kept = readBundle(resolve(cacheFolder, `${name}.json`));
  const fresh =
    kept &&
    kept.fingerprint === fingerprintOf(kept.sources) &&
    statSync(resolve(cacheFolder, kept.file), { throwIfNoEntry: false });
  const { file } = fresh ? kept : await bundle(entry, name);
  return import(pathToFileURL(resolve(cacheFolder, file)).href);
}

const [entry, ...args] = process.argv.slice(2);
if (entry === undefined) throw new Error('Which program? node engine/cli/launch.mjs FILE ARG…');
prepare();
const { main } = await load(entry);
process.exitCode = await main(args);
