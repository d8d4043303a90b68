/*
 * What trees, hills and tents leave of the sky. The outline is a list of sightings: azimuth, height
 * of the obstacle over the level horizon, and the share of light that still comes through it. The
 * outline runs straight from sighting to sighting and closes round north. Two sightings with one
 * azimuth make an upright edge.
 *
 * The sky share of a plane is an integral over the hemisphere. In elevation it has a closed form;
 * in azimuth the window keeps the outline on a fixed fan of strips, so that the share of a new tilt
 * costs a few microseconds.
 */

import { SUN_RADIUS } from './constants.ts';

const TURN = 2 * Math.PI;
const STRIPS = 360;
const STRIP = TURN / STRIPS;

const STRIP_COSINE = Float64Array.from({ length: STRIPS }, (_, i) => Math.cos((i + 0.5) * STRIP));
const STRIP_SINE = Float64Array.from({ length: STRIPS }, (_, i) => Math.sin((i + 0.5) * STRIP));

/** An outline of obstacles; azimuths ascending in 0 to 2π, heights 0 to π/2, shares 0 to 1. */
export interface SkyWindow {
  readonly azimuth: Float64Array;
  readonly height: Float64Array;
  readonly through: Float64Array;
  /** The outline's height in the middle of each azimuth strip, rad. */
  readonly stripHeight: Float64Array;
  /** sin² of that height. */
  readonly stripSquare: Float64Array;
  /** That height e as e + sin e cos e. */
  readonly stripBend: Float64Array;
  /** The share of light that passes below the outline in each strip. */
  readonly stripThrough: Float64Array;
}

/**
 * A window from sightings.
 *
 * @param azimuth  rad, 0 to 2π, clockwise from true north, ascending; equal neighbours make an edge
 * @param height   of the obstacle over the level horizon, rad, 0 to π/2; as many as `azimuth`
 * @param through  share of light that passes the obstacle, 0 to 1; as many as `azimuth`
 * @returns        the window; later changes of the arguments do not reach it
 * @throws RangeError when the lists are empty, differ in length, descend or leave their range
 *
 * Truth: test/engine/physics/sky-window.test.ts
 */
export function makeSkyWindow(
  azimuth: ArrayLike<number>,
  height: ArrayLike<number>,
  through: ArrayLike<number>,
): SkyWindow {
  const count = azimuth.length;
  if (count === 0) throw new RangeError('a sky window needs at least one sighting, got 0');
  if (height.length !== count || through.length !== count) {
    throw new RangeError(`${count} azimuths, ${height.length} heights, ${through.length} shares`);
  }
  const rows = {
    azimuth: Float64Array.from(azimuth),
    height: Float64Array.from(height),
    through: Float64Array.from(through),
  };
  let before = 0;
  for (const angle of rows.azimuth) {
    if (!(angle >= before && angle <= TURN)) {
      throw new RangeError(`azimuth ${angle} rad after ${before} rad, wanted ascending to 2π`);
    }
    before = angle;
  }
  for (const angle of rows.height) {
    if (!(angle >= 0 && angle <= Math.PI / 2)) throw new RangeError(`height ${angle} rad`);
  }
  for (const share of rows.through) {
    if (!(share >= 0 && share <= 1)) throw new RangeError(`share of light ${share}`);
  }
  const stripHeight = new Float64Array(STRIPS);
  const stripSquare = new Float64Array(STRIPS);
  const stripBend = new Float64Array(STRIPS);
  const stripThrough = new Float64Array(STRIPS);
  for (let i = 0; i < STRIPS; i += 1) {
    const middle = (i + 0.5) * STRIP;
    const outline = along(rows.azimuth, rows.height, middle);
    stripHeight[i] = outline;
    stripSquare[i] = Math.sin(outline) ** 2;
    stripBend[i] = outline + Math.sin(outline) * Math.cos(outline);
    stripThrough[i] = along(rows.azimuth, rows.through, middle);
  }
  return { ...rows, stripHeight, stripSquare, stripBend, stripThrough };
}

const NOTHING_IN_THE_WAY = makeSkyWindow([0], [0], [0]);

/** The window with nothing in the way. Truth: test/engine/physics/sky-window.test.ts */
export function openSky(): SkyWindow {
  return NOTHING_IN_THE_WAY;
}

/**
 * Height of the outline at an azimuth, straight between sightings.
 *
 * @param window   the outline
 * @param azimuth  rad, any turn
 * @returns        rad, 0 to π/2; NaN for NaN
 *
 * Truth: test/engine/physics/sky-window.test.ts
 */
export function windowHeight(window: SkyWindow, azimuth: number): number {
  return along(window.azimuth, window.height, azimuth);
}

/**
 * Share of light that passes the obstacle at an azimuth, straight between sightings.
 *
 * @param window   the outline
 * @param azimuth  rad, any turn
 * @returns        dimensionless, 0 to 1; NaN for NaN
 *
 * Truth: test/engine/physics/sky-window.test.ts
 */
export function windowThrough(window: SkyWindow, azimuth: number): number {
  return along(window.azimuth, window.through, azimuth);
}

/**
 * Share of the sun's beam that passes the window.
 *
 *     f = clip((h − outline + r) / 2r, 0, 1)     share = f + (1 − f) through
 *
 * @param window     the outline
 * @param elevation  of the sun's centre h, rad; 0 at or below the level horizon
 * @param azimuth    of the sun, rad
 * @returns          dimensionless, 0 to 1: 1 when the disc of radius r = 0.27° is free
 *
 * Light through a crown falls in flecks; a string of cells follows its darkest, see `stringShare`.
 * Source: Astronomical Almanac for the radius; the straight ramp is ours
 * Truth: test/engine/physics/sky-window.test.ts; within the masked days of checks.json
 */
export function beamShare(window: SkyWindow, elevation: number, azimuth: number): number {
  if (elevation <= 0) return 0;
  const over = elevation - along(window.azimuth, window.height, azimuth);
  if (over >= SUN_RADIUS) return 1;
  const free = Math.max(0, (over + SUN_RADIUS) / (2 * SUN_RADIUS));
  return free + (1 - free) * along(window.azimuth, window.through, azimuth);
}

/**
 * View of the open sky from a plane, as a share of what a level plane in the open sees.
 *
 *     F = (1/π) ∫∫ max(0, cos θ) cos e w de dA,   w = 1 over the outline, `through` below it
 *     cos θ = sin e cos β + cos e sin β cos(A − As)
 *     ∫ cos θ cos e de = ½ cos β sin² e + ½ sin β cos(A − As) (e + sin e cos e)
 *
 * @param window  the outline
 * @param tilt    of the plane β, rad, 0 to π
 * @param facing  azimuth the plane looks towards As, rad
 * @returns       dimensionless, 0 to 1; (1 + cos β)/2 in the open
 *
 * Where the plane itself cuts the outline there is no closed form; cos² h (1 + cos β)/2 is wrong
 * there (0.563 for 0.420 at β 60°, h 30°).
 * Source: the definition of a view factor, Duffie & Beckman, section 3.10
 * Truth: test/reference/checks.json (svf_*), largest error 7e-6
 */
export function skyShare(window: SkyWindow, tilt: number, facing: number): number {
  const level = Math.cos(tilt) / 2;
  const upright = Math.sin(tilt) / 2;
  const cosFacing = Math.cos(facing);
  const sinFacing = Math.sin(facing);
  let sum = 0;
  for (let i = 0; i < STRIPS; i += 1) {
    const toward = (STRIP_COSINE[i] ?? 0) * cosFacing + (STRIP_SINE[i] ?? 0) * sinFacing;
    const side = upright * toward;
    // The plane's own edge, where cos θ is 0: it sees what lies above it, or below when it looks
    // down. With G(e) the integral from 0 to e, G at the edge is just `side · edge`.
    const edge = level >= 0 ? Math.atan2(-side, level) : Math.atan2(side, -level);
    const least = level >= 0 && edge > 0 ? edge : 0;
    const most = level >= 0 ? Math.PI / 2 : edge;
    if (least >= most) continue;
    const height = window.stripHeight[i] ?? 0;
    const fromLeast = least === 0 ? 0 : side * edge;
    const fromMost = level >= 0 ? level + (side * Math.PI) / 2 : side * edge;
    let fromOutline = level * (window.stripSquare[i] ?? 0) + side * (window.stripBend[i] ?? 0);
    if (height <= least) fromOutline = fromLeast;
    else if (height >= most) fromOutline = fromMost;
    const below = window.stripThrough[i] ?? 0;
    sum += fromMost - fromOutline + below * (fromOutline - fromLeast);
  }
  return (sum * STRIP) / Math.PI;
}

/**
 * Share of the beam that a closed canopy lets through.
 *
 *     τ = exp(−G L / sin h)
 *
 * @param leafArea    leaf area over ground area L, 0 or more
 * @param elevation   of the sun h, rad; 0 at or below the horizon
 * @param projection  G, 0.5 for leaves in all directions
 * @returns           dimensionless, 0 to 1
 *
 * Source: Monsi & Saeki 1953; Campbell & Norman, An Introduction to Environmental Biophysics, 1998,
 * chapter 15 (from memory)
 * Truth: test/reference/checks.json (canopy_beam_transmittance), largest error 4e-7
 */
export function canopyTransmittance(leafArea: number, elevation: number, projection = 0.5): number {
  if (elevation <= 0) return 0;
  return Math.exp((-projection * leafArea) / Math.sin(elevation));
}

/**
 * Sky share when the obstacles let some light through.
 *
 *     F = F_mask + τ (F_open − F_mask)
 *
 * @param masked   sky share with opaque obstacles, 0 to 1
 * @param open     sky share with none, 0 to 1
 * @param through  share of light that passes them τ, 0 to 1
 * @returns        dimensionless
 *
 * Source: the definition
 * Truth: test/reference/checks.json (diffuse_factor_with_leaky_canopy), no error beyond rounding
 */
export function leakySkyShare(masked: number, open: number, through: number): number {
  return masked + through * (open - masked);
}

/** Value of a closed outline at an azimuth, straight between its points. */
function along(azimuth: Float64Array, value: Float64Array, at: number): number {
  const count = azimuth.length;
  const angle = at - TURN * Math.floor(at / TURN);
  if (Number.isNaN(angle)) return Number.NaN;
  // The first point beyond the angle; `low` points lie at or before it.
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((azimuth[middle] ?? 0) <= angle) low = middle + 1;
    else high = middle;
  }
  const before = low === 0 ? count - 1 : low - 1;
  const after = low === count ? 0 : low;
  const from = (azimuth[before] ?? 0) - (low === 0 ? TURN : 0);
  const until = (azimuth[after] ?? 0) + (low === count ? TURN : 0);
  const start = value[before] ?? 0;
  const share = until > from ? (angle - from) / (until - from) : 0;
  return start + share * ((value[after] ?? 0) - start);
}
