// The loops of batches: one for each operation and each pair of operations on single numbers. They
// are written out, two instructions a turn; an instruction may read what the one before it wrote.
// Places of an instruction stand side by side: destination first, then what is read.

import { apply } from './apply.ts';
import { MUL_MUL_ADD, PAIRS } from './pairs.ts';
import { opNumber } from './program.ts';

const O = opNumber;

/** Numbers that one instruction takes: its destination and what it reads. */
export function widthOf(op: number): number {
  if (op === MUL_MUL_ADD) return 5;
  return op >= PAIRS || op === opNumber.select ? 4 : 3;
}

/**
 * Works runs of the same operation: `runs` holds operation and end of each, `code` the places. Says
 * whether every number written is finite, the intermediate ones among them.
 */
export function executeRuns(runs: Int32Array, code: Int32Array, s: Float64Array): boolean {
  let p = 0;
  let q = 0;
  let k = 0;
  for (let r = 0; r < runs.length; r += 2) {
    const op = runs[r]!;
    const end = runs[r + 1]!;
    switch (op) {
      // a + b
      case O.add:
        for (; k + 3 < end; k += 6) {
          const x = s[code[k + 1]!]! + s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 4]!]! + s[code[k + 5]!]!;
          s[code[k + 3]!] = y;
          q += y - y;
        }
        for (; k < end; k += 3) {
          const x = s[code[k + 1]!]! + s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a - b
      case O.sub:
        for (; k + 3 < end; k += 6) {
          const x = s[code[k + 1]!]! - s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 4]!]! - s[code[k + 5]!]!;
          s[code[k + 3]!] = y;
          q += y - y;
        }
        for (; k < end; k += 3) {
          const x = s[code[k + 1]!]! - s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a * b
      case O.mul:
        for (; k + 3 < end; k += 6) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 4]!]! * s[code[k + 5]!]!;
          s[code[k + 3]!] = y;
          q += y - y;
        }
        for (; k < end; k += 3) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a / b
      case O.div:
        for (; k + 3 < end; k += 6) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 4]!]! / s[code[k + 5]!]!;
          s[code[k + 3]!] = y;
          q += y - y;
        }
        for (; k < end; k += 3) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a + b + c
      case 32:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! + s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! + s[code[k + 6]!]! + s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! + s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a - b + c
      case 34:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! - s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! - s[code[k + 6]!]! + s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! - s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a * b + c
      case 36:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! * s[code[k + 6]!]! + s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a / b + c
      case 38:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! / s[code[k + 6]!]! + s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]! + s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a + b - c
      case 40:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! + s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! + s[code[k + 6]!]! - s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! + s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c - (a + b)
      case 41:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! - (s[code[k + 1]!]! + s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! - (s[code[k + 5]!]! + s[code[k + 6]!]!);
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! - (s[code[k + 1]!]! + s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a - b - c
      case 42:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! - s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! - s[code[k + 6]!]! - s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! - s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c - (a - b)
      case 43:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! - (s[code[k + 1]!]! - s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! - (s[code[k + 5]!]! - s[code[k + 6]!]!);
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! - (s[code[k + 1]!]! - s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a * b - c
      case 44:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! * s[code[k + 6]!]! - s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c - a * b
      case 45:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! - s[code[k + 1]!]! * s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! - s[code[k + 5]!]! * s[code[k + 6]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! - s[code[k + 1]!]! * s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a / b - c
      case 46:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! / s[code[k + 6]!]! - s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]! - s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c - a / b
      case 47:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! - s[code[k + 1]!]! / s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! - s[code[k + 5]!]! / s[code[k + 6]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! - s[code[k + 1]!]! / s[code[k + 2]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // (a + b) * c
      case 48:
        for (; k + 4 < end; k += 8) {
          const x = (s[code[k + 1]!]! + s[code[k + 2]!]!) * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = (s[code[k + 5]!]! + s[code[k + 6]!]!) * s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = (s[code[k + 1]!]! + s[code[k + 2]!]!) * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // (a - b) * c
      case 50:
        for (; k + 4 < end; k += 8) {
          const x = (s[code[k + 1]!]! - s[code[k + 2]!]!) * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = (s[code[k + 5]!]! - s[code[k + 6]!]!) * s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = (s[code[k + 1]!]! - s[code[k + 2]!]!) * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a * b * c
      case 52:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! * s[code[k + 6]!]! * s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // (a / b) * c
      case 54:
        for (; k + 4 < end; k += 8) {
          const x = (s[code[k + 1]!]! / s[code[k + 2]!]!) * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = (s[code[k + 5]!]! / s[code[k + 6]!]!) * s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = (s[code[k + 1]!]! / s[code[k + 2]!]!) * s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // (a + b) / c
      case 56:
        for (; k + 4 < end; k += 8) {
          const x = (s[code[k + 1]!]! + s[code[k + 2]!]!) / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = (s[code[k + 5]!]! + s[code[k + 6]!]!) / s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = (s[code[k + 1]!]! + s[code[k + 2]!]!) / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c / (a + b)
      case 57:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! + s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! / (s[code[k + 5]!]! + s[code[k + 6]!]!);
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! + s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // (a - b) / c
      case 58:
        for (; k + 4 < end; k += 8) {
          const x = (s[code[k + 1]!]! - s[code[k + 2]!]!) / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = (s[code[k + 5]!]! - s[code[k + 6]!]!) / s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = (s[code[k + 1]!]! - s[code[k + 2]!]!) / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c / (a - b)
      case 59:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! - s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! / (s[code[k + 5]!]! - s[code[k + 6]!]!);
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! - s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // (a * b) / c
      case 60:
        for (; k + 4 < end; k += 8) {
          const x = (s[code[k + 1]!]! * s[code[k + 2]!]!) / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = (s[code[k + 5]!]! * s[code[k + 6]!]!) / s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = (s[code[k + 1]!]! * s[code[k + 2]!]!) / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c / (a * b)
      case 61:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! * s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! / (s[code[k + 5]!]! * s[code[k + 6]!]!);
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! * s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a / b / c
      case 62:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]! / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 5]!]! / s[code[k + 6]!]! / s[code[k + 7]!]!;
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 1]!]! / s[code[k + 2]!]! / s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // c / (a / b)
      case 63:
        for (; k + 4 < end; k += 8) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! / s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 7]!]! / (s[code[k + 5]!]! / s[code[k + 6]!]!);
          s[code[k + 4]!] = y;
          q += y - y;
        }
        for (; k < end; k += 4) {
          const x = s[code[k + 3]!]! / (s[code[k + 1]!]! / s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      // a b + c d
      case MUL_MUL_ADD:
        for (; k + 5 < end; k += 10) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! + s[code[k + 3]!]! * s[code[k + 4]!]!;
          s[code[k]!] = x;
          p += x - x;
          const y = s[code[k + 6]!]! * s[code[k + 7]!]! + s[code[k + 8]!]! * s[code[k + 9]!]!;
          s[code[k + 5]!] = y;
          q += y - y;
        }
        for (; k < end; k += 5) {
          const x = s[code[k + 1]!]! * s[code[k + 2]!]! + s[code[k + 3]!]! * s[code[k + 4]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      case O.select:
        for (; k < end; k += 4) {
          const c = s[code[k + 1]!]!;
          const x = c !== c ? Number.NaN : c !== 0 ? s[code[k + 2]!]! : s[code[k + 3]!]!;
          s[code[k]!] = x;
          p += x - x;
        }
        break;
      default:
        for (; k < end; k += 3) {
          const x = apply(op, s[code[k + 1]!]!, s[code[k + 2]!]!);
          s[code[k]!] = x;
          p += x - x;
        }
    }
  }
  return p + q === 0;
}

/** Whether the numbers at these places are all finite. */
export function finiteAt(s: Float64Array, places: Int32Array): boolean {
  for (let i = 0; i < places.length; i++) {
    const x = s[places[i]!]!;
    if (x - x !== 0) return false;
  }
  return true;
}
