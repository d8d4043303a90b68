/*
 * Sums over an hour or a day on a level plane, J/m²: above the air, and what an atlas, a count of
 * sunshine hours or a thermometer says about the ground. They need only the day of the year. The
 * FAO-56 functions keep that paper's own solar constant, declination and distance, so that its
 * examples come out; do not mix them with the others inside one comparison.
 */

import { DAY, HOUR } from './constants.ts';
import { sunsetHourAngle } from './solar-position.ts';

/** FAO-56's solar constant, 0.0820 MJ/m² a minute, in W/m². */
const FAO_SOLAR_CONSTANT = 0.082e6 / 60;

/**
 * Inverse square of the distance to the sun, one-term form.
 *
 *     (r0/r)² = 1 + 0.033 cos(2π n / 365)
 *
 * @param day  day of the year n, 1 to 366
 * @returns    dimensionless, 0.967 to 1.033
 *
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, equation 1.4.1a; FAO-56,
 * equation 23
 * Truth: test/reference/checks.json (fao56_inverse_relative_distance), largest error 0.0002
 */
export function simpleDistanceFactor(day: number): number {
  return 1 + 0.033 * Math.cos((2 * Math.PI * day) / 365);
}

/**
 * Irradiation of one day on a level plane above the air.
 *
 *     H0 = (86400 s / π) E0 (cos φ cos δ sin ωs + ωs sin φ sin δ)
 *
 * @param latitude                φ, rad
 * @param declination             δ, rad
 * @param extraterrestrialNormal  E0, W/m²
 * @returns                       J/m²
 *
 * Source: Duffie & Beckman, equation 1.10.3
 * Truth: test/reference/checks.json (daily_extraterrestrial_MJm2), largest relative error 0.0008
 */
export function dailyExtraterrestrial(
  latitude: number,
  declination: number,
  extraterrestrialNormal: number,
): number {
  const sunset = sunsetHourAngle(latitude, declination);
  return (
    (DAY / Math.PI) *
    extraterrestrialNormal *
    (Math.cos(latitude) * Math.cos(declination) * Math.sin(sunset) +
      sunset * Math.sin(latitude) * Math.sin(declination))
  );
}

/**
 * Irradiation between two hour angles on a level plane above the air.
 *
 *     I0 = (86400 s / 2π) E0 (cos φ cos δ (sin ω2 − sin ω1) + (ω2 − ω1) sin φ sin δ)
 *
 * @param latitude                φ, rad
 * @param declination             δ, rad
 * @param extraterrestrialNormal  E0, W/m²
 * @param from                    hour angle ω1, rad, cut off at sunrise
 * @param until                   hour angle ω2, rad, not before `from`, cut off at sunset
 * @returns                       J/m²
 *
 * Source: Duffie & Beckman, equation 1.10.4; FAO-56, equation 28
 * Truth: test/reference/checks.json (hourly_extraterrestrial_MJm2, fao56_Ra_hourly_MJm2h), largest
 * error 0.0005 MJ/m²
 */
export function partialExtraterrestrial(
  latitude: number,
  declination: number,
  extraterrestrialNormal: number,
  from: number,
  until: number,
): number {
  const sunset = sunsetHourAngle(latitude, declination);
  const start = Math.max(-sunset, Math.min(sunset, from));
  const end = Math.max(-sunset, Math.min(sunset, until));
  return (
    (DAY / (2 * Math.PI)) *
    extraterrestrialNormal *
    (Math.cos(latitude) * Math.cos(declination) * (Math.sin(end) - Math.sin(start)) +
      (end - start) * Math.sin(latitude) * Math.sin(declination))
  );
}

/**
 * Declination by day of the year as FAO-56 has it.
 *
 *     δ = 0.409 sin(2π J / 365 − 1.39)
 *
 * @param day  day of the year J, 1 to 366
 * @returns    rad; up to 1.30° off
 *
 * Source: Allen, Pereira, Raes & Smith, FAO Irrigation and Drainage Paper 56, 1998, equation 24
 * Truth: test/reference/checks.json (fao56_declination_rad), largest error 0.0004 rad
 */
export function faoDeclination(day: number): number {
  return 0.409 * Math.sin((2 * Math.PI * day) / 365 - 1.39);
}

/**
 * Irradiance above the air on a plane that faces the sun, with FAO-56's constant and distance.
 *
 *     E0 = 0.0820 MJ/m²/min · (1 + 0.033 cos(2π J / 365))
 *
 * @param day  day of the year J, 1 to 366
 * @returns    W/m²
 *
 * Source: FAO-56, equations 21 and 23
 * Truth: test/reference/checks.json, within fao56_Ra_MJm2day
 */
export function faoExtraterrestrialNormal(day: number): number {
  return FAO_SOLAR_CONSTANT * simpleDistanceFactor(day);
}

/**
 * Irradiation of one day on a level plane above the air, Ra of FAO-56.
 *
 * @param latitude  rad
 * @param day       day of the year, 1 to 366
 * @returns         J/m²
 *
 * Source: FAO-56, equation 21
 * Truth: test/reference/checks.json (fao56_Ra_MJm2day), largest error 0.02 MJ/m²
 */
export function faoDailyExtraterrestrial(latitude: number, day: number): number {
  return dailyExtraterrestrial(latitude, faoDeclination(day), faoExtraterrestrialNormal(day));
}

/**
 * Irradiation of a short period on a level plane above the air.
 *
 * @param latitude            rad
 * @param longitudeOfZone     longitude of the clock's meridian less that of the place, rad, east
 *                            positive
 * @param day                 day of the year J, 1 to 366
 * @param midpoint            clock time at the middle of the period, s after midnight
 * @param length              length of the period, s
 * @returns                   J/m²
 *
 *     ω = π/12 h · (t − 4 min/° (Lz − L) + Sc − 12 h)
 *     Sc = 0.1645 sin 2b − 0.1255 cos b − 0.025 sin b  (h),   b = 2π (J − 81) / 364
 *
 * Source: FAO-56, equations 28 to 33
 * Truth: test/reference/checks.json (fao56_Ra_hourly_MJm2h), largest error 0.0005 MJ/m²
 */
export function faoPartialExtraterrestrial(
  latitude: number,
  longitudeOfZone: number,
  day: number,
  midpoint: number,
  length: number,
): number {
  const b = (2 * Math.PI * (day - 81)) / 364;
  const season = 0.1645 * Math.sin(2 * b) - 0.1255 * Math.cos(b) - 0.025 * Math.sin(b);
  const turn = (2 * Math.PI) / DAY;
  const middle = turn * (midpoint + season * HOUR - DAY / 2) - longitudeOfZone;
  return partialExtraterrestrial(
    latitude,
    faoDeclination(day),
    faoExtraterrestrialNormal(day),
    middle - (turn * length) / 2,
    middle + (turn * length) / 2,
  );
}

/**
 * Time from sunrise to sunset of the sun's centre, no refraction, N of FAO-56.
 *
 *     N = 24 h · ωs / π
 *
 * @param latitude  rad
 * @param day       day of the year, 1 to 366
 * @returns         s, 0 to 86 400
 *
 * Source: FAO-56, equation 34
 * Truth: test/reference/checks.json (fao56_daylight_hours), largest error 0.04 h
 */
export function faoDaylight(latitude: number, day: number): number {
  return (sunsetHourAngle(latitude, faoDeclination(day)) / Math.PI) * DAY;
}

/**
 * Daily irradiation at the ground from the hours of sunshine.
 *
 *     Rs = (0.25 + 0.50 n/N) Ra
 *
 * @param extraterrestrial  Ra, J/m² in a day
 * @param sunshineShare     n/N, dimensionless, 0 to 1
 * @returns                 J/m²
 *
 * Source: FAO-56, equation 35 (Ångström)
 * Truth: test/reference/checks.json (fao56_Rs_MJm2day), largest error 0.05 MJ/m²
 */
export function irradiationFromSunshine(extraterrestrial: number, sunshineShare: number): number {
  return (0.25 + 0.5 * sunshineShare) * extraterrestrial;
}

/**
 * Most that a day can bring to the ground: the ceiling for an entry by hand.
 *
 *     Rso = (0.75 + 2e-5 z) Ra
 *
 * @param extraterrestrial  Ra, J/m² in a day
 * @param altitude          z, m
 * @returns                 J/m²
 *
 * Source: FAO-56, equation 37
 * Truth: test/reference/checks.json (fao56_Rso_MJm2day), largest error 0.0004 MJ/m²
 */
export function clearDayCeiling(extraterrestrial: number, altitude: number): number {
  return (0.75 + 2e-5 * altitude) * extraterrestrial;
}

/**
 * Daily irradiation at the ground from the day's high and low temperature.
 *
 *     Rs = k √(Tmax − Tmin) Ra
 *
 * @param extraterrestrial  Ra, J/m² in a day
 * @param high              Tmax, °C
 * @param low               Tmin, °C, not above `high`
 * @param coefficient       k, K^−½: 0.16 inland, 0.19 on a coast
 * @returns                 J/m²; NaN when `low` is above `high`
 *
 * Source: FAO-56, equation 50 (Hargreaves)
 * Truth: test/reference/checks.json (fao56_Rs_from_temperature_MJm2day), largest error 0.02 MJ/m²
 */
export function irradiationFromTemperature(
  extraterrestrial: number,
  high: number,
  low: number,
  coefficient: number,
): number {
  return coefficient * Math.sqrt(high - low) * extraterrestrial;
}

/**
 * Air pressure at an altitude as FAO-56 has it.
 *
 *     P = 101.3 kPa ((293 − 0.0065 z) / 293)^5.26
 *
 * @param altitude  z, m
 * @returns         Pa
 *
 * Source: FAO-56, equation 7
 * Truth: test/reference/checks.json (fao56_pressure_kPa), largest error 0.05 kPa
 */
export function faoPressure(altitude: number): number {
  return 101_300 * ((293 - 0.0065 * altitude) / 293) ** 5.26;
}
