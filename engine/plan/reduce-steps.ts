// Steps that take an axis away: a series to one number, or to one number a day.

import type { DailyOp, Expr, ReduceOp } from '../check/typed.ts';
import { workedLength } from './kernels.ts';
import type { AxisValue, Memory, Operand } from './memory.ts';
import type { Step } from './program.ts';

const LOOSEN = 'Loosen "where:", or fill in an entry.';

const DAY = 86_400;

interface Scanned {
  sum: number;
  /** Places that count. */
  count: number;
  /** The place looked for, −1 when there is none. */
  best: number;
}

/** Goes through `n` places of a series once; `where` leaves out places, `always` all of them at once. */
function scanRow(
  fn: ReduceOp,
  x: Float64Array,
  base: number,
  n: number,
  where: Float64Array | undefined,
  always: number,
): Scanned {
  const found: Scanned = { sum: 0, count: 0, best: -1 };
  if (Number.isNaN(always) || always === 0) return found;
  const end = base + n;
  let [sum, count, best, extreme] = [0, 0, -1, 0];
  if (where === undefined && (fn === 'lowest' || fn === 'at lowest')) {
    found.best = lowestPlace(x, base, end);
    return found;
  }
  if (where === undefined && (fn === 'highest' || fn === 'at highest')) {
    found.best = highestPlace(x, base, end);
    return found;
  }
  switch (fn) {
    case 'lowest':
    case 'at lowest':
      for (let i = base; i < end; i++) {
        const v = x[i] as number;
        if (Number.isNaN(v) || !counted(where?.[i] as number)) continue;
        if (best < 0 || v < extreme) [best, extreme] = [i - base, v];
      }
      break;
    case 'highest':
    case 'at highest':
      for (let i = base; i < end; i++) {
        const v = x[i] as number;
        if (Number.isNaN(v) || !counted(where?.[i] as number)) continue;
        if (best < 0 || v > extreme) [best, extreme] = [i - base, v];
      }
      break;
    case 'first':
    case 'first moment':
      for (let i = base; i < end && best < 0; i++) {
        const v = x[i] as number;
        if (Number.isNaN(v) || (where !== undefined && !counted(where[i] as number))) continue;
        if (fn === 'first' || v !== 0) best = i - base;
      }
      break;
    case 'last':
      for (let i = end - 1; i >= base && best < 0; i--) {
        if (Number.isNaN(x[i] as number) || (where !== undefined && !counted(where[i] as number)))
          continue;
        best = i - base;
      }
      break;
    default:
      if (where === undefined) {
        for (let i = base; i < end; i++) sum += x[i] as number;
        if (!Number.isNaN(sum)) {
          count = n;
          break;
        }
        // Some are absent.
        sum = 0;
        for (let i = base; i < end; i++) {
          const v = x[i] as number;
          if (Number.isNaN(v)) continue;
          count++;
          sum += v;
        }
      } else
        for (let i = base; i < end; i++) {
          const v = x[i] as number;
          if (Number.isNaN(v) || !counted(where[i] as number)) continue;
          count++;
          sum += v;
        }
  }
  found.sum = sum;
  found.count = count;
  found.best = best;
  return found;
}

/** The first place that is present, from `start` on. */
function firstPresent(x: Float64Array, start: number, end: number): number {
  let i = start;
  while (i < end && Number.isNaN(x[i] as number)) i++;
  return i;
}

/** The first of the places with the lowest value, counted from `base`; −1 when all are absent. */
function lowestPlace(x: Float64Array, base: number, end: number): number {
  let i = firstPresent(x, base, end);
  if (i === end) return -1;
  let best = i;
  let lowest = x[i] as number;
  // Four places at once, for a new lowest one is rare. Nothing is lower than what is absent.
  for (i++; i + 3 < end; i += 4) {
    const a = x[i] as number;
    const b = x[i + 1] as number;
    const c = x[i + 2] as number;
    const d = x[i + 3] as number;
    if (!(a < lowest || b < lowest || c < lowest || d < lowest)) continue;
    for (let k = i; k < i + 4; k++)
      if ((x[k] as number) < lowest) {
        best = k;
        lowest = x[k] as number;
      }
  }
  for (; i < end; i++)
    if ((x[i] as number) < lowest) {
      best = i;
      lowest = x[i] as number;
    }
  return best - base;
}

function highestPlace(x: Float64Array, base: number, end: number): number {
  let i = firstPresent(x, base, end);
  if (i === end) return -1;
  let best = i;
  let highest = x[i] as number;
  for (i++; i + 3 < end; i += 4) {
    const a = x[i] as number;
    const b = x[i + 1] as number;
    const c = x[i + 2] as number;
    const d = x[i + 3] as number;
    if (!(a > highest || b > highest || c > highest || d > highest)) continue;
    for (let k = i; k < i + 4; k++)
      if ((x[k] as number) > highest) {
        best = k;
        highest = x[k] as number;
      }
  }
  for (; i < end; i++)
    if ((x[i] as number) > highest) {
      best = i;
      highest = x[i] as number;
    }
  return best - base;
}

function counted(w: number): boolean {
  return !Number.isNaN(w) && w !== 0;
}

/** The same for one number that stands at every place. */
function scanNumber(fn: ReduceOp, v: number, n: number, where: (i: number) => number): Scanned {
  const found: Scanned = { sum: 0, count: 0, best: -1 };
  if (Number.isNaN(v)) return found;
  for (let i = 0; i < n; i++) {
    if (!counted(where(i))) continue;
    found.count++;
    found.sum += v;
    if (fn === 'last' || (found.best < 0 && (fn !== 'first moment' || v !== 0))) found.best = i;
  }
  return found;
}

/** Numbers that are all right and have no sum. */
const TOO_LARGE: NonNullable<Step['why']> = {
  code: 'too-large',
  text: 'What is added up here becomes larger than any number that can be kept, about 10³⁰⁸. Look for a value that is out of measure.',
};

export function reduceStep(
  expr: Extract<Expr, { op: 'reduce' }>,
  a: readonly Operand[],
  where: Operand | undefined,
  otherwise: readonly Operand[] | undefined,
  out: readonly Operand[],
  rowPlaces: Operand | undefined,
): Step {
  const { fn, axis } = expr;
  const outer = expr.type.axes.map((x) => x.id);
  const x = a[0] as Operand;
  const isState =
    expr.a.type.kind === 'truth' || expr.a.type.kind === 'quantity'
      ? expr.a.type.flow === 'state'
      : false;
  const scalarOperand = expr.a.type.axes.length === 0;
  const write = (m: Memory, j: number, k: number, total: number, value: number): void => {
    const o = out[j] as Operand;
    if (o >= 0) m.scalars[o] = value;
    else (k === 0 ? m.own(~o, total) : (m.rows[~o] as Float64Array))[k] = value;
  };
  return {
    calm: true,
    reads: where === undefined ? [x] : [x, where],
    writes: out,
    isWhole: true,
    why: TOO_LARGE,
    run(m: Memory): void {
      const value = m.axes[axis.id] as AxisValue;
      const n = value.length;
      const total = outer.length === 0 ? 1 : workedLength(m, outer);
      for (let k = 0; k < total; k++) {
        const base = scalarOperand ? 0 : k * n;
        const scanned =
          x < 0
            ? scanRow(
                fn,
                m.array(x),
                base,
                n,
                where === undefined || where >= 0 ? undefined : m.array(where),
                where === undefined || where < 0 ? 1 : m.at(where, 0),
              )
            : scanNumber(fn, m.at(x, 0), n, (i) =>
                where === undefined ? 1 : m.at(where, base + i),
              );
        const { sum, count, best } = scanned;
        const give = (result: number): void => write(m, 0, k, total, result);
        const none = (text: string): void => {
          for (let j = 0; j < out.length; j++) {
            const o = otherwise?.[j];
            if (o === undefined) m.say('nothing-left', text);
            write(m, j, k, total, o === undefined ? Number.NaN : m.at(o, 0));
          }
        };
        switch (fn) {
          case 'sum':
          case 'count':
            give(sum);
            break;
          case 'mean':
            if (count === 0)
              none(`There is nothing to take the mean of: no place is left. ${LOOSEN}`);
            else give(sum / count);
            break;
          case 'energy':
          case 'time while':
            give(sum * value.step);
            break;
          case 'first moment':
            if (best < 0)
              none('That never happens on this timeline. Say what then with otherwise: ….');
            else give(value.start + (best + (isState ? 1 : 0)) * value.step);
            break;
          case 'lowest':
          case 'highest':
          case 'first':
          case 'last':
            if (best < 0)
              none(
                fn === 'first' || fn === 'last'
                  ? `There is no ${fn} entry: all are absent. Say what then with otherwise: ….`
                  : `There is no ${fn} value: no place is left. ${LOOSEN}`,
              );
            else
              for (let j = 0; j < out.length; j++)
                write(m, j, k, total, m.at(a[j] as Operand, base + best));
            break;
          default:
            if (best < 0) none(`There is no such place: none is left. ${LOOSEN}`);
            else
              give(
                axis.kind === 'timeline'
                  ? value.start + (best + (isState ? 1 : 0.5)) * value.step
                  : rowPlaces !== undefined
                    ? m.at(rowPlaces, best)
                    : (value.places[best] as number),
              );
        }
      }
    },
  };
}

/** The civil days of a timeline: their starts. */
function daysOf(m: Memory, timeline: number, days: number): AxisValue {
  const t = m.axes[timeline] as AxisValue;
  const known = m.axes[days] as AxisValue;
  const first = Math.floor(t.start / DAY);
  const last = Math.ceil(t.end / DAY - 1e-9) - 1;
  const n = Math.max(0, last - first + 1);
  if (known.length === n && known.start === first * DAY && n > 0) return known;
  const places = new Float64Array(n);
  for (let i = 0; i < n; i++) places[i] = (first + i) * DAY;
  const made = { length: n, start: first * DAY, end: (last + 1) * DAY, step: DAY, places };
  m.axes[days] = made;
  return made;
}

export function dailyStep(
  fn: DailyOp,
  a: Operand,
  out: Operand,
  timeline: number,
  daysAxis: number,
): Step {
  return {
    run(m: Memory): void {
      const t = m.axes[timeline] as AxisValue;
      const days = daysOf(m, timeline, daysAxis);
      const row = m.own(~out, days.length);
      const counts = new Float64Array(days.length);
      row.fill(
        fn === 'daily lowest'
          ? Number.POSITIVE_INFINITY
          : fn === 'daily highest'
            ? Number.NEGATIVE_INFINITY
            : 0,
      );
      for (let i = 0; i < t.length; i++) {
        const v = m.at(a, i);
        if (Number.isNaN(v)) continue;
        const d = Math.floor((t.places[i] as number) / DAY) - days.start / DAY;
        counts[d] = (counts[d] as number) + 1;
        if (fn === 'daily lowest') row[d] = Math.min(row[d] as number, v);
        else if (fn === 'daily highest') row[d] = Math.max(row[d] as number, v);
        else row[d] = (row[d] as number) + v;
      }
      for (let d = 0; d < row.length; d++) {
        const count = counts[d] as number;
        if (fn === 'daily energy') row[d] = (row[d] as number) * t.step;
        else if (count === 0) row[d] = Number.NaN;
        else if (fn === 'daily mean') row[d] = (row[d] as number) / count;
      }
    },
  };
}
