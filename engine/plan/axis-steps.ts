// Steps that make an axis, take one away, or read a series at a place.

import type { DailyOp, Expr, ReduceOp } from '../check/typed.ts';
import { hoursLength } from './element-steps.ts';
import { lengthOf } from './kernels.ts';
import type { AxisValue, Memory, Operand } from './memory.ts';
import type { Step } from './program.ts';

const DAY = 86_400;
/** Longest timeline: two years at two minutes. */
export const MOST_STEPS = 600_000;

/** Places once made, kept while the ends stay the same. */
export function timelineStep(
  axis: number,
  from: Operand,
  until: Operand,
  by: Operand,
  out: Operand,
): Step {
  return {
    run(m: Memory): void {
      const [start, end, step] = [m.at(from, 0), m.at(until, 0), m.at(by, 0)];
      const n = Math.round((end - start) / step);
      m.axes[axis] = { length: 0, start, end, step, places: new Float64Array(0) };
      const whole = Math.abs(DAY / step - Math.round(DAY / step)) < 1e-9;
      if (!(end > start)) m.problem = 'A timeline ends after it starts.';
      else if (!(step >= 60 && step <= DAY) || !whole)
        m.problem =
          'The step of a timeline lies between 1 min and 1 d and divides a day evenly, such as 5, 10, 15 or 30 min.';
      else if (n > MOST_STEPS)
        m.problem = `This timeline would have ${n} steps; at most ${MOST_STEPS} are worked. Make the step longer or the stay shorter.`;
      if (m.problem !== '') {
        m.own(~out, 1)[0] = Number.NaN;
        return;
      }
      const count = Math.max(1, n);
      const places = m.own(~out, count);
      for (let i = 0; i < count; i++) places[i] = start + (i + 0.5) * step;
      m.axes[axis] = { length: count, start, end: start + count * step, step, places };
    },
  };
}

export function axisFieldStep(axis: number, field: 'start' | 'end' | 'step', out: Operand): Step {
  return {
    run(m: Memory): void {
      m.scalars[out] = (m.axes[axis] as AxisValue)[field];
    },
  };
}

/** Largest number of steps of one `steps(…)`. */
export const MOST_SWEEP = 10_000;

export function stepsStep(
  axis: number,
  parts: readonly (readonly Operand[])[],
  even: boolean,
  out: readonly Operand[],
): Step {
  return {
    run(m: Memory): void {
      let n = parts.length;
      if (even) {
        const [from, to, by] = parts.map((p) => m.at(p[0] as Operand, 0)) as [
          number,
          number,
          number,
        ];
        const count = Math.floor((to - from) / by + 1e-9) + 1;
        if (!(by !== 0 && count >= 1))
          m.problem = 'The step must lead from the first end to the last.';
        else if (count > MOST_SWEEP)
          m.problem = `This would be ${count} steps; at most ${MOST_SWEEP} are worked.`;
        if (m.problem !== '') {
          for (const o of out) m.own(~o, 1)[0] = Number.NaN;
          m.axes[axis] = {
            length: 1,
            start: 0,
            end: 0,
            step: 0,
            places: new Float64Array([Number.NaN]),
          };
          return;
        }
        n = count;
        const row = m.own(~(out[0] as Operand), n);
        for (let i = 0; i < n; i++) row[i] = from + i * by;
      } else {
        for (let j = 0; j < out.length; j++) {
          const row = m.own(~(out[j] as Operand), n);
          for (let i = 0; i < n; i++)
            row[i] = m.at((parts[i] as readonly Operand[])[j] as Operand, 0);
        }
      }
      m.axes[axis] = {
        length: n,
        start: 0,
        end: 0,
        step: 0,
        places: m.rows[~(out[0] as Operand)] as Float64Array,
      };
    },
  };
}

type Entry =
  | 'absent'
  | 'formula'
  | { readonly values: readonly number[] }
  | { readonly operands: readonly Operand[] };

export function columnStep(
  formula: readonly Operand[] | undefined,
  entries: readonly Entry[],
  out: readonly Operand[],
): Step {
  return {
    run(m: Memory): void {
      for (let j = 0; j < out.length; j++) {
        const row = m.own(~(out[j] as Operand), entries.length);
        for (let i = 0; i < entries.length; i++) {
          const entry = entries[i] as Entry;
          if (entry === 'absent') row[i] = Number.NaN;
          else if (entry === 'formula')
            row[i] = formula ? m.at(formula[j] as Operand, i) : Number.NaN;
          else if ('values' in entry) row[i] = entry.values[j] as number;
          else row[i] = m.at(entry.operands[j] as Operand, i);
        }
      }
    },
  };
}

// ── reductions ──────────────────────────────────────────────────────────────────────────────────

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
  switch (fn) {
    case 'lowest':
    case 'at lowest':
      for (let i = base; i < end; i++) {
        const v = x[i] as number;
        if (Number.isNaN(v) || (where !== undefined && !counted(where[i] as number))) continue;
        if (best < 0 || v < extreme) [best, extreme] = [i - base, v];
      }
      break;
    case 'highest':
    case 'at highest':
      for (let i = base; i < end; i++) {
        const v = x[i] as number;
        if (Number.isNaN(v) || (where !== undefined && !counted(where[i] as number))) continue;
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
      if (where === undefined)
        for (let i = base; i < end; i++) {
          const v = x[i] as number;
          if (Number.isNaN(v)) continue;
          count++;
          sum += v;
        }
      else
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
    run(m: Memory): void {
      const value = m.axes[axis.id] as AxisValue;
      const n = axis.kind === 'rows' ? m.array(x).length : value.length;
      const total = outer.length === 0 ? 1 : lengthOf(m, outer);
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
            if (o === undefined) m.problem = text;
            write(m, j, k, total, o === undefined ? Number.NaN : m.at(o, 0));
          }
        };
        switch (fn) {
          case 'sum':
          case 'count':
            give(sum);
            break;
          case 'mean':
            if (count === 0) none('There is nothing to take the mean of: no place is left.');
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
                  : `There is no ${fn} value: no place is left.`,
              );
            else
              for (let j = 0; j < out.length; j++)
                write(m, j, k, total, m.at(a[j] as Operand, base + best));
            break;
          default:
            if (best < 0) none('There is no such place: none is left.');
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

// ── a series at a place ─────────────────────────────────────────────────────────────────────────

export function lookupStep(
  expr: Extract<Expr, { op: 'lookup' }>,
  of: readonly Operand[],
  key: Operand,
  out: readonly Operand[],
  shape: readonly number[],
  rowPlaces: Operand | undefined,
  textOf: (id: number) => string,
): Step {
  const { axis, straight } = expr;
  const isText = axis.coordinate.kind === 'text';
  const wraps = axis.coordinate.kind === 'time of day';
  const isState =
    expr.of.type.kind === 'quantity' || expr.of.type.kind === 'truth'
      ? expr.of.type.flow === 'state'
      : false;
  const holds =
    wraps ||
    (axis.kind === 'rows' &&
      axis.coordinate.kind === 'quantity' &&
      axis.coordinate.stance === 'moment');
  // Place found: index and the share of the way to the next.
  let index = 0;
  let share = 0;
  let hint = 0;

  const onTimeline = (m: Memory, t: number): boolean => {
    const v = m.axes[axis.id] as AxisValue;
    if (!(t >= v.start - 1e-6 && t <= v.end + 1e-6)) {
      m.problem = `The moment lies outside ${axis.name}.`;
      return false;
    }
    const x = (t - v.start) / v.step;
    if (!isState || !straight) {
      index = Math.min(
        v.length - 1,
        Math.max(0, isState ? Math.ceil(x - 1e-9) - 1 : Math.floor(x + 1e-9)),
      );
      share = 0;
      return true;
    }
    // States stand at the ends of steps: place i is at start + (i + 1) step.
    const y = x - 1;
    index = Math.min(v.length - 1, Math.max(0, Math.floor(y + 1e-9)));
    share = index >= v.length - 1 ? 0 : Math.min(1, Math.max(0, y - index));
    return true;
  };

  const onDays = (m: Memory, t: number): boolean => {
    const v = m.axes[axis.id] as AxisValue;
    const d = Math.floor(t / DAY) - v.start / DAY;
    if (d < 0 || d >= v.length) {
      m.problem = `The day lies outside ${axis.name}.`;
      return false;
    }
    index = d;
    share = 0;
    return true;
  };

  const onPlaces = (places: Float64Array, m: Memory, x: number): boolean => {
    const n = places.length;
    if (isText) {
      for (let i = 0; i < n; i++)
        if (places[i] === x) {
          index = i;
          share = 0;
          return true;
        }
      m.problem = `There is no row called "${textOf(x)}".`;
      return false;
    }
    if (n === 0) {
      m.problem = 'The table has no rows.';
      return false;
    }
    if (wraps) x -= DAY * Math.floor(x / DAY);
    if (holds) {
      // The last row before holds until the next one; a time of day wraps.
      if (x < (places[0] as number) - 1e-9) {
        if (!wraps) {
          m.problem = `The moment lies before the first row of ${axis.name.replace(/^the rows of /, '')}.`;
          return false;
        }
        index = n - 1;
        share = 0;
        return true;
      }
      index = seek(places, x);
      share = 0;
      return true;
    }
    const tiny =
      1e-9 * Math.max(1, Math.abs(places[0] as number), Math.abs(places[n - 1] as number));
    if (x < (places[0] as number) - tiny || x > (places[n - 1] as number) + tiny) {
      m.problem = `The value lies outside the rows of ${axis.name.replace(/^the rows of /, '')}; between two rows a straight line is taken, beyond the ends nothing is known.`;
      return false;
    }
    index = seek(places, x + tiny);
    const next = places[index + 1];
    share =
      next === undefined
        ? 0
        : Math.min(
            1,
            Math.max(0, (x - (places[index] as number)) / (next - (places[index] as number))),
          );
    if (share < 1e-12) share = 0;
    return true;
  };

  /** Last place not above x; the search begins where the last one ended. */
  const seek = (places: Float64Array, x: number): number => {
    const n = places.length;
    let i = hint < n && (places[hint] as number) <= x ? hint : 0;
    if (i + 8 < n && (places[i + 8] as number) <= x) {
      let lo = i + 8;
      let hi = n - 1;
      while (lo < hi) {
        const mid = (lo + hi + 1) >> 1;
        if ((places[mid] as number) <= x) lo = mid;
        else hi = mid - 1;
      }
      i = lo;
    } else while (i + 1 < n && (places[i + 1] as number) <= x) i++;
    hint = i;
    return i;
  };

  const find = (m: Memory, x: number): boolean => {
    if (Number.isNaN(x)) return false;
    if (axis.kind === 'timeline') return onTimeline(m, x);
    if (axis.kind === 'days') return onDays(m, x);
    return onPlaces(
      rowPlaces !== undefined ? m.array(rowPlaces) : (m.axes[axis.id] as AxisValue).places,
      m,
      x,
    );
  };

  const value = (m: Memory, j: number): number => {
    const row = m.array(of[j] as Operand);
    const a = row[index] as number;
    if (share === 0 || !straight) return a;
    return a + ((row[index + 1] as number) - a) * share;
  };

  return {
    run(m: Memory): void {
      hint = 0;
      if ((out[0] as Operand) >= 0) {
        const ok = find(m, m.at(key, m.index));
        for (let j = 0; j < out.length; j++)
          m.scalars[out[j] as number] = ok ? value(m, j) : Number.NaN;
        return;
      }
      const n = lengthOf(m, shape);
      const rows = out.map((o) => m.own(~o, n));
      for (let i = 0; i < n; i++) {
        const ok = find(m, m.at(key, i));
        for (let j = 0; j < rows.length; j++)
          (rows[j] as Float64Array)[i] = ok ? value(m, j) : Number.NaN;
      }
    },
  };
}

// ── hours ───────────────────────────────────────────────────────────────────────────────────────

/** How much of the stretch [from, from + step) lies in the daily hours start..end, as a share. */
export function overlap(from: number, step: number, start: number, end: number): number {
  if (start === end) return 0;
  const length = hoursLength(start, end);
  const to = from + step;
  let inside = 0;
  const first = Math.floor((from - start - length) / DAY);
  for (let d = first; d * DAY + start < to; d++) {
    const a = Math.max(from, d * DAY + start);
    const b = Math.min(to, d * DAY + start + length);
    if (b > a) inside += b - a;
  }
  return inside / step;
}

export function duringStep(
  axis: number,
  start: Operand,
  end: Operand,
  daily: boolean,
  out: Operand,
): Step {
  return {
    run(m: Memory): void {
      const t = m.axes[axis] as AxisValue;
      const row = m.own(~out, t.length);
      const [a, b] = [m.at(start, 0), m.at(end, 0)];
      for (let i = 0; i < t.length; i++) {
        const from = t.start + i * t.step;
        row[i] = daily
          ? overlap(from, t.step, a, b)
          : Math.max(0, Math.min(from + t.step, b) - Math.max(from, a)) / t.step;
      }
    },
  };
}

export function loadProfileStep(
  axis: number,
  power: Operand,
  start: Operand,
  end: Operand,
  out: Operand,
): Step {
  return {
    run(m: Memory): void {
      const t = m.axes[axis] as AxisValue;
      const row = m.own(~out, t.length);
      const p = m.array(power);
      row.fill(0);
      const perDay = Math.round(DAY / t.step);
      for (let k = 0; k < p.length; k++) {
        const [watts, a, b] = [p[k] as number, m.at(start, k), m.at(end, k)];
        // An absent entry takes no part.
        if (Number.isNaN(watts + a + b)) continue;
        // The pattern repeats from day to day.
        for (let i = 0; i < Math.min(perDay, t.length); i++) {
          const share = overlap(t.start + i * t.step, t.step, a, b);
          if (share === 0) continue;
          for (let j = i; j < t.length; j += perDay) row[j] = (row[j] as number) + watts * share;
        }
      }
    },
  };
}

/** Packs an outline: [n, azimuths, heights, light through]. */
export function windowStep(
  rows: number,
  azimuth: Operand,
  height: Operand,
  through: Operand,
  out: Operand,
): Step {
  return {
    run(m: Memory): void {
      if (rows < 0) {
        m.own(~out, 1)[0] = 0;
        return;
      }
      const n = m.array(azimuth).length;
      const packed = m.own(~out, 1 + 3 * n);
      packed[0] = n;
      for (let i = 0; i < n; i++) {
        packed[1 + i] = m.at(azimuth, i);
        packed[1 + n + i] = m.at(height, i);
        const t = m.at(through, i);
        packed[1 + 2 * n + i] = !Number.isNaN(t) ? t : 0;
      }
      const sorted = n >= 3 && packed.subarray(1, n).every((v, i) => v < (packed[2 + i] as number));
      if (!sorted) {
        m.problem =
          'An outline of the sky needs at least three sightings in the order of their azimuths.';
        packed[0] = Number.NaN;
      }
    },
  };
}
