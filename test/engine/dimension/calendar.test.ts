// Civil dates against the platform's own proleptic Gregorian calendar (ECMA-262, time values in UTC).

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  civilFromDays,
  dayOfMoment,
  dayOfYear,
  daysFromCivil,
  daysInMonth,
  isCivilDate,
  momentFromCivil,
  secondsOfDay,
  weekday,
} from '../../../engine/dimension/calendar.ts';

describe('a civil date', () => {
  test('agrees with ECMA-262 over ±8000 years, both ways, with its weekday', () => {
    fc.assert(
      fc.property(fc.integer({ min: -2_900_000, max: 2_900_000 }), (days) => {
        const date = new Date(days * 86_400_000);
        const expected = {
          year: date.getUTCFullYear(),
          month: date.getUTCMonth() + 1,
          day: date.getUTCDate(),
        };
        expect(civilFromDays(days)).toEqual(expected);
        expect(daysFromCivil(expected.year, expected.month, expected.day)).toBe(days);
        expect(weekday(days)).toBe(date.getUTCDay() === 0 ? 7 : date.getUTCDay());
      }),
      { numRuns: 2000 },
    );
  });

  test('agrees with ECMA-262 on every day from 2019 to 2032', () => {
    for (let days = daysFromCivil(2019, 1, 1); days <= daysFromCivil(2032, 12, 31); days += 1) {
      const { year, month, day } = civilFromDays(days);
      expect(Date.UTC(year, month - 1, day)).toBe(days * 86_400_000);
      expect(dayOfYear(days)).toBe(
        (Date.UTC(year, month - 1, day) - Date.UTC(year, 0, 0)) / 86_400_000,
      );
    }
  });

  test('1970-01-01, the first day, was a Thursday (ISO weekday 4)', () => {
    expect(daysFromCivil(1970, 1, 1)).toBe(0);
    expect(weekday(0)).toBe(4);
    expect(weekday(-4)).toBe(7);
  });

  test('exists or does not: leap years of the Gregorian rule', () => {
    expect(isCivilDate(2028, 2, 29)).toBe(true);
    expect(isCivilDate(2027, 2, 29)).toBe(false);
    expect(isCivilDate(2000, 2, 29)).toBe(true);
    expect(isCivilDate(2100, 2, 29)).toBe(false);
    expect(isCivilDate(2027, 13, 1)).toBe(false);
    expect(isCivilDate(2027, 0, 1)).toBe(false);
    expect(isCivilDate(2027, 4, 31)).toBe(false);
    expect(isCivilDate(2027, 4, 0)).toBe(false);
    expect(isCivilDate(2027, 4, 1.5)).toBe(false);
    expect(daysInMonth(2027, 12)).toBe(31);
  });
});

describe('a moment', () => {
  test('is its day and its clock reading, before 1970 too', () => {
    const moment = momentFromCivil(2027, 5, 19, 6 * 3600 + 40 * 60);
    expect(moment).toBe(Date.UTC(2027, 4, 19, 6, 40) / 1000);
    expect(dayOfMoment(moment)).toBe(daysFromCivil(2027, 5, 19));
    expect(secondsOfDay(moment)).toBe(24_000);
    expect(dayOfMoment(-1)).toBe(-1);
    expect(secondsOfDay(-1)).toBe(86_399);
  });
});
