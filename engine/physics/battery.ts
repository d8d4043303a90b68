/*
 * The store between harvest and load, one time step at a time. `batteryStep` is called hundreds of
 * thousands of times in a study of many trials: what it works from and what it works out stand in one
 * array that its caller owns, and nothing is allocated, not even a number handed over. What a battery
 * of some chemistry holds and takes is in `battery-capacity.ts`.
 *
 * Powers are counted at the bus, where panel, battery and load meet. In every step
 *
 *     charging + withdrawn = load + idle + stored + spilled − unserved
 *
 * and the loss of the round trip lies between the bus and the cells, a root of it each way:
 *
 *     energy after = energy · exp(−k Δt) + (√η stored − withdrawn / √η) Δt
 */

/** What a battery is. */
export interface BatteryParameters {
  /** Energy of the full battery, J, more than 0. */
  readonly capacity: number;
  /** Share of the capacity at which discharge stops, 0 to 1. */
  readonly floor: number;
  /** Energy out over energy in η, more than 0 to 1. */
  readonly roundTrip: number;
  /** Most power that may flow into the battery, W; infinite when nothing limits it. */
  readonly chargeLimit: number;
  /** Share of the capacity from which it takes less and less, 0 to 1; 1 for no taper. */
  readonly taperFrom: number;
  /** Time constant of the last of the charge τ, s; 0 for no taper. */
  readonly taperTail: number;
  /** Power that the battery's own electronics draw, W, 0 or more. */
  readonly idle: number;
  /** Self-discharge k, 1/s, 0 or more. */
  readonly selfLoss: number;
}

/** A battery with the numbers that every step needs. */
export interface Battery extends BatteryParameters {
  /** √η. */
  readonly oneWay: number;
  /** Energy below which nothing is withdrawn, J. */
  readonly least: number;
  /** Energy at which the taper begins, J; the capacity when there is none. */
  readonly taperStart: number;
}

/** Places of a step's numbers in its array: the energy before and after, what the step works out … */
export const ENERGY = 0;
export const STORED = 1;
export const SPILLED = 2;
export const UNSERVED = 3;
export const WITHDRAWN = 4;
/** … and what it is given. */
export const CHARGING = 5;
export const LOAD = 6;
export const CELL = 7;
export const SECONDS = 8;

/** Numbers in a step's array. */
export const STEP_NUMBERS = 9;

/** A cell colder than this takes no charge, °C. */
const COLDEST_CHARGE = 0;

/**
 * A battery from its parameters.
 *
 * @param parameters  see there; each left out has its value of a plain store: floor 0, round trip 1,
 *                    no limit, no taper, no idle draw, no self-discharge
 * @returns           the battery
 * @throws RangeError when a parameter leaves its range
 *
 * Truth: test/engine/physics/battery.test.ts
 */
export function makeBattery(
  parameters: Pick<BatteryParameters, 'capacity'> & Partial<BatteryParameters>,
): Battery {
  const {
    capacity,
    floor = 0,
    roundTrip = 1,
    chargeLimit = Number.POSITIVE_INFINITY,
    taperFrom = 1,
    taperTail = 0,
    idle = 0,
    selfLoss = 0,
  } = parameters;
  within('capacity', capacity, Number.MIN_VALUE, Number.MAX_VALUE);
  within('floor', floor, 0, 1);
  within('round trip', roundTrip, Number.MIN_VALUE, 1);
  within('charge limit', chargeLimit, 0, Number.POSITIVE_INFINITY);
  within('taper from', taperFrom, 0, 1);
  within('taper tail', taperTail, 0, Number.MAX_VALUE);
  within('idle', idle, 0, Number.MAX_VALUE);
  within('self-loss', selfLoss, 0, Number.MAX_VALUE);
  return {
    capacity,
    floor,
    roundTrip,
    chargeLimit,
    taperFrom,
    taperTail,
    idle,
    selfLoss,
    oneWay: Math.sqrt(roundTrip),
    least: floor * capacity,
    taperStart: taperTail > 0 ? taperFrom * capacity : capacity,
  };
}

function within(name: string, value: number, least: number, most: number): void {
  if (!(value >= least && value <= most)) {
    throw new RangeError(`${name} ${value}, wanted ${least} to ${most}`);
  }
}

/**
 * One step of a battery: from the energy before to the energy after.
 *
 * Charging serves the load first. What is over goes into the battery as far as the charge limit, the
 * taper and the room allow, and not at all below 0 °C; the rest is spilled. What is missing comes
 * out of the battery down to its floor; the rest is unserved.
 *
 * Taper. With g the gap to full, g_t the gap at `taperFrom` and p the power that would flow without
 * a taper, the energy in the cells rises by
 *
 *     1 / (dE/dt) = 1/p + τ (1/g − 1/g_t)
 *
 * so it starts at p without a jump, whatever p is, and ends closing the gap exponentially with the
 * time constant τ. The law is integrated exactly, t = (1/p − τ/g_t)(g0 − g) + τ ln(g0/g), so two
 * half steps end where one whole step does. A full battery is approached, never reached.
 *
 * @param numbers  of the step. Given: ENERGY in the cells before, J, 0 to the capacity; CHARGING
 *                 offered at the bus, W, 0 or more; LOAD, W, 0 or more, without the battery's own
 *                 idle draw; CELL temperature, °C; SECONDS of the step Δt, more than 0. Received:
 *                 ENERGY after, J; STORED, SPILLED, UNSERVED and WITHDRAWN, all W at the bus and 0 or
 *                 more
 * @param battery  from `makeBattery`
 *
 * Self-discharge is taken before the flows and may lead below the floor.
 * Source: bookkeeping as written; no charge below 0 °C: IEC 62133-2 and makers' practice for lithium
 * cells; the taper law is ours, its ends are a constant-current and a constant-voltage charge
 * Truth: test/reference/checks.json (energy_balance_*, min_soc_Wh), largest relative error 4e-7;
 * test/engine/physics/battery.test.ts, balance closed to 1e-9 of the largest flow
 */
export function batteryStep(numbers: Float64Array, battery: Battery): void {
  const energy = numbers[ENERGY] as number;
  const stepSeconds = numbers[SECONDS] as number;
  const kept = battery.selfLoss > 0 ? energy * Math.exp(-battery.selfLoss * stepSeconds) : energy;
  const surplus = (numbers[CHARGING] as number) - (numbers[LOAD] as number) - battery.idle;
  let after = kept;
  let stored = 0;
  let spilled = 0;
  let unserved = 0;
  let withdrawn = 0;
  if (surplus >= 0) {
    const offered = Math.min(surplus, battery.chargeLimit) * willingness(numbers);
    const straight = kept + offered * battery.oneWay * stepSeconds;
    if (straight > battery.taperStart) {
      after = taper(kept, offered * battery.oneWay, stepSeconds, battery);
      stored = Math.min(offered, (after - kept) / (battery.oneWay * stepSeconds));
    } else {
      after = straight;
      stored = offered;
    }
    spilled = surplus - stored;
  } else {
    const available = (Math.max(0, kept - battery.least) * battery.oneWay) / stepSeconds;
    withdrawn = Math.min(-surplus, available);
    unserved = -surplus - withdrawn;
    after =
      withdrawn === available
        ? Math.min(kept, battery.least)
        : kept - (withdrawn * stepSeconds) / battery.oneWay;
  }
  numbers[ENERGY] = after;
  numbers[STORED] = stored;
  numbers[SPILLED] = spilled;
  numbers[UNSERVED] = unserved;
  numbers[WITHDRAWN] = withdrawn;
}

/** 1 when the cells may be charged, 0 when they are too cold, NaN when nobody knows. */
function willingness(numbers: Float64Array): number {
  const cellTemperature = numbers[CELL] as number;
  if (cellTemperature >= COLDEST_CHARGE) return 1;
  return cellTemperature < COLDEST_CHARGE ? 0 : Number.NaN;
}

/** Energy in the cells after taking up to `power`, W at the cells, into or inside the taper. */
function taper(energy: number, power: number, seconds: number, battery: Battery): number {
  if (power <= 0 || energy >= battery.capacity) return energy;
  if (battery.taperStart >= battery.capacity) return battery.capacity;
  const start = Math.max(energy, battery.taperStart);
  const left = seconds - (start - energy) / power;
  const gap = battery.capacity - start;
  const after = battery.capacity - gap * Math.exp(-taperDepth(gap, power, left, battery));
  // A charge too small for the last digit must not come out as a discharge.
  return Math.max(energy, after);
}

/**
 * How many times e the gap shrinks in a while: the u with r g0 (1 − e^−u) + p τ u = p t, where
 * r = 1 − p τ/g_t. (The law times p, so that a vanishing p does no harm.) Newton's method from the
 * side on which it cannot overshoot: for r ≥ 0 the left side is concave in u and u = 0 lies below
 * the root, for r < 0 it is convex and u = t/τ + 1 lies above it.
 */
function taperDepth(gap: number, power: number, seconds: number, battery: Battery): number {
  const tail = power * battery.taperTail;
  const early = (1 - tail / (battery.capacity - battery.taperStart)) * gap;
  let depth = early >= 0 ? 0 : seconds / battery.taperTail + 1;
  for (let round = 0; round < 60; round += 1) {
    const shrunk = Math.exp(-depth);
    const miss = early * (1 - shrunk) + tail * depth - power * seconds;
    const slope = early * shrunk + tail;
    const next = depth - miss / slope;
    if (Math.abs(next - depth) <= 1e-14 * (1 + next)) return next;
    depth = next;
  }
  return depth;
}
