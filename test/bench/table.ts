// How measures and times are printed.

import type { Ratio, Timing } from './measure.ts';

export interface Measure {
  readonly name: string;
  /** How many times faster, slower, or more; megabytes for memory. */
  readonly ratio: number;
  readonly low: number;
  readonly high: number;
  readonly target: number;
  readonly better: 'higher' | 'lower';
}

export function measure(
  name: string,
  ratio: Ratio,
  better: 'higher' | 'lower',
  target: number,
): Measure {
  return { name, ratio: ratio.median, low: ratio.low, high: ratio.high, target, better };
}

const brief = (x: number): string =>
  x >= 100 ? x.toFixed(0) : x >= 10 ? x.toFixed(1) : x.toFixed(2);

export function timingLine(name: string, a: string, b: string, c: string): string {
  return `${name.padEnd(58)} ${a.padStart(8)}  ${b.padStart(16)}  ${c}`;
}

export function measureLine({ name, ratio, low, high, target, better }: Measure): string {
  const reached = better === 'higher' ? ratio >= target : ratio <= target;
  const wanted = `${better === 'higher' ? '≥' : '≤'} ${target}`;
  return timingLine(
    name,
    brief(ratio),
    `${brief(low)} to ${brief(high)}`,
    `${wanted.padEnd(7)} ${reached ? 'reached' : 'MISSED'}`,
  );
}

/** A time in the unit that suits it. */
export function timeText(milliseconds: number): string {
  if (milliseconds >= 1) return `${brief(milliseconds)} ms`;
  if (milliseconds >= 1e-3) return `${brief(milliseconds * 1e3)} µs`;
  return `${brief(milliseconds * 1e6)} ns`;
}

export function timesOf(title: string, timings: readonly Timing[]): readonly string[] {
  return timings.map(
    ({ name, median, low, high }) =>
      `${`${title}: ${name}`.padEnd(58)} ${timeText(median).padStart(10)}  (${timeText(low)} to ${timeText(high)})`,
  );
}

/** Stops the bench when opponents disagree: a ratio of two different computations says nothing. */
export function agree(what: string, difference: number, allowed: number): void {
  if (!(difference <= allowed))
    throw new Error(`${what}: the values differ by ${difference} (allowed ${allowed})`);
}
