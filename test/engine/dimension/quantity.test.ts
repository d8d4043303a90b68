// How values are written. Spacing and signs: SI Brochure, 9th ed., § 5.4.3 and 5.4.4; NIST SP 811 § 7.2.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { momentFromCivil } from '../../../engine/dimension/calendar.ts';
import { areaOfGauge } from '../../../engine/dimension/gauge.ts';
import {
  formatDate,
  formatDateIso,
  formatDaySpan,
  formatDuration,
  formatMoment,
  formatMomentIso,
  formatNumber,
  formatQuantity,
  formatRange,
  formatTimeOfDay,
  roundForVerdict,
} from '../../../engine/dimension/quantity.ts';
import { findUnit, toStored, type Unit } from '../../../engine/dimension/unit.ts';

function unit(text: string): Unit {
  const found = findUnit(text);
  if (found === undefined) throw new Error(`${text} is no unit`);
  return found;
}

/** With plain spaces and signs, so that the expectations below can be read. */
function readable(text: string): string {
  return text.replace(/[\u00a0\u202f]/g, ' ').replaceAll('\u2212', '-');
}

/** The number that a person reads from a text of `formatNumber`. */
function readBack(text: string): number {
  const [digits = '', exponent] = text
    .replaceAll('\u202f', '')
    .replaceAll('\u2212', '-')
    .split('\u00a0×\u00a010');
  const power = [...(exponent ?? '⁰')]
    .map((sign) => '⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(sign))
    .map((digit) => (digit < 0 ? '-' : String(digit)))
    .join('');
  return Number(`${digits}e${power}`);
}

describe('a number', () => {
  test.each([
    [0, '0'],
    [-0, '0'],
    [1, '1'],
    [0.1 + 0.2, '0.3'],
    [12.34, '12.3'],
    [123.456, '123'],
    [999.6, '1000'],
    [99.96, '100'],
    [1234.6, '1235'],
    [9999, '9999'],
    [12_345, '12 345'],
    [1_234_567, '1 234 567'],
    [9_999_999.7, '1 × 10⁷'],
    [1.2e8, '1.2 × 10⁸'],
    [-1.234e-5, '-1.23 × 10⁻⁵'],
    [0.00009999, '0.0001'],
    [0.123456, '0.123'],
    [-0.35, '-0.35'],
    [Number.NaN, 'not a number'],
    [Number.POSITIVE_INFINITY, '∞'],
    [Number.NEGATIVE_INFINITY, '-∞'],
  ])('%d is written %s', (value, text) => {
    expect(readable(formatNumber(value))).toBe(text);
  });

  test('keeps the digits of a literal', () => {
    expect(formatNumber(12.5, { asWritten: '12.50' })).toBe('12.50');
    expect(formatNumber(-1200, { asWritten: '-1.2e3' })).toBe('\u22121.2\u00a0×\u00a010³');
  });

  test('has the digits asked for', () => {
    expect(formatNumber(Math.PI, { digits: 6 })).toBe('3.14159');
    expect(formatNumber(0.0123456, { digits: 5 })).toBe('0.012346');
    expect(formatNumber(0.004, { mostDecimals: 2 })).toBe('0');
  });

  test('is read back within half a unit of its third digit', () => {
    fc.assert(
      // Beyond 10³⁰⁸ the rounded number may lie above the largest that can be held.
      fc.property(fc.double({ min: -1e308, max: 1e308, noNaN: true }), (value) => {
        const back = readBack(formatNumber(value));
        expect(Math.abs(back - value)).toBeLessThanOrEqual(0.005001 * Math.abs(value));
      }),
      { numRuns: 2000 },
    );
  });

  test('is read back exactly when whole and below ten million', () => {
    fc.assert(
      fc.property(fc.integer({ min: -9_999_999, max: 9_999_999 }), (value) => {
        expect(readBack(formatNumber(value)) - value).toBe(0);
      }),
    );
  });
});

describe('a quantity', () => {
  test.each([
    [24, 'V', '24\u00a0V'],
    [20, '%', '20\u00a0%'],
    [30, '°', '30°'],
    [21.26, '°C', '21.3\u00a0°C'],
    [-40, '°F', '\u221240\u00a0°F'],
    [-73, 'dBm', '\u221273\u00a0dBm'],
    [44.5, '°N', '44.5\u00a0°N'],
    [110, '°W', '110\u00a0°W'],
    [-0.35, '%/K', '\u22120.35\u00a0%/K'],
    [6, 'mm²', '6\u00a0mm²'],
    [1280, 'Wh', '1280\u00a0Wh'],
  ])('%d %s is written %s', (value, symbol, text) => {
    expect(formatQuantity(toStored(value, unit(symbol)), unit(symbol))).toBe(text);
  });

  test('of wire is written as a gauge', () => {
    expect(formatQuantity(areaOfGauge(10), unit('AWG'))).toBe('10\u00a0AWG');
    expect(formatQuantity(areaOfGauge(-1), unit('AWG'))).toBe('2/0\u00a0AWG');
    expect(formatQuantity(0, unit('AWG'), { asWritten: '4/0' })).toBe('4/0\u00a0AWG');
  });

  test('on a scale of points does not show the noise about its zero', () => {
    expect(formatQuantity(1e-13, unit('°C'))).toBe('0\u00a0°C');
    expect(formatQuantity(-1e-13, unit('°C'))).toBe('0\u00a0°C');
  });

  test('in a range has its unit once', () => {
    expect(formatRange(10, 30, unit('V'))).toBe('10..30\u00a0V');
    expect(formatRange(-5, 5, unit('°C'))).toBe('\u22125..5\u00a0°C');
  });
});

describe('a verdict', () => {
  test('shows value and limit apart when they differ', () => {
    expect(roundForVerdict(0.19996, 0.2, unit('%'))).toEqual({
      value: '19.996\u00a0%',
      limit: '20\u00a0%',
    });
    expect(roundForVerdict(0.125, 0.2, unit('%'))).toEqual({
      value: '12.5\u00a0%',
      limit: '20\u00a0%',
    });
    expect(roundForVerdict(0.2, 0.2, unit('%')).value).toBe('20\u00a0%');
    expect(roundForVerdict(-0.004, 0, unit('°C')).value).toBe('\u22120.004\u00a0°C');
  });

  test('shows them apart whenever they differ by more than a part in 10¹²', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 1e6, noNaN: true }),
        fc.double({ min: -0.01, max: 0.01, noNaN: true }),
        (limit, share) => {
          const value = limit * (1 + share);
          const { value: shown, limit: against } = roundForVerdict(value, limit, unit('V'));
          if (Math.abs(share) > 1e-12) expect(shown).not.toBe(against);
        },
      ),
    );
  });
});

describe('a moment', () => {
  // 2027-05-19 is a Wednesday (ECMA-262: new Date(Date.UTC(2027, 4, 19)).getUTCDay() is 3).
  const moment = momentFromCivil(2027, 5, 19, 6 * 3600 + 40 * 60);

  test('is written for a reader and as typed', () => {
    expect(formatMoment(moment)).toBe('Wed 19 May 06:40');
    expect(formatMomentIso(moment)).toBe('2027-05-19 06:40');
    expect(formatDate(moment / 86_400)).toBe('Wed 19 May');
    expect(formatDateIso(moment / 86_400)).toBe('2027-05-19');
  });

  test('is rounded to the minute before its day is read', () => {
    expect(formatMomentIso(momentFromCivil(2027, 12, 31, 86_399))).toBe('2028-01-01 00:00');
  });

  test('agrees with ECMA-262 in ISO 8601', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e8, max: 1e8 }), (minutes) => {
        const iso = new Date(minutes * 60_000).toISOString();
        expect(formatMomentIso(minutes * 60)).toBe(`${iso.slice(0, 10)} ${iso.slice(11, 16)}`);
      }),
    );
  });

  test('that is not a number is said to be none', () => {
    expect([formatMoment(Number.NaN), formatMomentIso(Number.NaN)]).toEqual([
      'no moment',
      'no moment',
    ]);
    expect(formatTimeOfDay(Number.NaN)).toBe('no time');
    expect(formatDate(Number.NaN)).toBe('no date');
  });
});

describe('a time', () => {
  test('of day is a clock reading', () => {
    expect(formatTimeOfDay(24_000)).toBe('06:40');
    expect(formatTimeOfDay(0)).toBe('00:00');
    expect(formatTimeOfDay(86_400)).toBe('24:00');
    expect(formatTimeOfDay(-3600)).toBe('23:00');
    expect(formatDaySpan(17 * 3600, 21 * 3600)).toBe('17:00..21:00');
  });

  test.each([
    [0, '0 s'],
    [45, '45 s'],
    [0.5, '0.5 s'],
    [60, '1 min'],
    [90, '1 min 30 s'],
    [3599.9, '1 h'],
    [23_400, '6 h 30 min'],
    [86_399.9, '1 d'],
    [183_600, '2 d 3 h'],
    [-5400, '-1 h 30 min'],
    [Number.POSITIVE_INFINITY, '∞'],
  ])('of %d s lasts %s', (seconds, text) => {
    expect(readable(formatDuration(seconds))).toBe(text);
  });
});

describe('a moment that has no date of four figures', () => {
  // Years of ISO 8601 have four figures. To look for the year of 1e300 days took for ever.
  test.each([
    [1e300, 'after the year 9999'],
    [-1e300, 'before the year 0'],
    [Number.MAX_VALUE, 'after the year 9999'],
    [momentFromCivil(9999, 12, 31, 86_399), 'after the year 9999'],
    [momentFromCivil(-1, 12, 31), 'before the year 0'],
  ])('%s s: %s', (seconds, text) => {
    expect([formatMoment(seconds), formatMomentIso(seconds)]).toEqual([text, text]);
    expect(formatDate(seconds / 1e5 + Math.sign(seconds) * 1e7)).toBe(text);
  });

  test('the first and the last day have theirs', () => {
    expect(formatMomentIso(momentFromCivil(0, 1, 1))).toBe('0000-01-01 00:00');
    expect(formatMomentIso(momentFromCivil(9999, 12, 31, 86_340))).toBe('9999-12-31 23:59');
  });
});
