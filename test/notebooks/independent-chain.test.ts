// Sun to battery over seven days at ten minutes, worked out twice: by a notebook, and by the plain
// chain beside this file. Expected values are the plain chain's; it shares no code with the engine.

import { expect, test } from 'vitest';
import { openSession } from '../../engine/index.ts';
import {
  airAt,
  civilTime,
  clearLight,
  cloudedLight,
  planeLight,
  runStore,
  type Sighting,
  type Spot,
  skyShare,
  sunAt,
} from './plain-chain.ts';
import { numberOf, seriesOf } from './read.ts';

const SPOT: Spot = { latitude: 45.3, longitude: 6.9, altitude: 900, offset: 2 };
const OUTLINE: readonly Sighting[] = [
  { azimuth: 10, height: 30, through: 0.1 },
  { azimuth: 80, height: 48, through: 0.1 },
  { azimuth: 120, height: 35, through: 0.2 },
  { azimuth: 150, height: 20, through: 0 },
  { azimuth: 215, height: 24, through: 0 },
  { azimuth: 240, height: 55, through: 0.15 },
  { azimuth: 300, height: 40, through: 0.1 },
];
const INDEX = [0.95, 0.65, 0.25, 0.25, 0.95, 0.65, 0.95];
const STEP_MINUTES = 10;

const NOTEBOOK = `dapple 1
place: 45.3 °N, 6.9 °E, 900 m, UTC+2

clock = timeline(from: 2027-08-14, until: 2027-08-21, by: 10 min)
weather = table
  day | clear index
${INDEX.map((index, day) => `  ${day + 1} | ${index * 100} %`).join('\n')}
trees = table
  azimuth | height | light through
${OUTLINE.map((at) => `  ${at.azimuth}° | ${at.height}° | ${at.through * 100} %`).join('\n')}
sun = sun position(clock)
sky = clouded sky(clear sky(sun, turbidity: 3), clear index: weather.clear index(trip day(clock)))
window = sky window(azimuth: trees.azimuth, height: trees.height, light through: trees.light through)
light = plane light(sky, sun, window, tilt: 30°, facing: 165°, albedo: 15 %)
seen = sky share(window, tilt: 30°, facing: 165°)
air = 11 °C + 13 K × (1 + cos(360° × (time of day(clock) - 15:00) / 24 h)) / 2
cell = air + light / 31.84 W/m²/K
harvest = 160 W × 90 % × light / (1000 W/m²) × (1 - 0.35 %/K × (cell - 25 °C)) × 95 %  as W
load = 12 W + 30 W × during(clock, 19:00..21:00)
store = battery run(charging: harvest, load: load, capacity: 500 Wh, start: 80 %, floor: 10 %, round trip: 88 %, charge limit: 70 W, taper from: 90 %, tail: 1.5 h)
charge = store.charge
harvested = energy(harvest) as Wh
spilled = energy(store.spilled) as Wh
unserved = energy(store.unserved) as Wh
`;

test('a week of harvest and charge agrees with a second way of working it out', () => {
  const report = openSession(NOTEBOOK).report(0, true);
  expect(report.messages).toEqual([]);

  const plane = { tilt: 30, facing: 165, albedo: 0.15 };
  const view = skyShare(OUTLINE, plane);
  expect(Math.abs(numberOf(report, 'seen') / 100 - view)).toBeLessThan(0.003);

  const harvest: number[] = [];
  const load: number[] = [];
  const start = civilTime('2027-08-14 00:00', SPOT).getTime();
  for (let minute = STEP_MINUTES / 2; minute < 7 * 1440; minute += STEP_MINUTES) {
    const hour = (minute / 60) % 24;
    const sun = sunAt(new Date(start + minute * 60_000), SPOT);
    const clear = clearLight(sun, SPOT.altitude, 3);
    const sky = cloudedLight(clear, sun, INDEX[Math.floor(minute / 1440)] ?? Number.NaN);
    const light = planeLight(sky, sun, OUTLINE, plane, view);
    const cell = airAt(hour, 11, 24) + light / 31.84;
    harvest.push(160 * 0.9 * (light / 1000) * (1 - 0.0035 * (cell - 25)) * 0.95);
    load.push(hour >= 19 && hour < 21 ? 42 : 12);
  }
  const energy = (harvest.reduce((sum, power) => sum + power, 0) * STEP_MINUTES) / 60;
  expect(Math.abs(numberOf(report, 'harvested') / energy - 1)).toBeLessThan(0.015);

  const run = runStore(harvest, load, STEP_MINUTES / 60, {
    capacity: 500,
    start: 0.8,
    floor: 0.1,
    roundTrip: 0.88,
    chargeLimit: 70,
    taperFrom: 0.9,
    tail: 1.5,
  });
  const charge = seriesOf(report, 'charge');
  expect(charge.length).toBe(run.charge.length);
  const apart = charge.map((value, at) => Math.abs(value / 100 - (run.charge[at] ?? Number.NaN)));
  expect(Math.max(...apart)).toBeLessThan(0.01);
  // The week must pass through what is to be tested: nearly full, and down to the floor.
  expect(Math.max(...run.charge)).toBeGreaterThan(0.95);
  expect(Math.min(...run.charge)).toBeLessThan(0.101);
  expect(Math.abs(numberOf(report, 'spilled') - run.spilled)).toBeLessThan(0.015 * energy);
  expect(Math.abs(numberOf(report, 'unserved') - run.unserved)).toBeLessThan(0.015 * energy);
});
