// Of mathjs the engine asks a few sizes when its table of units is made: inches in metres, hours in
// seconds. In the build they are asked once for all, so that the page loads sixteen numbers and not the
// 14 KB that know every unit and how to compute with them. Everywhere else mathjs itself is asked.

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';

const STAND_IN = '\0unit-sizes';

/** As the table asks for one: `{ mathjs: 'inch', base: 'm' }`. */
const ASKED = /\{ mathjs: '([^']+)', base: '([^']+)' \}/gu;

/**
 * The sizes that a table of units asks mathjs for, by name and base.
 *
 * @param {string} table its text
 * @returns {Promise<Readonly<Record<string, number>>>}
 */
export async function sizesAsked(table) {
  // Whoever only reads the configuration, such as the tests, does not wait for all of mathjs.
  const { unit } = await import('mathjs');
  const asked = [...table.matchAll(ASKED)];
  return Object.fromEntries(
    asked.map(([, name = '', base = '']) => [`${name} in ${base}`, unit(1, name).toNumber(base)]),
  );
}

/**
 * What stands for mathjs: a class of units that knows these sizes and says so when asked for another.
 *
 * @param {Readonly<Record<string, number>>} sizes
 * @returns {string}
 */
export function standIn(sizes) {
  return `const SIZES = ${JSON.stringify(sizes)};
export const createUnitClass = () => class {
  constructor(_, name) { this.name = name; }
  toNumber(base) {
    const size = SIZES[this.name + ' in ' + base];
    if (size === undefined) throw new RangeError(this.name + ' is left out of this build');
    return size;
  }
};`;
}

/**
 * @param {string} projectRoot
 * @returns {import('vite').Plugin}
 */
export function unitSizes(projectRoot) {
  const table = resolve(projectRoot, 'engine/dimension/unit-table.ts');
  return {
    name: 'unit-sizes',
    apply: 'build',
    enforce: 'pre',
    resolveId: (source) => (source === 'mathjs' ? STAND_IN : null),
    load: async (id) =>
      id === STAND_IN ? standIn(await sizesAsked(readFileSync(table, 'utf8'))) : null,
  };
}
