// The printed tables, written down a second time from the sources: a slip of the pen in one of the two
// shows. Both are from memory of the standards; whoever wires by them opens the standard.

import { describe, expect, test } from 'vitest';
import {
  EN_50618,
  FUSE_RATINGS,
  IEC_CLASS_2_PLAIN,
  IEC_CLASS_5_PLAIN,
  IEC_CLASS_5_TINNED,
  IEC_METHOD_C,
  NEC_310_16,
  NEC_SMALL_CONDUCTOR_FUSE,
  NEC_TABLE_8,
} from '../../../engine/physics/conductor-tables.ts';
import { COLD_VOLTAGE_FACTORS } from '../../../engine/physics/module.ts';
import { perezSky } from '../../../engine/physics/transposition.ts';

/** A table as it is printed: columns of a line apart by spaces. */
function lines(printed: string): number[][] {
  return printed
    .trim()
    .split('\n')
    .map((line) => line.trim().split(/\s+/).map(Number));
}

test('IEC 60228: plain solid and stranded, plain flexible, tinned flexible, Ω/km at 20 °C', () => {
  const printed = lines(`
    0.5   36.0   39.0   40.1
    0.75  24.5   26.0   26.7
    1     18.1   19.5   20.0
    1.5   12.1   13.3   13.7
    2.5   7.41   7.98   8.21
    4     4.61   4.95   5.09
    6     3.08   3.30   3.39
    10    1.83   1.91   1.95
    16    1.15   1.21   1.24
    25    0.727  0.780  0.795
    35    0.524  0.554  0.565
    50    0.387  0.386  0.393`);
  const ours = printed.map(([size = 0]) => [
    size,
    IEC_CLASS_2_PLAIN.get(size),
    IEC_CLASS_5_PLAIN.get(size),
    IEC_CLASS_5_TINNED.get(size),
  ]);
  expect(ours).toEqual(printed);
  for (const table of [IEC_CLASS_2_PLAIN, IEC_CLASS_5_PLAIN, IEC_CLASS_5_TINNED])
    expect(table.size).toBe(printed.length);
});

// 1/0 to 4/0 are gauges 0 to −3; a dash stands where the table has no entry.
test('NEC chapter 9 table 8 (Ω/1000 ft, stranded, 75 °C) and table 310.16 (A at 60, 75, 90 °C)', () => {
  const printed = lines(`
    18  7.95    -   -   14
    16  4.99    -   -   18
    14  3.14    15  20  25
    12  1.98    20  25  30
    10  1.24    30  35  40
    8   0.778   40  50  55
    6   0.491   55  65  75
    4   0.308   70  85  95
    3   0.245   85  100 115
    2   0.194   95  115 130
    1   0.154   110 130 145
    0   0.122   125 150 170
    -1  0.0967  145 175 195
    -2  0.0766  165 200 225
    -3  0.0608  195 230 260`);
  const ours = printed.map(([gauge = 0]) => [
    gauge,
    NEC_TABLE_8.get(gauge),
    ...(NEC_310_16.get(gauge) ?? []),
  ]);
  expect(ours).toEqual(printed);
  expect([NEC_TABLE_8.size, NEC_310_16.size]).toEqual([printed.length, printed.length]);
});

test('NEC 240.4(D): at most 15, 20 and 30 A for 14, 12 and 10 AWG', () => {
  expect([...NEC_SMALL_CONDUCTOR_FUSE]).toEqual(lines('14 15\n12 20\n10 30'));
});

test('IEC 60364-5-52 table B.52.2, method C, PVC, two loaded conductors, A', () => {
  expect([...IEC_METHOD_C]).toEqual(
    lines('1.5 19.5\n2.5 27\n4 36\n6 46\n10 63\n16 85\n25 112\n35 138'),
  );
});

test('EN 50618 table A.3, one cable in free air, A', () => {
  expect([...EN_50618]).toEqual(lines('1.5 30\n2.5 41\n4 55\n6 70\n10 98\n16 132'));
});

test('NEC 240.6(A): the standard ratings from 15 to 300 A are all there, and no other above 15 A', () => {
  const [standard] = lines(
    '15 20 25 30 35 40 45 50 60 70 80 90 100 110 125 150 175 200 225 250 300',
  );
  expect(FUSE_RATINGS.filter((rating) => rating >= 15)).toEqual(standard);
});

test('NEC table 690.7(A): the factor for the coldest voltage by ambient temperature', () => {
  // The lowest temperature of each line and its factor.
  const printed = lines(`
    20 1.02\n15 1.04\n10 1.06\n5 1.08\n0 1.10\n-5 1.12\n-10 1.14\n-15 1.16\n-20 1.18
    -25 1.20\n-30 1.21\n-35 1.23\n-40 1.25`);
  expect(COLD_VOLTAGE_FACTORS).toEqual(printed);
});

describe('Perez et al. 1990, table 6: the row of every kind of sky', () => {
  // From the least clear to the clearest: the clearness at its lower edge, F11 F12 F13 F21 F22 F23.
  const table = lines(`
    1      -0.008  0.588  -0.062  -0.060   0.072  -0.022
    1.065   0.130  0.683  -0.151  -0.019   0.066  -0.029
    1.230   0.330  0.487  -0.221   0.055  -0.064  -0.026
    1.500   0.568  0.187  -0.295   0.109  -0.152  -0.014
    1.950   0.873 -0.392  -0.362   0.226  -0.462   0.001
    2.800   1.132 -1.237  -0.412   0.288  -0.823   0.056
    4.500   1.060 -1.600  -0.359   0.264  -1.127   0.131
    6.200   0.678 -0.327  -0.250   0.156  -1.377   0.251`);
  const DEGREE = Math.PI / 180;
  const outside = 1361;
  const cases = table.flatMap(([edge = 0, ...row], index) =>
    [30, 55].map((elevation) => ({ edge, row, index, elevation })),
  );

  test.each(cases)('from clearness $edge, the sun $elevation° up', ({ edge, row, elevation }) => {
    const [f11 = 0, f12 = 0, f13 = 0, f21 = 0, f22 = 0, f23 = 0] = row;
    const zenith = (90 - elevation) * DEGREE;
    const bend = 1.041 * zenith ** 3;
    const dhi = 180;
    const mass = 1 / Math.cos(zenith);
    const brightness = (dhi * mass) / outside;
    const tilt = 40 * DEGREE;
    const incidence = 25 * DEGREE;
    // A hair above the edge the row holds; a hair below it the one before does.
    for (const clearness of [edge + 1e-6, edge + 0.02]) {
      const dni = dhi * (clearness * (1 + bend) - bend - 1);
      const ring = Math.max(0, f11 + f12 * brightness + f13 * zenith);
      const band = f21 + f22 * brightness + f23 * zenith;
      const dome = ((1 - ring) * (1 + Math.cos(tilt))) / 2;
      const wanted =
        dhi * (dome + (ring * Math.cos(incidence)) / Math.cos(zenith) + band * Math.sin(tilt));
      const found = perezSky(dhi, dni, outside, incidence, elevation * DEGREE, mass, tilt);
      expect(found).toBeCloseTo(wanted, 9);
    }
  });
});
