// Days and years against the calendar of the platform, ΔT against observed values.

import { describe, expect, test } from 'vitest';
import {
  calendarYear,
  dayOfYear,
  deltaT,
  julianDay,
  utcMidnight,
} from '../../../engine/physics/time.ts';

const seconds = (text: string) => Date.parse(text) / 1000;

describe('the calendar', () => {
  test('has the dates of the platform, 1900 to 2199', () => {
    for (let year = 1900; year < 2200; year += 1) {
      for (const [month, day] of [
        [1, 1],
        [2, 28],
        [3, 1],
        [12, 31],
      ] as const) {
        expect(utcMidnight(year, month, day)).toBe(Date.UTC(year, month - 1, day) / 1000);
      }
    }
  });

  test.each([
    ['2026-01-01T00:00:00Z', 2026, 1],
    ['2026-12-31T23:59:59Z', 2026, 365],
    ['2028-02-29T12:00:00Z', 2028, 60],
    ['2028-12-31T00:00:00Z', 2028, 366],
    ['2100-03-01T00:00:00Z', 2100, 60],
    ['1969-12-31T23:59:59Z', 1969, 365],
  ])('%s lies in %d on day %d', (text, year, day) => {
    expect(calendarYear(seconds(text))).toBe(year);
    expect(dayOfYear(seconds(text))).toBe(day);
  });
});

test('the epoch J2000.0 is Julian date 2451545.0 (IAU)', () => {
  expect(julianDay(seconds('2000-01-01T12:00:00Z'))).toBe(2_451_545);
});

// Observed ΔT, Astronomical Almanac, K8 (from memory).
test.each([
  [1950, 29.15],
  [1975, 45.48],
  [1990, 56.86],
  [2000, 63.83],
  [2010, 66.07],
])('ΔT in %d was %d s', (year, observed) => {
  expect(Math.abs(deltaT(year) - observed)).toBeLessThan(1);
});

test.each([1961, 1986, 2005, 2050, 2150])('ΔT has no jump of a second in %d', (year) => {
  expect(Math.abs(deltaT(year) - deltaT(year - 1e-6))).toBeLessThan(1);
});
