// Operations on series that are worked together in one pass, and how they stand in the code: two
// instructions' room, `join, destination, x, y, z` and `0, a, b, c, shape`.

/** Rows are x, y, z; numbers a, b, c. The order of operations is as written. */
export const JOINS = [
  // a x + b y
  'weighed sum',
  // (a x + b y) c
  'sum times',
  // a x + b
  'line',
  // (a x + b) c
  'line times',
  // (a x + b) / c
  'line over',
  // (a x + b) y
  'line times row',
  // (a x) y
  'times times',
  // (x y) a
  'product times',
  // (x y) / a
  'product over',
  // (a x) / b
  'times over',
  // a (x / b) + c y
  'over plus',
  // x y + a z
  'product plus',
  // (a x + b y) + c z
  'three terms',
  // max(x, b) a
  'max times',
  // max(b, x) a
  'least times',
  // min(x, b) a
  'min times',
  // min(b, x) a
  'most times',
  // max(a x + b, c)
  'line max',
  // max(c, a x + b)
  'line least',
  // min(a x + b, c)
  'line min',
  // min(c, a x + b)
  'line most',
  // if x < a then b else c
  'below',
  // if x > a then b else c
  'above',
] as const;
export type Join = (typeof JOINS)[number];

/** Numbers of joins start here. */
export const FIRST_JOIN = 128;

export const joinNumber: Readonly<Record<Join, number>> = Object.fromEntries(
  JOINS.map((join, i) => [join, FIRST_JOIN + i]),
) as Record<Join, number>;

/** Codes of numbers that stand nowhere: a factor 1 or −1, and −0 as what is added. */
export const ONE = 0x4000_0000;
export const MINUS_ONE = ONE + 1;
export const NOTHING = ONE + 2;

/** The code of a number with its sign turned round. */
export function turned(code: number): number {
  return code === ONE ? MINUS_ONE : code === MINUS_ONE ? ONE : ~code;
}

/** The number of a code: a place among the scalars, or ~place for the same with its sign turned. */
export function numberAt(s: Float64Array, code: number): number {
  if (code < 0) return -(s[~code] as number);
  if (code < ONE) return s[code] as number;
  return code === ONE ? 1 : code === MINUS_ONE ? -1 : -0;
}
