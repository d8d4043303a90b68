/*
 * How values are written for a reader: numbers with about three digits, quantities with their unit,
 * moments, clock readings and durations. Spacing and signs follow the SI Brochure, 9th ed., § 5.4:
 * a (non-breaking) space between number and unit, also before % and °C, none before the ° of an
 * angle; groups of three digits parted by a thin space, not in numbers of four digits.
 */

import {
  civilFromDays,
  dayOfMoment,
  isInCalendar,
  secondsOfDay,
  secondsPerDay,
  weekday,
} from './calendar.ts';
import { raisedDigits } from './dimension.ts';
import { formatGauge } from './gauge.ts';
import { fromStored, type Unit } from './unit.ts';

const minus = '\u2212';
const noBreak = '\u00a0';
const thinSpace = '\u202f';

export interface NumberFormat {
  /** Digits that count, 3 unless told. Whole numbers below ten million keep all of theirs. */
  readonly digits?: number;
  /** At most so many decimals, whatever the digits: a thermometer's 0.004 °C is 0 °C. */
  readonly mostDecimals?: number;
  /** The number as a person typed it, whose digits are then kept. */
  readonly asWritten?: string;
}

const usualDigits = 3;
/** From here on, and below `smallest`, a number is written with a power of ten. */
const largest = 1e7;
const smallest = 1e-4;
/** Double precision holds 15 decimal digits; more would show how numbers are kept, not what they are. */
const mostDigits = 15;

/** A number for a reader: `7.83`, `−0.35`, `1280`, `12 500`, `1.2 × 10⁸`. */
export function formatNumber(value: number, format: NumberFormat = {}): string {
  if (format.asWritten !== undefined) return writtenNumber(format.asWritten);
  if (Number.isNaN(value)) return 'not a number';
  if (!Number.isFinite(value)) return value < 0 ? `${minus}∞` : '∞';
  const digits = Math.min(Math.max(format.digits ?? usualDigits, 1), mostDigits);
  const rounded = roundTo(value, digits, format.mostDecimals);
  const size = Math.abs(rounded);
  if (size !== 0 && (size >= largest || size < smallest)) return powerOfTen(rounded, digits);
  return signed(group(plainDigits(size)), rounded);
}

/** Rounded to digits that count; a whole part keeps its digits, so 1234.6 is 1235 and not 1230. */
function roundTo(value: number, digits: number, mostDecimals = 100): number {
  const size = Math.abs(value);
  if (size >= largest) return Number(value.toPrecision(digits));
  const wholeDigits = size >= 1 ? Math.floor(Math.log10(size)) + 1 : 0;
  if (wholeDigits >= digits) return Math.sign(value) * Math.round(size);
  const rounded = Number(value.toPrecision(digits));
  return mostDecimals > 20 ? rounded : Number(rounded.toFixed(mostDecimals));
}

/** Digits without an exponent: `String` would write 0.0000001 as 1e-7, but sizes here are larger. */
function plainDigits(size: number): string {
  return String(size);
}

function signed(digits: string, value: number): string {
  return value < 0 ? minus + digits : digits;
}

function group(digits: string): string {
  const [whole = '', decimals] = digits.split('.');
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, thinSpace) : whole;
  return decimals === undefined ? grouped : `${grouped}.${decimals}`;
}

function powerOfTen(value: number, digits: number): string {
  const [mantissa = '', exponent = '0'] = Math.abs(value)
    .toExponential(digits - 1)
    .split('e');
  return signed(
    `${stripZeros(mantissa)}${noBreak}×${noBreak}10${raisedDigits(Number(exponent))}`,
    value,
  );
}

function stripZeros(digits: string): string {
  return digits.includes('.') ? digits.replace(/\.?0+$/, '') : digits;
}

/** A typed number with the sign of print, and its exponent of ten raised. */
function writtenNumber(written: string): string {
  const match = /^([-−+]?)([\d.]+)(?:e([-+]?\d+))?$/i.exec(written.trim());
  if (match === null) return written;
  const [, sign, digits = '', exponent] = match;
  const raised =
    exponent === undefined ? '' : `${noBreak}×${noBreak}10${raisedDigits(Number(exponent))}`;
  return (sign === '-' || sign === minus ? minus : '') + digits + raised;
}

/** A bare number of the engine with its unit: `24 V`, `20 %`, `30°`, `−73 dBm`, `10 AWG`. */
export function formatQuantity(stored: number, unit: Unit, format: NumberFormat = {}): string {
  if (unit.scale === 'gauge') {
    if (format.asWritten !== undefined) return withUnit(format.asWritten, unit);
    return formatGauge(fromStored(stored, unit), format.digits ?? usualDigits);
  }
  return withUnit(formatNumber(fromStored(stored, unit), formatFor(unit, format)), unit);
}

/** Points pass through zero for no reason of their own, so their decimals end, not their digits. */
function formatFor(unit: Unit, format: NumberFormat): NumberFormat {
  if (!unit.isPoint) return format;
  const digits = format.digits ?? usualDigits;
  return { mostDecimals: Math.max(digits - 1, 0), ...format };
}

function withUnit(number: string, unit: Unit): string {
  if (unit.symbol === '') return number;
  return unit.symbol === '°' ? number + unit.symbol : number + noBreak + unit.symbol;
}

/** A literal range in one unit: `10..30 V`; the unit is written once. */
export function formatRange(
  low: number,
  high: number,
  unit: Unit,
  format: NumberFormat = {},
): string {
  if (unit.scale === 'gauge') {
    return `${formatQuantity(low, unit, format)}..${formatQuantity(high, unit, format)}`;
  }
  const first = formatNumber(fromStored(low, unit), formatFor(unit, format));
  return `${first}..${formatQuantity(high, unit, format)}`;
}

export interface ComparedTexts {
  readonly value: string;
  readonly limit: string;
}

/**
 * A value and the limit it is held against, with as many digits as it takes to tell them apart:
 * 19.996 % against 20 % must not be reported as "20 % is below 20 %".
 */
export function roundForVerdict(value: number, limit: number, unit: Unit): ComparedTexts {
  let texts: ComparedTexts = { value: '', limit: '' };
  for (let digits = usualDigits; digits <= mostDigits; digits += 1) {
    texts = {
      value: formatQuantity(value, unit, { digits }),
      limit: formatQuantity(limit, unit, { digits }),
    };
    if (value === limit || texts.value !== texts.limit) return texts;
  }
  return texts;
}

const weekdayNames = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];
const monthNames = [
  'Jan',
  'Feb',
  'Mar',
  'Apr',
  'May',
  'Jun',
  'Jul',
  'Aug',
  'Sep',
  'Oct',
  'Nov',
  'Dec',
];

/** What is told of a time that has no date. */
function beyondCalendar(time: number): string {
  return time < 0 ? 'before the year 0' : 'after the year 9999';
}

/** A moment for a reader, to the nearest minute: `Wed 19 May 06:40`. */
export function formatMoment(localSeconds: number): string {
  if (!Number.isFinite(localSeconds)) return 'no moment';
  const minute = Math.round(localSeconds / 60) * 60;
  if (!isInCalendar(minute / secondsPerDay)) return beyondCalendar(minute);
  return `${formatDate(dayOfMoment(minute))} ${formatTimeOfDay(secondsOfDay(minute))}`;
}

/** A day, by the moment it begins with: its date; any other moment as such. */
export function formatDay(localSeconds: number): string {
  return secondsOfDay(localSeconds) === 0
    ? formatDate(dayOfMoment(localSeconds))
    : formatMoment(localSeconds);
}

/** A moment as it is typed, to the nearest minute: `2027-05-19 06:40`. */
export function formatMomentIso(localSeconds: number): string {
  if (!Number.isFinite(localSeconds)) return 'no moment';
  const minute = Math.round(localSeconds / 60) * 60;
  if (!isInCalendar(minute / secondsPerDay)) return beyondCalendar(minute);
  return `${formatDateIso(dayOfMoment(minute))} ${formatTimeOfDay(secondsOfDay(minute))}`;
}

/** A day, counted from 1970-01-01, for a reader: `Wed 19 May`. */
export function formatDate(days: number): string {
  if (!Number.isFinite(days)) return 'no date';
  if (!isInCalendar(days)) return beyondCalendar(days);
  const { month, day } = civilFromDays(days);
  return `${weekdayNames[weekday(days) - 1]} ${day} ${monthNames[month - 1]}`;
}

/** A day, counted from 1970-01-01, as it is typed: `2027-05-19`. */
export function formatDateIso(days: number): string {
  if (!Number.isFinite(days)) return 'no date';
  if (!isInCalendar(days)) return beyondCalendar(days);
  const { year, month, day } = civilFromDays(days);
  return `${padded(year, 4)}-${padded(month, 2)}-${padded(day, 2)}`;
}

/** A clock reading in seconds since 00:00, to the nearest minute: `06:40`; a day's end is `24:00`. */
export function formatTimeOfDay(seconds: number): string {
  if (!Number.isFinite(seconds)) return 'no time';
  const minutes = Math.round(seconds / 60);
  const within = minutes === 1440 ? 1440 : ((minutes % 1440) + 1440) % 1440;
  return `${padded(Math.floor(within / 60), 2)}:${padded(within % 60, 2)}`;
}

/** A span of the day as it is typed: `17:00..21:00`. */
export function formatDaySpan(start: number, end: number): string {
  return `${formatTimeOfDay(start)}..${formatTimeOfDay(end)}`;
}

/** A length of time in the two largest units that it needs: `2 d 3 h`, `6 h 30 min`, `45 s`. */
export function formatDuration(seconds: number): string {
  if (!Number.isFinite(seconds)) return formatNumber(seconds);
  const size = Math.abs(seconds);
  if (size < 60) return `${formatNumber(seconds)}${noBreak}s`;
  const [large, small] =
    size < 3600 ? [60, 1] : size < secondsPerDay ? [3600, 60] : [secondsPerDay, 3600];
  const total = Math.round(size / small) * small;
  // Rounding may have filled the next unit: 59 min 59.9 s is 1 h.
  if (total >= 3600 && large === 60) return formatDuration(Math.sign(seconds) * 3600);
  if (total >= secondsPerDay && large === 3600) {
    return formatDuration(Math.sign(seconds) * secondsPerDay);
  }
  const symbols = new Map([
    [secondsPerDay, 'd'],
    [3600, 'h'],
    [60, 'min'],
    [1, 's'],
  ]);
  const whole = Math.floor(total / large);
  const rest = Math.round((total - whole * large) / small);
  const parts = [`${group(String(whole))}${noBreak}${symbols.get(large)}`];
  if (rest > 0) parts.push(`${rest}${noBreak}${symbols.get(small)}`);
  return (seconds < 0 ? minus : '') + parts.join(' ');
}

function padded(whole: number, width: number): string {
  return String(whole).padStart(width, '0');
}
