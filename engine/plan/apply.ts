// The operations on single numbers. Absent entries are NaN and stay NaN through every operation,
// comparisons included.

import { opNumber } from './program.ts';

const O = opNumber;
const DAY = 86_400;

/** One place of an operation of two operands. */
export function apply2(op: number, x: number, y: number): number {
  switch (op) {
    case O.add:
      return x + y;
    case O.sub:
      return x - y;
    case O.mul:
      return x * y;
    case O.div:
      return x / y;
    case O.pow:
      return y === 3 ? x * x * x : x ** y;
    case O.min:
      return x < y || Number.isNaN(x) ? x : y;
    case O.max:
      return x > y || Number.isNaN(x) ? x : y;
    case O['clock add']:
      return wrap(x + y);
    case O['clock sub']:
      return wrap(x - y);
    case O.round:
      return roundTo(x, y);
    case O['round up']:
      return y * Math.ceil(x / y - 1e-9);
    case O['round down']:
      return y * Math.floor(x / y + 1e-9);
    case O.and:
      return x * y;
    case O.or:
      return x + y - x * y;
    default:
      if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN;
      switch (op) {
        case O.lt:
          return x < y ? 1 : 0;
        case O.le:
          return x <= y || equal(x, y) ? 1 : 0;
        case O.eq:
          return equal(x, y) ? 1 : 0;
        case O.ge:
          return x >= y || equal(x, y) ? 1 : 0;
        case O.gt:
          return x > y ? 1 : 0;
        case O.ne:
          return equal(x, y) ? 0 : 1;
        case O.same:
          return x === y ? 1 : 0;
        case O.differs:
          return x === y ? 0 : 1;
        default:
          throw new RangeError(`operation ${op}`);
      }
  }
}

/** Equal within 1e-9 of the larger: what is shown as equal counts as equal. */
export function equal(x: number, y: number): boolean {
  if (x === y) return true;
  const ax = x < 0 ? -x : x;
  const ay = y < 0 ? -y : y;
  const d = x > y ? x - y : y - x;
  return d <= 1e-9 * Math.max(ax, ay);
}

function wrap(seconds: number): number {
  return seconds - DAY * Math.floor(seconds / DAY);
}

/** Half away from zero, so that 2.5 reads 3 and −2.5 reads −3. */
function roundTo(x: number, to: number): number {
  const q = x / to;
  return to * Math.sign(q) * Math.floor(Math.abs(q) + 0.5 + 1e-12);
}

/** One place of an operation of one operand. */
export function apply1(op: number, x: number): number {
  switch (op) {
    case O.neg:
      return -x;
    case O.not:
      return 1 - x;
    case O.abs:
      return Math.abs(x);
    case O.sqrt:
      return Math.sqrt(x);
    default:
      return x;
  }
}

/** One place of any operation; one of a single operand reads the first. */
export function apply(op: number, x: number, y: number): number {
  switch (op) {
    case O.neg:
    case O.not:
    case O.abs:
    case O.sqrt:
    case O.copy:
      return apply1(op, x);
    default:
      return apply2(op, x, y);
  }
}
