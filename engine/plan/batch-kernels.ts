// The loops of batches: one for each operation and each pair of operations on single numbers. They
// are written out, three instructions a turn; an instruction may read what the one before it wrote.
// Places of an instruction stand side by side, destination first, then what is read: two places in a
// number, so that half as many numbers are read. A program with more places than fit has them in
// numbers of their own, and one loop for all operations.

import { apply } from './apply.ts';
import { MUL_MUL_ADD, PAIRS, timedPair } from './pairs.ts';
import { opNumber } from './program.ts';

/** Places below this fit two in a number. */
const MOST_PLACES = 65_536;

/** Numbers that one instruction takes: its destination and what it reads. */
export function widthOf(op: number): number {
  if (op >= MUL_MUL_ADD) return 5;
  return op >= PAIRS || op === opNumber.select ? 4 : 3;
}

/** Instructions as they are executed. */
export interface Runs {
  /** Runs of one operation, two numbers each: operation, and where its places end in the code. */
  readonly runs: Int32Array;
  readonly code: Int32Array;
  /** Whether each place has a number of its own. */
  readonly wide: boolean;
}

/** Runs of instructions with their places one by one, brought into the form in which they are executed. */
export function packed(runs: readonly number[], places: readonly number[], wide = false): Runs {
  if (wide || !allFit(places))
    return { runs: Int32Array.from(runs), code: Int32Array.from(places), wide: true };
  const code: number[] = [];
  const ends: number[] = [];
  let at = 0;
  for (let r = 0; r < runs.length; r += 2) {
    const op = runs[r]!;
    for (const width = widthOf(op); at < runs[r + 1]!; at += width)
      for (let j = 0; j < width; j += 2)
        code.push(places[at + j]! | ((j + 1 < width ? places[at + j + 1]! : 0) << 16));
    ends.push(op, code.length);
  }
  return { runs: Int32Array.from(ends), code: Int32Array.from(code), wide: false };
}

function allFit(places: readonly number[]): boolean {
  for (let i = 0; i < places.length; i++) if (places[i]! >= MOST_PLACES) return false;
  return true;
}

/** Works runs of the same operation. Says whether every number written is finite, the intermediate ones among them. */
export function executeRuns({ runs, code, wide }: Runs, s: Float64Array): boolean {
  return wide ? executeWide(runs, code, s) : executePacked(runs, code, s);
}

/** The numbers of operations stand as they are: with names the choice among them would be a search. */
function executePacked(runs: Int32Array, code: Int32Array, s: Float64Array): boolean {
  let p = 0;
  let q = 0;
  let k = 0;
  for (let r = 0; r < runs.length; r += 2) {
    const op = runs[r]!;
    const end = runs[r + 1]!;
    switch (op) {
      // a + b
      case 0:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! + s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! + s[u1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! + s[u2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! + s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a - b
      case 1:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! - s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! - s[u1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! - s[u2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! - s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a * b
      case 2:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! * s[u1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! * s[u2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a / b
      case 3:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! / s[u1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! / s[u2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a + b + c
      case 32:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! + s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! + s[u1 & 0xffff]! + s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! + s[u2 & 0xffff]! + s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! + s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a - b + c
      case 34:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! - s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! - s[u1 & 0xffff]! + s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! - s[u2 & 0xffff]! + s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! - s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a * b + c
      case 36:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! * s[u1 & 0xffff]! + s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! * s[u2 & 0xffff]! + s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a / b + c
      case 38:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! / s[u1 & 0xffff]! + s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! / s[u2 & 0xffff]! + s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]! + s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a + b - c
      case 40:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! + s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! + s[u1 & 0xffff]! - s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! + s[u2 & 0xffff]! - s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! + s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c - (a + b)
      case 41:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - (s[t0 >>> 16]! + s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! - (s[t1 >>> 16]! + s[u1 & 0xffff]!);
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! - (s[t2 >>> 16]! + s[u2 & 0xffff]!);
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - (s[t0 >>> 16]! + s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a - b - c
      case 42:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! - s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! - s[u1 & 0xffff]! - s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! - s[u2 & 0xffff]! - s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! - s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c - (a - b)
      case 43:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - (s[t0 >>> 16]! - s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! - (s[t1 >>> 16]! - s[u1 & 0xffff]!);
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! - (s[t2 >>> 16]! - s[u2 & 0xffff]!);
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - (s[t0 >>> 16]! - s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a * b - c
      case 44:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! * s[u1 & 0xffff]! - s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! * s[u2 & 0xffff]! - s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c - a * b
      case 45:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - s[t0 >>> 16]! * s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! - s[t1 >>> 16]! * s[u1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! - s[t2 >>> 16]! * s[u2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - s[t0 >>> 16]! * s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a / b - c
      case 46:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! / s[u1 & 0xffff]! - s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! / s[u2 & 0xffff]! - s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]! - s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c - a / b
      case 47:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - s[t0 >>> 16]! / s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! - s[t1 >>> 16]! / s[u1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! - s[t2 >>> 16]! / s[u2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! - s[t0 >>> 16]! / s[u0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a + b) * c
      case 48:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! + s[u0 & 0xffff]!) * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = (s[t1 >>> 16]! + s[u1 & 0xffff]!) * s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = (s[t2 >>> 16]! + s[u2 & 0xffff]!) * s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! + s[u0 & 0xffff]!) * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a - b) * c
      case 50:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! - s[u0 & 0xffff]!) * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = (s[t1 >>> 16]! - s[u1 & 0xffff]!) * s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = (s[t2 >>> 16]! - s[u2 & 0xffff]!) * s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! - s[u0 & 0xffff]!) * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a * b * c
      case 52:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! * s[u1 & 0xffff]! * s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! * s[u2 & 0xffff]! * s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a / b) * c
      case 54:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! / s[u0 & 0xffff]!) * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = (s[t1 >>> 16]! / s[u1 & 0xffff]!) * s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = (s[t2 >>> 16]! / s[u2 & 0xffff]!) * s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! / s[u0 & 0xffff]!) * s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a + b) / c
      case 56:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! + s[u0 & 0xffff]!) / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = (s[t1 >>> 16]! + s[u1 & 0xffff]!) / s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = (s[t2 >>> 16]! + s[u2 & 0xffff]!) / s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! + s[u0 & 0xffff]!) / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c / (a + b)
      case 57:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! + s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! / (s[t1 >>> 16]! + s[u1 & 0xffff]!);
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! / (s[t2 >>> 16]! + s[u2 & 0xffff]!);
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! + s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a - b) / c
      case 58:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! - s[u0 & 0xffff]!) / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = (s[t1 >>> 16]! - s[u1 & 0xffff]!) / s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = (s[t2 >>> 16]! - s[u2 & 0xffff]!) / s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! - s[u0 & 0xffff]!) / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c / (a - b)
      case 59:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! - s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! / (s[t1 >>> 16]! - s[u1 & 0xffff]!);
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! / (s[t2 >>> 16]! - s[u2 & 0xffff]!);
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! - s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a * b) / c
      case 60:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! * s[u0 & 0xffff]!) / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = (s[t1 >>> 16]! * s[u1 & 0xffff]!) / s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = (s[t2 >>> 16]! * s[u2 & 0xffff]!) / s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = (s[t0 >>> 16]! * s[u0 & 0xffff]!) / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c / (a * b)
      case 61:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! * s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! / (s[t1 >>> 16]! * s[u1 & 0xffff]!);
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! / (s[t2 >>> 16]! * s[u2 & 0xffff]!);
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! * s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a / b / c
      case 62:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]! / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[t1 >>> 16]! / s[u1 & 0xffff]! / s[u1 >>> 16]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[t2 >>> 16]! / s[u2 & 0xffff]! / s[u2 >>> 16]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[t0 >>> 16]! / s[u0 & 0xffff]! / s[u0 >>> 16]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // c / (a / b)
      case 63:
        for (; k + 4 < end; k += 6) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! / s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 2]!;
          const u1 = code[k + 3]!;
          const y = s[u1 >>> 16]! / (s[t1 >>> 16]! / s[u1 & 0xffff]!);
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 4]!;
          const u2 = code[k + 5]!;
          const z = s[u2 >>> 16]! / (s[t2 >>> 16]! / s[u2 & 0xffff]!);
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 2) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const x = s[u0 >>> 16]! / (s[t0 >>> 16]! / s[u0 & 0xffff]!);
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // a b + c d
      case 64:
        for (; k + 6 < end; k += 9) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! + s[u0 >>> 16]! * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 3]!;
          const u1 = code[k + 4]!;
          const v1 = code[k + 5]!;
          const y = s[t1 >>> 16]! * s[u1 & 0xffff]! + s[u1 >>> 16]! * s[v1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 6]!;
          const u2 = code[k + 7]!;
          const v2 = code[k + 8]!;
          const z = s[t2 >>> 16]! * s[u2 & 0xffff]! + s[u2 >>> 16]! * s[v2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 3) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = s[t0 >>> 16]! * s[u0 & 0xffff]! + s[u0 >>> 16]! * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a * b + c) * d
      case 65:
        for (; k + 6 < end; k += 9) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! * s[u0 & 0xffff]! + s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 3]!;
          const u1 = code[k + 4]!;
          const v1 = code[k + 5]!;
          const y = (s[t1 >>> 16]! * s[u1 & 0xffff]! + s[u1 >>> 16]!) * s[v1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 6]!;
          const u2 = code[k + 7]!;
          const v2 = code[k + 8]!;
          const z = (s[t2 >>> 16]! * s[u2 & 0xffff]! + s[u2 >>> 16]!) * s[v2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 3) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! * s[u0 & 0xffff]! + s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a / b + c) * d
      case 66:
        for (; k + 6 < end; k += 9) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! / s[u0 & 0xffff]! + s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 3]!;
          const u1 = code[k + 4]!;
          const v1 = code[k + 5]!;
          const y = (s[t1 >>> 16]! / s[u1 & 0xffff]! + s[u1 >>> 16]!) * s[v1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 6]!;
          const u2 = code[k + 7]!;
          const v2 = code[k + 8]!;
          const z = (s[t2 >>> 16]! / s[u2 & 0xffff]! + s[u2 >>> 16]!) * s[v2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 3) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! / s[u0 & 0xffff]! + s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a * b - c) * d
      case 67:
        for (; k + 6 < end; k += 9) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! * s[u0 & 0xffff]! - s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 3]!;
          const u1 = code[k + 4]!;
          const v1 = code[k + 5]!;
          const y = (s[t1 >>> 16]! * s[u1 & 0xffff]! - s[u1 >>> 16]!) * s[v1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 6]!;
          const u2 = code[k + 7]!;
          const v2 = code[k + 8]!;
          const z = (s[t2 >>> 16]! * s[u2 & 0xffff]! - s[u2 >>> 16]!) * s[v2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 3) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! * s[u0 & 0xffff]! - s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (c - a * b) * d
      case 68:
        for (; k + 6 < end; k += 9) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[u0 >>> 16]! - s[t0 >>> 16]! * s[u0 & 0xffff]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 3]!;
          const u1 = code[k + 4]!;
          const v1 = code[k + 5]!;
          const y = (s[u1 >>> 16]! - s[t1 >>> 16]! * s[u1 & 0xffff]!) * s[v1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 6]!;
          const u2 = code[k + 7]!;
          const v2 = code[k + 8]!;
          const z = (s[u2 >>> 16]! - s[t2 >>> 16]! * s[u2 & 0xffff]!) * s[v2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 3) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[u0 >>> 16]! - s[t0 >>> 16]! * s[u0 & 0xffff]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (a / b - c) * d
      case 69:
        for (; k + 6 < end; k += 9) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! / s[u0 & 0xffff]! - s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 3]!;
          const u1 = code[k + 4]!;
          const v1 = code[k + 5]!;
          const y = (s[t1 >>> 16]! / s[u1 & 0xffff]! - s[u1 >>> 16]!) * s[v1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 6]!;
          const u2 = code[k + 7]!;
          const v2 = code[k + 8]!;
          const z = (s[t2 >>> 16]! / s[u2 & 0xffff]! - s[u2 >>> 16]!) * s[v2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 3) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[t0 >>> 16]! / s[u0 & 0xffff]! - s[u0 >>> 16]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // (c - a / b) * d
      case 70:
        for (; k + 6 < end; k += 9) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[u0 >>> 16]! - s[t0 >>> 16]! / s[u0 & 0xffff]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
          const t1 = code[k + 3]!;
          const u1 = code[k + 4]!;
          const v1 = code[k + 5]!;
          const y = (s[u1 >>> 16]! - s[t1 >>> 16]! / s[u1 & 0xffff]!) * s[v1 & 0xffff]!;
          s[t1 & 0xffff] = y;
          q += y - y;
          const t2 = code[k + 6]!;
          const u2 = code[k + 7]!;
          const v2 = code[k + 8]!;
          const z = (s[u2 >>> 16]! - s[t2 >>> 16]! / s[u2 & 0xffff]!) * s[v2 & 0xffff]!;
          s[t2 & 0xffff] = z;
          p += z - z;
        }
        for (; k < end; k += 3) {
          const t0 = code[k]!;
          const u0 = code[k + 1]!;
          const v0 = code[k + 2]!;
          const x = (s[u0 >>> 16]! - s[t0 >>> 16]! / s[u0 & 0xffff]!) * s[v0 & 0xffff]!;
          s[t0 & 0xffff] = x;
          p += x - x;
        }
        break;
      // if a then b else c
      case 26:
        for (; k < end; k += 2) {
          const t = code[k]!;
          const u = code[k + 1]!;
          const a = s[t >>> 16]!;
          const x = a !== a ? Number.NaN : a !== 0 ? s[u & 0xffff]! : s[u >>> 16]!;
          s[t & 0xffff] = x;
          p += x - x;
        }
        break;
      default:
        for (; k < end; k += 2) {
          const t = code[k]!;
          const x = apply(op, s[t >>> 16]!, s[code[k + 1]!]!);
          s[t & 0xffff] = x;
          p += x - x;
        }
    }
  }
  return p + q === 0;
}

/** One of the four basic operations. */
function basic(op: number, x: number, y: number): number {
  return op === 0 ? x + y : op === 1 ? x - y : op === 2 ? x * y : x / y;
}

/** The same with a place a number, each pair of operations as its two. */
function executeWide(runs: Int32Array, code: Int32Array, s: Float64Array): boolean {
  let p = 0;
  let k = 0;
  for (let r = 0; r < runs.length; r += 2) {
    const op = runs[r]!;
    const end = runs[r + 1]!;
    if (op === MUL_MUL_ADD) {
      for (; k < end; k += 5) {
        const x = s[code[k + 1]!]! * s[code[k + 2]!]! + s[code[k + 3]!]! * s[code[k + 4]!]!;
        s[code[k]!] = x;
        p += x - x;
      }
    } else if (op >= PAIRS) {
      const width = widthOf(op);
      const pair = (timedPair(op) ?? op) - PAIRS;
      const [first, second, isTurned] = [(pair >> 1) & 3, pair >> 3, (pair & 1) === 1];
      for (; k < end; k += width) {
        const inner = basic(first, s[code[k + 1]!]!, s[code[k + 2]!]!);
        const other = s[code[k + 3]!]!;
        let x = isTurned ? basic(second, other, inner) : basic(second, inner, other);
        if (width === 5) x *= s[code[k + 4]!]!;
        s[code[k]!] = x;
        p += x - x;
      }
    } else if (op < 4) {
      for (; k < end; k += 3) {
        const x = basic(op, s[code[k + 1]!]!, s[code[k + 2]!]!);
        s[code[k]!] = x;
        p += x - x;
      }
    } else if (op === opNumber.select) {
      for (; k < end; k += 4) {
        const a = s[code[k + 1]!]!;
        const x = a !== a ? Number.NaN : a !== 0 ? s[code[k + 2]!]! : s[code[k + 3]!]!;
        s[code[k]!] = x;
        p += x - x;
      }
    } else
      for (; k < end; k += 3) {
        const x = apply(op, s[code[k + 1]!]!, s[code[k + 2]!]!);
        s[code[k]!] = x;
        p += x - x;
      }
  }
  return p === 0;
}

/** Whether the numbers at these places are all finite. */
export function finiteAt(s: Float64Array, places: Int32Array): boolean {
  for (let i = 0; i < places.length; i++) {
    const x = s[places[i]!]!;
    if (x - x !== 0) return false;
  }
  return true;
}
