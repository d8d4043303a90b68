// Where a hand points in a chart whose places do not lie side by side, and where such a place stands:
// cells of a map, givens by influence, shares of a spread. The picture's own scales say it.

import type { ChartData } from '../../engine/index.ts';
import type { ChartReading } from './chart-reading.ts';

/** What of a drawn picture is needed: its paper and its scales, px. */
export interface Picture {
  origin(): readonly number[];
  width(): number;
  height(): number;
  scale(name: string): unknown;
}
export interface Spot {
  readonly x: number;
  /** Nothing where the place is a whole upright line. */
  readonly y?: number;
}

interface Scale {
  (value: number): number;
  invert(pixel: number): number;
}

function scaleOf(picture: Picture, name: string): Scale {
  return picture.scale(name) as Scale;
}

function nearest(values: readonly number[], wanted: number): number {
  let best = 0;
  values.forEach((value, index) => {
    if (Math.abs(value - wanted) < Math.abs((values[best] ?? 0) - wanted)) best = index;
  });
  return best;
}

/** The values at which a spread is read, row by row. */
function spreadValues(reading: ChartReading): readonly number[] {
  return reading.rows.map(({ entries }) => Number(entries[1]));
}

/** The row of the reading that a hand at x, y px means; nothing beside the paper. */
export function spotUnder(
  data: ChartData,
  reading: ChartReading,
  picture: Picture,
  at: { readonly x: number; readonly y: number },
): number | undefined {
  const [left = 0, top = 0] = picture.origin();
  const [x, y] = [at.x - left, at.y - top];
  if (x < 0 || y < 0 || x > picture.width() || y > picture.height()) return undefined;
  if (data.influence)
    return Math.min(
      data.influence.length - 1,
      Math.floor((y / picture.height()) * data.influence.length),
    );
  const value = scaleOf(picture, 'x').invert(x);
  if (data.spread) return nearest(spreadValues(reading), value);
  if (!data.second) return undefined;
  const across = nearest(data.axis.values, value);
  const up = nearest(data.second.values, scaleOf(picture, 'y').invert(y));
  return across * data.second.values.length + up;
}

/** Where a row of the reading stands in the picture. */
export function spotOf(
  data: ChartData,
  reading: ChartReading,
  picture: Picture,
  index: number,
): Spot | undefined {
  const [left = 0, top = 0] = picture.origin();
  const x = scaleOf(picture, 'x');
  if (data.influence) {
    const one = data.influence[index];
    if (!one) return undefined;
    const y = ((index + 0.5) / data.influence.length) * picture.height();
    return { x: left + (x(one.low) + x(one.high)) / 2, y: top + y };
  }
  if (data.spread) {
    const value = spreadValues(reading)[index];
    return value === undefined ? undefined : { x: left + x(value) };
  }
  if (!data.second) return undefined;
  const count = data.second.values.length;
  const [across, up] = [
    data.axis.values[Math.floor(index / count)],
    data.second.values[index % count],
  ];
  if (across === undefined || up === undefined) return undefined;
  return { x: left + x(across), y: top + scaleOf(picture, 'y')(up) };
}
