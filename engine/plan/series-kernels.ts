// Arithmetic on whole series, four places a turn: values are read before any is written, and the few
// places left over at the end are worked one by one. A number that stands at every place of the other
// operand is handed in as itself.

import { apply } from './apply.ts';
import { opNumber } from './program.ts';

const O = opNumber;

/** Series with series; an operation of one operand finds it twice. */
export function rowOfRows(
  op: number,
  d: Float64Array,
  x: Float64Array,
  y: Float64Array,
  n: number,
): void {
  let i = 0;
  switch (op) {
    case O.add:
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
      break;
    case O.sub:
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
      break;
    case O.mul:
    case O.and:
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
      break;
    case O.div:
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
      break;
    case O.min:
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
      break;
    case O.max:
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
      break;
    case O.lt:
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
      break;
    case O.gt:
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
      break;
    case O.neg:
      for (; i < n; i++) d[i] = -(x[i] as number);
      return;
    case O.not:
      for (; i < n; i++) d[i] = 1 - (x[i] as number);
      return;
    case O.abs:
      for (; i < n; i++) d[i] = Math.abs(x[i] as number);
      return;
    case O.sqrt:
      for (; i < n; i++) d[i] = Math.sqrt(x[i] as number);
      return;
    case O.copy:
      d.set(x.length === n ? x : x.subarray(0, n));
      return;
    default:
      break;
  }
  for (; i < n; i++) d[i] = apply(op, x[i] as number, y[i] as number);
}

/** Series with one number. */
export function rowAndNumber(
  op: number,
  d: Float64Array,
  x: Float64Array,
  q: number,
  n: number,
): void {
  let i = 0;
  switch (op) {
    case O.add:
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
      break;
    case O.sub:
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
      break;
    case O.mul:
    case O.and:
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
      break;
    case O.div:
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
      break;
    case O.min:
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
      break;
    case O.max:
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
      break;
    case O.lt:
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
      break;
    case O.gt:
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
      break;
    default:
      break;
  }
  for (; i < n; i++) d[i] = apply(op, x[i] as number, q);
}

/** One number with a series. */
export function numberAndRow(
  op: number,
  d: Float64Array,
  p: number,
  y: Float64Array,
  n: number,
): void {
  let i = 0;
  switch (op) {
    case O.add:
      for (; i + 3 < n; i += 4) {
        const q0 = y[i] as number;
        const q1 = y[i + 1] as number;
        const q2 = y[i + 2] as number;
        const q3 = y[i + 3] as number;
        d[i] = p + q0;
        d[i + 1] = p + q1;
        d[i + 2] = p + q2;
        d[i + 3] = p + q3;
      }
      break;
    case O.sub:
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
      break;
    case O.mul:
    case O.and:
      for (; i + 3 < n; i += 4) {
        const q0 = y[i] as number;
        const q1 = y[i + 1] as number;
        const q2 = y[i + 2] as number;
        const q3 = y[i + 3] as number;
        d[i] = p * q0;
        d[i + 1] = p * q1;
        d[i + 2] = p * q2;
        d[i + 3] = p * q3;
      }
      break;
    case O.div:
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
      break;
    case O.min:
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
      break;
    case O.max:
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
      break;
    default:
      break;
  }
  for (; i < n; i++) d[i] = apply(op, p, y[i] as number);
}
