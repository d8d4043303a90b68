// What the starter notebooks say, against arithmetic by hand, printed values and the plain chain.
// Each expected value stands with the sum it comes from.

import { describe, expect, test } from 'vitest';
import {
  airAt,
  civilTime,
  clearLight,
  cloudedLight,
  type Plane,
  planeLight,
  type Sighting,
  type Spot,
  skyShare,
  sunAt,
} from './plain-chain.ts';
import { columnOf, numberOf, open, seriesOf } from './read.ts';

/** Agreement in parts of the expected value. */
function near(found: number, expected: number, share: number): void {
  expect(Math.abs(found / expected - 1), `${found} for ${expected}`).toBeLessThanOrEqual(share);
}

const PINES: Spot = { latitude: 42.6, longitude: -121.6, altitude: 1450, offset: -7 };
const LYING: Plane = { tilt: 20, facing: 190, albedo: 0.12 };

describe('cable', () => {
  const report = open('cable').report(0, true);

  test('drop, loss and the least area', () => {
    // IEC 60228 class 5, 6 mm²: 3.30 Ω/km at 20 °C; copper + 0.393 %/K over 25 K; 30 m of wire.
    const resistance = 0.0033 * 30 * (1 + 0.00393 * 25);
    near(numberOf(report, 'cable resistance'), resistance * 1000, 0.002);
    const current = 320 / 36;
    near(numberOf(report, 'cable drop'), current * resistance, 0.002);
    near(numberOf(report, 'drop share'), (100 * current * resistance) / 36, 0.002);
    near(numberOf(report, 'lost power'), current ** 2 * resistance, 0.002);
    // Half the voltage, twice the current: four times the share.
    near(numberOf(report, 'side by side') / numberOf(report, 'one after another'), 4, 1e-9);
    // 17.241 Ω mm²/km is 100 % IACS copper; 3 % of 36 V is 1.08 V.
    near(numberOf(report, 'least area'), (30 * current * 0.017241 * 1.09825) / 1.08, 0.001);
    near(numberOf(report, 'longest'), (15 * 3) / numberOf(report, 'drop share'), 0.001);
  });

  test('cold voltage, fuses and fault current', () => {
    near(numberOf(report, 'coldest voltage'), 2 * 21.6 * (1 + 0.0029 * 33), 1e-6);
    // 1.25 × 1.25 × 9.8 A = 15.3 A, the next size sold is 20 A; 1.25 × 320 W / 12.8 V = 31.25 A, 35 A.
    expect(numberOf(report, 'fuse')).toBe(20);
    expect(numberOf(report, 'battery fuse')).toBe(35);
    near(numberOf(report, 'fault current'), 475, 0.001);
    // 10 AWG by ASTM B258: 0.127 mm × 92^((36 − 10)/39), 5.261 mm².
    const american = open('cable');
    near(
      numberOf(american.report(american.columnOf('American sizes'), false), 'cable gauge'),
      5.261,
      0.001,
    );
  });
});

describe('battery', () => {
  const session = open('battery');
  const report = session.report(0, true);

  test('the day’s need, item by item', () => {
    // 46 × 26 % × 24 + 38 × 60 % × 2 + 6 × 2.5 + 24 × 80 % × 3 + 15 × 70 % × 2 + 3 × 24 + 12 × 2 Wh.
    near(numberOf(report, 'day need'), 287.04 + 45.6 + 15 + 57.6 + 21 + 72 + 24, 1e-9);
    near(numberOf(report, 'idle all day'), 522.24 + 12 * 22, 1e-9);
    // 1024 × 88 % × 80 % × √90 % over 21.76 W.
    near(numberOf(report, 'time alone'), (901.12 * 0.8 * Math.sqrt(0.9)) / 21.76 / 24, 1e-9);
  });

  test('voltage to charge runs straight between rows', () => {
    expect(numberOf(report, 'rough charge')).toBeCloseTo(50 + (0.02 / 0.1) * 20, 6);
    // 13.17 V: 50 + 0.7 × 20; 13.07 V: 40 + 0.4 × 10.
    expect(numberOf(report, 'could be')).toBeCloseTo(64 - 44, 6);
  });

  test('the half sine brings what the day is said to bring', () => {
    // Six whole days from noon to noon.
    const harvest = seriesOf(report, 'harvest').reduce((sum, power) => sum + power / 4, 0);
    near(harvest, 6 * 560, 0.002);
  });

  test('a converter’s four hours at 180 W are 720 Wh', () => {
    const drive = session.report(session.columnOf("Half a day's drive"), true);
    const extra =
      seriesOf(drive, 'harvest').reduce((sum, power) => sum + power / 4, 0) -
      seriesOf(report, 'harvest').reduce((sum, power) => sum + power / 4, 0);
    expect(extra).toBeCloseTo(720, 6);
  });
});

describe('cool box', () => {
  const report = open('cool-box').report(0, true);

  test('the trial’s watts a kelvin', () => {
    // 1024 Wh × 30 % in 18 h, less 1.5 W, over 20 K.
    near(numberOf(report, 'leak'), ((1024 * 0.3) / 18 - 1.5) / 20, 1e-9);
    // 263.15 K over the 49 K between the coils.
    near(numberOf(report, 'carnot trial'), 263.15 / 49, 1e-6);
  });

  test('a day at camp, hour by hour', () => {
    const leak = ((1024 * 0.3) / 18 - 1.5) / 20;
    let day = 0;
    for (let quarter = 0; quarter < 96; quarter++) {
      const air = airAt((quarter + 0.5) / 4, 10, 27);
      const carnot = 263.15 / (air + 15 + 10);
      day += Math.max(0, (leak * (air - 4) * (263.15 / 49)) / carnot) / 4;
    }
    near(numberOf(report, 'steady day'), day, 1e-6);
    // 3 kg × 20 K × 4.19 kJ/kg/K are 69.8 Wh of heat; 15 openings of 1 Wh; both over 1.4.
    near(numberOf(report, 'drinks energy'), (3 * 20 * 4.19) / 3.6 / 1.4, 1e-6);
    near(numberOf(report, 'day energy'), day + (3 * 20 * 4.19) / 3.6 / 1.4 + 15 / 1.4, 1e-6);
  });
});

describe('quiet hours', () => {
  const session = open('quiet-hours');
  const report = session.report(0, true);

  test('levels and noise', () => {
    // −91 dBm is 794.3 pW, −97 dBm is 199.5 pW; the rest is 594.8 pW.
    expect(numberOf(report, 'hum alone')).toBeCloseTo(-92.256, 2);
    near(numberOf(report, 'power needed'), 10 ** 0.6, 1e-6);
    near(numberOf(report, 'range share'), 100 * 10 ** (-0.6 / 4), 1e-6);
    expect(numberOf(report, 'by moving')).toBeCloseTo(30 * Math.log10(4), 6);
    // ITU-R P.372 quiet rural: 53.6 − 28.6 log10 7.1 dB above −173.98 dBm/Hz, in 2400 Hz.
    const noise = -173.98 + 53.6 - 28.6 * Math.log10(7.1) + 10 * Math.log10(2400);
    expect(Math.abs(numberOf(report, 'quiet site') - noise)).toBeLessThan(0.05);
  });

  test('the radio', () => {
    near(numberOf(report, 'radio average'), 14 * 0.8 + 0.2 * (30 + 0.4 * 220), 1e-9);
    // 10 AWG: 3.277 Ω/km at 20 °C, + 3.93 % at 30 °C; 6 m of wire; 250 W at 13.2 V.
    near(numberOf(report, 'drop at peak'), (250 / 13.2) * 0.006 * 3.277 * 1.0393, 0.002);
  });

  test('what is lost is what the night lacks, not what the panel offered', () => {
    const five = session.report(session.columnOf("From five o'clock"), true);
    // From five to nine the panel would have carried part of the load; each watt-hour of load that
    // it no longer carries comes out of the battery, for the battery was full. By hand from the
    // plan's own harvest: the least of harvest and load, step by step.
    const harvest = seriesOf(report, 'harvest');
    const carried = harvest
      .slice(132, 180)
      .reduce((sum, power) => sum + Math.min(power, 27) / 12, 0);
    near(numberOf(five, 'really lost'), carried, 0.03);
    const offered = harvest.slice(132, 180).reduce((sum, power) => sum + power / 12, 0);
    near(numberOf(five, 'offered lost'), offered, 1e-6);
  });
});

/** Light on an unshaded panel under a clear sky of turbidity 2.8. */
function openLight(civil: string, plane: Plane): number {
  const sun = sunAt(civilTime(civil, PINES), PINES);
  return planeLight(
    clearLight(sun, PINES.altitude, 2.8),
    sun,
    [],
    plane,
    (1 + Math.cos((plane.tilt * Math.PI) / 180)) / 2,
  );
}

test('trial: the hardware’s share, from the readings and the plain chain', () => {
  const report = open('trial').report(0, true);
  const model = (civil: string, facing: number, air: number): number => {
    const light = openLight(civil, { tilt: 20, facing, albedo: 0.12 });
    return (220 * light * (1 - 0.0035 * (air + light / 31.84 - 25))) / 1000;
  };
  const hardware =
    (169 + 168) / (model('2027-06-05 12:50', 172, 22) + model('2027-06-05 13:10', 184, 23));
  near(numberOf(report, 'hardware'), 100 * hardware, 0.01);
  // Inverse variances of 10 % and 35 %: 100 and 8.16.
  near(numberOf(report, 'weight'), 100 * (100 / (100 + 1 / 0.35 ** 2)), 1e-6);
  near(numberOf(report, 'believed'), 100 * hardware ** 0.92453 * 0.8 ** 0.07547, 0.01);
});

/** A day's or a trip's harvest of the two halves of a panel, by the plain chain, Wh. */
function pinesHarvest(
  from: string,
  minutes: number,
  step: number,
  outline: readonly Sighting[],
  weather: (day: number) => { readonly index: number; readonly low: number; readonly high: number },
  power: (useful: number, cell: number) => number,
): number {
  const other = outline.map((at) => ({ ...at, azimuth: at.azimuth + 10 }));
  const views = [skyShare(outline, LYING), skyShare(other, LYING)];
  const start = civilTime(from, PINES).getTime();
  const first = Number(from.slice(11, 13)) * 60;
  let total = 0;
  for (let minute = step / 2; minute < minutes; minute += step) {
    const { index, low, high } = weather(Math.floor((first + minute) / 1440));
    const sun = sunAt(new Date(start + minute * 60_000), PINES);
    const sky = cloudedLight(clearLight(sun, PINES.altitude, 2.8), sun, index);
    const a = planeLight(sky, sun, outline, LYING, views[0] ?? Number.NaN);
    const b = planeLight(sky, sun, other, LYING, views[1] ?? Number.NaN);
    const useful = Math.max(Math.max(a, b) / 2, Math.min(a, b));
    const air = airAt(((first + minute) / 60) % 24, low, high);
    total += (power(useful, air + a / 31.84) * step) / 60;
  }
  return total;
}

function outlineOf(report: Parameters<typeof columnOf>[0]): readonly Sighting[] {
  const height = columnOf(report, 'trees', 'height');
  const through = columnOf(report, 'trees', 'light through');
  return columnOf(report, 'trees', 'azimuth').map((azimuth, at) => ({
    azimuth,
    height: height[at] ?? Number.NaN,
    through: (through[at] ?? Number.NaN) / 100,
  }));
}

test('harvest: one day under the pines, by the plain chain', () => {
  const report = open('harvest').report(0, true);
  const day = pinesHarvest(
    '2027-06-12 00:00',
    1440,
    5,
    outlineOf(report),
    () => ({ index: 0.95, low: 10, high: 27 }),
    (light, cell) => ((220 * 0.92 * light) / 1000) * (1 - 0.0035 * (cell - 25)) * 0.95,
  );
  near(numberOf(report, 'day harvest'), day, 0.015);
});

test('trip: six days’ harvest, by the plain chain', () => {
  const report = open('trip', 'harvested = energy(harvest) as Wh').report(0, true);
  const index = columnOf(report, 'weather', 'clear index');
  const low = columnOf(report, 'weather', 'low');
  const high = columnOf(report, 'weather', 'high');
  // IEC 60228 class 5, 6 mm²: 3.30 Ω/km; 16 m of wire at 40 °C; the panel works at 21 V.
  const resistance = 0.0033 * 16 * (1 + 0.00393 * 20);
  const total = pinesHarvest(
    '2027-06-11 12:00',
    6 * 1440,
    15,
    outlineOf(report),
    (day) => ({
      index: (index[day] ?? Number.NaN) / 100,
      low: low[day] ?? Number.NaN,
      high: high[day] ?? Number.NaN,
    }),
    (light, cell) => {
      const panel = ((220 * 0.92 * light) / 1000) * (1 - 0.0035 * (cell - 25));
      return (panel - (panel / 21) ** 2 * resistance) * 0.95;
    },
  );
  near(numberOf(report, 'harvested'), total, 0.015);
  expect(numberOf(report, 'drop share')).toBeCloseTo((100 * 220 * resistance) / 21 ** 2, 2);
  expect(numberOf(report, 'cold voltage')).toBeCloseTo(25.2 * (1 + 0.0029 * 32), 6);
  // 1.25 × 1.25 × 11.4 A = 17.8 A, the next size sold is 20 A.
  expect(numberOf(report, 'fuse')).toBe(20);
});

describe('tour', () => {
  const report = open('tour').report(0, true);

  test('by hand', () => {
    near(numberOf(report, 'guy length'), Math.sqrt(52), 1e-9);
    near(numberOf(report, 'guy angle'), 56.31, 1e-4);
    expect(numberOf(report, 'guys to buy')).toBe(7.5);
    // 12 AWG: 3.309 mm² (ASTM B258).
    near(numberOf(report, 'metric size'), 3.309, 0.001);
    // 12 AWG: 2.053 mm (ASTM B258).
    near(numberOf(report, 'thickness'), 2.053, 0.001);
    expect(numberOf(report, 'chill')).toBe(8);
    expect(numberOf(report, 'warmer')).toBe(3);
    expect(numberOf(report, 'rise')).toBe(6);
    // 794.3 pW + 199.5 pW = 993.9 pW.
    expect(numberOf(report, 'both')).toBeCloseTo(-90.027, 2);
    expect(numberOf(report, 'stay')).toBe(42);
    expect(numberOf(report, 'quiet length')).toBe(8);
    // 20 × 50 % × 2 + 5 × 2.5 + 20 + 10 × 80 % × 1.5 Wh.
    expect(numberOf(report, 'night need')).toBeCloseTo(64.5, 9);
    expect(numberOf(report, 'without radio')).toBeCloseTo(44.5, 9);
    expect(numberOf(report, 'counted')).toBe(525);
    // A third of the way from 50 % to 95 %.
    expect(numberOf(report, 'guess')).toBeCloseTo(65, 9);
    expect(numberOf(report, 'box need')).toBeCloseTo(10 * 0.4 * 24 + 24, 9);
  });
});
