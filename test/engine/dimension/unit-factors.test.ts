// Every factor of the table against sources outside this program: printed tables, two libraries, and
// a file of reference conversions. A row of the table that no source here knows fails the last test.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { unit as mathUnit } from 'mathjs';
import { describe, expect, test } from 'vitest';
import { type Dimension, divide, multiply } from '../../../engine/dimension/dimension.ts';
import { findUnit, fromStored, toStored, type Unit } from '../../../engine/dimension/unit.ts';
import { prefixFactors, unitRows } from '../../../engine/dimension/unit-table.ts';

/** js-quantities, a script of the older kind without types of its own. */
const quantity: (value: number, unit: string) => { to(unit: string): { readonly scalar: number } } =
  createRequire(import.meta.url)('js-quantities');

function unit(text: string): Unit {
  const found = findUnit(text);
  if (found === undefined) throw new Error(`${text} is no unit`);
  return found;
}

/**
 * NIST SP 811 (2008), appendix B.8, as printed (seven digits where not exact), and the SI Brochure,
 * 9th ed. (2019), table 8. SI units in one of each.
 */
const printed: Readonly<Record<string, readonly [factor: number, source: string]>> = {
  in: [2.54e-2, 'NIST SP 811: inch, exact'],
  ft: [3.048e-1, 'NIST SP 811: foot, exact'],
  yd: [9.144e-1, 'NIST SP 811: yard, exact'],
  mi: [1.609344e3, 'NIST SP 811: mile, exact'],
  nmi: [1.852e3, 'NIST SP 811: mile, nautical, exact'],
  'ft²': [9.290304e-2, 'NIST SP 811: square foot, exact'],
  L: [1e-3, 'SI Brochure table 8: litre'],
  gal: [3.785412e-3, 'NIST SP 811: gallon (U.S.)'],
  t: [1e3, 'SI Brochure table 8: tonne'],
  lb: [4.535924e-1, 'NIST SP 811: pound (avoirdupois)'],
  oz: [2.834952e-2, 'NIST SP 811: ounce (avoirdupois)'],
  min: [60, 'SI Brochure table 8: minute'],
  h: [3600, 'SI Brochure table 8: hour'],
  d: [86_400, 'SI Brochure table 8: day'],
  Ah: [3.6e3, 'NIST SP 811: ampere hour, exact'],
  Wh: [3.6e3, 'NIST SP 811: watt hour, exact'],
  kWh: [3.6e6, 'NIST SP 811: kilowatt hour, exact'],
  Btu: [1.055056e3, 'NIST SP 811: British thermal unit (IT)'],
  'Btu/h': [2.930711e-1, 'NIST SP 811: British thermal unit (IT) per hour'],
  kcal: [4.184e3, 'NIST SP 811: kilocalorie (th), exact'],
  hp: [7.456999e2, 'NIST SP 811: horsepower (550 ft lbf/s)'],
  bar: [1e5, 'NIST SP 811: bar, exact'],
  mbar: [1e2, 'NIST SP 811: millibar, exact'],
  psi: [6.894757e3, 'NIST SP 811: psi'],
  'km/h': [2.777778e-1, 'NIST SP 811: kilometer per hour'],
  mph: [4.4704e-1, 'NIST SP 811: mile per hour, exact'],
  knot: [5.144444e-1, 'NIST SP 811: knot'],
  '°': [1.745329e-2, 'NIST SP 811: degree (angle)'],
  'Δ°F': [5.555556e-1, 'NIST SP 811: degree Fahrenheit, as an interval, in kelvins'],
  'Wh/m²': [3.6e3, 'from the watt hour'],
};

describe('factors as printed', () => {
  test.each(Object.entries(printed))('of %s: %o', (symbol, [factor]) => {
    expect(unit(symbol).factor.toPrecision(7)).toBe(factor.toPrecision(7));
  });
});

describe('prefixes', () => {
  /** SI Brochure, 9th ed., table 7. */
  const powersOfTen = { G: 9, M: 6, k: 3, h: 2, c: -2, m: -3, µ: -6, n: -9 } as const;

  test('are those of the SI Brochure', () => {
    expect(Object.keys(prefixFactors).sort()).toEqual(Object.keys(powersOfTen).sort());
  });

  const prefixed = unitRows.flatMap((row) =>
    (row.prefixes ?? []).map((prefix) => [prefix, row] as const),
  );

  test.each(prefixed.map(([prefix, row]) => [prefix + row.symbol, prefix, row.symbol] as const))(
    'of %s: %s times %s',
    (symbol, prefix, base) => {
      const expected = Number(`${unit(base).factor}e${powersOfTen[prefix]}`);
      expect(unit(symbol).factor / expected).toBeCloseTo(1, 15);
      expect(unit(symbol).dimension).toBe(unit(base).dimension);
    },
  );
});

/** Symbol, how mathjs and js-quantities spell it and its SI unit (absent: it has no such unit). */
interface Spelling {
  readonly mathjs?: readonly [string, string];
  readonly quantities?: readonly [string, string];
}

const spellings: Readonly<Record<string, Spelling>> = {
  m: { mathjs: ['m', 'm'], quantities: ['m', 'm'] },
  in: { mathjs: ['inch', 'm'], quantities: ['in', 'm'] },
  ft: { mathjs: ['ft', 'm'], quantities: ['ft', 'm'] },
  yd: { mathjs: ['yd', 'm'], quantities: ['yd', 'm'] },
  mi: { mathjs: ['mi', 'm'], quantities: ['mi', 'm'] },
  nmi: { quantities: ['nmi', 'm'] },
  L: { mathjs: ['L', 'm^3'], quantities: ['L', 'm3'] },
  gal: { quantities: ['gal', 'm3'] },
  g: { mathjs: ['g', 'kg'], quantities: ['g', 'kg'] },
  t: { mathjs: ['tonne', 'kg'], quantities: ['tonne', 'kg'] },
  lb: { mathjs: ['lbm', 'kg'], quantities: ['lb', 'kg'] },
  oz: { mathjs: ['oz', 'kg'], quantities: ['oz', 'kg'] },
  s: { mathjs: ['s', 's'], quantities: ['s', 's'] },
  min: { mathjs: ['minute', 's'], quantities: ['min', 's'] },
  h: { mathjs: ['h', 's'], quantities: ['h', 's'] },
  d: { mathjs: ['day', 's'], quantities: ['d', 's'] },
  A: { mathjs: ['A', 'A'], quantities: ['A', 'A'] },
  Ah: { mathjs: ['A h', 'C'], quantities: ['Ah', 'C'] },
  V: { mathjs: ['V', 'W/A'], quantities: ['V', 'W/A'] },
  W: { mathjs: ['W', 'J/s'], quantities: ['W', 'J/s'] },
  Wh: { mathjs: ['Wh', 'J'], quantities: ['Wh', 'J'] },
  J: { mathjs: ['J', 'kg m^2 / s^2'], quantities: ['J', 'kg*m2/s2'] },
  Btu: { mathjs: ['BTU', 'J'], quantities: ['btu', 'J'] },
  kcal: { quantities: ['kcal', 'J'] },
  hp: { mathjs: ['hp', 'W'], quantities: ['hp', 'W'] },
  Ω: { mathjs: ['ohm', 'V/A'], quantities: ['Ohm', 'V/A'] },
  Hz: { mathjs: ['Hz', 's^-1'], quantities: ['Hz', '1/s'] },
  Pa: { mathjs: ['Pa', 'N/m^2'], quantities: ['Pa', 'N/m2'] },
  bar: { mathjs: ['bar', 'Pa'], quantities: ['bar', 'Pa'] },
  psi: { mathjs: ['psi', 'Pa'], quantities: ['psi', 'Pa'] },
  N: { mathjs: ['N', 'kg m / s^2'], quantities: ['N', 'kg*m/s2'] },
  mph: { mathjs: ['mi/h', 'm/s'], quantities: ['mph', 'm/s'] },
  knot: { quantities: ['kt', 'm/s'] },
  rad: { mathjs: ['rad', 'rad'], quantities: ['rad', 'rad'] },
  '°': { mathjs: ['deg', 'rad'], quantities: ['deg', 'rad'] },
  K: { mathjs: ['K', 'K'], quantities: ['tempK', 'tempK'] },
};

/**
 * Wanted agreement, relative: the libraries round psi, Btu, hp and oz to 6 to 11 digits. Where the
 * table asks mathjs for a size, its line shows only that the reduced class agrees with all of mathjs;
 * the printed tables and js-quantities are then the authority.
 */
const wanted = 1e-6;

describe('mathjs agrees', () => {
  test.each(
    Object.entries(spellings).flatMap(([symbol, { mathjs }]) =>
      mathjs === undefined ? [] : [[symbol, ...mathjs] as const],
    ),
  )('on %s (%s in %s)', (symbol, name, base) => {
    const theirs = mathUnit(1, name).toNumber(base);
    expect(Math.abs(unit(symbol).factor / theirs - 1)).toBeLessThanOrEqual(wanted);
  });
});

describe('js-quantities agrees', () => {
  test.each(
    Object.entries(spellings).flatMap(([symbol, { quantities }]) =>
      quantities === undefined ? [] : [[symbol, ...quantities] as const],
    ),
  )('on %s (%s in %s)', (symbol, name, base) => {
    const theirs = quantity(1, name).to(base).scalar;
    expect(Math.abs(unit(symbol).factor / theirs - 1)).toBeLessThanOrEqual(wanted);
  });
});

describe('temperatures agree with mathjs', () => {
  test.each([-40, 0, 14, 32, 68, 104.5, 212])('at %d °F', (reading) => {
    const celsius = mathUnit(reading, 'degF').toNumber('degC');
    expect(toStored(reading, unit('°F'))).toBeCloseTo(celsius, 9);
    expect(fromStored(celsius, unit('°F'))).toBeCloseTo(reading, 9);
  });
});

interface ReferenceCase {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: {
    readonly value: number;
    readonly from_unit: string;
    readonly to_unit: string;
  };
  readonly expected: number;
  readonly tolerance: number;
  readonly tolerance_kind: string;
}

const reference = JSON.parse(
  readFileSync(new URL('../../reference/checks.json', import.meta.url), 'utf8'),
) as { readonly cases: readonly ReferenceCase[] };

/** The reference file's spellings in ours, with a number where it takes more than a symbol. */
const referenceUnits: Readonly<Record<string, readonly (readonly [number, string])[]>> = {
  mile: [[1, 'mi']],
  btu_IT: [[1, 'Btu']],
  'btu_IT/hour': [[1, 'Btu/h']],
  'W hour': [[1, 'Wh']],
  'kW hour': [[1, 'kWh']],
  'A hour': [[1, 'Ah']],
  // 100 of them: the charge of a battery at its voltage.
  'A hour 12.8 V': [
    [1, 'Ah'],
    [12.8, 'V'],
  ],
  C: [[1, 'A·s']],
  'cal_th/cm^2': [[1e-3, 'kcal/cm²']],
  'J/m^2': [[1, 'J/m²']],
  'W hour/m^2': [[1, 'Wh/m²']],
  'kW hour/m^2': [[1, 'kWh/m²']],
  'MJ/m^2': [[1, 'MJ/m²']],
  // The area of a circle one thousandth of an inch across.
  circularmil: [[(Math.PI / 4) * 1e-6, 'in²']],
};

describe('reference conversions', () => {
  const cases = reference.cases.filter(({ quantity }) => quantity === 'convert_unit');

  test('are 21', () => {
    expect(cases).toHaveLength(21);
  });

  test.each(cases)('$id: $inputs.from_unit → $inputs.to_unit', (sample) => {
    const { value, from_unit, to_unit } = sample.inputs;
    const from = referenceUnits[from_unit] ?? [[1, from_unit] as const];
    const [[amount, to] = [1, ''], ...others] = referenceUnits[to_unit] ?? [[1, to_unit] as const];
    expect(others).toEqual([]);
    const [[first, symbol] = [1, ''], ...factors] = from;
    let stored = toStored(value * first, unit(symbol));
    let dimension: Dimension = unit(symbol).dimension;
    for (const [number, factor] of factors) {
      stored *= toStored(number, unit(factor));
      dimension = multiply(dimension, unit(factor).dimension);
    }
    expect(divide(dimension, unit(to).dimension)).toBe(unit('%').dimension);
    const result = fromStored(stored, unit(to)) / amount;
    expect(sample.tolerance_kind).toBe('rel');
    expect(Math.abs(result - sample.expected)).toBeLessThanOrEqual(
      sample.tolerance * Math.abs(sample.expected),
    );
  });
});

test('every row of the table has a source above, or is a scale with a test of its own', () => {
  const scales = ['°C', '°F', 'dBm', 'AWG', 'times', '°N', '°S', '°E', '°W'];
  // One hundredth, and the unit of a difference of levels by itself.
  const definitions = ['%', 'dB'];
  const unknown = unitRows
    .map(({ symbol }) => symbol)
    .filter((symbol) => !(symbol in printed) && !(symbol in spellings))
    .filter((symbol) => !scales.includes(symbol) && !definitions.includes(symbol));
  expect(unknown).toEqual([]);
});
