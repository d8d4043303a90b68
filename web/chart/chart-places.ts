// Where a chart's places lie across its paper, and which of them a hand or a key means.

import type { ChartData } from '../../engine/index.ts';
import { CHART_GUTTER } from './chart-panel.ts';
import { statesOnly } from './chart-reading.ts';

const DAY = 86_400;
/** The paper's right edge keeps this much free, px. */
const EDGE = 8;

/** The span of a numeric axis as it is drawn. */
function spanOf(data: ChartData): readonly [number, number] {
  const { values } = data.axis;
  if (data.axis.kind !== 'time') return [Math.min(...values), Math.max(...values)];
  return [(values[0] ?? 0) - data.step / 2, (values.at(-1) ?? 0) + data.step / 2];
}

/** Where a place is read: a state at the end of its step, a rate in the middle. */
function readAt(data: ChartData, index: number): number {
  const value = data.axis.values[index] ?? 0;
  return data.axis.kind === 'time' && statesOnly(data) ? value + data.step / 2 : value;
}

function countOf(data: ChartData): number {
  return Math.max(data.axis.values.length, data.axis.labels.length);
}

/** Whether places lie side by side from left to right, so that a hand can point at one. */
export function isPointed(data: ChartData): boolean {
  if (data.second || data.influence || data.spread || data.sky) return false;
  return countOf(data) > 0;
}

/** The place of a chart `width` px wide that a hand at `x` px means; nothing beside the paper. */
export function placeUnder(data: ChartData, x: number, width: number): number | undefined {
  if (!isPointed(data)) return undefined;
  const share = (x - CHART_GUTTER) / (width - CHART_GUTTER - EDGE);
  if (share < 0 || share > 1) return undefined;
  const count = countOf(data);
  const last = count - 1;
  if (data.axis.kind === 'labels' || data.axis.kind === 'days')
    return Math.min(last, Math.floor(share * count));
  const [from, to] = spanOf(data);
  const wanted = from + share * (to - from);
  if (data.axis.kind === 'time' && !statesOnly(data))
    return Math.min(last, Math.floor(share * count));
  let best = 0;
  for (let index = 1; index < count; index++) {
    if (Math.abs(readAt(data, index) - wanted) < Math.abs(readAt(data, best) - wanted))
      best = index;
  }
  return best;
}

/** Where the rule of a place stands, px from the paper's left; nothing where there is no rule. */
export function placeAt(data: ChartData, index: number, width: number): number | undefined {
  if (!isPointed(data)) return undefined;
  const inner = width - CHART_GUTTER - EDGE;
  if (data.axis.kind === 'labels' || data.axis.kind === 'days')
    return CHART_GUTTER + ((index + 0.5) / countOf(data)) * inner;
  const [from, to] = spanOf(data);
  return CHART_GUTTER + (to === from ? 0.5 : (readAt(data, index) - from) / (to - from)) * inner;
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
