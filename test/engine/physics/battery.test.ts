// The store's step: its balance for any flows, its borders, and that its result does not depend on
// how finely time is cut. Amounts are in joules and watts.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Battery,
  batteryStep,
  CELL,
  CHARGING,
  ENERGY,
  LOAD,
  makeBattery,
  SECONDS,
  SPILLED,
  STEP_NUMBERS,
  STORED,
  UNSERVED,
  WITHDRAWN,
} from '../../../engine/physics/battery.ts';

const HOUR = 3600;
const KILOWATT_HOUR = 3.6e6;

interface Result {
  readonly energy: number;
  readonly stored: number;
  readonly spilled: number;
  readonly unserved: number;
  readonly withdrawn: number;
}

function step(
  energy: number,
  charging: number,
  load: number,
  battery: Battery,
  { seconds = HOUR, cell = 25 } = {},
): Result {
  const out = new Float64Array(STEP_NUMBERS).fill(Number.NaN);
  out[ENERGY] = energy;
  out[CHARGING] = charging;
  out[LOAD] = load;
  out[CELL] = cell;
  out[SECONDS] = seconds;
  batteryStep(out, battery);
  const at = (place: number): number => out[place] ?? Number.NaN;
  return {
    energy: at(ENERGY),
    stored: at(STORED),
    spilled: at(SPILLED),
    unserved: at(UNSERVED),
    withdrawn: at(WITHDRAWN),
  };
}

const share = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const power = fc.oneof(fc.constant(0), share(0, 3000));

const anyBattery = fc
  .record({
    capacity: share(1e5, 2e7),
    floor: share(0, 0.5),
    roundTrip: share(0.5, 1),
    chargeLimit: fc.oneof(fc.constant(Number.POSITIVE_INFINITY), share(0, 2000)),
    taperFrom: share(0, 1),
    taperTail: fc.oneof(fc.constant(0), share(1, 20_000)),
    idle: fc.oneof(fc.constant(0), share(0, 30)),
    selfLoss: fc.oneof(fc.constant(0), share(0, 1e-6)),
  })
  .map(makeBattery);

describe('any step', () => {
  const anyStep = fc.record({
    battery: anyBattery,
    full: share(0, 1),
    charging: power,
    load: power,
    seconds: share(1, 86_400),
    cell: share(-20, 45),
  });

  test('balances at the bus and in the cells', () => {
    fc.assert(
      fc.property(anyStep, ({ battery, full, charging, load, seconds, cell }) => {
        const before = full * battery.capacity;
        const after = step(before, charging, load, battery, { seconds, cell });
        const scale = charging + load + battery.idle + 1;
        const bus =
          charging +
          after.withdrawn -
          (load + battery.idle + after.stored + after.spilled - after.unserved);
        expect(Math.abs(bus)).toBeLessThanOrEqual(1e-9 * scale);
        const lost = before * (1 - Math.exp(-battery.selfLoss * seconds));
        const way = Math.sqrt(battery.roundTrip);
        const cells =
          after.energy - before + lost - (way * after.stored - after.withdrawn / way) * seconds;
        expect(Math.abs(cells)).toBeLessThanOrEqual(1e-9 * (battery.capacity + scale * seconds));
      }),
      { numRuns: 1000, endOnFailure: true },
    );
  });

  test('keeps every flow at 0 or more and the energy between nothing and full', () => {
    fc.assert(
      fc.property(anyStep, ({ battery, full, charging, load, seconds, cell }) => {
        const after = step(full * battery.capacity, charging, load, battery, { seconds, cell });
        for (const flow of [after.stored, after.spilled, after.unserved, after.withdrawn]) {
          expect(flow).toBeGreaterThanOrEqual(0);
        }
        expect(after.energy).toBeGreaterThanOrEqual(0);
        expect(after.energy).toBeLessThanOrEqual(battery.capacity * (1 + 1e-12));
        expect(after.stored).toBeLessThanOrEqual(battery.chargeLimit * (1 + 1e-9));
        if (cell < 0) expect(after.stored).toBe(0);
        if (after.withdrawn > 0) {
          expect(after.energy).toBeGreaterThanOrEqual(
            battery.floor * battery.capacity * (1 - 1e-12),
          );
        }
      }),
      { numRuns: 1000, endOnFailure: true },
    );
  });

  test('ends where two half steps end, without self-discharge', () => {
    fc.assert(
      fc.property(anyStep, ({ battery, full, charging, load, seconds, cell }) => {
        const still = makeBattery({ ...battery, selfLoss: 0 });
        const before = full * still.capacity;
        const whole = step(before, charging, load, still, { seconds, cell });
        const half = step(before, charging, load, still, { seconds: seconds / 2, cell });
        const twice = step(half.energy, charging, load, still, { seconds: seconds / 2, cell });
        expect(Math.abs(twice.energy - whole.energy)).toBeLessThanOrEqual(1e-9 * still.capacity);
      }),
      { numRuns: 1000, endOnFailure: true },
    );
  });
});

describe('one step', () => {
  const plain = makeBattery({ capacity: KILOWATT_HOUR });

  test('serves the load before it charges, and loses a root of the round trip each way', () => {
    const battery = makeBattery({ capacity: KILOWATT_HOUR, roundTrip: 0.81 });
    const up = step(0.5 * KILOWATT_HOUR, 150, 50, battery);
    expect(up.stored).toBeCloseTo(100, 9);
    expect(up.energy - 0.5 * KILOWATT_HOUR).toBeCloseTo(0.9 * 100 * HOUR, 6);
    const down = step(0.5 * KILOWATT_HOUR, 10, 100, battery);
    expect(down.withdrawn).toBeCloseTo(90, 9);
    expect(0.5 * KILOWATT_HOUR - down.energy).toBeCloseTo((90 / 0.9) * HOUR, 6);
  });

  test('stops at full and at the floor to the joule', () => {
    const over = step(0.95 * KILOWATT_HOUR, 100, 0, plain);
    expect(over.energy).toBe(KILOWATT_HOUR);
    expect(over.stored).toBeCloseTo(50, 9);
    expect(over.spilled).toBeCloseTo(50, 9);
    const spared = makeBattery({ capacity: KILOWATT_HOUR, floor: 0.2 });
    const under = step(0.25 * KILOWATT_HOUR, 0, 80, spared);
    expect(under.energy).toBe(0.2 * KILOWATT_HOUR);
    expect(under.unserved).toBeCloseTo(30, 9);
  });

  test('leaves a battery below its floor alone until it is charged', () => {
    const spared = makeBattery({ capacity: KILOWATT_HOUR, floor: 0.2 });
    expect(step(0.1 * KILOWATT_HOUR, 0, 80, spared)).toMatchObject({
      energy: 0.1 * KILOWATT_HOUR,
      withdrawn: 0,
      unserved: 80,
    });
    expect(step(0.1 * KILOWATT_HOUR, 100, 80, spared).stored).toBeCloseTo(20, 9);
  });

  test('below 0 °C serves the load from the panel and charges nothing', () => {
    const cold = step(0.5 * KILOWATT_HOUR, 150, 50, plain, { cell: -0.01 });
    expect(cold).toMatchObject({ stored: 0, spilled: 100, unserved: 0, withdrawn: 0 });
    expect(step(0.5 * KILOWATT_HOUR, 150, 50, plain, { cell: 0 }).stored).toBeCloseTo(100, 9);
    expect(step(0.5 * KILOWATT_HOUR, 0, 50, plain, { cell: -10 }).withdrawn).toBeCloseTo(50, 9);
  });

  test('obeys the charge limit and counts the idle draw', () => {
    const battery = makeBattery({ capacity: KILOWATT_HOUR, chargeLimit: 60, idle: 5 });
    const after = step(0.5 * KILOWATT_HOUR, 100, 20, battery);
    expect(after.stored).toBeCloseTo(60, 9);
    expect(after.spilled).toBeCloseTo(15, 9);
  });

  test('loses a share of its energy by itself', () => {
    const battery = makeBattery({ capacity: KILOWATT_HOUR, selfLoss: Math.LN2 / (30 * 86_400) });
    const after = step(KILOWATT_HOUR, 0, 0, battery, { seconds: 30 * 86_400 });
    expect(after.energy).toBeCloseTo(KILOWATT_HOUR / 2, 3);
  });

  test('carries NaN through instead of a wrong number', () => {
    expect(step(Number.NaN, 100, 50, plain).energy).toBeNaN();
    expect(step(0.5 * KILOWATT_HOUR, Number.NaN, 50, plain).energy).toBeNaN();
    expect(step(0.5 * KILOWATT_HOUR, 100, 50, plain, { cell: Number.NaN }).energy).toBeNaN();
  });
});

describe('the taper', () => {
  const tail = 3600;
  const battery = makeBattery({ capacity: KILOWATT_HOUR, taperFrom: 0.9, taperTail: tail });

  test('starts at the offered power without a jump', () => {
    const start = 0.9 * KILOWATT_HOUR;
    for (const offered of [10, 100, 1000, 1e5]) {
      const { stored } = step(start, offered, 0, battery, { seconds: 1e-6 });
      expect(stored / offered).toBeGreaterThan(0.999);
    }
  });

  test('ends by closing the gap to 1/e in each time constant', () => {
    let energy = 0.9999 * KILOWATT_HOUR;
    const gaps: number[] = [];
    for (let n = 0; n < 4; n += 1) {
      gaps.push(KILOWATT_HOUR - energy);
      energy = step(energy, 500, 0, battery, { seconds: tail }).energy;
    }
    const last = (gaps[3] ?? 0) / (gaps[2] ?? 1);
    expect(Math.log(last)).toBeCloseTo(-1, 3);
  });

  test('agrees with the differential equation integrated in ten thousand small steps', () => {
    const offered = 150;
    const gapAtStart = 0.1 * KILOWATT_HOUR;
    const whole = step(0.85 * KILOWATT_HOUR, offered, 0, battery, { seconds: 2 * HOUR });
    let energy = 0.85 * KILOWATT_HOUR;
    const seconds = 0.72;
    for (let n = 0; n < 10_000; n += 1) {
      const rate = (at: number): number => {
        const gap = KILOWATT_HOUR - at;
        if (gap >= gapAtStart) return offered;
        return 1 / (1 / offered + tail * (1 / gap - 1 / gapAtStart));
      };
      // The middle of the step decides (second order).
      energy += seconds * rate(energy + (seconds / 2) * rate(energy));
    }
    expect(whole.energy / energy).toBeCloseTo(1, 7);
  });
});

describe('a battery outside its range', () => {
  test.each([
    ['capacity', { capacity: 0 }],
    ['floor', { capacity: 1, floor: 1.1 }],
    ['round trip', { capacity: 1, roundTrip: 0 }],
    ['charge limit', { capacity: 1, chargeLimit: -1 }],
    ['taper from', { capacity: 1, taperFrom: Number.NaN }],
    ['taper tail', { capacity: 1, taperTail: -1 }],
    ['idle', { capacity: 1, idle: -1 }],
    ['self-loss', { capacity: 1, selfLoss: -1 }],
  ])('names its %s', (name, parameters) => {
    expect(() => makeBattery(parameters)).toThrow(name);
  });
});
