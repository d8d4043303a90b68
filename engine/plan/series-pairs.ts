// Pairs of operations on whole series, worked in one pass: what the first gives is never written down.
// Four places a turn, as for single operations. A number that stands at every place is spread out over
// a row of its own first, which costs little beside the pass that is saved.

import type { Memory, Operand } from './memory.ts';
import { MUL_MUL_ADD } from './pairs.ts';

/** Rows for numbers that are spread out, one for each operand. */
const spread: Float64Array[] = [0, 1, 2, 3].map(() => new Float64Array(0));

function rowOf(m: Memory, operand: Operand, which: number, n: number): Float64Array {
  if (operand < 0) return m.array(operand);
  let row = spread[which] as Float64Array;
  if (row.length !== n) {
    row = new Float64Array(n);
    spread[which] = row;
  }
  return row.fill(m.scalars[operand] as number);
}

/** Pairs that series know; `c • (a ∘ b)` only for a difference. */
const KNOWN: ReadonlySet<number> = new Set([36, 44, 45, 52, 60, 54, 38, 32, 48, 50]);

export function hasSeriesPair(pair: number): boolean {
  return KNOWN.has(pair);
}

/** Works a pair, or a b + c d, on `n` places. */
export function rowPair(
  op: number,
  m: Memory,
  dst: Operand,
  operands: readonly [Operand, Operand, Operand, Operand],
  n: number,
): void {
  const a = rowOf(m, operands[0], 0, n);
  const b = rowOf(m, operands[1], 1, n);
  const c = rowOf(m, operands[2], 2, n);
  const out = m.own(~dst, n);
  switch (op) {
    case MUL_MUL_ADD: {
      const d = rowOf(m, operands[3], 3, n);
      mulMulAdd(out, a, b, c, d, n);
      return;
    }
    case 36:
      mulAdd(out, a, b, c, n);
      return;
    case 44:
      mulSub(out, a, b, c, n);
      return;
    case 45:
      mulUnderSub(out, a, b, c, n);
      return;
    case 52:
      mulMul(out, a, b, c, n);
      return;
    case 60:
      mulDiv(out, a, b, c, n);
      return;
    case 54:
      divMul(out, a, b, c, n);
      return;
    case 38:
      divAdd(out, a, b, c, n);
      return;
    case 32:
      addAdd(out, a, b, c, n);
      return;
    case 48:
      addMul(out, a, b, c, n);
      return;
    case 50:
      subMul(out, a, b, c, n);
      return;
    default:
      throw new RangeError(`pair ${op}`);
  }
}

function mulAdd(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) * (b[i] as number)) + (c[i] as number);
    const r1 = ((a[i + 1] as number) * (b[i + 1] as number)) + (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) * (b[i + 2] as number)) + (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) * (b[i + 3] as number)) + (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) * (b[i] as number)) + (c[i] as number);
}

function mulSub(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) * (b[i] as number)) - (c[i] as number);
    const r1 = ((a[i + 1] as number) * (b[i + 1] as number)) - (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) * (b[i + 2] as number)) - (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) * (b[i + 3] as number)) - (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) * (b[i] as number)) - (c[i] as number);
}

function mulUnderSub(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = (c[i] as number) - (a[i] as number) * (b[i] as number);
    const r1 = (c[i + 1] as number) - (a[i + 1] as number) * (b[i + 1] as number);
    const r2 = (c[i + 2] as number) - (a[i + 2] as number) * (b[i + 2] as number);
    const r3 = (c[i + 3] as number) - (a[i + 3] as number) * (b[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = (c[i] as number) - (a[i] as number) * (b[i] as number);
}

function mulMul(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) * (b[i] as number)) * (c[i] as number);
    const r1 = ((a[i + 1] as number) * (b[i + 1] as number)) * (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) * (b[i + 2] as number)) * (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) * (b[i + 3] as number)) * (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) * (b[i] as number)) * (c[i] as number);
}

function mulDiv(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) * (b[i] as number)) / (c[i] as number);
    const r1 = ((a[i + 1] as number) * (b[i + 1] as number)) / (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) * (b[i + 2] as number)) / (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) * (b[i + 3] as number)) / (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) * (b[i] as number)) / (c[i] as number);
}

function divMul(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) / (b[i] as number)) * (c[i] as number);
    const r1 = ((a[i + 1] as number) / (b[i + 1] as number)) * (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) / (b[i + 2] as number)) * (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) / (b[i + 3] as number)) * (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) / (b[i] as number)) * (c[i] as number);
}

function divAdd(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) / (b[i] as number)) + (c[i] as number);
    const r1 = ((a[i + 1] as number) / (b[i + 1] as number)) + (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) / (b[i + 2] as number)) + (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) / (b[i + 3] as number)) + (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) / (b[i] as number)) + (c[i] as number);
}

function addAdd(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) + (b[i] as number)) + (c[i] as number);
    const r1 = ((a[i + 1] as number) + (b[i + 1] as number)) + (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) + (b[i + 2] as number)) + (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) + (b[i + 3] as number)) + (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) + (b[i] as number)) + (c[i] as number);
}

function addMul(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) + (b[i] as number)) * (c[i] as number);
    const r1 = ((a[i + 1] as number) + (b[i + 1] as number)) * (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) + (b[i + 2] as number)) * (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) + (b[i + 3] as number)) * (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) + (b[i] as number)) * (c[i] as number);
}

function subMul(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = ((a[i] as number) - (b[i] as number)) * (c[i] as number);
    const r1 = ((a[i + 1] as number) - (b[i + 1] as number)) * (c[i + 1] as number);
    const r2 = ((a[i + 2] as number) - (b[i + 2] as number)) * (c[i + 2] as number);
    const r3 = ((a[i + 3] as number) - (b[i + 3] as number)) * (c[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = ((a[i] as number) - (b[i] as number)) * (c[i] as number);
}

function mulMulAdd(
  out: Float64Array,
  a: Float64Array,
  b: Float64Array,
  c: Float64Array,
  d: Float64Array,
  n: number,
): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const r0 = (a[i] as number) * (b[i] as number) + (c[i] as number) * (d[i] as number);
    const r1 = (a[i + 1] as number) * (b[i + 1] as number) + (c[i + 1] as number) * (d[i + 1] as number);
    const r2 = (a[i + 2] as number) * (b[i + 2] as number) + (c[i + 2] as number) * (d[i + 2] as number);
    const r3 = (a[i + 3] as number) * (b[i + 3] as number) + (c[i + 3] as number) * (d[i + 3] as number);
    out[i] = r0;
    out[i + 1] = r1;
    out[i + 2] = r2;
    out[i + 3] = r3;
  }
  for (; i < n; i++) out[i] = (a[i] as number) * (b[i] as number) + (c[i] as number) * (d[i] as number);
}
