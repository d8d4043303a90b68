// Pairs of operations on single numbers that are worked as one: `(a ∘ b) • c` and `c • (a ∘ b)` for
// the four basic operations, `a b + c d`, and some pairs times another number. A pair's number says which.

import { opNumber } from './program.ts';

/** Numbers of pairs start here. */
export const PAIRS = 32;
/** a b + c d. */
export const MUL_MUL_ADD = 64;

/**
 * Pairs whose result times d is worked at once, as in 'rating × (1 - loss × rise)': a b + c, a / b + c,
 * a b - c, c - a b, a / b - c, c - a / b. The first of them times d has the number after a b + c d.
 */
const TIMED = [36, 38, 44, 45, 46, 47] as const;

/** The number of a pair's result times d; undefined when that is two instructions. */
export function timed(pair: number): number | undefined {
  const at = (TIMED as readonly number[]).indexOf(pair);
  return at < 0 ? undefined : MUL_MUL_ADD + 1 + at;
}

/** The pair of which `op` is the result times d. */
export function timedPair(op: number): number | undefined {
  return TIMED[op - MUL_MUL_ADD - 1];
}

/** add, sub, mul, div: the first four. */
export function isBasic(op: number): boolean {
  return op >= opNumber.add && op <= opNumber.div;
}

/**
 * The number of `first` feeding `second`, on its left or its right. A sum or a product is the same
 * either way round.
 */
export function pairOf(first: number, second: number, onRight: boolean): number {
  const same = second === opNumber.add || second === opNumber.mul;
  return PAIRS + (second * 4 + first) * 2 + (onRight && !same ? 1 : 0);
}
