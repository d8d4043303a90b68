// The formatter writes symbols and spaces and changes nothing of what a formula means.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isPointUnit, isUnit } from '../../../engine/dimension/unit.ts';
import { formatFormula } from '../../../engine/language/formatter.ts';
import { parseFormula } from '../../../engine/language/parser.ts';
import { printFormula } from '../../../engine/language/printer.ts';
import { testCases } from '../../tools/test-cases.ts';
import { anyNode, meaning } from './tree.ts';

const units = { isUnit, isPointUnit };

describe('the formatter', () => {
  const changes: readonly (readonly [string, string])[] = [
    ['400 W/panel voltage', '400 W / panel voltage'],
    ['a*b', 'a × b'],
    ['a <= b', 'a ≤ b'],
    ['320 W +/- 5 %', '320 W ± 5 %'],
    ['20 degC + 5 K', '20 °C + 5 K'],
    ['5 ohm × pi', '5 Ω × π'],
    ['t.pi*pi', 't.pi × π'],
    ['1000 W/m2', '1000 W/m²'],
    ['400 W/h', '400 W/h'],
    ['-x - -4', '-x - -4'],
    ['a  +\n    b', 'a  +\n    b'],
    ['a *', 'a *'],
    ['deg × 2', 'deg × 2'],
  ];
  test.each(changes)('%j becomes %j', (before, after) => {
    expect(formatFormula(before, units)).toBe(after);
  });

  test('has nothing to do twice, and keeps the meaning', () => {
    fc.assert(
      fc.property(anyNode, (node) => {
        const printed = printFormula(node, units).replaceAll(' × ', '*').replaceAll(' / ', '/');
        const before = parseFormula(printed, units);
        fc.pre(before.diagnostics.length === 0);
        const once = formatFormula(printed, units);
        expect(formatFormula(once, units)).toBe(once);
        const after = parseFormula(once, units);
        const inSymbols = (tree: unknown): string => JSON.stringify(tree).replaceAll('mm2', 'mm²');
        expect(inSymbols(meaning(after.node))).toBe(inSymbols(meaning(before.node)));
      }),
      { numRuns: testCases(300) },
    );
  });
});
