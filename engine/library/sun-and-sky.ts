// Where the sun stands, what light comes through the air and the clouds, what the trees leave of it
// and what falls on a tilted plane.

import { angle, area, divide, energy, irradiance, plain } from '../dimension/dimension.ts';
import {
  airMass,
  airOver,
  beamThroughAir,
  globalThroughAir,
  ineichenPerez,
  standardPressure,
} from '../physics/clear-sky.ts';
import { beamUnderClouds, splitUnderClouds } from '../physics/clouds.ts';
import { SOLAR_CONSTANT, STANDARD_PRESSURE } from '../physics/constants.ts';
import { dailyExtraterrestrial } from '../physics/daily-irradiation.ts';
import { beamShare } from '../physics/sky-window.ts';
import { geocentricSun, solarPosition } from '../physics/solar-position.ts';
import {
  aheadOf,
  angleOfIncidence,
  beamGain,
  domeGain,
  groundView,
  planeOfArray,
  planeOfArrayThrough,
  ringGain,
} from '../physics/transposition.ts';
import {
  angleOf,
  facing,
  moment,
  number,
  outline,
  quantityResult,
  skyRecord,
  steepness,
  sunRecord,
} from './parameter.ts';
import { recordResult } from './records.ts';
import { RowMemory } from './row-memory.ts';
import type { Apply, ApplyRows, ArgumentRow, CallContext, LibraryFunction } from './signature.ts';
import { NO_OUTLINE, skyMemory } from './sky-windows.ts';
import { knownYears } from './time.ts';

const DAY = 86_400;
const irradiation = divide(energy, area);

const skyOf = skyMemory();

const NOON = 'sun position(2027-06-21 13:23)';
const OPEN_AT_NOON = `clear sky(${NOON}, turbidity: 3)`;

// These run once a step and trial, so they read their numbers by place and make no arrays.

const sunPosition: Apply = (args, out, context) => {
  const utc = (args[0] ?? Number.NaN) - context.offset;
  const sun = solarPosition(utc, context.latitude, context.longitude);
  out[0] = sun.elevation;
  out[1] = sun.azimuth;
  out[2] = sun.distanceFactor;
};

const clearSky: Apply = (args, out, context) => {
  const outside = SOLAR_CONSTANT * (args[2] ?? 1);
  const sky = ineichenPerez(args[0] ?? 0, context.altitude, args[3] ?? 3, outside);
  out[0] = sky.dni;
  out[1] = sky.dhi;
  out[2] = sky.ghi;
  out[3] = outside;
};

/**
 * The sun's height is not handed in; it follows from the sky itself, for global light is
 * beam · sin h + diffuse. Where there is no beam there is none to split off.
 */
const clouded: Apply = (args, out) => {
  const beam = args[0] ?? 0;
  const diffuse = args[1] ?? 0;
  const global = args[2] ?? 0;
  const outside = args[3] ?? 0;
  const clearIndex = args[4] ?? 0;
  out[3] = outside;
  if (!(beam > 0 && global > diffuse)) {
    out[0] = 0;
    out[1] = global * clearIndex;
    out[2] = global * clearIndex;
    return;
  }
  const height = Math.min(1, (global - diffuse) / beam);
  splitUnderClouds(global, height, outside, clearIndex, beam, out);
};

const outsideSum: Apply = (args, out, context) => {
  const date = Math.floor((args[0] ?? Number.NaN) / DAY);
  const sun = geocentricSun((date + 0.5) * DAY - context.offset);
  const outside = SOLAR_CONSTANT / (sun.distance * sun.distance);
  out[0] = dailyExtraterrestrial(context.latitude, sun.declination, outside);
};

const beamThrough: Apply = (args, out, context, windows) => {
  const sky = skyOf(windows[0]);
  if (sky === undefined) out[0] = noOutline(context);
  else out[0] = beamShare(sky.window, args[0] ?? 0, args[1] ?? 0);
};

const skyFrom: Apply = (args, out, context, windows) => {
  const sky = skyOf(windows[0]);
  out[0] = sky === undefined ? noOutline(context) : sky.shareOf(args[0] ?? 0, args[1] ?? 0);
};

const incidence: Apply = (args, out) => {
  out[0] = angleOfIncidence(args[0] ?? 0, args[1] ?? 0, args[3] ?? 0, args[4] ?? 0);
};

const planeLight: Apply = (args, out, context, windows) => {
  const global = args[2] ?? 0;
  const elevation = args[4] ?? 0;
  const azimuth = args[5] ?? 0;
  const tilt = args[7] ?? 0;
  const towards = args[8] ?? 0;
  const sky = skyOf(windows[0]);
  if (sky === undefined) {
    out[0] = noOutline(context);
    return;
  }
  // A whole night of steps need not look at the sky.
  if (!(global > 0)) {
    out[0] = 0;
    return;
  }
  out[0] = planeOfArray(
    global,
    args[0] ?? 0,
    args[1] ?? 0,
    args[3] ?? 0,
    elevation,
    azimuth,
    tilt,
    towards,
    args[9] ?? 0,
    beamShare(sky.window, elevation, azimuth),
    sky.shareOf(tilt, towards),
  );
};

/** The numbers of an argument at `places` places, or its one number. */
function split(
  places: number,
  args: readonly ArgumentRow[],
  wanted: readonly number[],
): { readonly numbers: number[]; readonly rows: Float64Array[] } {
  const numbers: number[] = [places];
  const rows: Float64Array[] = [];
  for (const j of wanted) {
    const { array, begin, stride } = args[j] as ArgumentRow;
    if (stride === 0) numbers.push(array[begin] as number);
    else rows.push(array.length === places ? array : array.subarray(0, places));
  }
  return { numbers, rows };
}

function numberAt({ array, begin, stride }: ArgumentRow, place: number): number {
  return array[begin + place * stride] as number;
}

type Row5 = readonly [ArgumentRow, ArgumentRow, ArgumentRow, ArgumentRow, ArgumentRow];
type Out4 = readonly [Float64Array, Float64Array, Float64Array, Float64Array];

/** Sine of the sun's height and air mass by pressure, place by place; 0 where it is not up. */
interface SunHeights {
  readonly height: Float64Array;
  readonly mass: Float64Array;
}

/** The sun's part is kept; the haze is what trials draw. */
const clearSkyRows = (): ApplyRows => {
  const memory = new RowMemory<SunHeights>();
  return (places, args, out, context) => {
    const [elevation, , distance, turbidity] = args as [
      ArgumentRow,
      ArgumentRow,
      ArgumentRow,
      ArgumentRow,
    ];
    if (turbidity.stride !== 0) return false;
    const { altitude } = context;
    const { numbers, rows } = split(places, args, [0]);
    const { height, mass } = memory.find([...numbers, altitude], rows, () => {
      const made = { height: new Float64Array(places), mass: new Float64Array(places) };
      const pressure = standardPressure(altitude);
      for (let i = 0; i < places; i++) {
        const h = numberAt(elevation, i);
        if (h <= 0) continue;
        made.height[i] = Math.sin(h);
        made.mass[i] = (airMass(h) * pressure) / STANDARD_PRESSURE;
      }
      return made;
    });
    const air = airOver(altitude, numberAt(turbidity, 0));
    const [beam, diffuse, global, outside] = out as [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    for (let i = 0; i < places; i++) {
      const beyond =
        SOLAR_CONSTANT * (distance.array[distance.begin + i * distance.stride] as number);
      outside[i] = beyond;
      const sine = height[i] as number;
      if (sine === 0) {
        beam[i] = 0;
        diffuse[i] = 0;
        global[i] = 0;
        continue;
      }
      const depth = mass[i] as number;
      const ghi = globalThroughAir(beyond, sine, depth, air);
      const dni = beamThroughAir(beyond, sine, depth, air, ghi);
      beam[i] = dni;
      diffuse[i] = ghi - dni * sine;
      global[i] = ghi;
    }
    return true;
  };
};

/** As `clouded` has it, place by place, without an array to hand the numbers over in. */
const cloudedRows = (): ApplyRows => {
  return (places, args, out) => {
    const [dni, dhi, ghi, outside, index] = args as unknown as Row5;
    const [beamOut, diffuseOut, globalOut, outsideOut] = out as unknown as Out4;
    for (let i = 0; i < places; i++) {
      const global = ghi.array[ghi.begin + i * ghi.stride] as number;
      const beyond = outside.array[outside.begin + i * outside.stride] as number;
      outsideOut[i] = beyond;
      if (global === 0) {
        beamOut[i] = 0;
        diffuseOut[i] = 0;
        globalOut[i] = 0;
        continue;
      }
      const beam = dni.array[dni.begin + i * dni.stride] as number;
      const diffuse = dhi.array[dhi.begin + i * dhi.stride] as number;
      const left = global * (index.array[index.begin + i * index.stride] as number);
      globalOut[i] = left;
      if (!(beam > 0 && global > diffuse)) {
        beamOut[i] = 0;
        diffuseOut[i] = left;
        continue;
      }
      const height = Math.min(1, (global - diffuse) / beam);
      const kept = beamUnderClouds(left, height, beyond, beam);
      beamOut[i] = kept;
      diffuseOut[i] = left - kept * height;
    }
    return true;
  };
};

/** What a plane takes of beam, ring and dome while the sun goes by. */
interface PlaneGains {
  readonly beam: Float64Array;
  readonly ring: Float64Array;
  readonly dome: number;
  readonly ground: number;
}

/** The geometry of sun, plane and outline is kept; what changes is the strength of the light. */
const planeLightRows = (): ApplyRows => {
  const memory = new RowMemory<PlaneGains | undefined>();
  return (places, args, out, _context, windows) => {
    const [dni, dhi, ghi, beyond, elevation, azimuth, , tilt, facing, albedo] =
      args as unknown as readonly [
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
        ArgumentRow,
      ];
    const packed = windows[0];
    if (packed === undefined || tilt.stride !== 0 || facing.stride !== 0) return false;
    const { numbers, rows } = split(places, args, [4, 5, 7, 8]);
    const gains = memory.find(numbers, [...rows, packed], () => {
      const sky = skyOf(packed);
      if (sky === undefined) return undefined;
      const [steep, towards] = [numberAt(tilt, 0), numberAt(facing, 0)];
      const made = {
        beam: new Float64Array(places),
        ring: new Float64Array(places),
        dome: domeGain(sky.shareOf(steep, towards)),
        ground: groundView(steep),
      };
      for (let i = 0; i < places; i++) {
        const [high, around] = [numberAt(elevation, i), numberAt(azimuth, i)];
        const share = beamShare(sky.window, high, around);
        const ahead = aheadOf(high, around, steep, towards);
        made.beam[i] = beamGain(ahead, share);
        made.ring[i] = ringGain(ahead, high, share);
      }
      return made;
    });
    if (gains === undefined) return false;
    const light = out[0] as Float64Array;
    const { beam, ring, dome, ground } = gains;
    for (let i = 0; i < places; i++) {
      const global = ghi.array[ghi.begin + i * ghi.stride] as number;
      light[i] =
        global > 0
          ? planeOfArrayThrough(
              global,
              dni.array[dni.begin + i * dni.stride] as number,
              dhi.array[dhi.begin + i * dhi.stride] as number,
              beyond.array[beyond.begin + i * beyond.stride] as number,
              beam[i] as number,
              ring[i] as number,
              dome,
              albedo.array[albedo.begin + i * albedo.stride] as number,
              ground,
            )
          : 0;
    }
    return true;
  };
};

function noOutline(context: CallContext): number {
  context.problem = NO_OUTLINE;
  return Number.NaN;
}

const sunSource =
  'Meeus, Astronomical Algorithms, 2nd edition, chapters 12, 13, 22, 25, 40; within 0.004° of published places';

export const sunAndSkyFunctions: readonly LibraryFunction[] = [
  {
    name: 'sun position',
    cost: 300,
    subject: 'sun and sky',
    positional: 1,
    needsPlace: true,
    parameters: [moment('at', 'a moment or a timeline', knownYears)],
    result: recordResult('sun'),
    apply: sunPosition,
    meaning:
      'Where the sun stands: elevation over the level horizon, azimuth clockwise from true north, and the distance factor of its light.',
    source: sunSource,
    example: { formula: `${NOON}.elevation`, gives: '68.9°' },
    caution: 'True north, not the needle: correct a compass for the declination of the place.',
  },
  {
    name: 'clear sky',
    cost: 100,
    subject: 'sun and sky',
    positional: 1,
    needsPlace: true,
    parameters: [
      sunRecord,
      number('turbidity', 'haze: 2 cold and very clear, 3 clear, 4 summer lowland, 6 smoke', {
        default: 3,
        range: [1, 10],
        rangeText: '1 to 10',
      }),
    ],
    result: recordResult('sky'),
    apply: clearSky,
    rows: clearSkyRows,
    meaning:
      'The light of a cloudless sky: beam on a surface facing the sun, diffuse and global on the level, and the beam outside the air.',
    source:
      'Ineichen & Perez, Solar Energy 73 (2002) 151, equations 8 and 9 (from memory), without the later factor for a low sun; 1361 W/m² outside: Kopp & Lean 2011',
    example: { formula: `${OPEN_AT_NOON}.global`, gives: '1069 W/m²' },
    caution: 'Trustworthy with the sun more than 5° up.',
  },
  {
    name: 'clouded sky',
    subject: 'sun and sky',
    positional: 1,
    parameters: [
      skyRecord,
      number('clear index', 'light on the level over that of a clear sky: 95 % clear, 25 % grey', {
        range: [0, 1.1],
        rangeText: '0 % to 110 %',
      }),
    ],
    result: recordResult('sky'),
    apply: clouded,
    rows: cloudedRows,
    meaning: 'The same sky with clouds: less light, and more of it diffuse.',
    source: 'Erbs, Klein & Duffie, Solar Energy 28 (1982) 293',
    example: {
      formula: `clouded sky(${OPEN_AT_NOON}, clear index: 25 %).global`,
      gives: '267 W/m²',
    },
  },
  {
    name: 'outside sum',
    cost: 300,
    subject: 'sun and sky',
    positional: 1,
    needsPlace: true,
    parameters: [moment('on', 'a date', knownYears)],
    result: quantityResult(irradiation, 'Wh/m²'),
    apply: outsideSum,
    meaning:
      'What one day brings to a level plane above the air, against which atlases and sunshine hours are counted.',
    source:
      'Duffie & Beckman, Solar Engineering of Thermal Processes, equation 1.10.3, with 1361 W/m² (Kopp & Lean 2011); called Ra in FAO Irrigation and Drainage Paper 56',
    example: { formula: 'outside sum(on: 2027-06-21) as MJ/m²', gives: '41.8 MJ/m²' },
  },
  {
    name: 'sky window',
    subject: 'sun and sky',
    positional: 0,
    parameters: [
      angleOf('azimuth', 'of each sighting, from true north, rising, on the rows of a table', {
        range: [0, 2 * Math.PI],
        rangeText: '0° to 360°',
      }),
      angleOf('height', 'of the obstacle over the level horizon, on the same rows', {
        range: [0, Math.PI / 2],
        rangeText: '0° to 90°',
      }),
      number('light through', 'what still comes through a crown, on the same rows', {
        default: 0,
        range: [0, 1],
        rangeText: '0 % to 100 %',
      }),
    ],
    result: { kind: 'window' },
    meaning: 'The outline of trees and hills, straight between three or more sightings.',
    source: 'geometry',
    example: {
      before: [
        'trees = table',
        '  azimuth | height',
        '  0°      | 30°',
        '  120°    | 30°',
        '  240°    | 30°',
      ],
      formula: `sky share(sky window(azimuth: trees.azimuth, height: trees.height), tilt: 0°, facing: 180°)`,
      gives: '75 %',
    },
  },
  {
    name: 'open sky',
    subject: 'sun and sky',
    positional: 0,
    parameters: [],
    result: { kind: 'window' },
    meaning: 'A sky with nothing in the way.',
    source: 'geometry',
    example: { formula: 'sky share(open sky(), tilt: 0°, facing: 180°)', gives: '100 %' },
  },
  {
    name: 'beam share',
    subject: 'sun and sky',
    positional: 2,
    parameters: [outline, sunRecord],
    result: quantityResult(plain, '%'),
    apply: beamThrough,
    meaning:
      "How much of the sun's beam passes the outline: 100 % free, what the crown lets through behind it, a ramp while the disc goes by; 0 % at night.",
    source: 'geometry; disc of 0.27° radius: Astronomical Almanac',
    example: { formula: `beam share(open sky(), ${NOON})`, gives: '100 %' },
  },
  {
    name: 'sky share',
    cost: 4000,
    subject: 'sun and sky',
    positional: 1,
    parameters: [outline, steepness, facing],
    result: quantityResult(plain, '%'),
    apply: skyFrom,
    meaning:
      'How much of an evenly bright sky the plane sees: 100 % for a level plane with nothing in the way.',
    source: 'view factor: Duffie & Beckman, Solar Engineering of Thermal Processes, section 3.10',
    example: { formula: 'sky share(open sky(), tilt: 60°, facing: 180°)', gives: '75 %' },
  },
  {
    name: 'incidence angle',
    subject: 'sun and sky',
    positional: 1,
    parameters: [sunRecord, steepness, facing],
    result: quantityResult(angle, '°'),
    apply: incidence,
    meaning:
      "The angle between the sun's ray and the upright on the plane: 0° square on, above 90° behind it.",
    source: 'Duffie & Beckman, Solar Engineering of Thermal Processes, equation 1.6.3',
    example: { formula: `incidence angle(${NOON}, tilt: 0°, facing: 180°)`, gives: '21.1°' },
  },
  {
    name: 'plane light',
    cost: 100,
    subject: 'sun and sky',
    positional: 3,
    parameters: [
      skyRecord,
      sunRecord,
      outline,
      steepness,
      facing,
      number('albedo', 'what the ground throws back: forest 10–15 %, grass 20–25 %, snow 75–85 %', {
        default: 0.2,
        range: [0, 1],
        rangeText: '0 % to 100 %',
      }),
    ],
    result: quantityResult(irradiance, 'W/m²'),
    apply: planeLight,
    rows: planeLightRows,
    meaning:
      'Light on a tilted plane behind an outline: beam, the bright ring round the sun, the rest of the sky, and the ground.',
    source:
      'Hay & Davies 1980; angle modifier of 0.05: Souka & Safwat, Solar Energy 10 (1966) 170; Duffie & Beckman, Solar Engineering of Thermal Processes, section 2.16',
    example: {
      formula: `plane light(${OPEN_AT_NOON}, ${NOON}, open sky(), tilt: 30°, facing: 180°)`,
      gives: '1139 W/m²',
    },
    caution: 'The ground is taken to lie in the open.',
  },
];
