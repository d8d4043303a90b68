// Thinning a long series for drawing: of every stretch that falls on the same pixel column, its
// lowest and its highest value stay, in their order, so that no peak and no dip is lost.

export interface Point {
  readonly x: number;
  /** null where the series has no value: the line breaks there. */
  readonly y: number | null;
}

/** At most `limit` points; fewer points than that stay as they are. */
export function thinned(
  xs: readonly number[],
  values: readonly number[],
  limit: number,
): readonly Point[] {
  const count = Math.min(xs.length, values.length);
  const point = (index: number): Point => {
    const y = values[index];
    return { x: xs[index] ?? 0, y: y !== undefined && Number.isFinite(y) ? y : null };
  };
  if (count <= limit) return Array.from({ length: count }, (_, index) => point(index));
  const columns = Math.max(1, Math.floor(limit / 2));
  const points: Point[] = [];
  for (let column = 0; column < columns; column++) {
    const from = Math.floor((column * count) / columns);
    const to = Math.floor(((column + 1) * count) / columns);
    let low = -1;
    let high = -1;
    for (let index = from; index < to; index++) {
      const value = values[index] ?? Number.NaN;
      if (!Number.isFinite(value)) continue;
      if (low < 0 || value < (values[low] ?? 0)) low = index;
      if (high < 0 || value > (values[high] ?? 0)) high = index;
    }
    if (low < 0) points.push(point(from));
    else if (low === high) points.push(point(low));
    else points.push(point(Math.min(low, high)), point(Math.max(low, high)));
  }
  return points;
}

/**
 * The same line with fewer points: those are left out from which it strays by at most `tolerance`
 * (the cone of slopes that keep to every point passed over; after Sklansky and Gonzalez 1980).
 */
export function straightened(points: readonly Point[], tolerance: number): readonly Point[] {
  const kept: Point[] = [];
  let anchor: Point | undefined;
  let last: Point | undefined;
  let [least, most] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const begin = (point: Point): void => {
    kept.push(point);
    anchor = point.y === null ? undefined : point;
    last = undefined;
    [least, most] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  };
  for (const point of points) {
    if (point.y === null || anchor === undefined || anchor.y === null) {
      if (last) kept.push(last);
      begin(point);
      continue;
    }
    const slope = (point.y - anchor.y) / (point.x - anchor.x);
    if (last && last.y !== null && (slope < least || slope > most)) {
      const from = last;
      begin(from);
      const way = point.x - from.x;
      const stood = from.y ?? 0;
      least = (point.y - tolerance - stood) / way;
      most = (point.y + tolerance - stood) / way;
    } else {
      const way = point.x - anchor.x;
      least = Math.max(least, (point.y - tolerance - anchor.y) / way);
      most = Math.min(most, (point.y + tolerance - anchor.y) / way);
    }
    last = point;
  }
  if (last) kept.push(last);
  return kept;
}

/** A row of steps without the places at which nothing changes. */
export function steadied(points: readonly Point[]): readonly Point[] {
  return points.filter(
    (point, index) =>
      index === 0 ||
      index === points.length - 1 ||
      point.y !== points[index - 1]?.y ||
      point.y !== points[index + 1]?.y,
  );
}
