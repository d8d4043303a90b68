// The formula of a cell that is to be shown in another unit. A plain number is converted where it is
// the same amount to the last bit; anything else keeps its words and gets an `as`.

import { findUnit, fromStored, toStored } from '../dimension/unit.ts';
import type { Node } from '../language/ast.ts';
import { parseFormula } from '../language/parser.ts';
import { unitContext } from './formula-parts.ts';

/** What `as` would not reach the whole of without parentheses. */
const LOOSER: ReadonlySet<Node['kind']> = new Set([
  'with',
  'if',
  'range',
  'tolerance',
  'compare',
  'as',
]);

/** The number in the other unit, when it is exactly the same amount. */
function converted(tree: Node, symbol: string): string | undefined {
  if (tree.kind !== 'number' || !tree.unit) return undefined;
  const [from, to] = [findUnit(tree.unit.text), findUnit(symbol)];
  if (!from || !to || from.scale || to.scale || from.isPoint !== to.isPoint) return undefined;
  const stored = toStored(tree.value, from);
  const figure = Number(fromStored(stored, to).toPrecision(15));
  const text = String(figure);
  if (toStored(figure, to) !== stored || text.includes('e')) return undefined;
  return `${text} ${symbol}`;
}

/** The formula for this unit; an empty one takes the `as` away. A formula that cannot be read stays. */
export function formulaInUnit(formula: string, symbol: string): string {
  const { node: tree, diagnostics } = parseFormula(formula, unitContext);
  if (diagnostics.length > 0) return formula;
  // "as times" is more than a unit: without it the amount is another one.
  const isShown = tree.kind === 'as' && findUnit(tree.unit.text)?.scale !== 'times';
  if (tree.kind === 'as' && !isShown && symbol === '') return formula;
  const inner = isShown ? tree.value : tree;
  const bare = formula.slice(inner.span.start, inner.span.end);
  if (symbol === '') return bare;
  const number = converted(inner, symbol);
  if (number !== undefined) return number;
  return LOOSER.has(inner.kind) ? `(${bare}) as ${symbol}` : `${bare} as ${symbol}`;
}
