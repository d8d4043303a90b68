// The sun's place against sixty-two positions on which three astronomical libraries agree
// (test/reference/sun-positions.csv), against one of them at random, and sunrise at the edges of
// the polar day.

import { readFileSync } from 'node:fs';
import { Body, Equator, Horizon, Observer } from 'astronomy-engine';
import { getPosition, getTimes } from 'suncalc';
import { describe, expect, test } from 'vitest';
import {
  refraction,
  solarPosition,
  sunriseSunset,
} from '../../../engine/physics/solar-position.ts';

const DEGREE = Math.PI / 180;

/** Largest error allowed, ° of a great circle. */
const ALLOWED = 0.01;

interface Place {
  readonly elevation: number;
  readonly azimuth: number;
}

/** Angle between two directions, °. */
function separation(a: Place, b: Place): number {
  const sine = (angle: number) => Math.sin(angle * DEGREE);
  const half =
    sine((a.elevation - b.elevation) / 2) ** 2 +
    Math.cos(a.elevation * DEGREE) *
      Math.cos(b.elevation * DEGREE) *
      sine((a.azimuth - b.azimuth) / 2) ** 2;
  return (2 * Math.asin(Math.sqrt(half))) / DEGREE;
}

function ours(utcSeconds: number, latitude: number, longitude: number): Place {
  const sun = solarPosition(utcSeconds, latitude * DEGREE, longitude * DEGREE);
  return { elevation: sun.elevation / DEGREE, azimuth: sun.azimuth / DEGREE };
}

const [head = '', ...lines] = readFileSync(
  new URL('../../reference/sun-positions.csv', import.meta.url),
  'utf8',
)
  .trim()
  .split('\n');
const names = head.trim().split(',');
const rows = lines.map((line) => {
  const cells = line.trim().split(',');
  return (name: string): string => cells[names.indexOf(name)] ?? '';
});

describe('sixty-two positions, 1990 to 2050', () => {
  test('are sixty-two', () => {
    expect(rows).toHaveLength(62);
  });

  test.each(rows.map((row) => [row('id'), row('site'), row('utc'), row] as const))(
    '%s %s at %s lies within 0.01° of astronomy-engine, ephem and astropy',
    (_id, _site, utc, row) => {
      const here = ours(Date.parse(utc) / 1000, Number(row('lat_deg_N')), Number(row('lon_deg_E')));
      for (const library of ['astronomy_engine', 'ephem', 'astropy']) {
        const there = {
          elevation: Number(row(`elev_${library}_deg`)),
          azimuth: Number(row(`azim_${library}_deg`)),
        };
        expect(separation(here, there)).toBeLessThanOrEqual(ALLOWED);
      }
      // The list's distance is from the place, ours from the Earth's centre (4e-5 au), without the
      // Moon's pull on the Earth (3e-5 au): together 0.02 % of the light.
      const distance = Number(row('sun_distance_AU'));
      const { distanceFactor } = solarPosition(Date.parse(utc) / 1000, 0, 0);
      expect(Math.abs(distanceFactor * distance ** 2 - 1)).toBeLessThanOrEqual(2e-4);
    },
  );
});

/** Numbers from 0 to 1 from a seed, so that a failure can be repeated (Lehmer, modulus 2³¹ − 1). */
function* evenly(seed: number): Generator<number, never> {
  for (let state = seed; ; ) {
    state = (state * 48_271) % 2_147_483_647;
    yield state / 2_147_483_647;
  }
}

describe('a thousand random positions, 1990 to 2050', () => {
  const draw = evenly(20_270_514);
  const next = (from: number, until: number) => from + draw.next().value * (until - from);
  const places = Array.from({ length: 1000 }, () => ({
    at: Math.round(next(Date.UTC(1990, 0, 1) / 1000, Date.UTC(2050, 0, 1) / 1000)),
    latitude: next(-89, 89),
    longitude: next(-180, 180),
  }));

  // A series that lost one of its small terms (0.002° each) still lies within 0.01° everywhere, but no
  // longer within 0.0016° on the average.
  test('lie within 0.01° of astronomy-engine without air, and on the average within 0.0016°', () => {
    let squares = 0;
    for (const { at, latitude, longitude } of places) {
      const observer = new Observer(latitude, longitude, 0);
      const when = new Date(at * 1000);
      const { ra, dec } = Equator(Body.Sun, when, observer, true, true);
      const { altitude, azimuth } = Horizon(when, observer, ra, dec);
      const there = { elevation: altitude, azimuth };
      const apart = separation(ours(at, latitude, longitude), there);
      expect(apart).toBeLessThanOrEqual(ALLOWED);
      squares += apart ** 2;
    }
    expect(Math.sqrt(squares / places.length)).toBeLessThan(0.0016);
  });

  // suncalc 2 answers another question: its altitude is lifted by refraction, also below the
  // horizon, where it keeps the horizon's 0.48°, and it leaves out parallax (0.0024°) and the
  // planets' pull (0.006°). Where the sun is well up and the lift is taken off again, the rest must
  // agree.
  test('lie within 0.02° of suncalc once its refraction is taken off', () => {
    const up = places.filter((each) => ours(each.at, each.latitude, each.longitude).elevation > 5);
    expect(up.length).toBeGreaterThan(300);
    for (const { at, latitude, longitude } of up) {
      const here = ours(at, latitude, longitude);
      const there = getPosition(new Date(at * 1000), latitude, longitude);
      const lift = refraction(here.elevation * DEGREE, 101_000, 10) / DEGREE;
      const airless = { elevation: there.altitude - lift, azimuth: there.azimuth };
      expect(separation(here, airless)).toBeLessThanOrEqual(0.02);
    }
  });

  test('suncalc lifts a sun on the horizon by half a degree', () => {
    const low = places.filter((each) => {
      const { elevation } = ours(each.at, each.latitude, each.longitude);
      return elevation > -3 && elevation < 0;
    });
    expect(low.length).toBeGreaterThan(3);
    for (const { at, latitude, longitude } of low) {
      const there = getPosition(new Date(at * 1000), latitude, longitude);
      const lift = there.altitude - ours(at, latitude, longitude).elevation;
      expect(Math.abs(lift - 0.48)).toBeLessThan(0.02);
    }
  });
});

describe('sunrise and sunset', () => {
  const noon = (date: string, longitude: number) =>
    Date.parse(date) / 1000 + 43_200 - longitude * 240;

  test('agree with suncalc to a quarter of a minute between the polar circles', () => {
    for (let day = 0; day < 365; day += 13) {
      for (const [latitude, longitude] of [
        [-42.9, 147.3],
        [0, 0],
        [35, -120],
        [56, 10],
        [64, -21],
      ] as const) {
        const at = noon('2027-01-01', longitude) + day * 86_400;
        const { rise, set, state } = sunriseSunset(at, latitude * DEGREE, longitude * DEGREE);
        const there = getTimes(new Date(at * 1000), latitude, longitude);
        expect(state).toBe('usual');
        expect(Math.abs(rise - Number(there.sunrise) / 1000)).toBeLessThan(15);
        expect(Math.abs(set - Number(there.sunset) / 1000)).toBeLessThan(15);
      }
    }
  });

  test('do not exist in Tromsø at midsummer and midwinter', () => {
    const [latitude, longitude] = [69.65 * DEGREE, 18.96 * DEGREE];
    const summer = sunriseSunset(noon('2027-06-21', 18.96), latitude, longitude);
    expect(summer).toEqual({ rise: Number.NaN, set: Number.NaN, state: 'up all day' });
    const winter = sunriseSunset(noon('2027-12-21', 18.96), latitude, longitude);
    expect(winter).toEqual({ rise: Number.NaN, set: Number.NaN, state: 'down all day' });
  });

  test('belong to the local day, whatever moment near its noon is given', () => {
    const [latitude, longitude] = [39.74 * DEGREE, -105.18 * DEGREE];
    const middle = noon('2027-01-15', -105.18);
    const usual = sunriseSunset(middle, latitude, longitude);
    for (const shift of [-4, -1, 2, 5]) {
      const shifted = sunriseSunset(middle + shift * 3600, latitude, longitude);
      expect(Math.abs(shifted.rise - usual.rise)).toBeLessThan(0.1);
      expect(Math.abs(shifted.set - usual.set)).toBeLessThan(0.1);
    }
    expect(usual.rise).toBeLessThan(middle);
    expect(usual.set).toBeGreaterThan(middle);
  });
});
