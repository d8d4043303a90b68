/*
 * What clouds leave of a clear sky. A day is described by one number, the clear index: global
 * irradiance as a share of the clear sky's. Beam and diffuse do not shrink alike, so the dimmed
 * global irradiance is split anew; scaling the beam by the clear index would leave far too much of
 * it under an overcast sky, and shade by trees would then count for too much.
 */

import { DARK, type Irradiance } from './clear-sky.ts';

/**
 * Share of the hourly global irradiation that is diffuse.
 *
 *     k ≤ 0.22:  1 − 0.09 k
 *     k ≤ 0.80:  0.9511 − 0.1604 k + 4.388 k² − 16.638 k³ + 12.336 k⁴
 *     k > 0.80:  0.165
 *
 * @param clearness  k, global over extraterrestrial on the level, dimensionless, 0 to 1
 * @returns          dimensionless, 0.165 to 1
 *
 * Source: Erbs, Klein & Duffie, Solar Energy 28 (1982) 293-302, equation 1
 * Truth: test/reference/checks.json (erbs_diffuse_fraction), largest error 0.0003
 */
export function erbsDiffuseFraction(clearness: number): number {
  if (clearness <= 0.22) return 1 - 0.09 * clearness;
  if (clearness > 0.8) return 0.165;
  return (
    0.9511 +
    clearness * (-0.1604 + clearness * (4.388 + clearness * (-16.638 + clearness * 12.336)))
  );
}

/**
 * A sky dimmed by clouds: the clear global irradiance times the clear index, split by Erbs.
 *
 *     ghi = c · ghi_clear,   k = ghi / (E0 sin h)
 *     dni = min(k, 1) E0 (1 − d(k)), at most the clear beam;   dhi = ghi − dni sin h
 *
 * The beam is written with k, so nothing is divided by a small sine, and with a low sun k and with
 * it the beam are small. The result is continuous in the clear index, and index 1 is no special
 * place: there `ghi` is the clear sky's own, but the split is Erbs' average over skies with that
 * clearness, which has less beam than a clear sky. At sea level and turbidity 3 the beam is 7 % less
 * with the sun 60° up and 24 % less at 20°; the light on a plane facing the sun is 1 % and
 * 12 % less. Use `ineichenPerez` itself for a day without clouds.
 *
 * @param ghiClear                global irradiance under a clear sky, W/m², 0 or more
 * @param elevation               h, rad; 0 W/m² at or below the horizon
 * @param extraterrestrialNormal  E0, W/m², more than 0
 * @param clearIndex              c, dimensionless, 0 to 1.1
 * @param dniClear                beam under the clear sky, W/m²: a limit; none if left out
 * @returns                       W/m², all three 0 or more and ghi = dni sin h + dhi
 *
 * Source: Erbs, Klein & Duffie, Solar Energy 28 (1982) 293-302
 * Truth: test/reference/checks.json, within erbs_diffuse_fraction; test/engine/physics/clouds.test.ts
 * for closure, limits and continuity
 */
export function cloudedSky(
  ghiClear: number,
  elevation: number,
  extraterrestrialNormal: number,
  clearIndex: number,
  dniClear: number = Number.POSITIVE_INFINITY,
): Irradiance {
  if (elevation <= 0) return DARK;
  const out: [number, number, number] = [0, 0, 0];
  splitUnderClouds(
    ghiClear,
    Math.sin(elevation),
    extraterrestrialNormal,
    clearIndex,
    dniClear,
    out,
  );
  return { dni: out[0], dhi: out[1], ghi: out[2] };
}

/** The same where the sine of the sun's height is known and more than 0: beam, diffuse and global light. */
export function splitUnderClouds(
  ghiClear: number,
  height: number,
  extraterrestrialNormal: number,
  clearIndex: number,
  dniClear: number,
  out: Float64Array | [number, number, number],
): void {
  const ghi = ghiClear * clearIndex;
  const dni = beamUnderClouds(ghi, height, extraterrestrialNormal, dniClear);
  out[0] = dni;
  out[1] = ghi - dni * height;
  out[2] = ghi;
}

/** The beam that clouds leave, W/m², where global light and the sine of the sun's height are known. */
export function beamUnderClouds(
  ghi: number,
  height: number,
  extraterrestrialNormal: number,
  dniClear: number,
): number {
  const clearness = Math.min(1, ghi / (extraterrestrialNormal * height));
  const split = clearness * extraterrestrialNormal * (1 - erbsDiffuseFraction(clearness));
  return Math.min(dniClear, split);
}

/**
 * Global irradiance under clouds as a share of the clear sky's.
 *
 *     G / G_clear = 1 − 0.75 n^3.4
 *
 * @param cover  share n of the sky that is covered, 0 to 1 (okta / 8)
 * @returns      dimensionless, 0.25 to 1; single overcast days spread by half of it either way
 *
 * Source: Kasten & Czeplak, Solar Energy 24 (1980) 177-189; ten years of Hamburg
 * Truth: test/reference/checks.json (kasten_czeplak_cloud_factor), largest error 3e-7
 */
export function kastenCzeplakCloudFactor(cover: number): number {
  return 1 - 0.75 * cover ** 3.4;
}

/**
 * Share of the global irradiance that is diffuse, from cloud cover.
 *
 *     D / G = 0.3 + 0.7 n²
 *
 * @param cover  share n of the sky that is covered, 0 to 1 (okta / 8)
 * @returns      dimensionless, 0.3 to 1
 *
 * Source: Kasten & Czeplak, Solar Energy 24 (1980) 177-189
 * Truth: test/reference/checks.json (kasten_czeplak_diffuse_fraction), no error beyond rounding
 */
export function kastenCzeplakDiffuseFraction(cover: number): number {
  return 0.3 + 0.7 * cover * cover;
}
