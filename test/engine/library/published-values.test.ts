// Element functions called by their trade names against published values: a selection of
// test/reference/checks.json by id, each with its own source and tolerance. What lies underneath is
// checked in full beside engine/physics; here the order of arguments, units and defaults are at stake.

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { call, OPEN, outline, type Place, valueFrom } from './call.ts';

type Inputs = Readonly<Record<string, number | string>>;

interface Case {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: Inputs;
  readonly expected: number;
  readonly tolerance: number;
  readonly tolerance_kind: 'abs' | 'rel';
  readonly source: string;
}

const file = new URL('../../reference/checks.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { readonly cases: readonly Case[] };

const DEGREE = Math.PI / 180;
const HOUR = 3600;
const DAY = 86_400;

const number = (inputs: Inputs, name: string): number => {
  const value = inputs[name];
  if (typeof value !== 'number') throw new TypeError(`${name} is ${value}`);
  return value;
};
const radians = (inputs: Inputs, name: string): number => number(inputs, name) * DEGREE;
const utc = (inputs: Inputs, name: string): number => Date.parse(String(inputs[name])) / 1000;

/** The place of a case, whose clock runs a whole number of hours from UTC, as its longitude says. */
const placeOf = (inputs: Inputs): Required<Place> => ({
  latitude: number(inputs, 'lat_deg'),
  longitude: number(inputs, 'lon_deg'),
  altitude: 0,
  offset: Math.round(number(inputs, 'lon_deg') / 15) * HOUR,
});

const sunAt = (inputs: Inputs): readonly number[] => {
  const place = placeOf(inputs);
  return call('sun position', { at: utc(inputs, 'utc') + place.offset }, place).values;
};

/** Minutes after 0 h UTC of the date that the case names. */
const turn = (name: 'sunrise' | 'sunset', inputs: Inputs): number => {
  const place = placeOf(inputs);
  const date = utc(inputs, 'date');
  return (valueFrom(name, { on: date }, place) - place.offset - date) / 60;
};

const clearSky = (inputs: Inputs): readonly number[] => {
  const factor = number(inputs, 'extraterrestrial_Wm2') / 1361;
  return call(
    'clear sky',
    {
      sun: [Math.PI / 2 - radians(inputs, 'zenith_deg'), Math.PI, factor],
      turbidity: number(inputs, 'linke_turbidity'),
    },
    { latitude: 0, longitude: 0, altitude: number(inputs, 'altitude_m') },
  ).values;
};

/** Area of an American gauge, m². ASTM B258: 0.127 mm · 92^((36 − n)/39) across. */
const gauge = (inputs: Inputs): number =>
  (Math.PI / 4) * (0.127e-3 * 92 ** ((36 - number(inputs, 'awg')) / 39)) ** 2;

const squareMillimetres = (inputs: Inputs): number => number(inputs, 'area_mm2') * 1e-6;

const ring = (inputs: Inputs): Float64Array => {
  const height = number(inputs, 'horizon_deg');
  return outline([0, height, 0], [120, height, 0], [240, height, 0]);
};

const viewOverRing = (inputs: Inputs): number =>
  valueFrom('sky share', { window: ring(inputs), tilt: radians(inputs, 'tilt_deg'), facing: 1 });

/** Quantity of a case → the same through a library function. */
const through: Readonly<Record<string, (inputs: Inputs) => number>> = {
  sun_elevation_airless_deg: (i) => (sunAt(i)[0] ?? Number.NaN) / DEGREE,
  sun_azimuth_deg: (i) => (sunAt(i)[1] ?? Number.NaN) / DEGREE,
  sun_distance_AU: (i) => {
    const sun = call('sun position', { at: utc(i, 'utc') }, { latitude: 0, longitude: 0 });
    return 1 / Math.sqrt(sun.values[2] ?? Number.NaN);
  },
  sunrise_min_after_0h_UTC: (i) => turn('sunrise', i),
  sunset_min_after_0h_UTC: (i) => turn('sunset', i),
  day_length_min: (i) => turn('sunset', i) - turn('sunrise', i),
  angle_of_incidence_deg: (i) =>
    valueFrom('incidence angle', {
      sun: [Math.PI / 2 - radians(i, 'zenith_deg'), radians(i, 'azimuth_deg'), 1],
      tilt: radians(i, 'tilt_deg'),
      facing: radians(i, 'surface_azimuth_deg'),
    }) / DEGREE,
  ineichen_perez_dni_Wm2: (i) => clearSky(i)[0] ?? Number.NaN,
  ineichen_perez_dhi_Wm2: (i) => clearSky(i)[1] ?? Number.NaN,
  ineichen_perez_ghi_Wm2: (i) => clearSky(i)[2] ?? Number.NaN,
  svf_tilted_open: (i) =>
    valueFrom('sky share', { window: OPEN, tilt: radians(i, 'tilt_deg'), facing: 2 }),
  svf_horizontal_uniform_horizon: (i) =>
    valueFrom('sky share', { window: ring(i), tilt: 0, facing: 0 }),
  svf_tilted_uniform_horizon_no_cut: viewOverRing,
  svf_tilted_uniform_horizon_numeric: viewOverRing,
  copper_resistance_ohm_per_km: (i) =>
    valueFrom('resistance', {
      of: squareMillimetres(i),
      length: 1000,
      ...('temperature_C' in i ? { at: number(i, 'temperature_C') } : {}),
    }),
  awg_resistance_ohm_per_kft: (i) => valueFrom('resistance', { of: gauge(i), length: 304.8 }),
  table_iec60228_class5_plain_ohm_per_km: (i) =>
    valueFrom('resistance', { of: squareMillimetres(i), length: 1000, lay: 'flexible' }),
  table_iec60228_class1_2_plain_ohm_per_km: (i) =>
    valueFrom('resistance', { of: squareMillimetres(i), length: 1000, lay: 'stranded' }),
  table_nec_310_16_cu_ampacity_A: (i) =>
    valueFrom('ampacity', { of: gauge(i), insulation: number(i, 'column_C') }),
  next_standard_fuse_A: (i) => valueFrom('next fuse', { current: number(i, 'required_A') }),
  noise_power_dBm: (i) => {
    // The figure of 43.62 dB is rural noise at 7.1 MHz, 29.26 dB quiet rural (T8-011, T8-012).
    const environment = number(i, 'noise_figure_dB') > 40 ? 'rural' : 'quiet rural';
    const bandwidth = number(i, 'bandwidth_Hz');
    return valueFrom('noise level', { environment, frequency: 7.1e6, bandwidth });
  },
};

const selected =
  'T1-001 T1-002 T1-004 T1-005 T1-009 T1-010 T1-011 T1-012 T1-013 T1-014 T1-019 T1-038 T1-039 T1-040 T1-041 T1-044 T1-045 T1-046 T1-047 T2-023 T2-052 T2-053 T2-054 T2-058 T2-059 T2-060 T2-061 T2-062 T3-002 T3-003 T3-006 T3-007 T3-008 T3-009 T3-010 T3-012 T3-013 T3-014 T5-012 T5-013 T5-014 T5-025 T5-026 T5-027 T5-031 T5-032 T5-043 T5-044 T5-045 T5-046 T5-050 T5-051 T5-067 T5-068 T8-022 T8-023'.split(
    ' ',
  );

describe('the reference cases', () => {
  test.each(selected)('%s', (id) => {
    const found = cases.find((each) => each.id === id);
    if (found === undefined) throw new RangeError(`no case ${id}`);
    const value = through[found.quantity]?.(found.inputs) ?? Number.NaN;
    const relative = found.tolerance_kind === 'rel';
    const allowed = relative ? found.tolerance * Math.abs(found.expected) : found.tolerance;
    expect(Math.abs(value - found.expected), `${value}, ${found.source}`).toBeLessThanOrEqual(
      allowed,
    );
  });

  test('leave no function above unused', () => {
    const used = cases.filter(({ id }) => selected.includes(id)).map(({ quantity }) => quantity);
    expect([...new Set(used)].sort()).toEqual(Object.keys(through).sort());
  });
});

describe('outside sum agrees with the examples of FAO-56 within 1.5 %', () => {
  // Allen, Pereira, Raes & Smith, FAO Irrigation and Drainage Paper 56, examples 8, 10, 17, 18. The
  // paper has 0.0820 MJ/m² a minute for 1361 W/m², and a declination of one sine that is up to 1.2°
  // off: half a degree on 3 September is 1.1 % at 20° S.
  const examples: readonly (readonly [latitude: number, date: string, megajoules: number])[] = [
    [-20, '2027-09-03', 32.2],
    [-22.9, '2027-05-15', 25.1],
    [13.7333, '2027-04-15', 38.06],
    [50.8, '2027-07-06', 41.09],
  ];
  test.each(examples)('%d° on %s: %d MJ/m²', (latitude, date, megajoules) => {
    const expected = (megajoules * 1e6 * 1361) / (82_000 / 60);
    const found = valueFrom(
      'outside sum',
      { on: Date.parse(date) / 1000 },
      { latitude, longitude: 0 },
    );
    expect(Math.abs(found / expected - 1)).toBeLessThan(0.015);
  });
});

test('outside sum is the light of the sun positions of a day, added up', () => {
  const place = { latitude: 44.5, longitude: -110.2, offset: -6 * HOUR };
  const on = Date.parse('2027-05-14') / 1000;
  const step = 300;
  let sum = 0;
  for (let at = on + step / 2; at < on + DAY; at += step) {
    const [elevation = 0, , factor = 0] = call('sun position', { at }, place).values;
    sum += 1361 * factor * Math.max(0, Math.sin(elevation)) * step;
  }
  expect(Math.abs(valueFrom('outside sum', { on }, place) / sum - 1)).toBeLessThan(0.001);
});

describe('clouded sky', () => {
  // Duffie & Beckman, Solar Engineering of Thermal Processes, example 2.10.1 (T2-026): of a
  // clearness of 0.445 the diffuse part is 0.766.
  test('splits by Erbs', () => {
    const outside = 1361;
    const height = Math.sin(60 * DEGREE);
    const clear = [700, 1000 - 700 * height, 1000, outside];
    const index = (0.445 * outside * height) / 1000;
    const [beam = 0, diffuse = 0, global = 0] = call('clouded sky', {
      sky: clear,
      'clear index': index,
    }).values;
    expect(global).toBeCloseTo(0.445 * outside * height, 9);
    expect(diffuse / global).toBeGreaterThan(0.764);
    expect(diffuse / global).toBeLessThan(0.768);
    expect(beam * height + diffuse).toBeCloseTo(global, 9);
  });

  test('is dark when the clear sky is', () => {
    const { values } = call('clouded sky', { sky: [0, 0, 0, 1361], 'clear index': 0.95 });
    expect(values).toEqual([0, 0, 0, 1361]);
  });
});

describe('plane light', () => {
  // Hay & Davies 1980, computed twice (T2-073): 162.002 W/m² of sky light on a plane of 30° with the
  // sun 40° from the zenith and 25° off the plane's upright. Beam and dome lose by reflection what
  // the ASHRAE modifier says: 0.05 (1/cos θ − 1), and 5 % at the mean incidence of sky light.
  test('is beam and Hay & Davies sky, less what the glass throws back', () => {
    const [dhi, dni, outside, tilt] = [150, 800, 1361, 30 * DEGREE];
    const height = Math.cos(40 * DEGREE);
    const away = Math.acos(
      (Math.cos(25 * DEGREE) - height * Math.cos(tilt)) / (Math.sin(40 * DEGREE) * Math.sin(tilt)),
    );
    const square = Math.cos(25 * DEGREE);
    const dome = dhi * (1 - dni / outside) * (0.5 + Math.cos(tilt) / 2);
    const expected = dni * square * (1 - 0.05 * (1 / square - 1)) + 162.002 - 0.05 * dome;
    const found = valueFrom('plane light', {
      sky: [dni, dhi, dni * height + dhi, outside],
      sun: [50 * DEGREE, Math.PI + away, 1],
      window: OPEN,
      tilt,
      facing: Math.PI,
      albedo: 0,
    });
    expect(Math.abs(found - expected)).toBeLessThan(0.1);
  });

  test('of a bare ground is a share of the global light: (1 − cos 90°)/2 of 20 %', () => {
    const given = { sky: [0, 0, 500, 1361], sun: [1, 3, 1], window: OPEN, tilt: Math.PI / 2 };
    expect(valueFrom('plane light', { ...given, facing: 0 })).toBeCloseTo(50, 9);
  });
});

test('normal share: 97.5 % lie below 1.96 (Abramowitz & Stegun, table 26.1: 0.97500)', () => {
  expect(valueFrom('normal share', { z: 1.96 })).toBeCloseTo(0.975, 5);
});

test('next wire never rounds a gauge up to a thinner size (IEC 60228, ASTM B258)', () => {
  expect(valueFrom('next wire', { area: 5.26e-6 })).toBeCloseTo(6e-6, 12);
  // 10 AWG has 5.261 mm², 8 AWG 8.367 mm² (T5-007); 9 AWG is not sold (NEC chapter 9, table 8).
  expect(valueFrom('next wire', { area: 5.3e-6, sizes: 'AWG' })).toBeCloseTo(8.367e-6, 8);
});

test('time of day is what is left of the day, before 1970 too', () => {
  expect(valueFrom('time of day', { moment: 20 * DAY + 6.5 * HOUR })).toBe(6.5 * HOUR);
  expect(valueFrom('time of day', { moment: -2 * HOUR })).toBe(22 * HOUR);
});
