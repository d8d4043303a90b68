/*
 * Dimensions: what kind of amount a number is, apart from its size. A dimension is a vector of
 * exponents over seven bases. Angle and level stand beside the five physical ones, so that `30` is
 * never taken for 30° and a gain in dB is never added to a share. Exponents are multiples of ½
 * (a square root halves them) and are stored doubled, as whole numbers. Every vector exists once:
 * two dimensions are equal exactly when they are the same object, or have the same `id`.
 */

/** The bases, in the order in which `Dimension.doubled` holds their exponents. */
export const bases = [
  'length',
  'mass',
  'time',
  'current',
  'temperature',
  'angle',
  'level',
] as const;

export type Base = (typeof bases)[number];

/** Exponents by base, as read by a person: `{ length: 2, time: -1 }`. Absent means 0. */
export type Exponents = Readonly<Partial<Record<Base, number>>>;

export interface Dimension {
  /** Unique for each vector within one run of the program; not stable between runs. */
  readonly id: number;
  /** Twice the exponent of each base, in the order of `bases`. */
  readonly doubled: readonly number[];
}

/** One object a vector; it only ever grows, and what it answers never changes. */
const interned = new Map<string, Dimension>();

function intern(doubled: readonly number[]): Dimension {
  // `+ 0` turns a negative zero into a plain one, for both print alike but are not identical.
  const whole = doubled.map((exponent) => exponent + 0);
  const key = whole.join();
  const known = interned.get(key);
  if (known !== undefined) return known;
  const made = Object.freeze({ id: interned.size, doubled: Object.freeze(whole) });
  interned.set(key, made);
  return made;
}

/** The dimension with these exponents; a RangeError when one is not a multiple of ½. */
export function dimensionOf(exponents: Exponents): Dimension {
  return intern(
    bases.map((base) => {
      const exponent = exponents[base] ?? 0;
      if (!Number.isSafeInteger(exponent * 2)) {
        throw new RangeError(`exponent ${exponent} of ${base} is not a multiple of 1/2`);
      }
      return exponent * 2;
    }),
  );
}

/** The exponents of a dimension by base, without those that are 0. */
export function exponentsOf(dimension: Dimension): Exponents {
  return Object.fromEntries(
    bases
      .map((base, place): readonly [Base, number] => [base, (dimension.doubled[place] ?? 0) / 2])
      .filter(([, exponent]) => exponent !== 0),
  );
}

/** Products and quotients once found, by both ids. */
const products = new Map<number, Dimension>();
const quotients = new Map<number, Dimension>();
const MOST_IDS = 65_536;

function combined(
  known: Map<number, Dimension>,
  a: Dimension,
  b: Dimension,
  sign: 1 | -1,
): Dimension {
  const key = a.id * MOST_IDS + b.id;
  const found = b.id < MOST_IDS ? known.get(key) : undefined;
  if (found !== undefined) return found;
  const made = intern(
    a.doubled.map((exponent, place) => exponent + sign * (b.doubled[place] ?? 0)),
  );
  if (b.id < MOST_IDS && known.size < MOST_IDS) known.set(key, made);
  return made;
}

export function multiply(a: Dimension, b: Dimension): Dimension {
  return combined(products, a, b, 1);
}

export function divide(a: Dimension, b: Dimension): Dimension {
  return combined(quotients, a, b, -1);
}

/** `a` to the power `n`, or undefined when an exponent would not be a multiple of ½. */
export function power(a: Dimension, n: number): Dimension | undefined {
  const raised = a.doubled.map((exponent) => (exponent === 0 ? 0 : exponent * n));
  return raised.every(Number.isSafeInteger) ? intern(raised) : undefined;
}

/** Numbers without a unit, and shares in %. */
export const plain: Dimension = dimensionOf({});

export const length: Dimension = dimensionOf({ length: 1 });
export const area: Dimension = dimensionOf({ length: 2 });
export const volume: Dimension = dimensionOf({ length: 3 });
export const mass: Dimension = dimensionOf({ mass: 1 });
export const time: Dimension = dimensionOf({ time: 1 });
export const frequency: Dimension = dimensionOf({ time: -1 });
export const speed: Dimension = dimensionOf({ length: 1, time: -1 });
export const acceleration: Dimension = dimensionOf({ length: 1, time: -2 });
export const force: Dimension = dimensionOf({ mass: 1, length: 1, time: -2 });
export const pressure: Dimension = dimensionOf({ mass: 1, length: -1, time: -2 });
export const density: Dimension = dimensionOf({ mass: 1, length: -3 });
export const current: Dimension = dimensionOf({ current: 1 });
export const charge: Dimension = dimensionOf({ current: 1, time: 1 });
export const energy: Dimension = dimensionOf({ mass: 1, length: 2, time: -2 });
/** Power in W; `power` is the function that raises a dimension. An energy a day is a power too. */
export const wattage: Dimension = divide(energy, time);
export const voltage: Dimension = divide(wattage, current);
export const resistance: Dimension = divide(voltage, current);
export const resistivity: Dimension = multiply(resistance, length);
export const resistancePerLength: Dimension = divide(resistance, length);
export const capacitance: Dimension = divide(charge, voltage);
export const fieldStrength: Dimension = divide(voltage, length);
/** A temperature difference in K; a temperature on a scale is a point of this dimension. */
export const temperature: Dimension = dimensionOf({ temperature: 1 });
/** A share for each kelvin, such as −0.35 %/K. */
export const temperatureCoefficient: Dimension = divide(plain, temperature);
export const heatLoss: Dimension = divide(wattage, temperature);
export const specificHeat: Dimension = divide(divide(energy, mass), temperature);
export const specificEnergy: Dimension = divide(energy, mass);
export const angle: Dimension = dimensionOf({ angle: 1 });
/** A difference of levels in dB; a level in dBm is a point of this dimension. */
export const level: Dimension = dimensionOf({ level: 1 });
/** Light on a surface, W/m². */
export const irradiance: Dimension = divide(wattage, area);
/** Light on a surface summed over a time, J/m². */
export const irradiation: Dimension = divide(energy, area);
export const heatTransfer: Dimension = divide(irradiance, temperature);
export const heatCapacity: Dimension = divide(energy, temperature);
export const currentDensity: Dimension = divide(current, area);
export const flow: Dimension = divide(volume, time);
export const angularSpeed: Dimension = divide(angle, time);

const names: ReadonlyMap<Dimension, string> = new Map([
  [plain, 'a plain number'],
  [length, 'length'],
  [area, 'area'],
  [volume, 'volume'],
  [mass, 'mass'],
  [time, 'time'],
  [frequency, 'frequency'],
  [speed, 'speed'],
  [acceleration, 'acceleration'],
  [force, 'force'],
  [pressure, 'pressure'],
  [density, 'density'],
  [current, 'current'],
  [charge, 'charge'],
  [energy, 'energy'],
  [wattage, 'power'],
  [voltage, 'voltage'],
  [resistance, 'resistance'],
  [resistivity, 'resistivity'],
  [resistancePerLength, 'resistance per length'],
  [capacitance, 'capacitance'],
  [fieldStrength, 'field strength'],
  [temperature, 'temperature'],
  [temperatureCoefficient, 'temperature coefficient'],
  [heatLoss, 'heat loss (W/K)'],
  [specificHeat, 'specific heat'],
  [specificEnergy, 'energy per mass'],
  [angle, 'angle'],
  [level, 'level (dB)'],
  [irradiance, 'light (W/m²)'],
  [irradiation, 'light over time (Wh/m²)'],
  [heatTransfer, 'heat transfer'],
  [heatCapacity, 'heat capacity'],
  [currentDensity, 'current density'],
  [flow, 'flow'],
  [angularSpeed, 'angular speed'],
]);

/** The trade's word for a dimension, or its SI unit when it has none: `W/m`. */
export function dimensionName(dimension: Dimension): string {
  return names.get(dimension) ?? coherentSymbol(dimension);
}

/** Whether the trade has a word for it. */
export function hasName(dimension: Dimension): boolean {
  return names.has(dimension);
}

/** The SI unit of one of each base, in the order in which they are written. */
const baseSymbols: readonly (readonly [Base, string])[] = [
  ['mass', 'kg'],
  ['length', 'm'],
  ['time', 's'],
  ['current', 'A'],
  ['temperature', 'K'],
  ['angle', 'rad'],
  ['level', 'dB'],
];

/** Units of factor 1 that stand for several bases, in the order in which they are tried. */
const leads: readonly (readonly [Dimension, string])[] = [
  [wattage, 'W'],
  [voltage, 'V'],
  [resistance, 'Ω'],
  [energy, 'J'],
  [force, 'N'],
];

/** A unit as it is written, and of how many factors. */
interface Spelling {
  readonly text: string;
  readonly factors: number;
}

/** `rest` in bases, with the unit that stands before or under it. */
function spelled(rest: Dimension, lead = '', under = ''): Spelling {
  const exponents = exponentsOf(rest);
  const above = lead === '' ? [] : [lead];
  const below: string[] = [];
  for (const [base, symbol] of baseSymbols) {
    const exponent = exponents[base] ?? 0;
    if (exponent > 0) above.push(symbol + exponentText(exponent));
    if (exponent < 0) below.push(symbol + exponentText(-exponent));
  }
  if (under !== '') below.push(under);
  if (above.length === 0 && below.length > 0) above.push('1');
  const sizes = Object.values(exponents).map((exponent) => Math.abs(exponent));
  const factors = sizes.reduce((sum, size) => sum + size, lead + under === '' ? 0 : 1);
  return { text: [above.join('·'), ...below].join('/'), factors };
}

/**
 * A unit of factor 1 for any dimension, as it is typed and of as few factors as may be: `W/m`, `V·s`,
 * `kg/s`, `1/K`, `m^0.5`. Each divisor has its own stroke (`kJ/kg/K`), for what comes after `a/b·c` is
 * read two ways. Plain: ``.
 */
export function coherentSymbol(dimension: Dimension): string {
  let best = spelled(dimension);
  for (const [of, symbol] of leads) {
    const over = spelled(divide(dimension, of), symbol);
    const under = spelled(multiply(dimension, of), '', symbol);
    for (const one of [over, under]) if (one.factors < best.factors) best = one;
  }
  return best.text;
}

/** An exponent as written after a unit: nothing for 1, raised digits, `^0.5` for a half. */
export function exponentText(exponent: number): string {
  if (exponent === 1) return '';
  return Number.isInteger(exponent) ? raisedDigits(exponent) : `^${exponent}`;
}

/** A whole number in raised digits: `⁻³`. */
export function raisedDigits(whole: number): string {
  return [...String(whole)].map((digit) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(digit)] ?? '⁻').join('');
}
