// The files for hosts say what the server of this project says, and every bundled package is named
// with its licence.

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { projectRoot } from '../../../web/host/prepare.mjs';
import { securityHeaders } from '../../../web/host/security-headers.mjs';
import {
  headersFile,
  htaccessFile,
  licencesText,
  nginxSnippet,
  packageFolder,
  readPackage,
} from '../../../web/host/write-site-files.mjs';

describe.each([
  ['_headers', headersFile(), (name: string, value: string) => `  ${name}: ${value}\n`],
  [
    '.htaccess',
    htaccessFile(),
    (name: string, value: string) => `  Header always set ${name} "${value}"\n`,
  ],
  [
    'nginx',
    nginxSnippet(),
    (name: string, value: string) => `  add_header ${name} "${value}" always;\n`,
  ],
])('%s', (_, text, line) => {
  test.each(Object.entries(securityHeaders))('has %s', (name, value) => {
    expect(value).not.toMatch(/["\n$]/);
    expect(text).toContain(line(name, value));
  });
  test('keeps what carries a hash in its name for ever, and nothing else', () => {
    expect(text.match(/max-age=31536000, immutable/g)).toHaveLength(1);
    expect(text).toContain('no-cache');
  });
});

test('no two paths of _headers that overlap name the same header', () => {
  const blocks = headersFile().split(/^(?=\/)/m);
  const [everywhere = '', ...others] = blocks;
  expect(everywhere).toMatch(/^\/\*\n/);
  const names = [...everywhere.matchAll(/^ {2}([\w-]+):/gm)].map(([, name]) => name);
  expect(names).toEqual(Object.keys(securityHeaders));
  for (const block of others) for (const name of names) expect(block).not.toContain(`${name}:`);
});

test.each([
  ['/home/x/node_modules/lit/index.js', '/home/x/node_modules/lit'],
  [
    '/home/x/node_modules/@codemirror/view/dist/index.js?v=1',
    '/home/x/node_modules/@codemirror/view',
  ],
  ['/home/x/node_modules/a/node_modules/@b/c/d.js', '/home/x/node_modules/a/node_modules/@b/c'],
  ['C:\\x\\node_modules\\lit\\index.js', 'C:/x/node_modules/lit'],
  ['/home/x/web/app.ts', undefined],
  ['\0virtual:thing', undefined],
])('%s belongs to %s', (module, folder) => {
  expect(packageFolder(module)).toBe(folder);
});

test('the licences name each package that the page is built from, with its text', () => {
  const { dependencies } = JSON.parse(readFileSync(`${projectRoot}package.json`, 'utf8')) as {
    readonly dependencies: Readonly<Record<string, string>>;
  };
  const packages = Object.keys(dependencies).map((name) =>
    readPackage(`${projectRoot}node_modules/${name}`),
  );
  const text = licencesText('MIT License', packages, [{ name: 'Font: x', text: 'OFL' }]);
  for (const [name, version] of Object.entries(dependencies)) {
    // Exact versions: what was tested is what is built.
    expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    expect(text).toContain(`${name} ${version} (`);
  }
  expect(packages.map(({ license }) => license)).not.toContain('not named');
  for (const { license } of packages)
    expect(['MIT', 'BSD-3-Clause', 'Apache-2.0', 'ISC']).toContain(license);
});
