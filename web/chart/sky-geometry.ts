// Where a direction of the sky lies on the page. Seen lying down with the feet to the south: north
// at the top, east at the left, the zenith in the middle, the horizon round the edge.

export interface Place {
  readonly x: number;
  readonly y: number;
}

const QUARTER = Math.PI / 2;
const TURN = Math.PI * 2;

/** From azimuth (clockwise from north) and elevation, rad, to the disc. */
export function toDisc(azimuth: number, elevation: number, centre: number, radius: number): Place {
  const distance = radius * (1 - Math.max(0, Math.min(QUARTER, elevation)) / QUARTER);
  return {
    x: centre - distance * Math.sin(azimuth),
    y: centre - distance * Math.cos(azimuth),
  };
}

/** Back from the disc to azimuth and elevation, rad. */
export function fromDisc(
  place: Place,
  centre: number,
  radius: number,
): { readonly azimuth: number; readonly elevation: number } {
  const east = centre - place.x;
  const north = centre - place.y;
  const distance = Math.min(radius, Math.hypot(east, north));
  const azimuth = (Math.atan2(east, north) + TURN) % TURN;
  return { azimuth, elevation: QUARTER * (1 - distance / radius) };
}

/** The height of an outline at an azimuth: straight between its points, all the way round. */
export function outlineAt(
  azimuths: readonly number[],
  heights: readonly number[],
  azimuth: number,
): number {
  const points = azimuths
    .map((at, index) => ({ at: ((at % TURN) + TURN) % TURN, height: heights[index] ?? 0 }))
    .toSorted((a, b) => a.at - b.at);
  const first = points[0];
  const last = points.at(-1);
  if (!first || !last) return 0;
  const wanted = ((azimuth % TURN) + TURN) % TURN;
  const after = points.find(({ at }) => at >= wanted);
  const before = points.findLast(({ at }) => at <= wanted);
  const left = before ?? { at: last.at - TURN, height: last.height };
  const right = after ?? { at: first.at + TURN, height: first.height };
  const width = right.at - left.at;
  if (width === 0) return left.height;
  return left.height + ((right.height - left.height) * (wanted - left.at)) / width;
}
