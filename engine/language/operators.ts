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

/** A sign operator as it may be spelled. */
export interface Spelling {
  readonly text: string;
  readonly symbol: OperatorSymbol;
}

const SPELLINGS: readonly Spelling[] = OPERATORS.flatMap(({ symbol, spellings }) =>
  spellings.map((text) => ({ symbol, text })),
)
  .filter(({ text }) => !/^[a-z]/u.test(text))
  .sort((a, b) => b.text.length - a.text.length);
/** By their first character, the longest first. */
const BY_BEGINNING: ReadonlyMap<string, readonly Spelling[]> = new Map(
  SPELLINGS.map(({ text }) => [
    text.charAt(0),
    SPELLINGS.filter((one) => one.text.startsWith(text.charAt(0))),
  ]),
);

/** The sign operator spelled at a position. */
export function operatorAt(text: string, position: number): Spelling | undefined {
  const spellings = BY_BEGINNING.get(text.charAt(position));
  if (spellings === undefined) return undefined;
  for (const spelling of spellings)
    if (spelling.text.length === 1 || text.startsWith(spelling.text, position)) return spelling;
  return undefined;
}

/** The operators that stand between two operands, by symbol. */
export const INFIX: ReadonlyMap<string, Operator> = operatorsOf('left', 'chain', 'single', 'span');

/** The operators of a shape, by symbol. */
export function operatorsOf(...shapes: readonly OperatorShape[]): ReadonlyMap<string, Operator> {
  return new Map(
    OPERATORS.filter(({ shape }) => shapes.includes(shape)).map((one) => [one.symbol, one]),
  );
}
