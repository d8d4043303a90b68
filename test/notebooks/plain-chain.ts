// The way from the sun to the battery worked out a second time, by other means than the engine's: the
// sun from astronomy-engine, the view of the sky by adding up small patches of it, the battery by
// small steps of its own. It shares the published models with the engine, and nothing else.
//
// Models: Kasten & Young 1989 (air mass), Ineichen & Perez 2002 (clear sky), Erbs, Klein & Duffie
// 1982 (diffuse share), Hay & Davies 1980 (tilted plane), the ASHRAE angle modifier with b0 = 0.05
// and 0.95 for light from all over the sky; solar constant 1361 W/m² (Kopp & Lean 2011).

import { Body, Equator, Horizon, Observer } from 'astronomy-engine';

const RADIAN = Math.PI / 180;
const SOLAR_CONSTANT = 1361;
const SUN_RADIUS = 0.267;
/** Side of a patch of sky, degrees. */
const PATCH = 0.5;

/** Degrees north and east, metres, hours east of UTC. */
export interface Spot {
  readonly latitude: number;
  readonly longitude: number;
  readonly altitude: number;
  readonly offset: number;
}

/** A treetop: degrees from true north, degrees over the horizon, share of light through the crown. */
export interface Sighting {
  readonly azimuth: number;
  readonly height: number;
  readonly through: number;
}

/** Degrees and a share. */
export interface Plane {
  readonly tilt: number;
  readonly facing: number;
  readonly albedo: number;
}

export interface Sun {
  /** Degrees, airless. */
  readonly elevation: number;
  readonly azimuth: number;
  /** Distance in astronomical units. */
  readonly distance: number;
}

/** @param civil  `2027-06-12 13:05` as a clock at the spot shows it */
export function civilTime(civil: string, spot: Spot): Date {
  return new Date(Date.parse(`${civil.replace(' ', 'T')}Z`) - spot.offset * 3_600_000);
}

export function sunAt(moment: Date, spot: Spot): Sun {
  const observer = new Observer(spot.latitude, spot.longitude, spot.altitude);
  const place = Equator(Body.Sun, moment, observer, true, true);
  const seen = Horizon(moment, observer, place.ra, place.dec);
  return { elevation: seen.altitude, azimuth: seen.azimuth, distance: place.dist };
}

/** The outline at an azimuth: straight between sightings, closed round north. */
function outlineAt(outline: readonly Sighting[], azimuth: number): Sighting {
  const turn = (angle: number): number => ((angle % 360) + 360) % 360;
  for (const [index, from] of outline.entries()) {
    const to = outline[(index + 1) % outline.length];
    if (to === undefined) break;
    const width = turn(to.azimuth - from.azimuth) || 360;
    const along = turn(azimuth - from.azimuth);
    if (along > width) continue;
    const part = along / width;
    return {
      azimuth,
      height: from.height + (to.height - from.height) * part,
      through: from.through + (to.through - from.through) * part,
    };
  }
  return { azimuth, height: 0, through: 1 };
}

function beamShare(outline: readonly Sighting[], sun: Sun): number {
  if (outline.length === 0) return 1;
  const { height, through } = outlineAt(outline, sun.azimuth);
  const free = (sun.elevation - height + SUN_RADIUS) / (2 * SUN_RADIUS);
  return through + (1 - through) * Math.min(1, Math.max(0, free));
}

function towards(plane: Plane, elevation: number, azimuth: number): number {
  return (
    Math.sin(elevation * RADIAN) * Math.cos(plane.tilt * RADIAN) +
    Math.cos(elevation * RADIAN) *
      Math.sin(plane.tilt * RADIAN) *
      Math.cos((azimuth - plane.facing) * RADIAN)
  );
}

/** Share of an evenly bright sky that a plane sees: patches of half a degree, added up. */
export function skyShare(outline: readonly Sighting[], plane: Plane): number {
  let total = 0;
  for (let azimuth = PATCH / 2; azimuth < 360; azimuth += PATCH) {
    const edge = outline.length === 0 ? undefined : outlineAt(outline, azimuth);
    for (let elevation = PATCH / 2; elevation < 90; elevation += PATCH) {
      const open = edge === undefined || elevation > edge.height ? 1 : edge.through;
      const facing = Math.max(0, towards(plane, elevation, azimuth));
      total += open * facing * Math.cos(elevation * RADIAN) * (PATCH * RADIAN) ** 2;
    }
  }
  return total / Math.PI;
}

export interface Light {
  /** Facing the sun, from the sky, on the level and above the air, W/m². */
  readonly beam: number;
  readonly diffuse: number;
  readonly global: number;
  readonly outside: number;
}

const DARK: Light = { beam: 0, diffuse: 0, global: 0, outside: SOLAR_CONSTANT };

export function clearLight(sun: Sun, altitude: number, turbidity: number): Light {
  const outside = SOLAR_CONSTANT / sun.distance ** 2;
  const up = Math.sin(sun.elevation * RADIAN);
  if (up <= 0) return DARK;
  const thickness = 1 / (up + 0.50572 * (sun.elevation + 6.07995) ** -1.6364);
  const mass = thickness * (1 - 2.25577e-5 * altitude) ** 5.25588;
  const near = Math.exp(-altitude / 8000);
  const far = Math.exp(-altitude / 1250);
  const a = 5.09e-5 * altitude + 0.868;
  const b = 3.92e-5 * altitude + 0.0387;
  const global = a * outside * up * Math.exp(-b * mass * (near + far * (turbidity - 1)));
  const straight = (0.664 + 0.163 / near) * outside * Math.exp(-0.09 * mass * (turbidity - 1));
  const ceiling = (global * (1 - (0.1 - 0.2 * Math.exp(-turbidity)) / (0.1 + 0.882 / near))) / up;
  const beam = Math.max(0, Math.min(straight, ceiling));
  return { beam, global, diffuse: global - beam * up, outside };
}

export function cloudedLight(clear: Light, sun: Sun, index: number): Light {
  const up = Math.sin(sun.elevation * RADIAN);
  if (up <= 0) return DARK;
  const global = clear.global * index;
  const k = global / (clear.outside * up);
  const share =
    k <= 0.22
      ? 1 - 0.09 * k
      : k <= 0.8
        ? 0.9511 - 0.1604 * k + 4.388 * k ** 2 - 16.638 * k ** 3 + 12.336 * k ** 4
        : 0.165;
  const diffuse = global * share;
  return { global, diffuse, beam: (global - diffuse) / up, outside: clear.outside };
}

/** Light on a tilted plane behind an outline, W/m². `view` is the plane's share of the sky. */
export function planeLight(
  light: Light,
  sun: Sun,
  outline: readonly Sighting[],
  plane: Plane,
  view: number,
): number {
  if (sun.elevation <= 0) return 0;
  const ahead = Math.max(0, towards(plane, sun.elevation, sun.azimuth));
  const open = beamShare(outline, sun);
  const glass = ahead > 0 ? Math.max(0, 1 - 0.05 * (1 / ahead - 1)) : 0;
  const ring = light.beam / light.outside;
  const up = Math.max(Math.sin(sun.elevation * RADIAN), 0.01745);
  return (
    light.beam * ahead * glass * open +
    light.diffuse * ((ring * ahead * open) / up + (1 - ring) * view * 0.95) +
    (light.global * plane.albedo * (1 - Math.cos(plane.tilt * RADIAN))) / 2
  );
}

/** Warmest at 15:00, a cosine through the day; °C. */
export function airAt(hour: number, low: number, high: number): number {
  return low + ((high - low) * (1 + Math.cos((2 * Math.PI * (hour - 15)) / 24))) / 2;
}

/** What a battery is: Wh, shares, W, hours. */
export interface Store {
  readonly capacity: number;
  readonly start: number;
  readonly floor: number;
  readonly roundTrip: number;
  readonly chargeLimit: number;
  readonly taperFrom: number;
  readonly tail: number;
}

export interface StoreRun {
  /** Charge at the end of each step. */
  readonly charge: readonly number[];
  /** Wh. */
  readonly spilled: number;
  readonly unserved: number;
}

/** The battery in a plain loop: each step cut into pieces of a second or so, one after the other. */
export function runStore(
  charging: readonly number[],
  load: readonly number[],
  stepHours: number,
  store: Store,
): StoreRun {
  const pieces = 600;
  const piece = stepHours / pieces;
  const oneWay = Math.sqrt(store.roundTrip);
  const taperGap = store.capacity * (1 - store.taperFrom);
  let energy = store.start * store.capacity;
  let [spilled, unserved] = [0, 0];
  const charge = charging.map((offered, index) => {
    const net = offered - (load[index] ?? 0);
    for (let i = 0; i < pieces; i++) {
      if (net >= 0) {
        let inward = Math.min(net, store.chargeLimit) * oneWay;
        const gap = store.capacity - energy;
        if (inward > 0 && gap < taperGap)
          inward = 1 / (1 / inward + store.tail * (1 / Math.max(gap, 1e-9) - 1 / taperGap));
        energy = Math.min(store.capacity, energy + inward * piece);
        spilled += (net - inward / oneWay) * piece;
      } else {
        const there = Math.max(0, energy - store.floor * store.capacity);
        const outward = Math.min((-net / oneWay) * piece, there);
        energy -= outward;
        unserved += -net * piece - outward * oneWay;
      }
    }
    return energy / store.capacity;
  });
  return { charge, spilled, unserved };
}
