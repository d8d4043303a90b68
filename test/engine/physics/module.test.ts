// The single-diode curve by its own equation, the printed cold-voltage factors, and limits.

import { describe, expect, test } from 'vitest';
import {
  coldVoltageFactor,
  type Diode,
  diodeBestPoint,
  diodeCurrent,
  diodeOpenVoltage,
  diodeSlope,
  panelPower,
  stringShare,
} from '../../../engine/physics/module.ts';

const diode: Diode = {
  lightCurrent: 6.3,
  saturationCurrent: 1.2e-9,
  series: 0.18,
  shunt: 180,
  slope: 0.98,
};

/** IL − I0 (exp((V + I Rs)/a) − 1) − (V + I Rs)/Rsh − I, which a solution makes 0. */
function miss({ lightCurrent, saturationCurrent, series, shunt, slope }: Diode, v: number): number {
  const i = diodeCurrent({ lightCurrent, saturationCurrent, series, shunt, slope }, v);
  const inner = v + i * series;
  return lightCurrent - saturationCurrent * Math.expm1(inner / slope) - inner / shunt - i;
}

describe('the diode curve', () => {
  test('fulfils its equation from short circuit to open circuit, in bright and dim light', () => {
    for (const lightCurrent of [0.001, 0.1, 6.3, 12]) {
      const one = { ...diode, lightCurrent };
      const open = diodeOpenVoltage(one);
      for (let share = 0; share <= 1; share += 0.05) {
        expect(Math.abs(miss(one, share * open))).toBeLessThan(1e-9);
      }
      expect(diodeCurrent(one, open)).toBeCloseTo(0, 9);
    }
  });

  test('has an open-circuit voltage of 21.915 V (two independent solutions)', () => {
    expect(diodeOpenVoltage(diode)).toBeCloseTo(21.915, 3);
  });

  test('does not overflow far outside its range', () => {
    expect(Number.isFinite(diodeCurrent({ ...diode, shunt: 1e6, slope: 0.01 }, 50))).toBe(true);
  });

  test('has no more power beside its best point', () => {
    const { voltage, power } = diodeBestPoint(diode);
    for (const shift of [-0.1, -0.01, 0.01, 0.1]) {
      expect((voltage + shift) * diodeCurrent(diode, voltage + shift)).toBeLessThan(power);
    }
  });

  test('has a slope of 25.693 mV for one ideal cell at 25 °C (k T / q, SI 2019)', () => {
    expect(diodeSlope(1, 1, 25) * 1000).toBeCloseTo(25.693, 3);
  });
});

// NFPA 70, table 690.7(A), both ends of some rows (from memory).
test.each([
  [25, 1],
  [24, 1.02],
  [20, 1.02],
  [19, 1.04],
  [0, 1.1],
  [-1, 1.12],
  [-5, 1.12],
  [-6, 1.14],
  [-10, 1.14],
  [-26, 1.21],
  [-40, 1.25],
  [-41, Number.NaN],
])('at %d °C the printed factor on the open voltage is %d', (lowest, factor) => {
  expect(coldVoltageFactor(lowest)).toBe(factor);
});

test('a panel never gives negative power', () => {
  expect(panelPower(100, 1000, 400, -0.004)).toBe(0);
});

test('a string without shade gives all', () => {
  expect(stringShare(2, 0, 0)).toBe(1);
});
