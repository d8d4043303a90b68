/*
 * The simple units a notebook may use, as data: symbol, dimension, size, prefixes, other spellings.
 * Sizes are in SI units: those of common units are asked of mathjs by name, those that it lacks, or
 * holds with rounded digits (psi, hp), are written here from their definitions.
 * Sources: SI Brochure, 9th ed. (2019), tables 4, 7 and 8; NIST SP 811 (2008), appendix B.
 *
 * Left out on purpose: coulomb and farad, for a hurried `25 C` must not be a charge and `0.2 C` is a
 * charge rate to the trade; siemens, tesla, gauss, henry, candela, and words such as `day` or `hr`.
 */

import {
  angle,
  area,
  charge,
  current,
  type Dimension,
  energy,
  force,
  frequency,
  length,
  level,
  mass,
  plain,
  pressure,
  resistance,
  speed,
  temperature,
  time,
  voltage,
  volume,
  wattage,
} from './dimension.ts';

/**
 * A unit whose values are more than a multiple: readings of a thermometer, levels against 1 mW, wire
 * gauges, and `times`, which is only asked for after `as` and shows a dB value as a factor.
 */
export type UnitScale = 'temperature' | 'level' | 'gauge' | 'times';

/** A size that mathjs knows: its name there, and the SI unit in which it is wanted. */
export interface MathjsSize {
  readonly mathjs: string;
  readonly base: string;
}

/** One unit, and with `prefixes` its multiples: `['k', 'm']` on `W` makes `kW` and `mW`. */
export interface UnitRow {
  readonly symbol: string;
  readonly dimension: Dimension;
  /** SI units in one of this; for a scale, in one of its steps. */
  readonly factor: number | MathjsSize;
  readonly prefixes?: readonly Prefix[];
  /** Other spellings that are read, but never written. */
  readonly aliases?: readonly string[];
  readonly scale?: UnitScale;
  readonly isPoint?: boolean;
  /** Reading of a point scale at the stored value 0: 32 for °F. */
  readonly zero?: number;
  /** What a degree means inside a compound unit: the symbol of the difference. */
  readonly inCompound?: string;
}

export const prefixFactors = {
  G: 1e9,
  M: 1e6,
  k: 1e3,
  h: 1e2,
  c: 1e-2,
  m: 1e-3,
  µ: 1e-6,
  n: 1e-9,
} as const;

export type Prefix = keyof typeof prefixFactors;

/** A foot in m, a pound in kg, and standard gravity in m/s², all exact. */
const foot = 0.3048;
const pound = 0.45359237;
const gravity = 9.80665;

const degree = Math.PI / 180;

export const unitRows: readonly UnitRow[] = [
  { symbol: 'm', dimension: length, factor: 1, prefixes: ['k', 'c', 'm', 'µ', 'n'] },
  { symbol: 'in', dimension: length, factor: { mathjs: 'inch', base: 'm' } },
  { symbol: 'ft', dimension: length, factor: { mathjs: 'foot', base: 'm' } },
  { symbol: 'yd', dimension: length, factor: { mathjs: 'yard', base: 'm' } },
  { symbol: 'mi', dimension: length, factor: { mathjs: 'mile', base: 'm' } },
  { symbol: 'nmi', dimension: length, factor: 1852 },

  { symbol: 'L', dimension: volume, factor: { mathjs: 'litre', base: 'm^3' }, prefixes: ['m'] },
  // The US liquid gallon, 231 in³.
  { symbol: 'gal', dimension: volume, factor: { mathjs: 'gallon', base: 'm^3' } },

  {
    symbol: 'g',
    dimension: mass,
    factor: { mathjs: 'gram', base: 'kg' },
    prefixes: ['k', 'm', 'µ'],
  },
  { symbol: 't', dimension: mass, factor: { mathjs: 'tonne', base: 'kg' } },
  { symbol: 'lb', dimension: mass, factor: { mathjs: 'lbm', base: 'kg' } },
  { symbol: 'oz', dimension: mass, factor: { mathjs: 'oz', base: 'kg' } },

  { symbol: 's', dimension: time, factor: 1, prefixes: ['m', 'µ', 'n'] },
  { symbol: 'min', dimension: time, factor: { mathjs: 'minute', base: 's' } },
  { symbol: 'h', dimension: time, factor: { mathjs: 'hour', base: 's' } },
  { symbol: 'd', dimension: time, factor: { mathjs: 'day', base: 's' } },

  { symbol: 'A', dimension: current, factor: 1, prefixes: ['k', 'm', 'µ', 'n'] },
  { symbol: 'Ah', dimension: charge, factor: 3600, prefixes: ['m'] },
  { symbol: 'V', dimension: voltage, factor: 1, prefixes: ['k', 'm', 'µ', 'n'] },
  { symbol: 'W', dimension: wattage, factor: 1, prefixes: ['G', 'M', 'k', 'm', 'µ', 'n'] },
  {
    symbol: 'Wh',
    dimension: energy,
    factor: { mathjs: 'Wh', base: 'J' },
    prefixes: ['G', 'M', 'k', 'm'],
  },
  { symbol: 'J', dimension: energy, factor: 1, prefixes: ['G', 'M', 'k', 'm'] },
  // International Table Btu; the kilocalorie is the thermochemical one.
  { symbol: 'Btu', dimension: energy, factor: { mathjs: 'BTU', base: 'J' } },
  { symbol: 'kcal', dimension: energy, factor: 4184 },
  // Mechanical horsepower, 550 ft·lbf/s.
  { symbol: 'hp', dimension: wattage, factor: 550 * foot * pound * gravity },
  {
    symbol: 'Ω',
    dimension: resistance,
    factor: 1,
    prefixes: ['M', 'k', 'm', 'µ'],
    aliases: ['ohm'],
  },
  { symbol: 'Hz', dimension: frequency, factor: 1, prefixes: ['G', 'M', 'k'] },

  { symbol: 'Pa', dimension: pressure, factor: 1, prefixes: ['M', 'k', 'h'] },
  { symbol: 'bar', dimension: pressure, factor: { mathjs: 'bar', base: 'Pa' }, prefixes: ['m'] },
  // lbf/in²
  { symbol: 'psi', dimension: pressure, factor: (pound * gravity) / (0.0254 * 0.0254) },
  { symbol: 'N', dimension: force, factor: 1, prefixes: ['k', 'm'] },
  { symbol: 'mph', dimension: speed, factor: 1609.344 / 3600 },
  { symbol: 'knot', dimension: speed, factor: 1852 / 3600 },

  { symbol: 'rad', dimension: angle, factor: 1, prefixes: ['m'] },
  { symbol: '°', dimension: angle, factor: { mathjs: 'deg', base: 'rad' }, aliases: ['deg'] },
  // Latitude counts from the equator to the north, longitude from Greenwich to the east.
  { symbol: '°N', dimension: angle, factor: degree, aliases: ['degN'] },
  { symbol: '°S', dimension: angle, factor: -degree, aliases: ['degS'] },
  { symbol: '°E', dimension: angle, factor: degree, aliases: ['degE'] },
  { symbol: '°W', dimension: angle, factor: -degree, aliases: ['degW'] },

  { symbol: 'K', dimension: temperature, factor: 1, prefixes: ['m'] },
  { symbol: 'Δ°F', dimension: temperature, factor: 1 / 1.8, aliases: ['ddegF'] },
  // A temperature on a scale is stored as its number in °C.
  {
    symbol: '°C',
    dimension: temperature,
    factor: 1,
    aliases: ['degC'],
    scale: 'temperature',
    isPoint: true,
    inCompound: 'K',
  },
  {
    symbol: '°F',
    dimension: temperature,
    factor: 1 / 1.8,
    aliases: ['degF'],
    scale: 'temperature',
    isPoint: true,
    zero: 32,
    inCompound: 'Δ°F',
  },

  { symbol: '%', dimension: plain, factor: 0.01 },
  { symbol: 'times', dimension: plain, factor: 1, scale: 'times' },
  { symbol: 'dB', dimension: level, factor: 1 },
  // A level is stored as its number in dBm, 10 · log10(P / 1 mW).
  { symbol: 'dBm', dimension: level, factor: 1, scale: 'level', isPoint: true },
  // A wire is stored as its cross-section; the scale is in gauge.ts.
  { symbol: 'AWG', dimension: area, factor: 1, scale: 'gauge' },
];
