// Steps that make an axis or a column.

import { isInCalendar } from '../dimension/calendar.ts';
import type { AxisValue, Memory, Operand } from './memory.ts';
import type { Step } from './program.ts';

const DAY = 86_400;
/** A smaller part of a step comes from rounding. */
const LEAST_PART = 1e-6;
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
      if (!(end > start))
        m.say('timeline-order', 'A timeline ends after it starts. Give it a later end.');
      else if (!(step >= 60 && step <= DAY) || !whole)
        m.say(
          'timeline-step',
          'The step of a timeline lies between 1 min and 1 d and divides a day evenly, such as 5, 10, 15 or 30 min.',
        );
      else if (!isInCalendar(start / DAY) || !isInCalendar((end - 1) / DAY))
        m.say('timeline-years', 'A timeline lies between the years 0 and 9999. Check its ends.');
      else if (n > MOST_STEPS)
        m.say(
          'timeline-long',
          `This timeline would have ${n} steps; at most ${MOST_STEPS} are worked. Make the step longer or the stay shorter.`,
        );
      if (m.problem !== '') {
        m.own(~out, 1)[0] = Number.NaN;
        return;
      }
      const count = Math.max(1, n);
      const places = m.own(~out, count);
      for (let i = 0; i < count; i++) places[i] = start + (i + 0.5) * step;
      const last = start + count * step;
      m.axes[axis] =
        Math.abs(end - last) > LEAST_PART * step
          ? { length: count, start, end: last, step, places, asked: end }
          : { length: count, start, end: last, step, places };
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
          m.say('steps-direction', 'The step must lead from the first end to the last.');
        else if (count > MOST_SWEEP)
          m.say(
            'steps-many',
            `This would be ${Number.isFinite(count) ? count : 'endlessly many'} steps; at most ${MOST_SWEEP} are worked. Take a longer step.`,
          );
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
  const read = entries.flatMap((entry) =>
    typeof entry === 'object' && 'operands' in entry ? entry.operands : [],
  );
  return {
    reads: [...(formula ?? []), ...read],
    writes: out,
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
