// Steps that read a series at a place: a moment, a day, a row of a table, between two rows.

import type { Expr } from '../check/typed.ts';
import { formatDate, formatMoment, formatNumber, formatQuantity } from '../dimension/quantity.ts';
import { preferredUnit } from '../dimension/unit.ts';
import { workedLength } from './kernels.ts';
import type { AxisValue, Memory, Operand } from './memory.ts';
import type { Step } from './program.ts';

const DAY = 86_400;
const NONE = new Float64Array(0);

/** Absent numbers are never the same. */
function sameNumbers(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length || a.length === 0) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** A series at places already found: the number there, or on the straight line to the next. */
function readAt(
  from: Float64Array,
  indexes: Int32Array,
  shares: Float64Array,
  straight: boolean,
  out: Float64Array,
): void {
  for (let i = 0; i < out.length; i++) {
    const at = indexes[i] as number;
    const a = from[at] as number;
    const share = shares[i] as number;
    out[i] = share === 0 || !straight ? a : a + ((from[at + 1] as number) - a) * share;
  }
}

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
  const { coordinate } = axis;
  const shown = (place: number): string => {
    if (coordinate.kind !== 'quantity') return formatNumber(place);
    const { dimension, stance, unit } = coordinate;
    const options = { point: stance !== 'plain', size: Math.abs(place) };
    return formatQuantity(place, unit ?? preferredUnit(dimension, [], options));
  };
  // Place found: index and the share of the way to the next.
  let index = 0;
  let share = 0;
  let hint = 0;

  const onTimeline = (m: Memory, t: number): boolean => {
    const v = m.axes[axis.id] as AxisValue;
    if (!(t >= v.start - 1e-6 && t <= v.end + 1e-6)) {
      m.say(
        'outside-axis',
        `The moment ${formatMoment(t)} lies outside ${axis.name}, which runs from ${formatMoment(v.start)} to ${formatMoment(v.end)}.`,
      );
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
      const last = v.start / DAY + v.length - 1;
      m.say(
        'outside-axis',
        `${formatDate(Math.floor(t / DAY))} is none of ${axis.name}, which go from ${formatDate(v.start / DAY)} to ${formatDate(last)}.`,
      );
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
      m.say('no-such-row', `There is no row called "${textOf(x)}".`);
      return false;
    }
    if (n === 0) {
      m.say('no-such-row', 'The table has no rows.');
      return false;
    }
    if (wraps) x -= DAY * Math.floor(x / DAY);
    if (holds) {
      // The last row before holds until the next one; a time of day wraps.
      if (x < (places[0] as number) - 1e-9) {
        if (!wraps) {
          m.say(
            'outside-rows',
            `The moment lies before the first row of ${axis.name.replace(/^the rows of /, '')}.`,
          );
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
      m.say(
        'outside-rows',
        `${shown(x)} lies outside the rows of ${axis.name.replace(/^the rows of /, '')}, which run from ${shown(places[0] as number)} to ${shown(places[n - 1] as number)}; beyond the ends nothing is known. Add a row, or ask for a value between.`,
      );
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

  /** The places found for a whole series of keys; often the next run asks with the same keys. */
  const found = { keys: NONE, places: NONE, indexes: new Int32Array(0), shares: NONE };
  /** False when a key has no place: what is wrong with it is then found key by key. */
  const findAll = (m: Memory, keys: Float64Array, n: number): boolean => {
    const places =
      rowPlaces !== undefined ? m.array(rowPlaces) : (m.axes[axis.id] as AxisValue).places;
    if (keys.length !== n) return false;
    if (sameNumbers(keys, found.keys) && sameNumbers(places, found.places)) return true;
    found.keys = NONE;
    const [indexes, shares] = [new Int32Array(n), new Float64Array(n)];
    for (let i = 0; i < n; i++) {
      const x = keys[i] as number;
      if (Number.isNaN(x) || !onPlaces(places, m, x)) return false;
      indexes[i] = index;
      shares[i] = share;
    }
    Object.assign(found, { keys: keys.slice(), places: places.slice(), indexes, shares });
    return true;
  };

  return {
    reads: [key],
    writes: out,
    run(m: Memory): void {
      hint = 0;
      if ((out[0] as Operand) >= 0) {
        const ok = find(m, m.at(key, m.index));
        for (let j = 0; j < out.length; j++)
          m.scalars[out[j] as number] = ok ? value(m, j) : Number.NaN;
        return;
      }
      const n = workedLength(m, shape);
      const rows = out.map((o) => m.own(~o, n));
      if (key < 0 && axis.kind !== 'timeline' && axis.kind !== 'days') {
        const before = m.problem;
        if (findAll(m, m.array(key), n)) {
          for (let j = 0; j < rows.length; j++)
            readAt(
              m.array(of[j] as Operand),
              found.indexes,
              found.shares,
              straight,
              rows[j] as Float64Array,
            );
          return;
        }
        m.problem = before;
        hint = 0;
      }
      for (let i = 0; i < n; i++) {
        const ok = find(m, m.at(key, i));
        for (let j = 0; j < rows.length; j++)
          (rows[j] as Float64Array)[i] = ok ? value(m, j) : Number.NaN;
      }
    },
  };
}
