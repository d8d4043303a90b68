// Arithmetic on whole series, four places a turn: values are read before any is written, and the few
// places left over at the end are worked one by one. Every operation is a function of its own: in one
// function of many loops each of them is slower. A number that stands at every place of the other
// operand is given by its place among the scalars, so that it need not be put in a box to be handed on.

import { apply } from './apply.ts';
import type { Operand } from './memory.ts';
import { OPS, type Op, opNumber } from './program.ts';

/** Series with series; an operation of one operand finds it twice. */
type OfRows = (d: Float64Array, x: Float64Array, y: Float64Array, n: number) => void;
/** Series `x` and the number at `at` among the scalars. */
type OfRowAndNumber = (
  d: Float64Array,
  x: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
) => void;

function addRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = p0 + q0;
    d[i + 1] = p1 + q1;
    d[i + 2] = p2 + q2;
    d[i + 3] = p3 + q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = p + q;
  }
}

function subRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = p0 - q0;
    d[i + 1] = p1 - q1;
    d[i + 2] = p2 - q2;
    d[i + 3] = p3 - q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = p - q;
  }
}

function mulRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = p0 * q0;
    d[i + 1] = p1 * q1;
    d[i + 2] = p2 * q2;
    d[i + 3] = p3 * q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = p * q;
  }
}

function divRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = p0 / q0;
    d[i + 1] = p1 / q1;
    d[i + 2] = p2 / q2;
    d[i + 3] = p3 / q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = p / q;
  }
}

function minRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = p0 < q0 || Number.isNaN(p0) ? p0 : q0;
    d[i + 1] = p1 < q1 || Number.isNaN(p1) ? p1 : q1;
    d[i + 2] = p2 < q2 || Number.isNaN(p2) ? p2 : q2;
    d[i + 3] = p3 < q3 || Number.isNaN(p3) ? p3 : q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = p < q || Number.isNaN(p) ? p : q;
  }
}

function maxRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = p0 > q0 || Number.isNaN(p0) ? p0 : q0;
    d[i + 1] = p1 > q1 || Number.isNaN(p1) ? p1 : q1;
    d[i + 2] = p2 > q2 || Number.isNaN(p2) ? p2 : q2;
    d[i + 3] = p3 > q3 || Number.isNaN(p3) ? p3 : q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = p > q || Number.isNaN(p) ? p : q;
  }
}

function ltRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = Number.isNaN(p0) || Number.isNaN(q0) ? Number.NaN : p0 < q0 ? 1 : 0;
    d[i + 1] = Number.isNaN(p1) || Number.isNaN(q1) ? Number.NaN : p1 < q1 ? 1 : 0;
    d[i + 2] = Number.isNaN(p2) || Number.isNaN(q2) ? Number.NaN : p2 < q2 ? 1 : 0;
    d[i + 3] = Number.isNaN(p3) || Number.isNaN(q3) ? Number.NaN : p3 < q3 ? 1 : 0;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = Number.isNaN(p) || Number.isNaN(q) ? Number.NaN : p < q ? 1 : 0;
  }
}

function gtRows(d: Float64Array, x: Float64Array, y: Float64Array, n: number): void {
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    d[i] = Number.isNaN(p0) || Number.isNaN(q0) ? Number.NaN : p0 > q0 ? 1 : 0;
    d[i + 1] = Number.isNaN(p1) || Number.isNaN(q1) ? Number.NaN : p1 > q1 ? 1 : 0;
    d[i + 2] = Number.isNaN(p2) || Number.isNaN(q2) ? Number.NaN : p2 > q2 ? 1 : 0;
    d[i + 3] = Number.isNaN(p3) || Number.isNaN(q3) ? Number.NaN : p3 > q3 ? 1 : 0;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = Number.isNaN(p) || Number.isNaN(q) ? Number.NaN : p > q ? 1 : 0;
  }
}

const ROWS: ReadonlyMap<Op, OfRows> = new Map<Op, OfRows>([
  ['add', addRows],
  ['sub', subRows],
  ['mul', mulRows],
  ['div', divRows],
  ['min', minRows],
  ['max', maxRows],
  ['lt', ltRows],
  ['gt', gtRows],
  ['and', mulRows],
  [
    'neg',
    (d, x, _, n) => {
      for (let i = 0; i < n; i++) d[i] = -(x[i] as number);
    },
  ],
  [
    'not',
    (d, x, _, n) => {
      for (let i = 0; i < n; i++) d[i] = 1 - (x[i] as number);
    },
  ],
  [
    'abs',
    (d, x, _, n) => {
      for (let i = 0; i < n; i++) d[i] = Math.abs(x[i] as number);
    },
  ],
  [
    'sqrt',
    (d, x, _, n) => {
      for (let i = 0; i < n; i++) d[i] = Math.sqrt(x[i] as number);
    },
  ],
  ['copy', (d, x, _, n) => d.set(x.length === n ? x : x.subarray(0, n))],
]);

function addNumber(
  d: Float64Array,
  x: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = p0 + q;
    d[i + 1] = p1 + q;
    d[i + 2] = p2 + q;
    d[i + 3] = p3 + q;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = p + q;
  }
}

function subNumber(
  d: Float64Array,
  x: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = p0 - q;
    d[i + 1] = p1 - q;
    d[i + 2] = p2 - q;
    d[i + 3] = p3 - q;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = p - q;
  }
}

function mulNumber(
  d: Float64Array,
  x: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = p0 * q;
    d[i + 1] = p1 * q;
    d[i + 2] = p2 * q;
    d[i + 3] = p3 * q;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = p * q;
  }
}

function divNumber(
  d: Float64Array,
  x: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = p0 / q;
    d[i + 1] = p1 / q;
    d[i + 2] = p2 / q;
    d[i + 3] = p3 / q;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = p / q;
  }
}

function minNumber(
  d: Float64Array,
  x: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = p0 < q || Number.isNaN(p0) ? p0 : q;
    d[i + 1] = p1 < q || Number.isNaN(p1) ? p1 : q;
    d[i + 2] = p2 < q || Number.isNaN(p2) ? p2 : q;
    d[i + 3] = p3 < q || Number.isNaN(p3) ? p3 : q;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = p < q || Number.isNaN(p) ? p : q;
  }
}

function maxNumber(
  d: Float64Array,
  x: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = p0 > q || Number.isNaN(p0) ? p0 : q;
    d[i + 1] = p1 > q || Number.isNaN(p1) ? p1 : q;
    d[i + 2] = p2 > q || Number.isNaN(p2) ? p2 : q;
    d[i + 3] = p3 > q || Number.isNaN(p3) ? p3 : q;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = p > q || Number.isNaN(p) ? p : q;
  }
}

function ltNumber(d: Float64Array, x: Float64Array, s: Float64Array, at: Operand, n: number): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = Number.isNaN(p0) || Number.isNaN(q) ? Number.NaN : p0 < q ? 1 : 0;
    d[i + 1] = Number.isNaN(p1) || Number.isNaN(q) ? Number.NaN : p1 < q ? 1 : 0;
    d[i + 2] = Number.isNaN(p2) || Number.isNaN(q) ? Number.NaN : p2 < q ? 1 : 0;
    d[i + 3] = Number.isNaN(p3) || Number.isNaN(q) ? Number.NaN : p3 < q ? 1 : 0;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = Number.isNaN(p) || Number.isNaN(q) ? Number.NaN : p < q ? 1 : 0;
  }
}

function gtNumber(d: Float64Array, x: Float64Array, s: Float64Array, at: Operand, n: number): void {
  const q = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = Number.isNaN(p0) || Number.isNaN(q) ? Number.NaN : p0 > q ? 1 : 0;
    d[i + 1] = Number.isNaN(p1) || Number.isNaN(q) ? Number.NaN : p1 > q ? 1 : 0;
    d[i + 2] = Number.isNaN(p2) || Number.isNaN(q) ? Number.NaN : p2 > q ? 1 : 0;
    d[i + 3] = Number.isNaN(p3) || Number.isNaN(q) ? Number.NaN : p3 > q ? 1 : 0;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = Number.isNaN(p) || Number.isNaN(q) ? Number.NaN : p > q ? 1 : 0;
  }
}

const ROW_AND_NUMBER: ReadonlyMap<Op, OfRowAndNumber> = new Map<Op, OfRowAndNumber>([
  ['add', addNumber],
  ['sub', subNumber],
  ['mul', mulNumber],
  ['div', divNumber],
  ['min', minNumber],
  ['max', maxNumber],
  ['lt', ltNumber],
  ['gt', gtNumber],
  ['and', mulNumber],
]);

function subFromNumber(
  d: Float64Array,
  y: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const p = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const q0 = y[i] as number;
    const q1 = y[i + 1] as number;
    const q2 = y[i + 2] as number;
    const q3 = y[i + 3] as number;
    d[i] = p - q0;
    d[i + 1] = p - q1;
    d[i + 2] = p - q2;
    d[i + 3] = p - q3;
  }
  for (; i < n; i++) {
    const q = y[i] as number;
    d[i] = p - q;
  }
}

function divFromNumber(
  d: Float64Array,
  y: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const p = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const q0 = y[i] as number;
    const q1 = y[i + 1] as number;
    const q2 = y[i + 2] as number;
    const q3 = y[i + 3] as number;
    d[i] = p / q0;
    d[i + 1] = p / q1;
    d[i + 2] = p / q2;
    d[i + 3] = p / q3;
  }
  for (; i < n; i++) {
    const q = y[i] as number;
    d[i] = p / q;
  }
}

function minFromNumber(
  d: Float64Array,
  y: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const p = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const q0 = y[i] as number;
    const q1 = y[i + 1] as number;
    const q2 = y[i + 2] as number;
    const q3 = y[i + 3] as number;
    d[i] = p < q0 || Number.isNaN(p) ? p : q0;
    d[i + 1] = p < q1 || Number.isNaN(p) ? p : q1;
    d[i + 2] = p < q2 || Number.isNaN(p) ? p : q2;
    d[i + 3] = p < q3 || Number.isNaN(p) ? p : q3;
  }
  for (; i < n; i++) {
    const q = y[i] as number;
    d[i] = p < q || Number.isNaN(p) ? p : q;
  }
}

function maxFromNumber(
  d: Float64Array,
  y: Float64Array,
  s: Float64Array,
  at: Operand,
  n: number,
): void {
  const p = s[at] as number;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const q0 = y[i] as number;
    const q1 = y[i + 1] as number;
    const q2 = y[i + 2] as number;
    const q3 = y[i + 3] as number;
    d[i] = p > q0 || Number.isNaN(p) ? p : q0;
    d[i + 1] = p > q1 || Number.isNaN(p) ? p : q1;
    d[i + 2] = p > q2 || Number.isNaN(p) ? p : q2;
    d[i + 3] = p > q3 || Number.isNaN(p) ? p : q3;
  }
  for (; i < n; i++) {
    const q = y[i] as number;
    d[i] = p > q || Number.isNaN(p) ? p : q;
  }
}

/** A sum or a product is the same either way round. */
const NUMBER_AND_ROW: ReadonlyMap<Op, OfRowAndNumber> = new Map<Op, OfRowAndNumber>([
  ['add', addNumber],
  ['mul', mulNumber],
  ['and', mulNumber],
  ['sub', subFromNumber],
  ['div', divFromNumber],
  ['min', minFromNumber],
  ['max', maxFromNumber],
]);

/** Any other operation, place by place. */
function others(op: number): OfRows {
  return (d, x, y, n) => {
    for (let i = 0; i < n; i++) d[i] = apply(op, x[i] as number, y[i] as number);
  };
}

function othersWithNumber(op: number): OfRowAndNumber {
  return (d, x, s, at, n) => {
    const q = s[at] as number;
    for (let i = 0; i < n; i++) d[i] = apply(op, x[i] as number, q);
  };
}

function othersFromNumber(op: number): OfRowAndNumber {
  return (d, y, s, at, n) => {
    const p = s[at] as number;
    for (let i = 0; i < n; i++) d[i] = apply(op, p, y[i] as number);
  };
}

/** By the number of the operation. */
export const rowOfRows: readonly OfRows[] = OPS.map((op) => ROWS.get(op) ?? others(opNumber[op]));
export const rowAndNumber: readonly OfRowAndNumber[] = OPS.map(
  (op) => ROW_AND_NUMBER.get(op) ?? othersWithNumber(opNumber[op]),
);
export const numberAndRow: readonly OfRowAndNumber[] = OPS.map(
  (op) => NUMBER_AND_ROW.get(op) ?? othersFromNumber(opNumber[op]),
);
