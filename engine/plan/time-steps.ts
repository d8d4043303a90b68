// Steps that carry a state along a timeline: the battery, a running total, the value before, the
// weather drawn day by day. Each can run its whole axis or one place of a circle; what it carries from
// one place to the next stands in an array, since a captured variable that holds a fraction is made anew
// at every assignment.

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
} from '../physics/battery.ts';
import {
  drawClass,
  drawFirstWet,
  drawNextWet,
  wetChain,
  wetShare,
} from '../physics/weather-chance.ts';
import type { AxisValue, Memory, Operand } from './memory.ts';
import type { Step } from './program.ts';
import { uniform } from './random.ts';

const DAY = 86_400;

export function previousStep(
  of: readonly Operand[],
  first: readonly Operand[],
  out: readonly Operand[],
): Step {
  return {
    calm: true,
    run(m: Memory): void {
      for (let j = 0; j < out.length; j++) {
        const from = m.array(of[j] as Operand);
        const row = m.own(~(out[j] as Operand), from.length);
        for (let i = row.length - 1; i > 0; i--) row[i] = from[i - 1] as number;
        if (row.length > 0) row[0] = m.at(first[j] as Operand, 0);
      }
    },
  };
}

export function runningTotalStep(
  change: Operand,
  start: Operand,
  least: Operand | undefined,
  most: Operand | undefined,
  out: Operand,
  axis: number,
  perTime: boolean,
): { whole: Step; place: Step } {
  const state = new Float64Array(1);
  const one = (m: Memory, i: number, step: number): number => {
    let total = i === 0 ? m.at(start, 0) : (state[0] as number);
    const c = m.at(change, i);
    if (!Number.isNaN(c)) total += c * step;
    if (least !== undefined) total = Math.max(total, m.at(least, i));
    if (most !== undefined) total = Math.min(total, m.at(most, i));
    state[0] = total;
    return total;
  };
  return {
    whole: {
      calm: true,
      run(m: Memory): void {
        const v = m.axes[axis] as AxisValue;
        const n = v.length > 0 ? v.length : m.array(change).length;
        const row = m.own(~out, n);
        const changes = m.array(change);
        const [c0, cs] = [change >= 0 ? change : 0, change >= 0 ? 0 : 1];
        const step = perTime ? v.step : 1;
        const fixed = (limit: Operand | undefined): boolean => limit === undefined || limit >= 0;
        if (fixed(least) && fixed(most)) {
          const low = least === undefined ? Number.NEGATIVE_INFINITY : m.at(least, 0);
          const high = most === undefined ? Number.POSITIVE_INFINITY : m.at(most, 0);
          let sum = m.at(start, 0);
          for (let i = 0; i < n; i++) {
            const c = changes[c0 + i * cs] as number;
            if (!Number.isNaN(c)) sum += c * step;
            if (least !== undefined) sum = Math.max(sum, low);
            if (most !== undefined) sum = Math.min(sum, high);
            row[i] = sum;
          }
          return;
        }
        for (let i = 0; i < n; i++) row[i] = one(m, i, step);
      },
    },
    place: {
      run(m: Memory): void {
        const v = m.axes[axis] as AxisValue;
        m.scalars[out] = one(m, m.index, perTime ? v.step : 1);
      },
    },
  };
}

const NAMES = [
  'charging',
  'load',
  'capacity',
  'start',
  'floor',
  'round trip',
  'charge limit',
  'taper from',
  'tail',
  'idle',
  'self-loss',
  'cell',
] as const;

/** What single numbers may be: argument, least, most, in words. */
const RANGES: readonly (readonly [number, number, number, string])[] = [
  [2, Number.MIN_VALUE, Number.MAX_VALUE, 'more than 0 Wh'],
  [3, 0, 1, '0 % to 100 %'],
  [4, 0, 1, '0 % to 100 %'],
  [5, 0.5, 1, '50 % to 100 %'],
  [6, 0, Number.MAX_VALUE, '0 W or more'],
  [7, 0, 1, '0 % to 100 %'],
  [8, 0, Number.MAX_VALUE, '0 h or more'],
  [9, 0, Number.MAX_VALUE, '0 W or more'],
  [10, 0, Number.MAX_VALUE, '0 %/h or more'],
];

/** `out`: charge, energy, stored, spilled, unserved. */
export function batteryStepOf(
  args: readonly Operand[],
  readings:
    | { readonly charge: Operand; readonly moment: Operand; readonly axis: number }
    | undefined,
  out: readonly Operand[],
  axis: number,
): { whole: Step; place: Step } {
  const [
    charging,
    load,
    capacity,
    start,
    floor,
    roundTrip,
    limit,
    taperFrom,
    tail,
    idle,
    selfLoss,
    cell,
  ] = args as [
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
  ];
  const numbers = new Float64Array(STEP_NUMBERS);
  let battery: Battery | undefined;
  let readingAt: Float64Array = new Float64Array(0);

  const begin = (m: Memory): void => {
    battery = undefined;
    const size = m.at(capacity, 0);
    for (const [j, low, high, text] of RANGES) {
      const v = m.at(args[j] as Operand, 0);
      if (!(v >= low && v <= high)) {
        m.say(
          'out-of-range',
          `battery run(…) takes ${NAMES[j]} from ${text}; here it is outside.`
            .replace('from more', 'as more')
            .replace('from 0 W or', 'as 0 W or')
            .replace('from 0 h or', 'as 0 h or')
            .replace('from 0 %/h or', 'as 0 %/h or'),
        );
        return;
      }
    }
    battery = makeBattery({
      capacity: size,
      floor: m.at(floor, 0),
      roundTrip: m.at(roundTrip, 0),
      chargeLimit: m.at(limit, 0),
      taperFrom: m.at(taperFrom, 0),
      taperTail: m.at(tail, 0),
      idle: m.at(idle, 0),
      selfLoss: m.at(selfLoss, 0),
    });
    numbers[ENERGY] = size * m.at(start, 0);
    numbers[SECONDS] = (m.axes[axis] as AxisValue).step;
    if (readings) {
      const t = m.axes[axis] as AxisValue;
      const [c, when] = [m.array(readings.charge), m.array(readings.moment)];
      if (readingAt.length !== t.length) readingAt = new Float64Array(t.length);
      readingAt.fill(Number.NaN);
      for (let k = 0; k < c.length; k++) {
        const [share, moment] = [c[k] as number, when[k] as number];
        if (Number.isNaN(share) || Number.isNaN(moment)) continue;
        // The step that holds the moment, (start, end]; a reading at the very start counts for the first.
        const i = Math.max(0, Math.ceil((moment - t.start) / t.step - 1e-9) - 1);
        if (moment >= t.start && i < t.length) readingAt[i] = share;
      }
    }
  };

  /** One step of `at`, after which a reading stands in the place of what was worked out. */
  const one = (at: Battery, i: number): void => {
    batteryStep(numbers, at);
    if (!readings) return;
    const r = readingAt[i] as number;
    if (!Number.isNaN(r)) numbers[ENERGY] = Math.min(1, Math.max(0, r)) * at.capacity;
  };

  const [chargeOut, energyOut, storedOut, spilledOut, unservedOut] = out as readonly [
    Operand,
    Operand,
    Operand,
    Operand,
    Operand,
  ];
  return {
    whole: {
      run(m: Memory): void {
        const t = m.axes[axis] as AxisValue;
        const n = t.length;
        const c = m.own(~chargeOut, n);
        const e = m.own(~energyOut, n);
        const s = m.own(~storedOut, n);
        const p = m.own(~spilledOut, n);
        const u = m.own(~unservedOut, n);
        begin(m);
        if (!battery) {
          for (const row of [c, e, s, p, u]) row.fill(Number.NaN);
          return;
        }
        for (let i = 0; i < n; i++) {
          numbers[CHARGING] = m.at(charging, i);
          numbers[LOAD] = m.at(load, i);
          numbers[CELL] = m.at(cell, i);
          one(battery, i);
          const energy = numbers[ENERGY] as number;
          c[i] = energy / battery.capacity;
          e[i] = energy;
          s[i] = numbers[STORED] as number;
          p[i] = numbers[SPILLED] as number;
          u[i] = numbers[UNSERVED] as number;
        }
      },
    },
    place: {
      // In a circle everything that is drawn on stands in single places.
      run(m: Memory): void {
        const s = m.scalars;
        const i = m.index;
        if (i === 0) begin(m);
        if (!battery) {
          for (const place of out) s[place] = Number.NaN;
          return;
        }
        numbers[CHARGING] = s[charging] as number;
        numbers[LOAD] = s[load] as number;
        numbers[CELL] = s[cell] as number;
        one(battery, i);
        const energy = numbers[ENERGY] as number;
        s[chargeOut] = energy / battery.capacity;
        s[energyOut] = energy;
        s[storedOut] = numbers[STORED] as number;
        s[spilledOut] = numbers[SPILLED] as number;
        s[unservedOut] = numbers[UNSERVED] as number;
      },
    },
  };
}

/** Clear, mixed and grey shares of a dry and of a wet day, and the clear index of each class (common practice). */
const DRY = [0.6, 0.35, 0.05] as const;
const WET = [0, 0.3, 0.7] as const;
const INDEX = [0.95, 0.65, 0.25] as const;

const meanIndex = (shares: readonly number[]): number =>
  shares.reduce((sum, share, i) => sum + share * (INDEX[i] as number), 0);

/** The clear index that is given, or the mean of the classes. */
const meanOf = (given: number, shares: readonly number[]): number =>
  given >= 0 ? given : meanIndex(shares);

/** A clear index, or −1 for one that is left out. */
const isIndex = (x: number): boolean => x === -1 || (x >= 0 && x <= 1.1);

/** Clear index day by day from a wet/dry chain; the plain run uses the long-run mean. */
export function drawnSkyStep(
  axis: number,
  args: readonly Operand[],
  out: Operand,
  seed: number,
  name: number,
): Step {
  return {
    run(m: Memory): void {
      const t = m.axes[axis] as AxisValue;
      const row = m.own(~out, t.length);
      const [wetDays, spell] = [m.at(args[0] as Operand, 0), m.at(args[1] as Operand, 0)];
      // Below zero: drawn from its shares.
      const [ofDry, ofWet] = [m.at(args[2] as Operand, 0), m.at(args[3] as Operand, 0)];
      const chain = wetChain(wetDays, spell);
      if (!(wetDays >= 0 && wetDays <= 30))
        m.say('out-of-range', 'drawn sky(…) takes wet days from 0 to 30, in a month.');
      else if (!(spell >= 1))
        m.say('out-of-range', 'drawn sky(…) takes wet spell as 1 day or more.');
      else if (!isIndex(ofDry) || !isIndex(ofWet))
        m.say('out-of-range', 'drawn sky(…) takes a clear index from 0 % to 110 %.');
      else if (chain.afterDry > 1)
        m.say(
          'out-of-range',
          `${wetDays} wet days in a month cannot lie in spells of ${spell} days. Make the spell longer.`,
        );
      if (m.problem !== '') {
        row.fill(Number.NaN);
        return;
      }
      if (m.trial < 0) {
        const wet = wetShare(chain);
        const [rain, dry] = [meanOf(ofWet, WET), meanOf(ofDry, DRY)];
        row.fill(wet * rain + (1 - wet) * dry);
        return;
      }
      const first = Math.floor(t.start / DAY);
      let day = -1;
      let wet = false;
      let index = 0;
      for (let i = 0; i < t.length; i++) {
        const d = Math.floor((t.places[i] as number) / DAY) - first;
        while (day < d) {
          day++;
          const u = uniform(seed, m.trial, name, 2 * day);
          wet = day === 0 ? drawFirstWet(chain, u) : drawNextWet(chain, wet, u);
          const given = wet ? ofWet : ofDry;
          const drawn = uniform(seed, m.trial, name, 2 * day + 1);
          index =
            given >= 0 ? given : (INDEX[Math.max(0, drawClass(wet ? WET : DRY, drawn))] as number);
        }
        row[i] = index;
      }
    },
  };
}
