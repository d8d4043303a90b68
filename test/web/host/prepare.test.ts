// When the packages must be installed: the lock file against what npm noted in node_modules.

import { expect, test } from 'vitest';
import { isInstalled } from '../../../web/host/prepare.mjs';

const locked = {
  '': { version: '0.1.0' },
  'node_modules/lit': { version: '3.3.3' },
  'node_modules/other-system': { version: '1.0.0', optional: true },
};

test('the locked packages are enough; an optional one may be missing', () => {
  expect(isInstalled(locked, { 'node_modules/lit': { version: '3.3.3' } })).toBe(true);
});

test.each([
  ['a package is missing', {}],
  ['a package has another version', { 'node_modules/lit': { version: '3.3.2' } }],
  [
    'an optional package has another version',
    { 'node_modules/lit': { version: '3.3.3' }, 'node_modules/other-system': { version: '0.9.0' } },
  ],
  [
    'a package is there that the lock no longer names',
    { 'node_modules/lit': { version: '3.3.3' }, 'node_modules/gone': { version: '1.0.0' } },
  ],
])('npm ci runs when %s', (_, installed) => {
  expect(isInstalled(locked, installed)).toBe(false);
});
