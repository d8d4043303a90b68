/*
 * Counting days. A moment is a plain number: seconds since 1970-01-01T00:00 UTC, every day 86 400 s
 * long, leap seconds not counted. No clock and no calendar object enters `physics/`; the Gregorian
 * calendar is computed here.
 */

import { DAY } from './constants.ts';

/** Julian date of 1970-01-01T00:00 UTC. */
const JULIAN_DAY_1970 = 2_440_587.5;

/**
 * Julian date of a moment.
 *
 *     JD = t / 86400 + 2440587.5
 *
 * @param utcSeconds  moment t, s since 1970-01-01T00:00 UTC
 * @returns           d; UTC taken for UT1, which costs at most 0.9 s
 *
 * Source: Meeus, Astronomical Algorithms, 2nd edition, chapter 7
 * Truth: test/reference/checks.json (julian_day), largest error 3e-7 d
 */
export function julianDay(utcSeconds: number): number {
  return utcSeconds / DAY + JULIAN_DAY_1970;
}

/**
 * Moment of midnight UTC on a date of the Gregorian calendar.
 *
 * @param year   calendar year, whole, any
 * @param month  1 to 12
 * @param day    day of the month, 1 to 31
 * @returns      s since 1970-01-01T00:00 UTC
 *
 * Source: counting days from 1 March, so that the leap day is the last of its year
 * Truth: test/engine/physics/time.test.ts, exact against dates of the platform's calendar
 */
export function utcMidnight(year: number, month: number, day: number): number {
  const shifted = month > 2 ? year : year - 1;
  const cycle = Math.floor(shifted / 400);
  const yearOfCycle = shifted - cycle * 400;
  const dayOfShiftedYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1;
  const leapDays = Math.floor(yearOfCycle / 4) - Math.floor(yearOfCycle / 100);
  return (cycle * 146_097 + yearOfCycle * 365 + leapDays + dayOfShiftedYear - 719_468) * DAY;
}

/**
 * Calendar year of a moment.
 *
 * @param utcSeconds  moment, s since 1970-01-01T00:00 UTC; add an offset first for a local year
 * @returns           whole year
 *
 * Source: the Gregorian calendar; a guess from the mean year, corrected by at most one
 * Truth: test/engine/physics/time.test.ts, exact against dates of the platform's calendar
 */
export function calendarYear(utcSeconds: number): number {
  const guess = Math.floor(1970 + utcSeconds / (365.2425 * DAY));
  if (utcSeconds < utcMidnight(guess, 1, 1)) return guess - 1;
  return utcSeconds < utcMidnight(guess + 1, 1, 1) ? guess : guess + 1;
}

/**
 * Day of the year, 1 on the first of January.
 *
 * @param utcSeconds  moment, s since 1970-01-01T00:00 UTC; add an offset first for a local day
 * @returns           whole days, 1 to 366
 *
 * Source: the Gregorian calendar
 * Truth: test/engine/physics/time.test.ts, exact against dates of the platform's calendar
 */
export function dayOfYear(utcSeconds: number): number {
  return Math.floor((utcSeconds - utcMidnight(calendarYear(utcSeconds), 1, 1)) / DAY) + 1;
}

/**
 * Terrestrial time less universal time.
 *
 * @param year  year with its fraction, meant for 1941 to 2150
 * @returns     s; outside 1941 to 2150 the long-term parabola, good to some ten seconds
 *
 * Source: Espenak & Meeus, Five Millennium Canon of Solar Eclipses, NASA/TP-2006-214141 (from
 * memory). An error of 10 s moves the sun by 0.0001°.
 * Truth: test/engine/physics/time.test.ts, within 1 s of values observed 1950 to 2010
 */
export function deltaT(year: number): number {
  if (year >= 1941 && year < 1961) {
    const t = year - 1950;
    return 29.07 + 0.407 * t - t ** 2 / 233 + t ** 3 / 2547;
  }
  if (year >= 1961 && year < 1986) {
    const t = year - 1975;
    return 45.45 + 1.067 * t - t ** 2 / 260 - t ** 3 / 718;
  }
  if (year >= 1986 && year < 2005) {
    const t = year - 2000;
    const fourth = 0.0017275 + t * (0.000651814 + t * 0.00002373599);
    return 63.86 + t * (0.3345 + t * (-0.060374 + t * fourth));
  }
  if (year >= 2005 && year < 2050) {
    const t = year - 2000;
    return 62.92 + 0.32217 * t + 0.005589 * t ** 2;
  }
  const parabola = -20 + 32 * ((year - 1820) / 100) ** 2;
  return year >= 2050 && year < 2150 ? parabola - 0.5628 * (2150 - year) : parabola;
}
