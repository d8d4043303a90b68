// Sizes both ways, what a wire is sold as, and the borders of the printed tables.

import { describe, expect, test } from 'vitest';
import {
  ampacity,
  awgArea,
  awgOfArea,
  conductorResistance,
  copperResistance,
  nextFuse,
  nextWire,
} from '../../../engine/physics/conductor.ts';
import {
  IEC_CLASS_5_PLAIN,
  METRIC_SIZES,
  NEC_TABLE_8,
} from '../../../engine/physics/conductor-tables.ts';

const MM2 = 1e-6;

describe('American sizes', () => {
  test('come back from their areas', () => {
    for (let gauge = -3; gauge <= 40; gauge += 0.5) {
      expect(awgOfArea(awgArea(gauge))).toBeCloseTo(gauge, 9);
    }
  });

  // ASTM B258: 14 AWG is 2.08 mm², 12 is 3.31, 10 is 5.26, 8 is 8.37, 6 is 13.3 mm².
  test.each([
    [2.08, 14],
    [3.31, 12],
    [5.26, 10],
    [8.37, 8],
    [13.3, 6],
  ])('%d mm² is %d AWG', (area, gauge) => {
    expect(Math.round(awgOfArea(area * MM2))).toBe(gauge);
    expect(awgOfArea(area * MM2)).toBeCloseTo(gauge, 1);
  });
});

describe('the resistance of a wire as sold', () => {
  test('solid is ρ L / A', () => {
    const solid = conductorResistance(4 * MM2, 30, 45, 'solid', 'copper');
    expect(solid).toBe(copperResistance(4 * MM2, 30, 45));
  });

  test('flexible has the class 5 maximum of IEC 60228 at every listed size', () => {
    for (const [size, perKilometre] of IEC_CLASS_5_PLAIN) {
      const sold = conductorResistance(size * MM2, 1000, 20, 'flexible', 'copper');
      expect(sold).toBeCloseTo(perKilometre, 12);
    }
  });

  test('flexible of another size is 15 % over solid', () => {
    const area = awgArea(10);
    const ratio =
      conductorResistance(area, 1, 20, 'flexible', 'copper') / copperResistance(area, 1, 20);
    expect(ratio).toBeCloseTo(1.15, 12);
  });

  test('stranded American wire is within 0.6 % of NEC chapter 9 table 8', () => {
    for (const [gauge, perThousandFeet] of NEC_TABLE_8) {
      const ours = conductorResistance(awgArea(gauge), 304.8, 75, 'stranded', 'copper');
      expect(Math.abs(ours / perThousandFeet - 1)).toBeLessThan(0.006);
    }
  });

  test('aluminium has 1.639 times the resistance of copper (61 % IACS)', () => {
    const ratio =
      conductorResistance(10 * MM2, 1, 20, 'solid', 'aluminium') /
      conductorResistance(10 * MM2, 1, 20, 'solid', 'copper');
    expect(ratio).toBeCloseTo(1 / 0.61, 3);
  });
});

describe('the ampacity', () => {
  const current = (...given: Parameters<typeof ampacity>) => ampacity(...given).current;

  test('of an American size is in its insulation column, whatever the surface', () => {
    expect(ampacity(awgArea(10), 90, 30, 'on a surface')).toEqual({
      current: 40,
      table: 'NEC 310.16, 90 °C column',
    });
    expect(current(awgArea(10), 60, 30, 'open')).toBe(30);
  });

  test('of an unlisted gauge is that of the next thinner one', () => {
    expect(current(awgArea(5), 75, 30, 'open')).toBe(65);
  });

  test('of a metric size is in the table of its surface', () => {
    // IEC 60364-5-52 B.52.2 method C for PVC of 70 °C: 4 mm² 36 A. EN 50618: 4 mm² 55 A, which it
    // gives at 60 K between conductor and air.
    expect(current(4 * MM2, 70, 30, 'on a surface')).toBeCloseTo(36, 9);
    expect(current(4 * MM2, 90, 30, 'open')).toBeCloseTo(55, 9);
    expect(ampacity(4 * MM2, 90, 30, 'open').table).toContain('EN 50618');
  });

  test('falls with the heat and is unknown where the air is as hot as the insulation', () => {
    expect(current(4 * MM2, 90, 45, 'open')).toBeCloseTo(55 * Math.sqrt(45 / 60), 9);
    expect(current(4 * MM2, 60, 60, 'open')).toBeNaN();
    expect(current(awgArea(12), 90, 95, 'open')).toBeNaN();
  });

  test('is unknown below the tables and where a column is empty', () => {
    expect(current(0.5 * MM2, 90, 30, 'open')).toBeNaN();
    expect(current(awgArea(18), 60, 30, 'open')).toBeNaN();
    expect(current(awgArea(20), 90, 30, 'open')).toBeNaN();
    expect(current(awgArea(12), 70, 30, 'open')).toBeNaN();
  });
});

describe('the next size on sale', () => {
  test.each([
    [0, 1],
    [7.4, 7.5],
    [7.51, 8],
    [30, 30],
    [30.01, 35],
    [300, 300],
    [301, Number.NaN],
  ])('of a fuse for %d A is %d A', (wanted, fuse) => {
    expect(nextFuse(wanted)).toBe(fuse);
  });

  test('of a metric wire is itself when it is on sale', () => {
    for (const size of METRIC_SIZES) {
      expect(nextWire(size * MM2, 'mm²') / MM2).toBeCloseTo(size, 9);
    }
    expect(nextWire(4.01 * MM2, 'mm²') / MM2).toBeCloseTo(6, 9);
    expect(nextWire(121 * MM2, 'mm²')).toBeNaN();
  });

  test('never turns an American size into a thinner metric one', () => {
    for (let gauge = -3; gauge <= 20; gauge += 1) {
      expect(nextWire(awgArea(gauge), 'mm²')).toBeGreaterThanOrEqual(awgArea(gauge));
    }
  });

  test('of an American wire is itself or the next thicker', () => {
    expect(awgOfArea(nextWire(awgArea(10), 'AWG'))).toBeCloseTo(10, 9);
    expect(awgOfArea(nextWire(4 * MM2, 'AWG'))).toBeCloseTo(11, 9);
    expect(awgOfArea(nextWire(6 * MM2, 'AWG'))).toBeCloseTo(9, 9);
    expect(nextWire(110 * MM2, 'AWG')).toBeNaN();
  });
});
