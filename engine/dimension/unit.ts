/*
 * Units: what a person writes after a number, and how the number becomes the bare one that the
 * engine computes with. A stored value is in SI units and radians, with three exceptions: a
 * temperature on a scale is stored as its number in °C, a level as its number in dBm, and a gauge as
 * its cross-section in m². Simple units come from the table in unit-table.ts, with their sizes
 * from mathjs, which enters the program here and is done when the table stands; compound units are
 * put together from simple ones. Each spelling is read once.
 */

import { createUnitClass } from 'mathjs';
import {
  coherentSymbol,
  type Dimension,
  dimensionName,
  exponentText,
  hasName,
  multiply,
  plain,
  power,
} from './dimension.ts';
import { areaOfGauge, gaugeOfArea } from './gauge.ts';
import { type UnitChoice, unitChoices } from './unit-choices.ts';
import { explanations, respellings } from './unit-mistakes.ts';
import {
  type MathjsSize,
  prefixFactors,
  type UnitRow,
  type UnitScale,
  unitRows,
} from './unit-table.ts';

export type { UnitScale };

export interface Unit {
  /** As the formatter and the page write it. Empty for plain numbers. */
  readonly symbol: string;
  readonly dimension: Dimension;
  /** SI units in one of this; of a temperature scale, kelvins in one degree. Negative for °S, °W. */
  readonly factor: number;
  /** Reading of a temperature scale at the stored value 0: 32 for °F, else 0. */
  readonly zero: number;
  /** Whether values are points (°C, °F, dBm) and not amounts. */
  readonly isPoint: boolean;
  readonly scale?: UnitScale;
}

/** The unit of plain numbers, which has no symbol. */
export const plainUnit: Unit = Object.freeze({
  symbol: '',
  dimension: plain,
  factor: 1,
  zero: 0,
  isPoint: false,
});

/** The bare number the engine keeps for `value` of a unit. */
export function toStored(value: number, unit: Unit): number {
  if (unit.scale === 'gauge') return areaOfGauge(value);
  const inverse = wholeInverse(unit.factor);
  const amount = value - unit.zero;
  return inverse === undefined ? amount * unit.factor : amount / inverse;
}

/** The number to write before a unit for a bare number of the engine. */
export function fromStored(stored: number, unit: Unit): number {
  if (unit.scale === 'gauge') return gaugeOfArea(stored);
  const inverse = wholeInverse(unit.factor);
  const amount = inverse === undefined ? stored / unit.factor : stored * inverse;
  return amount + unit.zero;
}

/** 100 for 0.01: to divide by it is exact to the last digit, so that 35 % is 0.35. */
function wholeInverse(factor: number): number | undefined {
  const inverse = Math.round(1 / factor);
  return Math.abs(factor) < 1 && 1 / inverse === factor ? inverse : undefined;
}

declare module 'mathjs' {
  /** Missing from the package's own types: its unit class, given the arithmetic to use. */
  export const createUnitClass: (
    arithmetic: Readonly<Record<string, unknown>>,
  ) => new (
    value: number,
    name: string,
  ) => { toNumber(base: string): number };
}

/** Stands for a class of numbers that never occurs here. */
class NoSuchNumber {}

/**
 * The unit class of mathjs over plain numbers. Given its arithmetic by hand it brings a fifth of the
 * code that `mathjs.unit` does, since that one drags in big numbers, fractions and matrices.
 */
const MathjsUnit = createUnitClass({
  config: { number: 'number', predictable: false },
  addScalar: (a: number, b: number): number => a + b,
  subtractScalar: (a: number, b: number): number => a - b,
  multiplyScalar: (a: number, b: number): number => a * b,
  divideScalar: (a: number, b: number): number => a / b,
  pow: (a: number, b: number): number => a ** b,
  abs: Math.abs,
  fix: Math.trunc,
  round: Math.round,
  equal: (a: number, b: number): boolean => a === b,
  isNumeric: (value: unknown): boolean => typeof value === 'number',
  format: String,
  number: Number,
  Complex: NoSuchNumber,
  BigNumber: NoSuchNumber,
  Fraction: NoSuchNumber,
});

function sizeOf(factor: number | MathjsSize): number {
  if (typeof factor === 'number') return factor;
  return new MathjsUnit(1, factor.mathjs).toNumber(factor.base);
}

interface SimpleUnit extends Unit {
  readonly inCompound?: string;
}

const simpleUnits: ReadonlyMap<string, SimpleUnit> = new Map(unitRows.flatMap(unitsOfRow));

function unitsOfRow(row: UnitRow): readonly (readonly [string, SimpleUnit])[] {
  const size = sizeOf(row.factor);
  const unitWith = (prefix: string, multiple: number): SimpleUnit =>
    Object.freeze({
      symbol: prefix + row.symbol,
      dimension: row.dimension,
      // Divided rather than multiplied by 0.001, whose digits are not exact.
      factor: multiple < 1 ? size / Math.round(1 / multiple) : size * multiple,
      zero: row.zero ?? 0,
      isPoint: row.isPoint ?? false,
      ...(row.scale === undefined ? {} : { scale: row.scale }),
      ...(row.inCompound === undefined ? {} : { inCompound: row.inCompound }),
    });
  return [{ prefix: '', multiple: 1 }]
    .concat((row.prefixes ?? []).map((prefix) => ({ prefix, multiple: prefixFactors[prefix] })))
    .flatMap(({ prefix, multiple }) => {
      const unit = unitWith(prefix, multiple);
      return [row.symbol, ...(row.aliases ?? [])].map((spelling): readonly [string, SimpleUnit] => [
        prefix + spelling,
        unit,
      ]);
    });
}

/** Units already read; bounded, since its keys are what anybody types. */
const found = new Map<string, Unit | undefined>();
const foundLimit = 2000;
const longestUnit = 60;

/** The unit that `text` spells, simple or compound, or undefined when it spells none. */
export function findUnit(text: string): Unit | undefined {
  if (text.length > longestUnit) return undefined;
  const known = found.get(text);
  if (known !== undefined || found.has(text)) return known;
  const unit = simpleUnits.get(text) ?? readUnit(tidy(text));
  if (found.size >= foundLimit) found.clear();
  found.set(text, unit);
  return unit;
}

export function isUnit(text: string): boolean {
  return findUnit(text) !== undefined;
}

/** Whether `text` is a scale of points, before which a sign belongs to the number: `-40 °F`. */
export function isPointUnit(text: string): boolean {
  return findUnit(text)?.isPoint ?? false;
}

/** One spelling for the characters that look alike on keyboards and in tables of symbols. */
function tidy(text: string): string {
  return text
    .replaceAll('℃', '°C')
    .replaceAll('℉', '°F')
    .replace(/[º˚]/g, '°')
    .replace(/\u03bc/g, 'µ')
    .replace(/\u2126/g, 'Ω')
    .replace(/[\u22c5\u2219*]/g, '·')
    .replaceAll('∆', 'Δ')
    .replace(/^u(?=[A-Za-zΩ])/, 'µ')
    .replace(/([·/])u(?=[A-Za-zΩ])/g, '$1µ');
}

function readUnit(text: string): Unit | undefined {
  const simple = simpleUnits.get(text);
  if (simple !== undefined) return simple;
  const pieces = text.split(/([·/])/);
  // What follows `a/b·c` is read two ways, so a product may not come after a stroke.
  if (text.indexOf('/') !== -1 && text.indexOf('/') < text.lastIndexOf('·')) return undefined;
  let symbol = '';
  let dimension = plain;
  let factor = 1;
  for (let place = 0; place < pieces.length; place += 2) {
    const divides = pieces[place - 1] === '/';
    const piece = pieces[place] ?? '';
    if (place === 0 && piece === '1' && pieces[1] === '/') {
      symbol = '1';
      continue;
    }
    const part = readPart(piece);
    if (part === undefined) return undefined;
    const exponent = divides ? -part.exponent : part.exponent;
    const raised = power(part.unit.dimension, exponent);
    if (raised === undefined) return undefined;
    dimension = multiply(dimension, raised);
    factor = divides
      ? factor / part.unit.factor ** part.exponent
      : factor * part.unit.factor ** part.exponent;
    symbol += (pieces[place - 1] ?? '') + part.unit.symbol + exponentText(part.exponent);
  }
  if (!Number.isFinite(factor) || factor === 0) return undefined;
  return Object.freeze({ symbol, dimension, factor: clean(factor), zero: 0, isPoint: false });
}

/** A unit with its exponent, as in `mm²`, `mm^2`, `mm2`, `s⁻¹`, `m^0.5`. */
function readPart(piece: string): { readonly unit: Unit; readonly exponent: number } | undefined {
  const match = /^(.*?)(?:([⁻]?[¹²³⁴⁵⁶⁷⁸⁹])|\^(-?[1-9](?:\.5)?|-?0\.5)|([23]))?$/u.exec(piece);
  const simple = simpleUnits.get(match?.[1] ?? '');
  if (match === null || simple === undefined) return undefined;
  const unit = simple.inCompound === undefined ? simple : simpleUnits.get(simple.inCompound);
  // A level, a gauge and a compass direction are no factors.
  if (unit === undefined || unit.scale !== undefined || isDirection(unit)) return undefined;
  const [, , raised, typed, digit] = match;
  const exponent = raised !== undefined ? lowered(raised) : Number(typed ?? digit ?? 1);
  return { unit, exponent };
}

/** Latitudes and longitudes: °N, °S, °E, °W. */
function isDirection(unit: Unit): boolean {
  return /^°[NSEW]$/.test(unit.symbol);
}

function lowered(raised: string): number {
  return Number(
    [...raised]
      .map((sign) => '⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(sign))
      .join('')
      .replace('-1', '-'),
  );
}

/** A product of factors without noise in its last digit: 1e-6 and not 9.999999999999999e-7. */
function clean(factor: number): number {
  const rounded = Number(factor.toPrecision(12));
  return Math.abs(rounded - factor) <= Math.abs(factor) * 4 * Number.EPSILON ? rounded : factor;
}

/**
 * What to write instead of a spelling that is no unit, in whole sentences; undefined when there is
 * nothing to say, and for what is a unit.
 */
export function unitHint(text: string): string | undefined {
  if (text.length > longestUnit || isUnit(text)) return undefined;
  const tidied = tidy(text.trim());
  const explained = explanations.get(tidied);
  if (explained !== undefined) return explained;
  const instead = respelled(tidied);
  if (instead.length > 0) return `Write ${instead.join(' or ')}.`;
  return compoundHint(tidied);
}

/** The units that a spelling may stand for, by the table of mistakes or by case alone. */
function respelled(text: string): readonly string[] {
  const lower = text.toLowerCase().replace(/[\s.]+/g, ' ');
  const known =
    respellings.get(lower) ??
    respellings.get(lower.replaceAll(' ', '-')) ??
    respellings.get(lower.replaceAll(' ', ''));
  if (known !== undefined) return [known];
  const sameLetters = [...simpleUnits]
    .filter(([spelling]) => spelling.toLowerCase() === lower)
    .map(([, unit]) => unit.symbol);
  return [...new Set(sameLetters)];
}

function compoundHint(text: string): string | undefined {
  if (/\/.*·/.test(text)) {
    const strokes = text.replaceAll('·', '/');
    if (isUnit(strokes)) {
      return `What follows a / and a · is read two ways. Write ${findUnit(strokes)?.symbol} when both divide.`;
    }
  }
  const pieces = text.replace(/\s+per\s+/g, '/').split(/([·/])/);
  if (pieces.length < 3) return undefined;
  const mended = pieces.map((piece, place) => {
    if (place % 2 === 1 || isUnit(piece)) return piece;
    if (pieces[place - 1] === '/' && piece === 'C') return 'K';
    if (pieces[place - 1] === '/' && piece === 'F') return 'Δ°F';
    const options = respelled(piece.trim());
    return options.length === 1 ? (options[0] ?? '') : piece;
  });
  const unit = findUnit(mended.join(''));
  return unit === undefined ? undefined : `Write ${unit.symbol}.`;
}

const choiceOf: ReadonlyMap<Dimension, UnitChoice> = new Map(
  unitChoices.map((choice) => [choice.dimension, choice]),
);

/** A unit of factor 1 for any dimension. */
export function coherentUnit(dimension: Dimension): Unit {
  const symbol = coherentSymbol(dimension);
  return (
    findUnit(symbol) ?? Object.freeze({ symbol, dimension, factor: 1, zero: 0, isPoint: false })
  );
}

/**
 * A unit for the inverse of a dimension that has one: `1/W` for what is counted a watt, `m²/W` where the
 * other way round it is `W/m²`.
 */
function inverseUnit(dimension: Dimension): Unit | undefined {
  const other = power(dimension, -1);
  const usual = other && choiceOf.get(other)?.usual;
  if (usual === undefined || usual.includes('·')) return undefined;
  const [above = '', below, ...more] = usual.split('/');
  if (more.length > 0) return undefined;
  return findUnit(below === undefined ? `1/${above}` : `${below}/${above}`);
}

/**
 * The units to offer for a dimension, in the order of a menu; for plain numbers none, then %. With
 * `point`, only scales (true) or only amounts (false): a difference in K cannot be shown in °C.
 */
export function unitsOf(dimension: Dimension, point?: boolean): readonly Unit[] {
  if (dimension === plain) return [plainUnit, ...known(['%'])];
  const choice = choiceOf.get(dimension);
  const units =
    choice === undefined ? [inverseUnit(dimension) ?? coherentUnit(dimension)] : known(choice.menu);
  return point === undefined ? units : units.filter((unit) => unit.isPoint === point);
}

function known(symbols: readonly string[]): readonly Unit[] {
  return symbols.flatMap((symbol) => findUnit(symbol) ?? []);
}

export interface PreferredUnitOptions {
  /** Whether the value is a point (a temperature on a scale, a level). */
  readonly point?: boolean;
  /** Whether a plain number is a share, shown in %. */
  readonly share?: boolean;
  /** The largest size to be shown, in SI units; decides between mm² and m², min and d. */
  readonly size?: number;
}

/**
 * The unit in which to show a dimension unless a cell says otherwise. `preferences` are the words of
 * the header line `units:`: `metric`, `imperial` (or `us`), or a unit to be used for whatever it fits.
 */
export function preferredUnit(
  dimension: Dimension,
  preferences: readonly string[] = [],
  options: PreferredUnitOptions = {},
): Unit {
  const wanted = preferences.flatMap((word) =>
    isImperial([word]) ? [] : (findUnit(word.trim()) ?? []),
  );
  if (options.point === true) {
    const scale = wanted.find((unit) => unit.isPoint && unit.dimension === dimension);
    const usual = unitsOf(dimension, true);
    return scale ?? usual[isImperial(preferences) ? 1 : 0] ?? usual[0] ?? coherentUnit(dimension);
  }
  if (dimension === plain) {
    return options.share === true ? (findUnit('%') ?? plainUnit) : plainUnit;
  }
  const choice = choiceOf.get(dimension);
  const chosen = wanted
    .flatMap((unit) => asAmount(unit, options.size))
    .find((unit) => unit.dimension === dimension);
  if (chosen !== undefined) return chosen;
  if (choice === undefined) return inverseUnit(dimension) ?? coherentUnit(dimension);
  const set = isImperial(preferences) ? (choice.imperial ?? choice) : choice;
  return findUnit(symbolForSize(set, options.size)) ?? coherentUnit(dimension);
}

/** Areas from here on (1000 mm², in m²) are no wire's, and not shown as a gauge. */
const thickestWire = 1e-3;

/** A preferred °F also settles how differences are shown: in Δ°F; a preferred AWG is for wires. */
function asAmount(unit: Unit, size = Number.POSITIVE_INFINITY): readonly Unit[] {
  if (isDirection(unit) || (unit.scale === 'gauge' && !(size < thickestWire))) return [];
  if (!unit.isPoint) return [unit];
  const inCompound = simpleUnits.get(unit.symbol)?.inCompound;
  return inCompound === undefined ? [] : known([inCompound]);
}

function symbolForSize(choice: Pick<UnitChoice, 'usual' | 'steps'>, size?: number): string {
  if (size === undefined || !(Math.abs(size) > 0)) return choice.usual;
  const fits = (choice.steps ?? []).filter(([from]) => Math.abs(size) >= from);
  return fits.at(-1)?.[1] ?? choice.usual;
}

/** "us" is what Americans write, and not the microsecond that it spells. */
function isImperial(preferences: readonly string[]): boolean {
  return preferences.some((word) => /^\s*(?:imperial|us)\s*$/iu.test(word));
}

/** A dimension with its unit for a message: `power (W)`, `energy (Wh)`, `a plain number`. */
export function dimensionPhrase(dimension: Dimension, preferences: readonly string[] = []): string {
  const name = dimensionName(dimension);
  if (dimension === plain || !hasName(dimension) || name.includes('(')) return name;
  return `${name} (${preferredUnit(dimension, preferences).symbol})`;
}
