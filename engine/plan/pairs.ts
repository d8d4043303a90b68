// Pairs of operations on single numbers that are worked as one: `(a ∘ b) • c` and `c • (a ∘ b)` for
// the four basic operations, and `a b + c d`. A pair's number says which.

import { opNumber } from './program.ts';

/** Numbers of pairs start here. */
export const PAIRS = 32;
/** a b + c d. */
export const MUL_MUL_ADD = 64;

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
