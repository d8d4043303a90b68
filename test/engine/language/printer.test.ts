// Printing and reading are each other's inverse: over the table of operators, and over random trees.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isPointUnit, isUnit } from '../../../engine/dimension/unit.ts';
import type { Node } from '../../../engine/language/ast.ts';
import { LEVEL, OPERATORS } from '../../../engine/language/operators.ts';
import { parseFormula } from '../../../engine/language/parser.ts';
import { printFormula } from '../../../engine/language/printer.ts';
import { isLiteral } from '../../../engine/language/walk.ts';
import { testCases } from '../../tools/test-cases.ts';
import { anyNode, meaning } from './tree.ts';

const units = { isUnit, isPointUnit };

function read(text: string): Node {
  const { node, diagnostics } = parseFormula(text, units);
  expect(diagnostics, text).toEqual([]);
  return node;
}

/** A formula that uses one operator, in the spelling given. */
function sample(shape: string, spelling: string): string {
  if (shape === 'prefix') return `${spelling} a`;
  if (shape === 'raised') return `a${spelling}`;
  if (shape === 'change') return `a ${spelling} b = 1`;
  return spelling === 'as' ? 'a as W' : `a ${spelling} b`;
}

describe('the table of operators', () => {
  const spellings = OPERATORS.flatMap((operator) =>
    operator.spellings.map((spelling) => ({ ...operator, spelling })),
  );

  test.each(spellings)('$spelling is printed as $symbol and reads back', (operator) => {
    const written = sample(operator.shape, operator.spelling);
    const printed = printFormula(read(written), units);
    expect(printed).toContain(operator.symbol);
    expect(meaning(read(printed))).toEqual(meaning(read(written)));
    expect(printFormula(read(printed), units)).toBe(printed);
  });

  const pairs = OPERATORS.filter(({ shape }) => shape === 'left' || shape === 'right')
    .filter(({ symbol }) => symbol !== 'as')
    .flatMap((one, _, all) => all.map((other) => ({ one, other })));

  test.each(pairs)('a $one.symbol b $other.symbol c groups by the levels', ({ one, other }) => {
    const node = read(`a ${one.symbol} b ${other.symbol} c`);
    const firstInner =
      one.level > other.level || (one.level === other.level && one.shape === 'left');
    expect(meaning(node)).toEqual(
      meaning(
        read(
          firstInner
            ? `(a ${one.symbol} b) ${other.symbol} c`
            : `a ${one.symbol} (b ${other.symbol} c)`,
        ),
      ),
    );
    expect(printFormula(node, units)).not.toContain('(');
  });

  test('every level that the grammar names is in the table, but for if and what binds tightest', () => {
    const used = new Set<number>(OPERATORS.map(({ level }) => level));
    const missing = Object.entries(LEVEL).filter(([, level]) => !used.has(level));
    expect(missing.map(([level]) => level)).toEqual(['if', 'postfix', 'primary']);
  });
});

test('any tree that is printed reads back as the same tree', () => {
  fc.assert(
    fc.property(anyNode, (node) => {
      const printed = printFormula(node, units);
      const { node: again, diagnostics } = parseFormula(printed, units);
      expect(diagnostics, printed).toEqual([]);
      expect(printFormula(again, units)).toBe(printed);
      expect(meaning(again), printed).toEqual(meaning(node));
    }),
    { numRuns: testCases(1000) },
  );
});

test('every parenthesis that is printed is needed', () => {
  fc.assert(
    fc.property(anyNode, (node) => {
      const printed = printFormula(node, units);
      for (const [open, close] of pairsOf(printed)) {
        const before = printed.charAt(open - 1);
        // A call's parentheses, and those that keep a double minus from becoming a note.
        if (/[\p{L}\p{Nd}')]/u.test(before) || before === '-') continue;
        // An amount with its unit keeps them beside a power, which would belong to the unit.
        const raised = before === '^' || /[\^²³]/u.test(printed.charAt(close + 1));
        if (raised && isLiteral(parseFormula(printed.slice(open + 1, close), units).node)) continue;
        // So does a square that is raised again: `x²³` reads as `(x²)³`, which is easier on the eye.
        if (raised && /[²³]/u.test(printed.charAt(close - 1))) continue;
        const without = `${printed.slice(0, open)} ${printed.slice(open + 1, close)} ${printed.slice(close + 1)}`;
        const again = parseFormula(without.trim(), units);
        const same =
          again.diagnostics.length === 0 &&
          JSON.stringify(meaning(again.node)) === JSON.stringify(meaning(node));
        expect(same, `${printed} → ${without}`).toBe(false);
      }
    }),
    { numRuns: testCases(300) },
  );
});

test('figures are printed as they were written', () => {
  for (const written of ['12.50 V', '.5 m', '1.2e3 W', '007', '-40.0 °F', '1e-7']) {
    expect(printFormula(read(written), units)).toBe(written);
  }
});

/** Places of matching parentheses outside texts. */
function pairsOf(text: string): readonly (readonly [number, number])[] {
  const open: number[] = [];
  const pairs: (readonly [number, number])[] = [];
  let quoted = false;
  [...text].forEach((character, at) => {
    if (/["“”]/u.test(character)) quoted = !quoted;
    if (quoted) return;
    if (character === '(') open.push(at);
    if (character === ')') pairs.push([open.pop() ?? 0, at]);
  });
  return pairs;
}
