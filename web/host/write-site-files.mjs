// Files that a built folder needs on a host of static files: the headers in the forms that hosts
// read, and the licences of everything that is bundled. All of them are made from what the project
// itself uses, so that they cannot fall behind it.

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { securityHeaders } from './security-headers.mjs';

const KEPT_FOR_EVER = 'public, max-age=31536000, immutable';
const ASKED_AGAIN = 'no-cache';

/** What the service worker is made of; it is bundled after the page, by its own tool. */
const SERVICE_WORKER = [
  'workbox-core',
  'workbox-precaching',
  'workbox-routing',
  'workbox-strategies',
];

/** What is asked while the page is built: its answers are in the page. */
const ASKED_FOR_NUMBERS = ['mathjs'];

/** Kinds a host may not know, by ending. */
const KINDS = { '.webmanifest': 'application/manifest+json', '.woff2': 'font/woff2' };

/**
 * `_headers`, as several static hosts read it: a path, then its headers, indented.
 *
 * @returns {string}
 */
export function headersFile() {
  const lines = Object.entries(securityHeaders).map(([name, value]) => `  ${name}: ${value}`);
  // Hosts join the values of paths that overlap, so that no two of these may name the same header.
  const cached = (/** @type {string} */ path, /** @type {string} */ value) =>
    `${path}\n  Cache-Control: ${value}`;
  return [
    '/*',
    ...lines,
    ...['/', '/index.html', '/sw.js', '/manifest.webmanifest'].map((path) =>
      cached(path, ASKED_AGAIN),
    ),
    cached('/assets/*', KEPT_FOR_EVER),
    '',
  ].join('\n');
}

/**
 * The same for a server that is configured by the block of a site.
 *
 * @returns {string}
 */
export function nginxSnippet() {
  const always = Object.entries(securityHeaders).map(
    ([name, value]) => `add_header ${name} "${value}" always;`,
  );
  const kinds = Object.entries(KINDS).map(([ending, kind]) => `${kind} ${ending.slice(1)};`);
  const block = (/** @type {string} */ cache) =>
    [...always, `add_header Cache-Control "${cache}" always;`]
      .map((line) => `  ${line}`)
      .join('\n');
  return `# Inside the server block, with root set to this folder. Headers of an inner block take the place of
# those outside, so both hold all of them. Kinds to add to those the server knows: ${kinds.join(' ')}
location / {
  try_files $uri $uri/ =404;
${block(ASKED_AGAIN)}
}
location /assets/ {
${block(KEPT_FOR_EVER)}
}
`;
}

/**
 * The same for a server that reads a file in the folder itself.
 *
 * @returns {string}
 */
export function htaccessFile() {
  const lines = Object.entries(securityHeaders).map(
    ([name, value]) => `  Header always set ${name} "${value}"`,
  );
  return `<IfModule mod_headers.c>
${lines.join('\n')}
  Header always set Cache-Control "${ASKED_AGAIN}"
  <FilesMatch "-[\\w-]{8}\\.(?:js|css|woff2)$">
    Header always set Cache-Control "${KEPT_FOR_EVER}"
  </FilesMatch>
</IfModule>
<IfModule mod_mime.c>
${Object.entries(KINDS)
  .map(([ending, kind]) => `  AddType ${kind} ${ending}`)
  .join('\n')}
</IfModule>
`;
}

/**
 * @typedef {object} BundledPackage
 * @property {string} name
 * @property {string} version
 * @property {string} license as its package.json says
 * @property {string} text its licence file; empty when it brings none
 */

/**
 * The package a bundled module belongs to, as a folder; undefined for the project's own modules.
 *
 * @param {string} module an absolute path, perhaps with a query
 * @returns {string | undefined}
 */
export function packageFolder(module) {
  const path = module.replaceAll('\\', '/').replace(/^\0/, '').replace(/\?.*$/, '');
  return /^.*\/node_modules\/(?:@[^/]+\/)?[^/]+(?=\/)/.exec(path)?.[0];
}

/**
 * @param {string} folder
 * @returns {BundledPackage}
 */
export function readPackage(folder) {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const file = readdirSync(folder).find((one) => /^(?:licen[cs]e|copying)(?:[.-].*)?$/i.test(one));
  const text = file === undefined ? '' : readFileSync(join(folder, file), 'utf8').trim();
  return { name, version, license: typeof license === 'string' ? license : 'not named', text };
}

/**
 * @param {string} ownLicence the project's own licence text
 * @param {readonly BundledPackage[]} packages
 * @param {readonly { readonly name: string, readonly text: string }[]} fonts
 * @returns {string}
 */
export function licencesText(ownLicence, packages, fonts) {
  const rule = '─'.repeat(80);
  const parts = packages
    .toSorted((a, b) => (a.name < b.name ? -1 : 1))
    .map(
      ({ name, version, license, text }) =>
        `${name} ${version} (${license})\n\n${text || `Licence: ${license}; its package brings no text of it.`}`,
    );
  return [
    'Dapple is free software; so is everything it is built from.',
    ownLicence.trim(),
    ...fonts.map(({ name, text }) => `${name}\n\n${text.trim()}`),
    ...parts,
  ].join(`\n\n${rule}\n\n`);
}

/**
 * Writes the files of a host and the licences with every build.
 *
 * @param {string} root the project's folder
 * @returns {import('vite').Plugin}
 */
export function siteFiles(root) {
  return {
    name: 'dapple-site-files',
    apply: 'build',
    generateBundle(_, bundle) {
      const modules = Object.values(bundle).flatMap((part) =>
        part.type === 'chunk' ? Object.keys(part.modules) : [],
      );
      const folders = new Set(modules.map(packageFolder).filter((folder) => folder !== undefined));
      for (const name of [...SERVICE_WORKER, ...ASKED_FOR_NUMBERS])
        folders.add(join(root, 'node_modules', name));
      const packages = [...folders]
        .filter((folder) => existsSync(join(folder, 'package.json')))
        .map(readPackage);
      const fonts = readdirSync(join(root, 'web/theme/fonts'))
        .filter((name) => name.endsWith('.txt'))
        .map((name) => ({
          name: `Font: ${name.replace(/\.txt$/, '')}`,
          text: readFileSync(join(root, 'web/theme/fonts', name), 'utf8'),
        }));
      const licence = readFileSync(join(root, 'LICENSE'), 'utf8');
      const files = {
        _headers: headersFile(),
        '.htaccess': htaccessFile(),
        'nginx-headers.conf': nginxSnippet(),
        'licences.txt': licencesText(licence, packages, fonts),
      };
      for (const [fileName, source] of Object.entries(files)) {
        this.emitFile({ type: 'asset', fileName, source });
      }
    },
  };
}
