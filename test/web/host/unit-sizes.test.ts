// The sizes that the build writes down are those that mathjs gives where it is asked itself, to the
// bit, and every one that the table asks for is among them.

import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { findUnit } from '../../../engine/dimension/unit.ts';
import { unitRows } from '../../../engine/dimension/unit-table.ts';
import { projectRoot } from '../../../web/host/prepare.mjs';
import { sizesAsked, standIn } from '../../../web/host/unit-sizes.mjs';

const sizes = await sizesAsked(
  readFileSync(`${projectRoot}engine/dimension/unit-table.ts`, 'utf8'),
);
const asked = unitRows.flatMap(({ symbol, factor }) =>
  typeof factor === 'number' ? [] : [{ symbol, key: `${factor.mathjs} in ${factor.base}` }],
);

test.each(asked)('$symbol is as large in the build', ({ symbol, key }) => {
  expect(sizes[key]).toBeGreaterThan(0);
  expect(sizes[key]).toBe(findUnit(symbol)?.factor);
});

test('the table asks for what is written down and for nothing else', () => {
  expect(Object.keys(sizes).toSorted()).toEqual(asked.map(({ key }) => key).toSorted());
});

test('a size that was not asked for is refused, not guessed', async () => {
  const made: unknown = await import(`data:text/javascript,${encodeURIComponent(standIn(sizes))}`);
  const { createUnitClass } = made as {
    createUnitClass: () => new (value: number, name: string) => { toNumber(base: string): number };
  };
  const Unit = createUnitClass();
  // 1959 international yard: an inch is 25.4 mm exactly.
  expect(new Unit(1, 'inch').toNumber('m')).toBe(0.0254);
  expect(() => new Unit(1, 'furlong').toNumber('m')).toThrow('furlong is left out');
});
