/*
 * Where the sun stands. One algorithm of some forty lines (`geocentricSun`) carries the positions,
 * sunrise and sunset; the cruder formulas of the textbooks are kept for daily sums and for the
 * examples printed with them, never for shade. Azimuth runs clockwise from true north, elevation
 * up from the level horizon, latitude is positive north, longitude positive east.
 */

import { DAY, DEGREE } from './constants.ts';
import { deltaT, julianDay } from './time.ts';

/** Angles of the sun as seen from a place, rad; distance factor 1/r² with r in astronomical units. */
export interface SolarPosition {
  readonly elevation: number;
  readonly azimuth: number;
  readonly distanceFactor: number;
  readonly declination: number;
}

/** The sun from the Earth's centre: rad; distance in astronomical units; equation of time in s. */
export interface GeocentricSun {
  readonly declination: number;
  readonly distance: number;
  readonly greenwichHourAngle: number;
  readonly equationOfTime: number;
}

/** Rise and set, s since 1970-01-01T00:00 UTC; NaN where there is none. */
export interface SunTimes {
  readonly rise: number;
  readonly set: number;
  readonly state: 'usual' | 'up all day' | 'down all day';
}

/**
 * Topocentric place of the sun's centre, no refraction.
 *
 *     geocentric sun, then parallax in hour angle and declination,
 *     sin h = sin φ sin δ + cos φ cos δ cos H
 *     A = π + atan2(sin H, cos H sin φ − tan δ cos φ)
 *
 * @param utcSeconds  moment, s since 1970-01-01T00:00 UTC, years 1950 to 2100
 * @param latitude    φ, rad, −π/2 to π/2, north positive
 * @param longitude   rad, −π to π, east positive
 * @returns           elevation −π/2 to π/2; azimuth 0 to 2π; distance factor 1/r²; declination as
 *                    seen from the place
 *
 * Source: Meeus, Astronomical Algorithms, 2nd edition, chapters 12, 13, 22, 25, 40; planetary terms:
 * Meeus, Astronomical Formulae for Calculators, chapter 18 (from memory)
 * Truth: test/reference/sun-positions.csv, 62 places, largest error 0.0027° of a great circle; 3000
 * random places against astronomy-engine, 1990 to 2050, 0.0047°; test/reference/checks.json
 * (sun_elevation_airless_deg, sun_azimuth_deg), largest errors 0.0016° and 0.0056°
 */
export function solarPosition(
  utcSeconds: number,
  latitude: number,
  longitude: number,
): SolarPosition {
  const sun = geocentricSun(utcSeconds);
  const hourAngle = sun.greenwichHourAngle + longitude;
  const parallax = Math.sin((8.794 / 3600) * DEGREE) / sun.distance;
  // The Earth is flattened: the observer's height over the equator and distance from the axis.
  const reduced = Math.atan(0.99664719 * Math.tan(latitude));
  const outward = Math.cos(reduced) * parallax;
  const northward = 0.99664719 * Math.sin(reduced) * parallax;
  const cosDeclination = Math.cos(sun.declination);
  const toward = cosDeclination - outward * Math.cos(hourAngle);
  const shift = Math.atan2(-outward * Math.sin(hourAngle), toward);
  const declination = Math.atan2((Math.sin(sun.declination) - northward) * Math.cos(shift), toward);
  const seenHourAngle = hourAngle - shift;
  return {
    elevation: solarElevation(latitude, declination, seenHourAngle),
    azimuth: solarAzimuth(latitude, declination, seenHourAngle),
    distanceFactor: 1 / (sun.distance * sun.distance),
    declination,
  };
}

/**
 * The sun seen from the Earth's centre: apparent declination, distance, hour angle at Greenwich and
 * equation of time (apparent less mean solar time: positive when a sundial runs ahead).
 *
 * @param utcSeconds  moment, s since 1970-01-01T00:00 UTC, years 1950 to 2100
 * @returns           declination rad; distance au; hour angle rad, any turn; equation of time s
 *
 * Source: as `solarPosition`; equation of time: Meeus, Astronomical Algorithms, equation 28.1
 * Truth: test/reference/checks.json (sun_distance_AU, sun_declination_deg, equation_of_time_min),
 * largest errors 3e-6 au, 0.0003° and 0.3 s; distance up to 6e-5 au from astronomy-engine in 62 cases
 */
export function geocentricSun(utcSeconds: number): GeocentricSun {
  const universal = julianDay(utcSeconds);
  const lag = deltaT(2000 + (universal - 2_451_545) / 365.25) / DAY;
  const t = (universal + lag - 2_451_545) / 36_525;
  const meanLongitude = 280.46646 + t * (36_000.76983 + t * 0.0003032);
  const anomaly = (357.52911 + t * (35_999.05029 - t * 0.0001537)) * DEGREE;
  const eccentricity = 0.016708634 - t * (0.000042037 + t * 0.0000001267);
  const centre =
    (1.914602 - t * (0.004817 + t * 0.000014)) * Math.sin(anomaly) +
    (0.019993 - t * 0.000101) * Math.sin(2 * anomaly) +
    0.000289 * Math.sin(3 * anomaly);
  const distance =
    (1.000001018 * (1 - eccentricity * eccentricity)) /
    (1 + eccentricity * Math.cos(anomaly + centre * DEGREE));
  const node = (125.04 - 1934.136 * t) * DEGREE;
  // Pull of Venus (two terms), Jupiter, the Moon, and one of long period; counted from 1900.
  const s = (universal + lag - 2_415_020) / 36_525;
  const pull =
    0.00134 * Math.cos((153.23 + 22_518.7541 * s) * DEGREE) +
    0.00154 * Math.cos((216.57 + 45_037.5082 * s) * DEGREE) +
    0.002 * Math.cos((312.69 + 32_964.3577 * s) * DEGREE) +
    0.00179 * Math.sin((350.74 + s * (445_267.1142 - 0.00144 * s)) * DEGREE) +
    0.00178 * Math.sin((231.19 + 20.2 * s) * DEGREE);
  const nutation = -0.00478 * Math.sin(node);
  const longitude = (meanLongitude + centre - 0.00569 + nutation + pull) * DEGREE;
  const obliquity =
    (23.4392911 - (t * (46.815 + t * (0.00059 - t * 0.001813))) / 3600 + 0.00256 * Math.cos(node)) *
    DEGREE;
  const cosObliquity = Math.cos(obliquity);
  const sinLongitude = Math.sin(longitude);
  const ascension = Math.atan2(cosObliquity * sinLongitude, Math.cos(longitude));
  const declination = Math.asin(Math.sin(obliquity) * sinLongitude);
  // Sidereal time follows the Earth's turning, hence universal time, not `t`.
  const turned = universal - 2_451_545;
  const u = turned / 36_525;
  const sidereal =
    280.46061837 +
    360.98564736629 * turned +
    u * u * (0.000387933 - u / 38_710_000) +
    nutation * cosObliquity;
  const ahead = (meanLongitude - 0.0057183 + nutation * cosObliquity) * DEGREE - ascension;
  return {
    declination,
    distance,
    greenwichHourAngle: (sidereal % 360) * DEGREE - ascension,
    equationOfTime: (halfTurn(ahead) / (2 * Math.PI)) * DAY,
  };
}

/**
 * Rise and set of the sun's upper limb on a level horizon: centre at −0.8333°, 34' of refraction
 * and 16' of radius.
 *
 * The day runs from the lower transit before to the lower transit after the sun's highest point
 * nearest to the given noon, so it is the local day wherever UTC's own midnight falls. Within each
 * half the elevation is monotonic and the crossing is found by bisection with the declination of
 * the moment itself.
 *
 * @param utcNoonOfLocalDay  moment of about noon on the local date, s since 1970-01-01T00:00 UTC
 * @param latitude           rad, −π/2 to π/2
 * @param longitude          rad, −π to π
 * @returns                  seconds as above. A side without a crossing is NaN and `state` tells
 *                           why; on the one day when a polar day or night begins or ends, the other
 *                           side keeps its time.
 *
 * Source: convention of the Nautical and Astronomical Almanacs
 * Truth: test/reference/checks.json (sunrise_*, sunset_*, day_length_min), largest error 0.09 min
 */
export function sunriseSunset(
  utcNoonOfLocalDay: number,
  latitude: number,
  longitude: number,
): SunTimes {
  let noon = utcNoonOfLocalDay;
  for (let round = 0; round < 3; round += 1) {
    const hourAngle = halfTurn(geocentricSun(noon).greenwichHourAngle + longitude);
    noon -= (hourAngle / (2 * Math.PI)) * DAY;
  }
  const rise = horizonCrossing(noon - DAY / 2, noon, latitude, longitude);
  const set = horizonCrossing(noon + DAY / 2, noon, latitude, longitude);
  if (Number.isFinite(rise) && Number.isFinite(set)) return { rise, set, state: 'usual' };
  const highest = elevationOverLimb(noon, latitude, longitude);
  return { rise, set, state: highest > 0 ? 'up all day' : 'down all day' };
}

/** Moment between a low and a high sun at which the limb touches the horizon; NaN if it never does. */
function horizonCrossing(low: number, high: number, latitude: number, longitude: number): number {
  if (elevationOverLimb(low, latitude, longitude) > 0) return Number.NaN;
  if (!(elevationOverLimb(high, latitude, longitude) > 0)) return Number.NaN;
  let below = low;
  let above = high;
  // Half a day halved 24 times is 3 ms.
  for (let round = 0; round < 24; round += 1) {
    const middle = (below + above) / 2;
    if (elevationOverLimb(middle, latitude, longitude) > 0) above = middle;
    else below = middle;
  }
  return (below + above) / 2;
}

function elevationOverLimb(utcSeconds: number, latitude: number, longitude: number): number {
  const sun = geocentricSun(utcSeconds);
  const hourAngle = sun.greenwichHourAngle + longitude;
  return solarElevation(latitude, sun.declination, hourAngle) + (50 / 60) * DEGREE;
}

/**
 * Elevation of the sun from its hour angle.
 *
 *     sin h = sin φ sin δ + cos φ cos δ cos H
 *
 * @param latitude     φ, rad, −π/2 to π/2
 * @param declination  δ, rad
 * @param hourAngle    H, rad, 0 at the highest point, positive after it
 * @returns            rad, −π/2 to π/2
 *
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, equation 1.6.5
 * Truth: test/reference/checks.json (zenith_deg), largest error 0.05°
 */
export function solarElevation(latitude: number, declination: number, hourAngle: number): number {
  const sine =
    Math.sin(latitude) * Math.sin(declination) +
    Math.cos(latitude) * Math.cos(declination) * Math.cos(hourAngle);
  return Math.asin(Math.max(-1, Math.min(1, sine)));
}

/**
 * Azimuth of the sun from its hour angle, clockwise from true north.
 *
 *     A = π + atan2(sin H, cos H sin φ − tan δ cos φ)
 *
 * @param latitude     φ, rad, −π/2 to π/2
 * @param declination  δ, rad, less than a right angle
 * @param hourAngle    H, rad, 0 at the highest point, positive after it
 * @returns            rad, 0 to 2π
 *
 * Source: Meeus, Astronomical Algorithms, 2nd edition, equation 13.5
 * Truth: test/reference/sun-positions.csv, within `solarPosition`
 */
export function solarAzimuth(latitude: number, declination: number, hourAngle: number): number {
  const azimuth =
    Math.PI +
    Math.atan2(
      Math.sin(hourAngle),
      Math.cos(hourAngle) * Math.sin(latitude) - Math.tan(declination) * Math.cos(latitude),
    );
  return azimuth >= 2 * Math.PI ? azimuth - 2 * Math.PI : azimuth;
}

/**
 * Lift of the sun's image by refraction.
 *
 *     Δ = (P/101 kPa) (283 / (273 + T)) · 1.02' / tan(h + 10.3 / (h + 5.11)),   h in degrees
 *
 * @param elevation    true elevation h, rad; 0 below −0.83°
 * @param pressure     P, Pa
 * @param temperature  T, °C
 * @returns            rad; hundredths to tenths of a degree uncertain near the horizon
 *
 * Source: Reda & Andreas, Solar Position Algorithm, NREL/TP-560-34302, equation 42
 * Truth: test/reference/checks.json (refraction_deg), largest error 2e-7°
 */
export function refraction(elevation: number, pressure: number, temperature: number): number {
  const degrees = elevation / DEGREE;
  if (degrees < -0.83) return 0;
  const air = (pressure / 101_000) * (283 / (273 + temperature));
  return ((air * 1.02) / (60 * Math.tan((degrees + 10.3 / (degrees + 5.11)) * DEGREE))) * DEGREE;
}

/**
 * Hour angle at which the sun's centre crosses a level horizon, no refraction.
 *
 *     cos ωs = −tan φ tan δ
 *
 * @param latitude     φ, rad, between the poles
 * @param declination  δ, rad
 * @returns            rad: 0 when the sun stays down, π when it stays up
 *
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, equation 1.6.10
 * Truth: test/reference/checks.json (sunset_hour_angle_deg), largest error 0.02°
 */
export function sunsetHourAngle(latitude: number, declination: number): number {
  const cosine = -Math.tan(latitude) * Math.tan(declination);
  return Math.acos(Math.max(-1, Math.min(1, cosine)));
}

/**
 * Declination by day of the year: daily sums only.
 *
 *     δ = 23.45° sin(2π (284 + n) / 365)
 *
 * @param day  day of the year n, 1 to 366
 * @returns    rad; up to 1.21° off in mid October
 *
 * Source: Cooper, Solar Energy 12 (1969) 333; Duffie & Beckman, equation 1.6.1a
 * Truth: test/reference/checks.json (declination_cooper_deg), largest error 0.004°
 */
export function cooperDeclination(day: number): number {
  return 23.45 * DEGREE * Math.sin((2 * Math.PI * (284 + day)) / 365);
}

/**
 * Equation of time by day of the year: apparent less mean solar time.
 *
 *     E = 229.2 min (0.000075 + 0.001868 cos B − 0.032077 sin B − 0.014615 cos 2B − 0.04089 sin 2B)
 *     B = 2π (n − 1) / 365
 *
 * @param day  day of the year n, 1 to 366
 * @returns    s; up to 50 s off
 *
 * Source: Spencer, Search 2 (1971) 172; Duffie & Beckman, equation 1.5.3
 * Truth: test/reference/checks.json (eot_spencer_min), largest error 0.02 min
 */
export function spencerEquationOfTime(day: number): number {
  const b = (2 * Math.PI * (day - 1)) / 365;
  const minutes =
    229.2 *
    (0.000075 +
      0.001868 * Math.cos(b) -
      0.032077 * Math.sin(b) -
      0.014615 * Math.cos(2 * b) -
      0.04089 * Math.sin(2 * b));
  return minutes * 60;
}

/** The same angle between −π and π. */
function halfTurn(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}
