// The sun, the sky and what obstacles leave of them, by the place in the header.

import { angle, irradiance, irradiation, plain, time } from '../dimension/dimension.ts';
import { ineichenPerez } from '../physics/clear-sky.ts';
import { cloudedSky } from '../physics/clouds.ts';
import { dailyExtraterrestrial } from '../physics/daily-irradiation.ts';
import { beamShare, makeSkyWindow, openSky, type SkyWindow, skyShare } from '../physics/sky-window.ts';
import { solarPosition } from '../physics/solar-position.ts';
import { angleOfIncidence, planeOfArray } from '../physics/transposition.ts';
import { SOLAR_CONSTANT } from '../physics/constants.ts';
import { geocentricSun } from '../physics/solar-position.ts';
import type { LibraryFunction, Parameter } from './signature.ts';

const DAY = 86_400;
const TURN = 2 * Math.PI;
const sun: Parameter = { name: 'sun', kind: 'record', sort: 'sun', meaning: 'from sun position(…)' };
const sky: Parameter = { name: 'sky', kind: 'record', sort: 'sky', meaning: 'from clear sky(…) or clouded sky(…)' };
const window: Parameter = { name: 'window', kind: 'window', meaning: 'from sky window(…) or open sky()' };
const tilt: Parameter = { name: 'tilt', kind: 'quantity', dimension: angle, range: [0, Math.PI], rangeText: '0° to 180°', meaning: 'of the panel from the level' };
const facing: Parameter = { name: 'facing', kind: 'quantity', dimension: angle, range: [-TURN, TURN], rangeText: '−360° to 360°', meaning: 'azimuth the panel looks to, from true north by east' };

/** Outlines prepared lately; few are in use at a time. */
const prepared: { packed: Float64Array; made: SkyWindow }[] = [];

export function windowOf(packed: Float64Array): SkyWindow {
  const known = prepared.findIndex((p) => p.packed.length === packed.length && p.packed.every((v, i) => v === packed[i]));
  if (known >= 0) {
    const hit = prepared[known] as { packed: Float64Array; made: SkyWindow };
    if (known > 0) {
      prepared.splice(known, 1);
      prepared.unshift(hit);
    }
    return hit.made;
  }
  const n = packed[0] ?? 0;
  const made = n > 0 ? makeSkyWindow(packed.subarray(1, 1 + n), packed.subarray(1 + n, 1 + 2 * n), packed.subarray(1 + 2 * n, 1 + 3 * n)) : openSky();
  prepared.unshift({ packed: packed.slice(), made });
  prepared.length = Math.min(prepared.length, 8);
  return made;
}

/** The window of a call, looked up once for each array the machine hands over. */
let lastPacked: Float64Array | undefined;
let lastCheck = Number.NaN;
let lastWindow: SkyWindow = openSky();
function windowIn(windows: readonly Float64Array[]): SkyWindow {
  const packed = windows[0] as Float64Array;
  let check = packed.length;
  for (let i = 0; i < packed.length; i++) check = check * 1.000001 + (packed[i] as number) * (i + 1);
  if (packed !== lastPacked || check !== lastCheck) {
    lastPacked = packed;
    lastCheck = check;
    lastWindow = windowOf(packed);
  }
  return lastWindow;
}

const SUN_SOURCE = 'Meeus, Astronomical Algorithms, 2nd ed. (1998), ch. 12, 13, 22, 25, 40; held against Reda & Andreas, NREL/TP-560-34302';

export const sunAndSky: readonly LibraryFunction[] = [
  {
    name: 'sun position',
    parameters: [{ name: 'at', kind: 'quantity', dimension: time, stance: 'moment', meaning: 'a moment or a timeline' }],
    result: { kind: 'record', sort: 'sun', fields: [] },
    apply: (args, out, context) => {
      const s = solarPosition((args[0] as number) - context.offset, context.latitude, context.longitude);
      out[0] = s.elevation;
      out[1] = s.azimuth;
      out[2] = s.distanceFactor;
    },
    needsPlace: true, positional: 1, subject: 'sun and sky',
    meaning: 'Where the sun stands: elevation over the level horizon without refraction, azimuth from true north by east.',
    source: SUN_SOURCE, example: { formula: 'sun position(2027-06-21 13:00).elevation > 60°', gives: 'yes' },
  },
  {
    name: 'clear sky',
    parameters: [sun, { name: 'turbidity', kind: 'quantity', dimension: plain, default: 3, range: [1, 10], rangeText: '1 to 10', meaning: 'Linke turbidity: 2 cold and very clear, 3 clear, 4 summer lowland, 6 smoke' }],
    result: { kind: 'record', sort: 'sky', fields: [] },
    apply: (args, out, context) => {
      const outside = SOLAR_CONSTANT * (args[2] as number);
      const s = ineichenPerez(args[0] as number, context.altitude, args[3] as number, outside);
      out[0] = s.dni;
      out[1] = s.dhi;
      out[2] = s.ghi;
      out[3] = outside;
    },
    needsPlace: true, positional: 1, subject: 'sun and sky',
    meaning: 'Light of a cloudless sky: beam on a surface that faces the sun, diffuse and global on the level.',
    source: 'Ineichen & Perez, Solar Energy 73 (2002) 151-157, without the later low-sun factor; doubtful below 5° of elevation',
    example: { formula: 'clear sky(sun position(2027-06-21 13:00)).global > 900 W/m²', gives: 'yes' },
  },
  {
    name: 'clouded sky',
    parameters: [sky, { name: 'clear index', kind: 'quantity', dimension: plain, range: [0, 1.1], rangeText: '0 % to 110 %', meaning: 'share of the clear sky: 95 % clear, 65 % mixed, 25 % grey' }],
    result: { kind: 'record', sort: 'sky', fields: [] },
    apply: (args, out) => {
      const [beam, diffuse, ghi, outside, index] = args as unknown as [number, number, number, number, number];
      // The sun's height is in the record itself: global = beam × sine of the elevation + diffuse.
      const height = beam > 0 ? Math.asin(Math.min(1, Math.max(0, (ghi - diffuse) / beam))) : 0;
      const s = cloudedSky(ghi, height, outside, index, beam);
      out[0] = s.dni;
      out[1] = s.dhi;
      out[2] = s.ghi;
      out[3] = outside;
    },
    positional: 1, subject: 'sun and sky',
    meaning: 'The clear sky under clouds: global light times the clear index, split anew into beam and diffuse.',
    source: 'Erbs, Klein & Duffie, Solar Energy 28 (1982) 293-302',
    example: { formula: 'clouded sky(clear sky(sun position(2027-06-21 13:00)), clear index: 25 %).beam < 5 W/m²', gives: 'yes' },
  },
  {
    name: 'outside sum',
    parameters: [{ name: 'on', kind: 'quantity', dimension: time, stance: 'moment', meaning: 'a date' }],
    result: { kind: 'quantity', dimension: irradiation, stance: 'plain', unit: 'Wh/m²' },
    apply: (args, out, context) => {
      const noon = Math.floor((args[0] as number) / DAY) * DAY + DAY / 2 - context.offset;
      const s = geocentricSun(noon);
      out[0] = dailyExtraterrestrial(context.latitude, s.declination, SOLAR_CONSTANT * solarPosition(noon, context.latitude, context.longitude).distanceFactor);
    },
    needsPlace: true, positional: 1, subject: 'sun and sky',
    meaning: 'Light of one day on a level surface above the air: the most a sunshine or temperature record can be a share of.',
    source: 'Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 1.10.3',
    example: { formula: 'outside sum(on: 2027-06-21) > 11000 Wh/m²', gives: 'yes' },
  },
  {
    name: 'sky window',
    parameters: [
      { name: 'azimuth', kind: 'quantity', dimension: angle, meaning: 'of the sightings, on the rows of a table' },
      { name: 'height', kind: 'quantity', dimension: angle, meaning: 'of the obstacle over the level horizon, on the same rows' },
      { name: 'light through', kind: 'quantity', dimension: plain, optional: true, range: [0, 1], rangeText: '0 % to 100 %', meaning: 'what still comes through: 0 % a trunk, 5-25 % a crown in leaf' },
    ],
    result: { kind: 'form', text: 'a sky window' },
    positional: 0, subject: 'sun and sky', meaning: 'The outline of trees and hills from sightings, straight between them.', source: 'geometry', example: { formula: 'sky share(open sky(), tilt: 0°, facing: 180°)', gives: '100 %' },
  },
  { name: 'open sky', parameters: [], result: { kind: 'form', text: 'a sky window' }, positional: 0, subject: 'sun and sky', meaning: 'A sky with nothing in the way.', source: 'geometry', example: { formula: 'sky share(open sky(), tilt: 90°, facing: 180°)', gives: '50 %' } },
  {
    name: 'beam share', parameters: [window, sun], result: { kind: 'quantity', dimension: plain, stance: 'plain', unit: '%' },
    apply: (args, out, _context, windows) => {
      out[0] = beamShare(windowIn(windows), args[0] as number, args[1] as number);
    },
    positional: 2, subject: 'sun and sky', meaning: 'How much of the beam passes the outline: all, none, or what a crown lets through; a ramp over the sun’s disc.',
    source: 'geometry; the sun’s radius of 16′ from the Astronomical Almanac', example: { formula: 'beam share(open sky(), sun position(2027-06-21 13:00))', gives: '100 %' },
  },
  {
    name: 'sky share', parameters: [window, tilt, facing], result: { kind: 'quantity', dimension: plain, stance: 'plain', unit: '%' },
    apply: (args, out, _context, windows) => {
      out[0] = skyShare(windowIn(windows), args[0] as number, args[1] as number);
    },
    positional: 1, subject: 'sun and sky', meaning: 'How much open sky the tilted panel sees; 100 % for a level panel in the open.',
    source: 'integral of the cosine over the open sky; (1 + cos tilt)/2 in the open', example: { formula: 'sky share(open sky(), tilt: 90°, facing: 0°)', gives: '50 %' },
  },
  {
    name: 'incidence angle', parameters: [sun, tilt, facing], result: { kind: 'quantity', dimension: angle, stance: 'plain', unit: '°' },
    apply: (args, out) => {
      out[0] = angleOfIncidence(args[0] as number, args[1] as number, args[3] as number, args[4] as number);
    },
    positional: 1, subject: 'sun and sky', meaning: 'Angle between the sun and the panel’s straight-ahead.',
    source: 'Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 1.6.3', example: { formula: 'incidence angle(sun position(2027-06-21 13:00), tilt: 0°, facing: 180°) < 30°', gives: 'yes' },
  },
  {
    name: 'plane light',
    parameters: [sky, sun, window, tilt, facing, { name: 'albedo', kind: 'quantity', dimension: plain, default: 0.2, range: [0, 1], rangeText: '0 % to 100 %', meaning: 'share that the ground throws back: forest floor 10-15 %, grass 20-25 %, fresh snow 75-85 %' }],
    result: { kind: 'quantity', dimension: irradiance, stance: 'plain', unit: 'W/m²' },
    apply: (args, out, _context, windows) => {
      const w = windowIn(windows);
      const [beam, diffuse, global, outside, elevation, azimuth, , t, f, albedo] = args as unknown as [number, number, number, number, number, number, number, number, number, number];
      if (global <= 0) {
        out[0] = 0;
        return;
      }
      out[0] = planeOfArray(global, beam, diffuse, outside, elevation, azimuth, t, f, albedo, beamShare(w, elevation, azimuth), skyShare(w, t, f));
    },
    positional: 3, subject: 'sun and sky', meaning: 'Light on the tilted panel: beam, ring round the sun and sky through the window, and the ground.',
    source: 'Hay & Davies 1980; ASHRAE incidence modifier with b0 = 0.05', example: { formula: 'plane light(clear sky(sun position(2027-06-21 13:00)), sun position(2027-06-21 13:00), open sky(), tilt: 30°, facing: 180°) > 900 W/m²', gives: 'yes' },
  },
];
