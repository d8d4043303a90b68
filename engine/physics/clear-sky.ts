/*
 * Sunlight that reaches the ground through a cloudless sky. `ineichenPerez` is the one the notebooks
 * use: it needs no data file, gives beam and diffuse apart, and its one unknown is a word (haze).
 * The others stand beside it as a check on its plausibility.
 *
 * Irradiances are W/m². `ghi` falls on a level plane, `dni` on a plane that faces the sun, `dhi` is
 * the part of `ghi` that comes from the sky: ghi = dni sin h + dhi.
 */

import { DEGREE, SOLAR_CONSTANT, STANDARD_PRESSURE } from './constants.ts';

/** Global horizontal, direct normal and diffuse horizontal irradiance, W/m². */
export interface Irradiance {
  readonly ghi: number;
  readonly dni: number;
  readonly dhi: number;
}

/** What a sky without sun gives. */
export const DARK: Irradiance = { ghi: 0, dni: 0, dhi: 0 };

/**
 * Inverse square of the distance to the sun by day of the year.
 *
 *     (r0/r)² = 1.00011 + 0.034221 cos B + 0.00128 sin B + 0.000719 cos 2B + 0.000077 sin 2B
 *     B = 2π (n − 1) / 365
 *
 * @param day  day of the year n, 1 to 366
 * @returns    dimensionless, 0.966 to 1.035
 *
 * Source: Spencer, Search 2 (1971) 172; Duffie & Beckman, Solar Engineering of Thermal Processes,
 * equation 1.4.1b
 * Truth: test/reference/checks.json, within the whole-day sums
 */
export function spencerDistanceFactor(day: number): number {
  const b = (2 * Math.PI * (day - 1)) / 365;
  return (
    1.00011 +
    0.034221 * Math.cos(b) +
    0.00128 * Math.sin(b) +
    0.000719 * Math.cos(2 * b) +
    0.000077 * Math.sin(2 * b)
  );
}

/**
 * Irradiance above the air on a plane that faces the sun, by day of the year.
 *
 *     E0 = Gsc (r0/r)²
 *
 * @param day            day of the year, 1 to 366
 * @param solarConstant  Gsc, W/m²
 * @returns              W/m²
 *
 * Source: Spencer, Search 2 (1971) 172
 * Truth: test/engine/physics/clear-sky.test.ts, 1408.7 W/m² on day 3, 1315.5 W/m² on day 185
 */
export function extraterrestrialNormal(day: number, solarConstant = SOLAR_CONSTANT): number {
  return solarConstant * spencerDistanceFactor(day);
}

/**
 * Optical air mass relative to the zenith at sea level.
 *
 *     m = 1 / (cos Z + 0.50572 (96.07995 − Z)^−1.6364),   Z in degrees
 *
 * @param elevation  apparent elevation 90° − Z, rad, 0 to π/2
 * @returns          dimensionless, 1 to 37.9; NaN below −6.08°
 *
 * Source: Kasten & Young, Applied Optics 28 (1989) 4735, equation 3
 * Truth: test/reference/checks.json (airmass_kasten_young), largest relative error 2e-6
 */
export function airMass(elevation: number): number {
  const degrees = elevation / DEGREE;
  return 1 / (Math.sin(elevation) + 0.50572 * (degrees + 6.07995) ** -1.6364);
}

/**
 * Air pressure at an altitude in the standard atmosphere.
 *
 *     P = 101325 Pa (1 − 2.25577e-5 h)^5.25588
 *
 * @param altitude  h, m above sea level, −500 to 11 000
 * @returns         Pa
 *
 * Source: ICAO standard atmosphere, Doc 7488
 * Truth: test/reference/checks.json (pressure_isa_hPa), largest error 0.0001 hPa
 */
export function standardPressure(altitude: number): number {
  return STANDARD_PRESSURE * (1 - 2.25577e-5 * altitude) ** 5.25588;
}

/**
 * Clear-sky irradiance from altitude and haze.
 *
 *     ghi = c1 E0 sin h exp(−c2 m' (f1 + f2 (T − 1)))
 *     dni = min( b E0 exp(−0.09 m' (T − 1)),
 *                ghi (1 − (0.1 − 0.2 e^−T) / (0.1 + 0.882/f1)) / sin h )
 *     f1 = exp(−z/8000)  f2 = exp(−z/1250)  b = 0.664 + 0.163/f1
 *     c1 = 5.09e-5 z + 0.868   c2 = 3.92e-5 z + 0.0387   m' = air mass × pressure / standard
 *
 * @param elevation               h, rad; 0 W/m² at or below the horizon
 * @param altitude                z, m, −500 to 5000
 * @param turbidity               Linke turbidity T, 1 to 10: 2 cold and clear, 3 clear, 4 summer
 *                                lowland, 5 humid, 6 to 7 smoke or city haze
 * @param extraterrestrialNormal  E0, W/m²
 * @returns                       W/m², all three 0 or more and ghi = dni sin h + dhi
 *
 * Trustworthy above an elevation of 5° or so. A later variant multiplies ghi by exp(0.01 m'^1.8);
 * it is left out, as it grows without sense near the horizon.
 * Source: Ineichen & Perez, Solar Energy 73 (2002) 151-157, equations 8 and 9 (from memory)
 * Truth: test/reference/checks.json (ineichen_perez_*), largest relative error 5e-6
 */
export function ineichenPerez(
  elevation: number,
  altitude: number,
  turbidity: number,
  extraterrestrialNormal: number,
): Irradiance {
  if (elevation <= 0) return DARK;
  const height = Math.sin(elevation);
  const mass = (airMass(elevation) * standardPressure(altitude)) / STANDARD_PRESSURE;
  const air = airOver(altitude, turbidity);
  const ghi = globalThroughAir(extraterrestrialNormal, height, mass, air);
  const dni = beamThroughAir(extraterrestrialNormal, height, mass, air, ghi);
  return { ghi, dni, dhi: ghi - dni * height };
}

/** What altitude and haze alone make of the equations; the sun's height comes in after. */
export interface AirColumn {
  readonly scale: number;
  readonly decay: number;
  readonly haze: number;
  readonly beamScale: number;
  readonly beamHaze: number;
  readonly leastDiffuse: number;
}

/** @param altitude m @param turbidity Linke turbidity for an air mass of 2, 1 to 10 */
export function airOver(altitude: number, turbidity: number): AirColumn {
  const lower = Math.exp(-altitude / 8000);
  const upper = Math.exp(-altitude / 1250);
  return {
    scale: 5.09e-5 * altitude + 0.868,
    decay: 3.92e-5 * altitude + 0.0387,
    haze: lower + upper * (turbidity - 1),
    beamScale: 0.664 + 0.163 / lower,
    beamHaze: turbidity - 1,
    leastDiffuse: Math.max(0, (0.1 - 0.2 * Math.exp(-turbidity)) / (0.1 + 0.882 / lower)),
  };
}

/** Global light on the level, W/m²; `height` is the sine of the elevation, `mass` by pressure. */
export function globalThroughAir(
  extraterrestrialNormal: number,
  height: number,
  mass: number,
  air: AirColumn,
): number {
  return air.scale * extraterrestrialNormal * height * Math.exp(-air.decay * mass * air.haze);
}

/** The beam, W/m², of which no more is taken than leaves the least diffuse light. */
export function beamThroughAir(
  extraterrestrialNormal: number,
  height: number,
  mass: number,
  air: AirColumn,
  ghi: number,
): number {
  const free = air.beamScale * extraterrestrialNormal * Math.exp(-0.09 * mass * air.beamHaze);
  return Math.min(free, (ghi * (1 - air.leastDiffuse)) / height);
}

/**
 * Clear-sky global irradiance from elevation alone.
 *
 *     ghi = 1098 sin h exp(−0.057 / sin h)
 *
 * @param elevation  h, rad; 0 at or below the horizon
 * @returns          W/m²
 *
 * Source: Haurwitz, Journal of Meteorology 2 (1945) 154, in the form of Reno, Hansen & Stein,
 * SAND2012-2389; older texts print 0.059 for 0.057
 * Truth: test/reference/checks.json (haurwitz_ghi_Wm2), largest relative error 2e-6
 */
export function haurwitz(elevation: number): number {
  if (elevation <= 0) return 0;
  const height = Math.sin(elevation);
  return 1098 * height * Math.exp(-0.057 / height);
}

/**
 * Clear-sky global irradiance as measured in Hamburg's haze.
 *
 *     ghi = 910 sin h − 30
 *
 * @param elevation  h, rad; 0 where the line falls below 0
 * @returns          W/m²; 9 to 16 % below `ineichenPerez` at turbidity 3
 *
 * Source: Kasten & Czeplak, Solar Energy 24 (1980) 177-189
 * Truth: test/reference/checks.json (kasten_czeplak_clear_ghi_Wm2), largest error 0.0002 W/m²
 */
export function kastenCzeplakClear(elevation: number): number {
  return Math.max(0, 910 * Math.sin(elevation) - 30);
}

/**
 * Clear-sky beam and diffuse irradiance from the two optical depths of a station table.
 *
 *     dni = E0 exp(−τb m^ab)   dhi = E0 exp(−τd m^ad)
 *
 * @param elevation               apparent elevation, rad; 0 W/m² at or below the horizon
 * @param beamDepth               τb, dimensionless, more than 0
 * @param diffuseDepth            τd, dimensionless, more than 0
 * @param extraterrestrialNormal  E0, W/m²
 * @param edition                 which exponents ab, ad: those printed 2009 or 2013
 * @returns                       W/m²
 *
 * Source: ASHRAE Handbook Fundamentals, 2009 and 2013, chapter 14 (from memory)
 * Truth: test/reference/checks.json (ashrae2009_*, ashrae2013_*), largest relative error 3e-6
 */
export function ashraeClearSky(
  elevation: number,
  beamDepth: number,
  diffuseDepth: number,
  extraterrestrialNormal: number,
  edition: 2009 | 2013,
): Irradiance {
  if (elevation <= 0) return DARK;
  const mass = airMass(elevation);
  const product = beamDepth * diffuseDepth;
  const beamPower =
    edition === 2009
      ? 1.219 - 0.043 * beamDepth - 0.151 * diffuseDepth - 0.204 * product
      : 1.454 - 0.406 * beamDepth - 0.268 * diffuseDepth + 0.021 * product;
  const diffusePower =
    edition === 2009
      ? 0.202 + 0.852 * beamDepth - 0.007 * diffuseDepth - 0.357 * product
      : 0.507 + 0.205 * beamDepth - 0.08 * diffuseDepth - 0.19 * product;
  const dni = extraterrestrialNormal * Math.exp(-beamDepth * mass ** beamPower);
  const dhi = extraterrestrialNormal * Math.exp(-diffuseDepth * mass ** diffusePower);
  return { ghi: dni * Math.sin(elevation) + dhi, dni, dhi };
}

/**
 * Clear-sky beam irradiance from air mass alone: a check in one line.
 *
 *     dni = 1353 · 0.7^(m^0.678)
 *
 * @param mass  air mass m, 1 to 38
 * @returns     W/m²
 *
 * Source: Meinel & Meinel, Applied Solar Energy, 1976
 * Truth: test/reference/checks.json (meinel_dni_Wm2), largest relative error 5e-7
 */
export function meinelBeam(mass: number): number {
  return 1353 * 0.7 ** (mass ** 0.678);
}

/** Correction of Hottel's coefficients for a climate. */
export interface HottelClimate {
  readonly constant: number;
  readonly scale: number;
  readonly decay: number;
}

/** Source: Hottel, Solar Energy 18 (1976) 129; Duffie & Beckman, table 2.8.1 (from memory). */
export const HOTTEL_CLIMATES: Readonly<Record<string, HottelClimate>> = {
  tropical: { constant: 0.95, scale: 0.98, decay: 1.02 },
  'mid-latitude summer': { constant: 0.97, scale: 0.99, decay: 1.02 },
  'sub-arctic summer': { constant: 0.99, scale: 0.99, decay: 1.01 },
  'mid-latitude winter': { constant: 1.03, scale: 1.01, decay: 1 },
};

/**
 * Share of the beam that a clear sky with 23 km visibility lets through.
 *
 *     τ = a0 + a1 exp(−k / sin h)
 *     a0 = r0 (0.4237 − 0.00821 (6 − A)²)   a1 = r1 (0.5055 + 0.00595 (6.5 − A)²)
 *     k = rk (0.2711 + 0.01858 (2.5 − A)²),   A in km
 *
 * @param elevation  h, rad; 0 at or below the horizon
 * @param altitude   A, m, 0 to 2500
 * @param climate    factors r0, r1, rk
 * @returns          dimensionless, 0 to 1
 *
 * Source: Hottel, Solar Energy 18 (1976) 129; Duffie & Beckman, equation 2.8.1
 * Truth: test/reference/checks.json (hottel_beam_transmittance), largest error 0.0007
 */
export function hottelBeamTransmittance(
  elevation: number,
  altitude: number,
  climate: HottelClimate,
): number {
  if (elevation <= 0) return 0;
  const kilometres = altitude / 1000;
  const constant = climate.constant * (0.4237 - 0.00821 * (6 - kilometres) ** 2);
  const scale = climate.scale * (0.5055 + 0.00595 * (6.5 - kilometres) ** 2);
  const decay = climate.decay * (0.2711 + 0.01858 * (2.5 - kilometres) ** 2);
  return constant + scale * Math.exp(-decay / Math.sin(elevation));
}

/** What Bird & Hulstrom's model wants to know of the air. */
export interface Atmosphere {
  /** Air pressure, Pa. */
  readonly pressure: number;
  /** Height of the ozone column, m at standard conditions; 0.003 is usual. */
  readonly ozone: number;
  /** Height of the water vapour if it were rained out, m; 0.015 is usual. */
  readonly water: number;
  /** Optical depth of the haze at 500 nm. */
  readonly depth500: number;
  /** Optical depth of the haze at 380 nm. */
  readonly depth380: number;
  /** Reflectance of the ground, 0 to 1. */
  readonly albedo: number;
}

/**
 * Clear-sky irradiance from the make-up of the air.
 *
 *     dni = 0.9662 E0 TR To TUM Tw TA
 *     ghi = (dni sin h + Is) / (1 − ρg ρs)
 *
 * with transmittances of Rayleigh scattering, ozone, mixed gases, water and aerosol, and with light
 * scattered down (Is) and bounced between ground and sky.
 *
 * @param elevation               h, rad; 0 W/m² at or below the horizon
 * @param air                     pressure, ozone, water, haze, ground
 * @param extraterrestrialNormal  E0, W/m²
 * @returns                       W/m²
 *
 * Source: Bird & Hulstrom, A Simplified Clear Sky Model for Direct and Diffuse Insolation on
 * Horizontal Surfaces, SERI/TR-642-761, 1981 (from memory)
 * Truth: test/reference/checks.json (bird_*), largest relative error 4e-6
 */
export function birdHulstrom(
  elevation: number,
  air: Atmosphere,
  extraterrestrialNormal: number,
): Irradiance {
  if (elevation <= 0) return DARK;
  const degrees = elevation / DEGREE;
  const height = Math.sin(elevation);
  // The model was fitted with Kasten's older air mass.
  const mass = 1 / (height + 0.15 * (degrees + 3.885) ** -1.253);
  const pressed = (mass * air.pressure) / STANDARD_PRESSURE;
  const rayleigh = Math.exp(-0.0903 * pressed ** 0.84 * (1 + pressed - pressed ** 1.01));
  // Ozone and water enter in centimetres.
  const ozonePath = air.ozone * 100 * mass;
  const ozone =
    1 -
    0.1611 * ozonePath * (1 + 139.48 * ozonePath) ** -0.3035 -
    (0.002715 * ozonePath) / (1 + 0.044 * ozonePath + 0.0003 * ozonePath ** 2);
  const gases = Math.exp(-0.0127 * pressed ** 0.26);
  const waterPath = air.water * 100 * mass;
  const water = 1 - (2.4959 * waterPath) / ((1 + 79.034 * waterPath) ** 0.6828 + 6.385 * waterPath);
  const depth = 0.2758 * air.depth380 + 0.35 * air.depth500;
  const aerosol = Math.exp(-(depth ** 0.873) * (1 + depth - depth ** 0.7088) * mass ** 0.9108);
  const absorbed = 1 - 0.1 * (1 - mass + mass ** 1.06) * (1 - aerosol);
  const dni = 0.9662 * extraterrestrialNormal * rayleigh * ozone * gases * water * aerosol;
  const scattered =
    (extraterrestrialNormal *
      height *
      0.79 *
      ozone *
      gases *
      water *
      absorbed *
      (0.5 * (1 - rayleigh) + 0.84 * (1 - aerosol / absorbed))) /
    (1 - mass + mass ** 1.02);
  const skyAlbedo = 0.0685 + (1 - 0.84) * (1 - aerosol / absorbed);
  const ghi = (dni * height + scattered) / (1 - air.albedo * skyAlbedo);
  return { ghi, dni, dhi: ghi - dni * height };
}
