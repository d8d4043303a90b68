// Steps of spans of time along a timeline, and the outline of the sky.

import { hoursLength } from './element-steps.ts';
import type { AxisValue, Memory, Operand } from './memory.ts';
import type { Step } from './program.ts';

const DAY = 86_400;

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
  // The last answer and what it was asked for: through all trials it stays the same.
  let known: readonly number[] = [];
  let shares = new Float64Array(0);
  return {
    run(m: Memory): void {
      const t = m.axes[axis] as AxisValue;
      const row = m.own(~out, t.length);
      const [a, b] = [m.at(start, 0), m.at(end, 0)];
      const asked = [a, b, t.start, t.step];
      if (shares.length === t.length && asked.every((v, k) => v === known[k])) {
        row.set(shares);
        return;
      }
      for (let i = 0; i < t.length; i++) {
        const from = t.start + i * t.step;
        row[i] = daily
          ? overlap(from, t.step, a, b)
          : Math.max(0, Math.min(from + t.step, b) - Math.max(from, a)) / t.step;
      }
      known = asked;
      shares = row.slice();
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
        m.say(
          'outline-order',
          'An outline of the sky needs at least three sightings in the order of their azimuths.',
        );
        packed[0] = Number.NaN;
      }
    },
  };
}
