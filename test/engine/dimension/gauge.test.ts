// Wire gauges against the table of ASTM B258 (solid wire at 20 °C): diameters in mils, as printed.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  areaOfGauge,
  formatGauge,
  gaugeOfArea,
  readGauge,
} from '../../../engine/dimension/gauge.ts';

/** Gauge, diameter in mils (thousandths of an inch), and half a unit of its last printed digit. */
const standardDiameters: readonly (readonly [string, number, number])[] = [
  ['4/0', 460.0, 0.05],
  ['3/0', 409.6, 0.05],
  ['2/0', 364.8, 0.05],
  ['1/0', 324.9, 0.05],
  ['1', 289.3, 0.05],
  ['2', 257.6, 0.05],
  ['4', 204.3, 0.05],
  ['6', 162.0, 0.05],
  ['8', 128.5, 0.05],
  ['10', 101.9, 0.05],
  ['12', 80.8, 0.05],
  ['14', 64.1, 0.05],
  ['16', 50.8, 0.05],
  ['18', 40.3, 0.05],
  ['20', 32.0, 0.05],
  ['36', 5.0, 0.05],
];

describe('a wire gauge', () => {
  test.each(standardDiameters)('%s AWG is %d mils thick (ASTM B258)', (text, mils, tolerance) => {
    const gauge = readGauge(text) ?? Number.NaN;
    const diameter = Math.sqrt((4 * areaOfGauge(gauge)) / Math.PI);
    expect(Math.abs(diameter / 25.4e-6 - mils)).toBeLessThanOrEqual(tolerance * 1.001);
  });

  test('is found again from its area', () => {
    fc.assert(
      fc.property(fc.double({ min: -3, max: 40, noNaN: true }), (gauge) => {
        expect(gaugeOfArea(areaOfGauge(gauge))).toBeCloseTo(gauge, 9);
      }),
    );
  });

  test('of no area is not a number', () => {
    expect(gaugeOfArea(0)).toBeNaN();
    expect(gaugeOfArea(-1)).toBeNaN();
    expect(gaugeOfArea(Number.NaN)).toBeNaN();
    expect(formatGauge(Number.NaN)).toBe('no AWG');
  });

  test.each([
    [10, '10\u00a0AWG'],
    [1, '1\u00a0AWG'],
    [0, '1/0\u00a0AWG'],
    [-1, '2/0\u00a0AWG'],
    [-3, '4/0\u00a0AWG'],
    [9.3, '9.3\u00a0AWG'],
    [9.999999999, '10\u00a0AWG'],
    [-0.4, 'between 1/0 and 2/0\u00a0AWG'],
    [0.5, 'between 1 and 1/0\u00a0AWG'],
  ])('%d is written %s', (gauge, text) => {
    expect(formatGauge(gauge)).toBe(text);
  });

  test.each(['', '0/0', '10/0', 'x', '1/1', '-1', '100'])('"%s" is no gauge', (text) => {
    expect(readGauge(text)).toBeUndefined();
  });

  test('is written and read again', () => {
    for (let gauge = -3; gauge <= 40; gauge += 1) {
      expect(readGauge(formatGauge(gauge).replace('\u00a0AWG', ''))).toBe(gauge);
    }
  });
});
