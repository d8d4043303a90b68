// Which places of a chart lie side by side, where each is read, and where a key leads.

import type { ChartData } from '../../engine/index.ts';
import { statesOnly } from './chart-reading.ts';

const DAY = 86_400;

/** Where a place is read: a state at the end of its step, a rate in the middle. */
export function readAt(data: ChartData, index: number): number {
  const value = data.axis.values[index] ?? 0;
  return data.axis.kind === 'time' && statesOnly(data) ? value + data.step / 2 : value;
}

export function countOf(data: ChartData): number {
  return Math.max(data.axis.values.length, data.axis.labels.length);
}

/** Whether places lie side by side from left to right, so that a hand can point at one. */
export function isPointed(data: ChartData): boolean {
  if (data.second || data.influence || data.spread || data.sky || data.kind === 'dots')
    return false;
  return countOf(data) > 0;
}

/** Where a key leads from a place: one on, a page (a day of a timeline, else ten), or an end. */
export function placeByKey(
  key: string,
  from: number,
  count: number,
  data: Pick<ChartData, 'axis' | 'step'>,
): number | undefined {
  const day = data.axis.kind === 'time' && data.step > 0 ? Math.round(DAY / data.step) : 10;
  const page = Math.max(1, day);
  const to = {
    ArrowRight: from + 1,
    ArrowUp: from + 1,
    ArrowLeft: from - 1,
    ArrowDown: from - 1,
    PageDown: from + page,
    PageUp: from - page,
    Home: 0,
    End: count - 1,
  }[key];
  return to === undefined ? undefined : Math.max(0, Math.min(count - 1, to));
}
