// Days of the notebook's civil calendar as numbers: days since 1970-01-01 in the Gregorian calendar
// carried back without end (ISO 8601), worked in whole numbers.

/**
 * Days from 1970-01-01 to a date; undefined when there is no such day.
 * The year is counted from March, so that the leap day is its last.
 */
export function daysFromDate(year: number, month: number, day: number): number | undefined {
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const lengths = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  const length = lengths[month - 1];
  if (length === undefined || day < 1 || day > length) return undefined;
  const shifted = month > 2 ? year : year - 1;
  const fromMarch = (month + 9) % 12;
  const dayOfYear = Math.floor((153 * fromMarch + 2) / 5) + day - 1;
  const leapDays = Math.floor(shifted / 4) - Math.floor(shifted / 100) + Math.floor(shifted / 400);
  return shifted * 365 + leapDays + dayOfYear - 719_468;
}

/** `2027-05-14` for days since 1970-01-01. */
export function dateText(days: number): string {
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear =
    dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const fromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * fromMarch + 2) / 5) + 1;
  const month = fromMarch < 10 ? fromMarch + 3 : fromMarch - 9;
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0);
  return `${padded(year, 4)}-${padded(month, 2)}-${padded(day, 2)}`;
}

/** `06:30` for minutes after midnight. */
export function timeText(minutes: number): string {
  return `${padded(Math.floor(minutes / 60), 2)}:${padded(minutes % 60, 2)}`;
}

function padded(number: number, digits: number): string {
  return String(number).padStart(digits, '0');
}
