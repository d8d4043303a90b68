// Drawing an outline: its points moved, put in and taken out, and a stretch of it drawn anew by hand.
// Angles are rad, azimuth clockwise from north. A point keeps the number of the row it came from.

import { outlineAt } from './sky-geometry.ts';

export interface OutlinePoint {
  readonly azimuth: number;
  readonly height: number;
  /** The table's row this point came from; none for a new one. */
  readonly row?: number;
}
export interface Sighting {
  readonly azimuth: number;
  readonly elevation: number;
}

const DEGREE = Math.PI / 180;
const TURN = 2 * Math.PI;
/** An outline needs this many points to go round. */
export const FEWEST = 3;
/** A hand's line is followed this closely, rad. */
const CLOSE = 1.5 * DEGREE;
/** At most this many points come of one stroke. */
const MOST = 24;

function turned(azimuth: number): number {
  return ((azimuth % TURN) + TURN) % TURN;
}

function lifted(height: number): number {
  return Math.max(0, Math.min(TURN / 4, height));
}

export function pointMoved(
  points: readonly OutlinePoint[],
  index: number,
  azimuth: number,
  height: number,
): readonly OutlinePoint[] {
  // Azimuths rise from row to row, so a point keeps between its neighbours.
  const [before, after] = [points[index - 1], points[index + 1]];
  const least = before ? before.azimuth + DEGREE : 0;
  const most = after ? after.azimuth - DEGREE : TURN - DEGREE;
  const kept = Math.max(least, Math.min(most, azimuth));
  return points.map((point, at) =>
    at === index ? { ...point, azimuth: kept, height: lifted(height) } : point,
  );
}

/** The number of the point that comes next round the sky. */
export function nextAround(points: readonly OutlinePoint[], index: number): number {
  const from = points[index]?.azimuth ?? 0;
  let best = index;
  let least = Number.POSITIVE_INFINITY;
  points.forEach((point, at) => {
    const way = at === index ? TURN : turned(point.azimuth - from);
    if (way > 0 && way < least) [best, least] = [at, way];
  });
  return best;
}

/** By azimuth, one for each whole degree, as a table of sightings wants them. */
function inOrder(points: readonly OutlinePoint[]): readonly OutlinePoint[] {
  const degree = ({ azimuth }: OutlinePoint): number => Math.round(azimuth / DEGREE) % 360;
  return points
    .toSorted((a, b) => degree(a) - degree(b))
    .filter((point, index, all) => {
      const before = all[index - 1];
      return !before || degree(before) !== degree(point);
    });
}

/** A new point half way to the next one, on the line, so that the outline does not change yet. */
export function pointPutIn(
  points: readonly OutlinePoint[],
  index: number,
): { readonly points: readonly OutlinePoint[]; readonly at: number } {
  const from = points[index];
  const next = points[nextAround(points, index)];
  if (!from || !next) return { points, at: index };
  const way = turned(next.azimuth - from.azimuth) || TURN;
  const azimuth = turned(from.azimuth + way / 2);
  const made = { azimuth, height: (from.height + next.height) / 2 };
  const all = inOrder([...points, made]);
  return { points: all, at: all.indexOf(made) };
}

/** Without a point; as it was where too few would be left. */
export function pointTakenOut(
  points: readonly OutlinePoint[],
  index: number,
): readonly OutlinePoint[] {
  return points.length <= FEWEST ? points : points.toSpliced(index, 1);
}

interface Flat {
  readonly x: number;
  readonly y: number;
}

function offLine(point: Flat, from: Flat, to: Flat): number {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  if (length === 0) return Math.hypot(point.x - from.x, point.y - from.y);
  return Math.abs(dy * (point.x - from.x) - dx * (point.y - from.y)) / length;
}

/** The fewest points whose line stays within `close` of all (Ramer 1972; Douglas and Peucker 1973). */
export function thinnedLine(line: readonly Flat[], close: number): readonly Flat[] {
  const [first, last] = [line[0], line.at(-1)];
  if (!first || !last || line.length < 3) return line;
  let [far, at] = [0, 0];
  line.forEach((point, index) => {
    const off = offLine(point, first, last);
    if (off > far) [far, at] = [off, index];
  });
  if (far <= close) return [first, last];
  return [
    ...thinnedLine(line.slice(0, at + 1), close).slice(0, -1),
    ...thinnedLine(line.slice(at), close),
  ];
}

/**
 * The outline with the stretch a hand drew in place of what stood there. The stroke is read the way
 * it goes round; where it turns back, its last word counts.
 */
export function outlineDrawn(
  points: readonly OutlinePoint[],
  stroke: readonly Sighting[],
): readonly OutlinePoint[] {
  const first = stroke[0];
  if (!first || stroke.length < 2) return points;
  // Azimuths along the stroke without the jump at north.
  let way = 0;
  let before = first.azimuth;
  const line = stroke.map(({ azimuth, elevation }): Flat => {
    way += ((azimuth - before + 3 * Math.PI) % TURN) - Math.PI;
    before = azimuth;
    return { x: way, y: lifted(elevation) };
  });
  const end = line.at(-1)?.x ?? 0;
  const sign = end < 0 ? -1 : 1;
  if (Math.abs(end) < DEGREE) return points;
  const onward: Flat[] = [];
  for (const point of line) {
    const x = point.x * sign;
    while ((onward.at(-1)?.x ?? -1) >= x) onward.pop();
    if (x >= 0 && x < TURN) onward.push({ x, y: point.y });
  }
  let close = CLOSE;
  let kept = thinnedLine(onward, close);
  while (kept.length > MOST) {
    close *= 1.3;
    kept = thinnedLine(onward, close);
  }
  const drawn = kept.map(
    ({ x, y }): OutlinePoint => ({ azimuth: turned(first.azimuth + x * sign), height: y }),
  );
  const from = sign > 0 ? first.azimuth : first.azimuth + end;
  const width = Math.abs(end);
  const outside = points.filter(({ azimuth }) => turned(azimuth - from) > width);
  const all = inOrder([...outside, ...drawn]);
  return all.length < FEWEST ? points : all;
}

/** The light that comes through at an azimuth, as the outline had it. */
export function throughAt(
  azimuths: readonly number[],
  through: readonly number[],
  azimuth: number,
): number {
  return outlineAt(azimuths, through, azimuth);
}
