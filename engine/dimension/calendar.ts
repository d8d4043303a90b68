/*
 * The civil (Gregorian) calendar in whole numbers. A moment in a notebook is local civil time, in
 * seconds since 1970-01-01 00:00 on the clock of the notebook's place; a date is whole days since
 * then. The offset is fixed, so every day has 86 400 s. No `Date`: the machine's own time zone must
 * never reach a result.
 */

export const secondsPerDay = 86_400;

/** The days whose years have four figures: 0000-01-01 to 9999-12-31. */
const FIRST_DAY = -719_528;
const LAST_DAY = 2_932_896;

/** So many days are still counted one by one, in 400ths of years as well. */
const MOST_DAYS = 1e13;

/** Whether a day can be written as a date: years have four figures. */
export function isInCalendar(days: number): boolean {
  return days >= FIRST_DAY && days < LAST_DAY + 1;
}

export interface CivilDate {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  /** 1 to 31. */
  readonly day: number;
}

/**
 * Days from 1970-01-01 to a civil date, negative before it. The year is taken to begin in March, so
 * that the leap day comes last and the months' lengths follow one straight line:
 * day of the year = ⌊(153 m + 2) / 5⌋ + d − 1, with March as m = 0.
 */
export function daysFromCivil(year: number, month: number, day: number): number {
  const marchYear = month <= 2 ? year - 1 : year;
  const monthFromMarch = (month + 9) % 12;
  const dayOfYear = Math.floor((153 * monthFromMarch + 2) / 5) + day - 1;
  return daysBeforeMarchYear(marchYear) + dayOfYear;
}

/**
 * The civil date a number of days after 1970-01-01. Beyond the days that can be counted singly, some
 * 2.7e10 years, it is some date.
 */
export function civilFromDays(days: number): CivilDate {
  const whole = Math.min(MOST_DAYS, Math.max(-MOST_DAYS, Math.floor(days)));
  // 146 097 days are 400 years, so the first guess is at most one year off.
  let marchYear = Math.floor(((whole + 719_468) * 400) / 146_097);
  while (daysBeforeMarchYear(marchYear) > whole) marchYear -= 1;
  while (daysBeforeMarchYear(marchYear + 1) <= whole) marchYear += 1;
  const dayOfYear = whole - daysBeforeMarchYear(marchYear);
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1;
  const month = ((monthFromMarch + 2) % 12) + 1;
  return { year: month <= 2 ? marchYear + 1 : marchYear, month, day };
}

/** Days from 1970-01-01 to 1 March of a year; 719 468 of them lie before from 0000-03-01. */
function daysBeforeMarchYear(year: number): number {
  return (
    365 * year + Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400) - 719_468
  );
}

/** ISO 8601 weekday of a day: 1 is Monday, 7 is Sunday. 1970-01-01 was a Thursday. */
export function weekday(days: number): number {
  return ((((Math.floor(days) + 3) % 7) + 7) % 7) + 1;
}

/** The number of the day within its year, 1 to 366. */
export function dayOfYear(days: number): number {
  return Math.floor(days) - daysFromCivil(civilFromDays(days).year, 1, 1) + 1;
}

export function daysInMonth(year: number, month: number): number {
  const next = month === 12 ? daysFromCivil(year + 1, 1, 1) : daysFromCivil(year, month + 1, 1);
  return next - daysFromCivil(year, month, 1);
}

/** Whether a date written by a person exists: 2027-02-29 does not. */
export function isCivilDate(year: number, month: number, day: number): boolean {
  return (
    [year, month, day].every(Number.isInteger) &&
    month >= 1 &&
    month <= 12 &&
    day >= 1 &&
    day <= daysInMonth(year, month)
  );
}

/** Local seconds since 1970-01-01 00:00 of a civil date and a clock reading in seconds. */
export function momentFromCivil(
  year: number,
  month: number,
  day: number,
  secondsOfDay = 0,
): number {
  return daysFromCivil(year, month, day) * secondsPerDay + secondsOfDay;
}

/** The day on which a moment lies, in days since 1970-01-01. */
export function dayOfMoment(localSeconds: number): number {
  return Math.floor(localSeconds / secondsPerDay);
}

/** The clock reading of a moment, in seconds since 00:00, 0 to below 86 400. */
export function secondsOfDay(localSeconds: number): number {
  return localSeconds - dayOfMoment(localSeconds) * secondsPerDay;
}
