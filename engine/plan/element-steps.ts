// Steps that work place by place: library functions, and the few operators of more than two operands.

import type { CheckedRange, MapOp } from '../check/typed.ts';
import type { ArgumentRow, LibraryFunction } from '../library/signature.ts';
import type { Code } from '../source/catalogue.ts';
import type { CallContextSource } from './call-context.ts';
import { allFinite, workedLength } from './kernels.ts';
import type { Memory, Operand } from './memory.ts';
import type { Step } from './program.ts';

const DAY = 86_400;

const MAPS: Readonly<Record<MapOp, (v: Float64Array) => number>> = {
  'within hours': (v) => within(v[0] as number, v[1] as number, v[2] as number),
  'moment within hours': (v) =>
    within(
      (v[0] as number) - DAY * Math.floor((v[0] as number) / DAY),
      v[1] as number,
      v[2] as number,
    ),
  within: (v) =>
    absentOr(v, (v[0] as number) >= (v[1] as number) && (v[0] as number) <= (v[2] as number)),
  'within open': (v) =>
    absentOr(v, (v[0] as number) >= (v[1] as number) && (v[0] as number) < (v[2] as number)),
  'hours length': (v) => hoursLength(v[0] as number, v[1] as number),
  'dBm of W': (v) => 10 * Math.log10((v[0] as number) / 1e-3),
  'W of dBm': (v) => 1e-3 * 10 ** ((v[0] as number) / 10),
  'dB of share': (v) => 10 * Math.log10(v[0] as number),
  'share of dB': (v) => 10 ** ((v[0] as number) / 10),
  'trip day': (v) => Math.floor((v[0] as number) / DAY) - Math.floor((v[1] as number) / DAY) + 1,
};

/** Whether the numbers of a series lie between two single ones: all of them in one loop. */
const BETWEEN: ReadonlyMap<
  MapOp,
  (x: Float64Array, low: number, high: number, out: Float64Array) => void
> = new Map([
  [
    'within' as MapOp,
    (x: Float64Array, low: number, high: number, out: Float64Array) => {
      const absent = Number.isNaN(low + high);
      for (let i = 0; i < out.length; i++) {
        const v = x[i] as number;
        out[i] = absent || Number.isNaN(v) ? Number.NaN : v >= low && v <= high ? 1 : 0;
      }
    },
  ],
  [
    'within open' as MapOp,
    (x: Float64Array, low: number, high: number, out: Float64Array) => {
      const absent = Number.isNaN(low + high);
      for (let i = 0; i < out.length; i++) {
        const v = x[i] as number;
        out[i] = absent || Number.isNaN(v) ? Number.NaN : v >= low && v < high ? 1 : 0;
      }
    },
  ],
]);

function absentOr(v: Float64Array, holds: boolean): number {
  return Number.isNaN((v[0] as number) + (v[1] as number) + (v[2] as number))
    ? Number.NaN
    : holds
      ? 1
      : 0;
}

/** Half open, passes midnight when the end is earlier; equal ends are never. */
function within(t: number, start: number, end: number): number {
  if (Number.isNaN(t + start + end)) return Number.NaN;
  return (start <= end ? t >= start && t < end : t >= start || t < end) ? 1 : 0;
}

export function hoursLength(start: number, end: number): number {
  return end >= start ? end - start : end - start + DAY;
}

export function mapStep(
  fn: MapOp,
  args: readonly Operand[],
  out: Operand,
  shape: readonly number[],
): Step {
  const f = MAPS[fn];
  const v = new Float64Array(3);
  const why = WITHOUT_LEVEL.get(fn);
  return {
    calm: true,
    reads: args,
    writes: [out],
    ...(why ? { why } : {}),
    run(m: Memory): void {
      if (out >= 0) {
        for (let j = 0; j < args.length; j++) v[j] = m.at(args[j] as Operand, m.index);
        m.scalars[out] = f(v);
        return;
      }
      const n = workedLength(m, shape);
      const row = m.own(~out, n);
      const [x, low, high] = args as [Operand, Operand, Operand];
      const whole = BETWEEN.get(fn);
      if (whole && x < 0 && low >= 0 && high >= 0) {
        whole(m.array(x), m.at(low, 0), m.at(high, 0), row);
        return;
      }
      const arrays = args.map((a) => m.array(a));
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < args.length; j++) {
          const a = args[j] as Operand;
          v[j] = (arrays[j] as Float64Array)[a >= 0 ? a : i] as number;
        }
        row[i] = f(v);
      }
    },
  };
}

/** What has no value although it is given numbers. */
const WITHOUT_LEVEL: ReadonlyMap<MapOp, { readonly code: Code; readonly text: string }> = new Map([
  [
    'dBm of W',
    {
      code: 'no-level',
      text: 'A power of 0 W or less has no level in dBm. Give a power above zero.',
    },
  ],
  [
    'dB of share',
    { code: 'no-level', text: 'A share of 0 or less has no level in dB. Give a share above zero.' },
  ],
]);

/** Functions of one number that the language itself has: a whole series in one loop. */
const WHOLE: ReadonlyMap<string, (x: Float64Array, out: Float64Array) => void> = new Map([
  [
    'sin',
    (x: Float64Array, out: Float64Array) => {
      for (let i = 0; i < out.length; i++) out[i] = Math.sin(x[i] as number);
    },
  ],
  [
    'cos',
    (x: Float64Array, out: Float64Array) => {
      for (let i = 0; i < out.length; i++) out[i] = Math.cos(x[i] as number);
    },
  ],
  [
    'exp',
    (x: Float64Array, out: Float64Array) => {
      for (let i = 0; i < out.length; i++) out[i] = Math.exp(x[i] as number);
    },
  ],
  [
    'ln',
    (x: Float64Array, out: Float64Array) => {
      for (let i = 0; i < out.length; i++) out[i] = Math.log(x[i] as number);
    },
  ],
]);

export function callStep(
  fn: LibraryFunction,
  args: readonly Operand[],
  windows: readonly Operand[],
  out: readonly Operand[],
  shape: readonly number[],
  ranges: readonly CheckedRange[],
  source: CallContextSource,
): Step {
  const values = new Float64Array(args.length);
  const results = new Float64Array(out.length);
  const { context } = source;
  const apply = fn.apply;
  if (!apply) throw new RangeError(`${fn.name} cannot be called place by place`);
  const limited = ranges
    .map((r, j) => ({ ...r, j }))
    .filter((r) => r.j < args.length && (Number.isFinite(r.low) || Number.isFinite(r.high)));
  const count = args.length;
  const lows = new Float64Array(count).fill(Number.NEGATIVE_INFINITY);
  const highs = new Float64Array(count).fill(Number.POSITIVE_INFINITY);
  const isFree = new Uint8Array(count).fill(1);
  for (const { j, low, high } of limited) {
    isFree[j] = 0;
    lows[j] = low - 1e-9;
    highs[j] = high + 1e-9;
  }
  // Reused from run to run: the arrays the arguments stand in, where they begin, how far they stride.
  const arrays = new Array<Float64Array>(count);
  const begins = Int32Array.from(args, (a) => Math.max(a, 0));
  const strides = Int32Array.from(args, (a) => (a >= 0 ? 0 : 1));
  const rows = new Array<Float64Array>(out.length);
  const outlines = new Array<Float64Array>(windows.length);
  const whole =
    count === 1 && out.length === 1 && limited.length === 0 && (args[0] as Operand) < 0
      ? WHOLE.get(fn.name)
      : undefined;
  const wholeRows = (out[0] as Operand) < 0 ? fn.rows?.() : undefined;
  const argumentRows: ArgumentRow[] = args.map((a) => ({
    array: values,
    begin: Math.max(a, 0),
    stride: a >= 0 ? 0 : 1,
  }));
  /** Whether every argument is a number within its range at all places. */
  const isFit = (n: number): boolean => {
    for (let j = 0; j < count; j++) {
      const { array, begin, stride } = argumentRows[j] as ArgumentRow;
      const low = lows[j] as number;
      const high = highs[j] as number;
      // Most rows may hold any number, and a sum tells of all of them at once.
      if (isFree[j] === 1 && stride === 1 && allFinite(array)) continue;
      const end = stride === 0 ? 1 : n;
      for (let i = 0; i < end; i++) {
        const v = array[begin + i] as number;
        if (!(v >= low && v <= high)) return false;
      }
    }
    return true;
  };
  const one = (m: Memory): void => {
    for (let k = 0; k < limited.length; k++) {
      const r = limited[k] as (typeof limited)[number];
      const v = values[r.j] as number;
      if (v < r.low - 1e-9 || v > r.high + 1e-9) {
        m.say(
          'out-of-range',
          `${fn.name}(…) takes ${r.argument} from ${r.text || `${r.low} to ${r.high}`}; here it is outside.`,
        );
        results.fill(Number.NaN);
        return;
      }
    }
    for (let j = 0; j < count; j++)
      if (Number.isNaN(values[j] as number)) {
        results.fill(Number.NaN);
        return;
      }
    apply(values, results, context, outlines);
    if (Number.isNaN(results[0] as number) && context.problem !== '') {
      m.say(context.code, context.problem);
      context.problem = '';
      context.code = 'out-of-range';
    }
  };
  return {
    calm: whole !== undefined,
    reads: args,
    writes: out,
    run(m: Memory): void {
      for (let k = 0; k < windows.length; k++) outlines[k] = m.array(windows[k] as Operand);
      for (let j = 0; j < count; j++) arrays[j] = m.array(args[j] as Operand);
      context.problem = '';
      const first = out[0] as Operand;
      if (first >= 0) {
        const i = m.index;
        for (let j = 0; j < count; j++)
          values[j] = (arrays[j] as Float64Array)[
            (begins[j] as number) + i * (strides[j] as number)
          ] as number;
        one(m);
        for (let j = 0; j < out.length; j++) m.scalars[out[j] as number] = results[j] as number;
        return;
      }
      const n = workedLength(m, shape);
      for (let j = 0; j < out.length; j++) rows[j] = m.own(~(out[j] as Operand), n);
      if (whole && (arrays[0] as Float64Array).length >= n) {
        const row = rows[0] as Float64Array;
        whole(arrays[0] as Float64Array, row);
        // What is no number has a reason, which the function itself gives, place by place.
        if (allFinite(row)) return;
      }
      if (wholeRows) {
        for (let j = 0; j < count; j++)
          (argumentRows[j] as ArgumentRow).array = arrays[j] as Float64Array;
        if (isFit(n) && wholeRows(n, argumentRows, rows, context, outlines)) return;
        // What is outside has a reason, which the function itself gives, place by place.
        context.problem = '';
      }
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < count; j++)
          values[j] = (arrays[j] as Float64Array)[
            (begins[j] as number) + i * (strides[j] as number)
          ] as number;
        one(m);
        for (let j = 0; j < rows.length; j++) (rows[j] as Float64Array)[i] = results[j] as number;
      }
    },
  };
}
