// The indexed loops: one instruction on scalars or on whole series. An operand is an array and a
// stride, 0 for a scalar, so that one loop serves all four mixtures. Absent entries are NaN and
// stay NaN through every operation, comparisons included.

import { apply, apply1, apply2, equal } from './apply.ts';
import { joinedKernels } from './joined-kernels.ts';
import { FIRST_JOIN } from './joins.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, opNumber, type Step, WIDTH } from './program.ts';
import { numberAndRow, rowAndNumber, rowOfRows } from './series-kernels.ts';

export { equal } from './apply.ts';

const O = opNumber;

/** Runs a stretch of instructions on a memory. */
export function execute(
  code: Int32Array,
  range: CodeRange,
  m: Memory,
  steps: readonly Step[],
  shapes: readonly (readonly number[])[],
): void {
  const s = m.scalars;
  for (let pc = range.from; pc < range.to; pc += WIDTH) {
    const op = code[pc]!;
    const dst = code[pc + 1]!;
    const a = code[pc + 2]!;
    const b = code[pc + 3]!;
    if (op === O.step) {
      steps[a]!.run(m);
      continue;
    }
    if (dst >= 0) {
      switch (op) {
        case O.add:
          s[dst] = s[a]! + s[b]!;
          break;
        case O.sub:
          s[dst] = s[a]! - s[b]!;
          break;
        case O.mul:
          s[dst] = s[a]! * s[b]!;
          break;
        case O.div:
          s[dst] = s[a]! / s[b]!;
          break;
        case O.copy:
          s[dst] = s[a]!;
          break;
        case O.here:
          s[dst] = m.rows[~a]![m.index]!;
          break;
        case O.before:
          s[dst] = m.index === 0 ? s[b]! : m.rows[~a]![m.index - 1]!;
          break;
        case O.neg:
        case O.not:
        case O.abs:
        case O.sqrt:
          ofOne(op, s, dst, a);
          break;
        case O.select: {
          const condition = s[a]!;
          s[dst] =
            condition !== condition ? Number.NaN : condition !== 0 ? s[b]! : s[code[pc + 4]!]!;
          break;
        }
        default:
          ofTwo(op, s, dst, a, b);
      }
      continue;
    }
    if (op === O.select) {
      // The shape of a selection stands in the instruction after it.
      pc += WIDTH;
      selectRow(m, dst, a, b, code[pc - 1]!, workedLength(m, shapes[code[pc + 4]!]!));
      continue;
    }
    if (op >= FIRST_JOIN) {
      const z = code[pc + 4]!;
      // The numbers of a join and its shape stand in the instruction after it.
      pc += WIDTH;
      const n = workedLength(m, shapes[code[pc + 4]!]!);
      const d = m.own(~dst, n);
      const { rows } = m;
      const kernel = joinedKernels[op - FIRST_JOIN]!;
      kernel(d, rows[~a]!, rows[~b]!, rows[~z]!, s, code[pc + 1]!, code[pc + 2]!, code[pc + 3]!, n);
      continue;
    }
    row(op, m, dst, a, b, workedLength(m, shapes[code[pc + 4]!]!));
  }
}

// A fraction handed to a function that is not taken in where it is called is made into an object first.
// What circles do at every step is therefore worked on the array itself.

function ofOne(op: number, s: Float64Array, dst: number, a: number): void {
  const x = s[a]!;
  if (op === O.neg) s[dst] = -x;
  else if (op === O.not) s[dst] = 1 - x;
  else s[dst] = apply1(op, x);
}

function ofTwo(op: number, s: Float64Array, dst: number, a: number, b: number): void {
  const x = s[a]!;
  const y = s[b]!;
  if (op === O.and) s[dst] = x * y;
  else if (op === O.or) s[dst] = x + y - x * y;
  else if (op === O.min) s[dst] = x < y || x !== x ? x : y;
  else if (op === O.max) s[dst] = x > y || x !== x ? x : y;
  else if (op < O.lt || op > O.gt) ofTwoRare(op, s, dst, a, b);
  else if (x !== x || y !== y) s[dst] = Number.NaN;
  else if (op === O.lt) s[dst] = x < y ? 1 : 0;
  else if (op === O.gt) s[dst] = x > y ? 1 : 0;
  else if (equal(x, y)) s[dst] = 1;
  else s[dst] = (op === O.le && x < y) || (op === O.ge && x > y) ? 1 : 0;
}

function ofTwoRare(op: number, s: Float64Array, dst: number, a: number, b: number): void {
  s[dst] = apply2(op, s[a]!, s[b]!);
}

/** Places along these axes together. */
export function lengthOf(m: Memory, axes: readonly number[]): number {
  let n = 1;
  for (let k = 0; k < axes.length; k++) n *= m.axes[axes[k]!]!.length;
  return n;
}

/**
 * The same for what is at work: one when something has failed on the way, for then there is no value.
 * Two axes of steps may have been refused together, with more places than there is room for.
 */
export function workedLength(m: Memory, axes: readonly number[]): number {
  return m.problem === '' ? lengthOf(m, axes) : 1;
}

function selectRow(
  m: Memory,
  dst: Operand,
  condition: Operand,
  a: Operand,
  b: Operand,
  n: number,
): void {
  const c = m.array(condition);
  const x = m.array(a);
  const y = m.array(b);
  const out = m.own(~dst, n);
  if (condition < 0 && a >= 0 && b >= 0) {
    const p = x[a]!;
    const r = y[b]!;
    for (let i = 0; i < n; i++) {
      const q = c[i]!;
      out[i] = q !== q ? Number.NaN : q !== 0 ? p : r;
    }
    return;
  }
  const [cs, xs, ys] = [condition >= 0 ? 0 : 1, a >= 0 ? 0 : 1, b >= 0 ? 0 : 1];
  const [c0, x0, y0] = [condition >= 0 ? condition : 0, a >= 0 ? a : 0, b >= 0 ? b : 0];
  for (let i = 0; i < n; i++) {
    const q = c[c0 + i * cs]!;
    out[i] = q !== q ? Number.NaN : q !== 0 ? x[x0 + i * xs]! : y[y0 + i * ys]!;
  }
}

function row(op: number, m: Memory, dst: Operand, a: Operand, b: Operand, n: number): void {
  const x = m.array(a);
  const y = m.array(b);
  const d = m.own(~dst, n);
  if (a < 0 && b < 0 && x.length >= n && y.length >= n) rowOfRows[op]!(d, x, y, n);
  else if (a < 0 && b >= 0 && x.length >= n) rowAndNumber[op]!(d, x, y, b, n);
  else if (a >= 0 && b < 0 && y.length >= n) numberAndRow[op]!(d, y, x, a, n);
  else for (let i = 0; i < n; i++) d[i] = apply(op, x[a >= 0 ? a : i]!, y[b >= 0 ? b : i]!);
}

/** First place of an operand's `n` numbers that is no finite number, −1 if all are. */
export function firstUnfit(m: Memory, operand: Operand, optional: boolean): number {
  if (operand >= 0) {
    const v = m.scalars[operand]!;
    return v - v === 0 || (optional && v !== v) ? -1 : 0;
  }
  const array = m.rows[~operand]!;
  if (!optional && allFinite(array)) return -1;
  for (let i = 0; i < array.length; i++) {
    const v = array[i]!;
    if (v - v !== 0 && !(optional && v !== v)) return i;
  }
  return -1;
}

/**
 * Whether all are finite. A sum is finite only if all it is made of are; one that overflows although
 * they are is looked at again, place by place.
 */
export function allFinite(array: Float64Array): boolean {
  const n = array.length;
  let p = 0;
  let q = 0;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    p += array[i]! + array[i + 1]!;
    q += array[i + 2]! + array[i + 3]!;
  }
  for (; i < n; i++) p += array[i]!;
  const sum = p + q;
  if (sum - sum === 0) return true;
  for (i = 0; i < n; i++) {
    const v = array[i]!;
    if (v - v !== 0) return false;
  }
  return true;
}
