// Several operations on series in one pass. Reading and writing numbers costs more than working them,
// so that `a x + b y` takes hardly longer than `x y` alone. Each gives the bits of its operations
// worked one after the other: a number times 1, or plus −0, is that number.

import { JOINS, type Join, numberAt } from './joins.ts';

/** Destination, up to three series, the scalars, and codes of up to three numbers. */
type Kernel = (
  d: Float64Array,
  x: Float64Array,
  y: Float64Array,
  z: Float64Array,
  s: Float64Array,
  atA: number,
  atB: number,
  atC: number,
  n: number,
) => void;

/** a x + b y */
const weighedSum: Kernel = (d, x, y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
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
    d[i] = a * p0 + b * q0;
    d[i + 1] = a * p1 + b * q1;
    d[i + 2] = a * p2 + b * q2;
    d[i + 3] = a * p3 + b * q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = a * p + b * q;
  }
};

/** (a x + b y) c */
const sumTimes: Kernel = (d, x, y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
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
    d[i] = (a * p0 + b * q0) * c;
    d[i + 1] = (a * p1 + b * q1) * c;
    d[i + 2] = (a * p2 + b * q2) * c;
    d[i + 3] = (a * p3 + b * q3) * c;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = (a * p + b * q) * c;
  }
};

/** a x + b */
const line: Kernel = (d, x, _y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = a * p0 + b;
    d[i + 1] = a * p1 + b;
    d[i + 2] = a * p2 + b;
    d[i + 3] = a * p3 + b;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = a * p + b;
  }
};

/** (a x + b) c */
const lineTimes: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = (a * p0 + b) * c;
    d[i + 1] = (a * p1 + b) * c;
    d[i + 2] = (a * p2 + b) * c;
    d[i + 3] = (a * p3 + b) * c;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = (a * p + b) * c;
  }
};

/** (a x + b) / c */
const lineOver: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = (a * p0 + b) / c;
    d[i + 1] = (a * p1 + b) / c;
    d[i + 2] = (a * p2 + b) / c;
    d[i + 3] = (a * p3 + b) / c;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = (a * p + b) / c;
  }
};

/** (a x + b) y */
const lineTimesRow: Kernel = (d, x, y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
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
    d[i] = (a * p0 + b) * q0;
    d[i + 1] = (a * p1 + b) * q1;
    d[i + 2] = (a * p2 + b) * q2;
    d[i + 3] = (a * p3 + b) * q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = (a * p + b) * q;
  }
};

/** (a x) y */
const timesTimes: Kernel = (d, x, y, _z, s, atA, _atB, _atC, n) => {
  const a = numberAt(s, atA);
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
    d[i] = a * p0 * q0;
    d[i + 1] = a * p1 * q1;
    d[i + 2] = a * p2 * q2;
    d[i + 3] = a * p3 * q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = a * p * q;
  }
};

/** (x y) a */
const productTimes: Kernel = (d, x, y, _z, s, atA, _atB, _atC, n) => {
  const a = numberAt(s, atA);
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
    d[i] = p0 * q0 * a;
    d[i + 1] = p1 * q1 * a;
    d[i + 2] = p2 * q2 * a;
    d[i + 3] = p3 * q3 * a;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = p * q * a;
  }
};

/** (x y) / a */
const productOver: Kernel = (d, x, y, _z, s, atA, _atB, _atC, n) => {
  const a = numberAt(s, atA);
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
    d[i] = (p0 * q0) / a;
    d[i + 1] = (p1 * q1) / a;
    d[i + 2] = (p2 * q2) / a;
    d[i + 3] = (p3 * q3) / a;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = (p * q) / a;
  }
};

/** (a x) / b */
const timesOver: Kernel = (d, x, _y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = (a * p0) / b;
    d[i + 1] = (a * p1) / b;
    d[i + 2] = (a * p2) / b;
    d[i + 3] = (a * p3) / b;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = (a * p) / b;
  }
};

/** a (x / b) + c y */
const overPlus: Kernel = (d, x, y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
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
    d[i] = a * (p0 / b) + c * q0;
    d[i + 1] = a * (p1 / b) + c * q1;
    d[i + 2] = a * (p2 / b) + c * q2;
    d[i + 3] = a * (p3 / b) + c * q3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    d[i] = a * (p / b) + c * q;
  }
};

/** x y + a z */
const productPlus: Kernel = (d, x, y, z, s, atA, _atB, _atC, n) => {
  const a = numberAt(s, atA);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const r0 = z[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const r1 = z[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const r2 = z[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    const r3 = z[i + 3] as number;
    d[i] = p0 * q0 + a * r0;
    d[i + 1] = p1 * q1 + a * r1;
    d[i + 2] = p2 * q2 + a * r2;
    d[i + 3] = p3 * q3 + a * r3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    const r = z[i] as number;
    d[i] = p * q + a * r;
  }
};

/** (a x + b y) + c z */
const threeTerms: Kernel = (d, x, y, z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const q0 = y[i] as number;
    const r0 = z[i] as number;
    const p1 = x[i + 1] as number;
    const q1 = y[i + 1] as number;
    const r1 = z[i + 1] as number;
    const p2 = x[i + 2] as number;
    const q2 = y[i + 2] as number;
    const r2 = z[i + 2] as number;
    const p3 = x[i + 3] as number;
    const q3 = y[i + 3] as number;
    const r3 = z[i + 3] as number;
    d[i] = a * p0 + b * q0 + c * r0;
    d[i + 1] = a * p1 + b * q1 + c * r1;
    d[i + 2] = a * p2 + b * q2 + c * r2;
    d[i + 3] = a * p3 + b * q3 + c * r3;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    const q = y[i] as number;
    const r = z[i] as number;
    d[i] = a * p + b * q + c * r;
  }
};

/** max(x, b) a */
const maxTimes: Kernel = (d, x, _y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = a * (p0 > b || Number.isNaN(p0) ? p0 : b);
    d[i + 1] = a * (p1 > b || Number.isNaN(p1) ? p1 : b);
    d[i + 2] = a * (p2 > b || Number.isNaN(p2) ? p2 : b);
    d[i + 3] = a * (p3 > b || Number.isNaN(p3) ? p3 : b);
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = a * (p > b || Number.isNaN(p) ? p : b);
  }
};

/** max(b, x) a */
const leastTimes: Kernel = (d, x, _y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = a * (b > p0 || Number.isNaN(b) ? b : p0);
    d[i + 1] = a * (b > p1 || Number.isNaN(b) ? b : p1);
    d[i + 2] = a * (b > p2 || Number.isNaN(b) ? b : p2);
    d[i + 3] = a * (b > p3 || Number.isNaN(b) ? b : p3);
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = a * (b > p || Number.isNaN(b) ? b : p);
  }
};

/** min(x, b) a */
const minTimes: Kernel = (d, x, _y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = a * (p0 < b || Number.isNaN(p0) ? p0 : b);
    d[i + 1] = a * (p1 < b || Number.isNaN(p1) ? p1 : b);
    d[i + 2] = a * (p2 < b || Number.isNaN(p2) ? p2 : b);
    d[i + 3] = a * (p3 < b || Number.isNaN(p3) ? p3 : b);
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = a * (p < b || Number.isNaN(p) ? p : b);
  }
};

/** min(b, x) a */
const mostTimes: Kernel = (d, x, _y, _z, s, atA, atB, _atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = a * (b < p0 || Number.isNaN(b) ? b : p0);
    d[i + 1] = a * (b < p1 || Number.isNaN(b) ? b : p1);
    d[i + 2] = a * (b < p2 || Number.isNaN(b) ? b : p2);
    d[i + 3] = a * (b < p3 || Number.isNaN(b) ? b : p3);
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = a * (b < p || Number.isNaN(b) ? b : p);
  }
};

/** max(a x + b, c) */
const lineMax: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = a * (x[i] as number) + b;
    const p1 = a * (x[i + 1] as number) + b;
    const p2 = a * (x[i + 2] as number) + b;
    const p3 = a * (x[i + 3] as number) + b;
    d[i] = p0 > c || Number.isNaN(p0) ? p0 : c;
    d[i + 1] = p1 > c || Number.isNaN(p1) ? p1 : c;
    d[i + 2] = p2 > c || Number.isNaN(p2) ? p2 : c;
    d[i + 3] = p3 > c || Number.isNaN(p3) ? p3 : c;
  }
  for (; i < n; i++) {
    const p = a * (x[i] as number) + b;
    d[i] = p > c || Number.isNaN(p) ? p : c;
  }
};

/** max(c, a x + b) */
const lineLeast: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = a * (x[i] as number) + b;
    const p1 = a * (x[i + 1] as number) + b;
    const p2 = a * (x[i + 2] as number) + b;
    const p3 = a * (x[i + 3] as number) + b;
    d[i] = c > p0 || Number.isNaN(c) ? c : p0;
    d[i + 1] = c > p1 || Number.isNaN(c) ? c : p1;
    d[i + 2] = c > p2 || Number.isNaN(c) ? c : p2;
    d[i + 3] = c > p3 || Number.isNaN(c) ? c : p3;
  }
  for (; i < n; i++) {
    const p = a * (x[i] as number) + b;
    d[i] = c > p || Number.isNaN(c) ? c : p;
  }
};

/** min(a x + b, c) */
const lineMin: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = a * (x[i] as number) + b;
    const p1 = a * (x[i + 1] as number) + b;
    const p2 = a * (x[i + 2] as number) + b;
    const p3 = a * (x[i + 3] as number) + b;
    d[i] = p0 < c || Number.isNaN(p0) ? p0 : c;
    d[i + 1] = p1 < c || Number.isNaN(p1) ? p1 : c;
    d[i + 2] = p2 < c || Number.isNaN(p2) ? p2 : c;
    d[i + 3] = p3 < c || Number.isNaN(p3) ? p3 : c;
  }
  for (; i < n; i++) {
    const p = a * (x[i] as number) + b;
    d[i] = p < c || Number.isNaN(p) ? p : c;
  }
};

/** min(c, a x + b) */
const lineMost: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = a * (x[i] as number) + b;
    const p1 = a * (x[i + 1] as number) + b;
    const p2 = a * (x[i + 2] as number) + b;
    const p3 = a * (x[i + 3] as number) + b;
    d[i] = c < p0 || Number.isNaN(c) ? c : p0;
    d[i + 1] = c < p1 || Number.isNaN(c) ? c : p1;
    d[i + 2] = c < p2 || Number.isNaN(c) ? c : p2;
    d[i + 3] = c < p3 || Number.isNaN(c) ? c : p3;
  }
  for (; i < n; i++) {
    const p = a * (x[i] as number) + b;
    d[i] = c < p || Number.isNaN(c) ? c : p;
  }
};

/** if x < a then b else c */
const below: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  if (Number.isNaN(a)) {
    d.fill(Number.NaN, 0, n);
    return;
  }
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = Number.isNaN(p0) ? Number.NaN : p0 < a ? b : c;
    d[i + 1] = Number.isNaN(p1) ? Number.NaN : p1 < a ? b : c;
    d[i + 2] = Number.isNaN(p2) ? Number.NaN : p2 < a ? b : c;
    d[i + 3] = Number.isNaN(p3) ? Number.NaN : p3 < a ? b : c;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = Number.isNaN(p) ? Number.NaN : p < a ? b : c;
  }
};

/** if x > a then b else c */
const above: Kernel = (d, x, _y, _z, s, atA, atB, atC, n) => {
  const a = numberAt(s, atA);
  const b = numberAt(s, atB);
  const c = numberAt(s, atC);
  if (Number.isNaN(a)) {
    d.fill(Number.NaN, 0, n);
    return;
  }
  let i = 0;
  for (; i + 3 < n; i += 4) {
    const p0 = x[i] as number;
    const p1 = x[i + 1] as number;
    const p2 = x[i + 2] as number;
    const p3 = x[i + 3] as number;
    d[i] = Number.isNaN(p0) ? Number.NaN : p0 > a ? b : c;
    d[i + 1] = Number.isNaN(p1) ? Number.NaN : p1 > a ? b : c;
    d[i + 2] = Number.isNaN(p2) ? Number.NaN : p2 > a ? b : c;
    d[i + 3] = Number.isNaN(p3) ? Number.NaN : p3 > a ? b : c;
  }
  for (; i < n; i++) {
    const p = x[i] as number;
    d[i] = Number.isNaN(p) ? Number.NaN : p > a ? b : c;
  }
};

const KERNELS: Readonly<Record<Join, Kernel>> = {
  'weighed sum': weighedSum,
  'sum times': sumTimes,
  line: line,
  'line times': lineTimes,
  'line over': lineOver,
  'line times row': lineTimesRow,
  'times times': timesTimes,
  'product times': productTimes,
  'product over': productOver,
  'times over': timesOver,
  'over plus': overPlus,
  'product plus': productPlus,
  'three terms': threeTerms,
  'max times': maxTimes,
  'least times': leastTimes,
  'min times': minTimes,
  'most times': mostTimes,
  'line max': lineMax,
  'line least': lineLeast,
  'line min': lineMin,
  'line most': lineMost,
  below: below,
  above: above,
};

/** By the number of the join. */
export const joinedKernels: readonly Kernel[] = JOINS.map((join) => KERNELS[join]);
