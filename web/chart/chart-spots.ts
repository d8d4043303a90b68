// Where a hand points in a chart, and where a place of it stands: moments and names side by side, dots,
// cells of a map, givens by influence, shares of a spread. The picture's own scales say it, so that
// what is read is what is drawn, however wide the labels beside the paper are.

import type { ChartData } from '../../engine/index.ts';
import { countOf, isPointed, readAt } from './chart-places.ts';
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
/** A scale of names: each has a stretch of the paper, or a point of it. */
interface NameScale {
  (name: string): number;
  domain(): readonly string[];
  bandwidth(): number;
}

function scaleOf(picture: Picture, name: string): Scale {
  return picture.scale(name) as Scale;
}

function isNames(scale: unknown): scale is NameScale {
  return typeof scale === 'function' && 'bandwidth' in scale;
}

/** Where each of the places that lie side by side stands on the paper, px from its left. */
function placesAcross(data: ChartData, picture: Picture): readonly number[] {
  const scale = picture.scale('x');
  const count = countOf(data);
  if (isNames(scale)) {
    const names = scale.domain();
    const half = scale.bandwidth() / 2;
    // Names that are the same share a place, and no place is known by its number.
    if (names.length !== count) return [];
    return names.map((name) => scale(name) + half);
  }
  const inDrawing = data.axis.kind === 'time' ? 1000 : 1;
  return Array.from({ length: count }, (_, index) =>
    (scale as Scale)(readAt(data, index) * inDrawing),
  );
}

/** Where the dots stand: one item across, the first of the others up. */
function dots(data: ChartData, picture: Picture): readonly Required<Spot>[] {
  const [x, y] = [scaleOf(picture, 'x'), scaleOf(picture, 'y')];
  const values = data.series[0]?.values ?? [];
  return data.axis.values.map((across, index) => ({
    x: x(across),
    y: y(values[index] ?? Number.NaN),
  }));
}

/** The dot nearest to a point of the paper; one that is absent is near to none. */
function nearestDot(all: readonly Required<Spot>[], at: Required<Spot>): number | undefined {
  let best: number | undefined;
  let least = Number.POSITIVE_INFINITY;
  all.forEach((dot, index) => {
    const distance = Math.hypot(dot.x - at.x, dot.y - at.y);
    if (distance < least) [best, least] = [index, distance];
  });
  return best;
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
  if (x < 0 || x > picture.width()) return undefined;
  // A hand below the paper, or in the second panel, still means the moment above it.
  if (isPointed(data)) {
    const across = placesAcross(data, picture);
    return across.length === 0 ? undefined : nearest(across, x);
  }
  if (y < 0 || y > picture.height()) return undefined;
  if (data.kind === 'dots') return nearestDot(dots(data, picture), { x, y });
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
  if (isPointed(data)) {
    const across = placesAcross(data, picture)[index];
    return across === undefined ? undefined : { x: left + across };
  }
  if (data.kind === 'dots') {
    const dot = dots(data, picture)[index];
    return dot && Number.isFinite(dot.y) ? { x: left + dot.x, y: top + dot.y } : undefined;
  }
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
