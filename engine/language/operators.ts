// The one table of operators. The lexer takes their spellings from it, the parser their order and
// shape, the printer and the formatter their symbol and spacing. To add one, add a row.

import type { BinaryOperator, ChainOperator, UnaryOperator } from './ast.ts';

/** How tightly each form binds, loosest first. */
export const LEVEL = {
  with: 0,
  if: 1,
  or: 2,
  and: 3,
  not: 4,
  compare: 5,
  range: 6,
  as: 7,
  sum: 8,
  product: 9,
  minus: 10,
  power: 11,
  postfix: 12,
  primary: 13,
} as const;

export type OperatorSymbol =
  | BinaryOperator
  | ChainOperator
  | UnaryOperator
  | '..'
  | '±'
  | '²'
  | '³'
  | 'as'
  | 'with';

/** left: a - b - c is (a - b) - c. single: no second one beside it. raised: stands after its operand. */
export type OperatorShape =
  | 'left'
  | 'right'
  | 'prefix'
  | 'chain'
  | 'single'
  | 'span'
  | 'raised'
  | 'change';

export interface Operator {
  readonly symbol: OperatorSymbol;
  /** All spellings, the symbol first. */
  readonly spellings: readonly string[];
  readonly level: number;
  readonly shape: OperatorShape;
  /** Whether it is written with a space on each side. */
  readonly spaced: boolean;
}

function row(
  level: number,
  shape: OperatorShape,
  spaced: boolean,
  symbol: OperatorSymbol,
  ...others: readonly string[]
): Operator {
  return { symbol, spellings: [symbol, ...others], level, shape, spaced };
}

export const OPERATORS: readonly Operator[] = [
  row(LEVEL.with, 'change', true, 'with'),
  row(LEVEL.or, 'left', true, 'or'),
  row(LEVEL.and, 'left', true, 'and'),
  row(LEVEL.not, 'prefix', true, 'not'),
  row(LEVEL.compare, 'single', true, 'within'),
  row(LEVEL.compare, 'single', true, '≠', '!='),
  row(LEVEL.compare, 'chain', true, '≤', '<='),
  row(LEVEL.compare, 'chain', true, '≥', '>='),
  row(LEVEL.compare, 'chain', true, '<'),
  row(LEVEL.compare, 'chain', true, '>'),
  row(LEVEL.compare, 'chain', true, '='),
  row(LEVEL.range, 'span', false, '..', '…'),
  row(LEVEL.range, 'single', true, '±', '+/-'),
  row(LEVEL.as, 'left', true, 'as'),
  row(LEVEL.sum, 'left', true, '+'),
  row(LEVEL.sum, 'left', true, '-', '−'),
  row(LEVEL.product, 'left', true, '×', '*', '·', '⋅'),
  row(LEVEL.product, 'left', true, '/', '÷'),
  row(LEVEL.minus, 'prefix', false, '-', '−'),
  row(LEVEL.power, 'right', false, '^'),
  row(LEVEL.power, 'raised', false, '²'),
  row(LEVEL.power, 'raised', false, '³'),
];

const BY_SPELLING: ReadonlyMap<string, OperatorSymbol> = new Map(
  OPERATORS.flatMap(({ symbol, spellings }) =>
    spellings.filter((spelling) => !/^[a-z]/u.test(spelling)).map((spelling) => [spelling, symbol]),
  ),
);
const BEGINNINGS: ReadonlySet<string> = new Set(
  [...BY_SPELLING.keys()].map((spelling) => spelling.charAt(0)),
);
/** Second characters of longer spellings. */
const SECONDS: ReadonlySet<string> = new Set(
  [...BY_SPELLING.keys()].flatMap((spelling) => (spelling.length > 1 ? [spelling.charAt(1)] : [])),
);
const LONGEST = Math.max(...[...BY_SPELLING.keys()].map((spelling) => spelling.length));

/** The sign operator spelled at a position: its symbol and how many characters it takes. */
export function operatorAt(
  text: string,
  position: number,
): { readonly symbol: OperatorSymbol; readonly length: number } | undefined {
  const first = text.charAt(position);
  if (!BEGINNINGS.has(first)) return undefined;
  if (!SECONDS.has(text.charAt(position + 1))) {
    const symbol = BY_SPELLING.get(first);
    return symbol === undefined ? undefined : { symbol, length: 1 };
  }
  for (let length = LONGEST; length > 0; length -= 1) {
    const symbol = BY_SPELLING.get(text.slice(position, position + length));
    if (symbol !== undefined && position + length <= text.length) return { symbol, length };
  }
  return undefined;
}

/** The operators of a shape, by symbol. */
export function operatorsOf(...shapes: readonly OperatorShape[]): ReadonlyMap<string, Operator> {
  return new Map(
    OPERATORS.filter(({ shape }) => shapes.includes(shape)).map((one) => [one.symbol, one]),
  );
}
