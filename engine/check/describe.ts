// Kinds and axes in the trade's words, for messages and for the page.

import {
  charge,
  current,
  type Dimension,
  dimensionName,
  energy,
  level,
  plain,
  temperature,
  time,
  wattage,
} from '../dimension/dimension.ts';
import { preferredUnit } from '../dimension/unit.ts';
import type { Axis, QuantityType, Type } from './type.ts';

/** `a power (W)`, `a temperature (°C)`, `yes or no`. */
export function describeKind(type: Type): string {
  switch (type.kind) {
    case 'quantity':
      if (type.stance === 'moment') return 'a moment';
      if (type.stance === 'temperature') return 'a temperature (°C)';
      if (type.stance === 'level') return 'a level (dBm)';
      return describeDimension(type.dimension, type.unit?.symbol);
    case 'truth':
      return 'yes or no';
    case 'text':
      return 'a text';
    case 'time of day':
      return 'a time of day';
    case 'span':
      return type.of.kind === 'time of day'
        ? 'a span of hours'
        : `a span of ${describeKind(type.of).replace(/^an? /, '')}`;
    case 'record':
      return `a record (${type.sort})`;
    case 'window':
      return 'a sky window';
    case 'table':
      return 'a table';
    case 'nothing':
      return 'nothing';
  }
}

export function describeDimension(dimension: Dimension, unit?: string): string {
  if (dimension === plain) return unit === '%' ? 'a share (%)' : 'a plain number';
  if (dimension === temperature) return 'a difference of temperature (K)';
  if (dimension === level) return 'a difference of level (dB)';
  const symbol = unit ?? preferredUnit(dimension, []).symbol;
  const name = dimensionName(dimension);
  if (name === symbol || !/^[a-z]/.test(name)) return `an amount in ${symbol}`;
  const article = /^(a|an) /.test(name) ? '' : /^[aeiou]/.test(name) ? 'an ' : 'a ';
  return `${article}${name} (${symbol})`;
}

export function describeAxes(axes: readonly Axis[]): string {
  return axes.map((axis) => axis.name).join(' and ');
}

/** `a power, along clock`. */
export function describeType(type: Type): string {
  const kind = describeKind(type);
  return type.axes.length === 0 ? kind : `${kind}, along ${describeAxes(type.axes)}`;
}

/** One side of a sum or a comparison: what it is, how it is written, whether it is a series. */
export interface Side {
  readonly type: QuantityType;
  readonly text: string;
}

/** What to do when two dimensions meet that cannot be added or compared. */
export function remedyFor(a: Side, b: Side): string {
  const pair = (p: Dimension, q: Dimension): readonly [Side, Side] | undefined =>
    a.type.dimension === p && b.type.dimension === q
      ? [a, b]
      : b.type.dimension === p && a.type.dimension === q
        ? [b, a]
        : undefined;
  const [power] = pair(wattage, energy) ?? [];
  if (power) {
    const summed = power.type.axes.some((axis) => axis.kind === 'timeline');
    return ` Multiply the power by a time first${summed ? `, or use energy(${power.text})` : ''}.`;
  }
  const [stored] = pair(charge, energy) ?? [];
  if (stored)
    return ` Multiply the charge by the battery's voltage first: ${stored.text} × 12.8 V.`;
  const [flowing] = pair(current, wattage) ?? [];
  if (flowing) return ` Multiply the current by its voltage first: ${flowing.text} × 12 V.`;
  const [drawn] = pair(current, charge) ?? [];
  if (drawn) return ' Multiply the current by a time first.';
  const plainSide = a.type.dimension === plain ? a : b.type.dimension === plain ? b : undefined;
  if (plainSide) {
    const other = plainSide === a ? b : a;
    if (plainSide.type.unit?.symbol !== '%') return ' Give the plain number a unit.';
    return other.type.stance === 'plain'
      ? ` Percent of what? A share of it is ${other.text} × ${plainSide.text}.`
      : ' Percent of what? A share is taken of an amount, by ×.';
  }
  if (a.type.dimension === time || b.type.dimension === time) return ' One of the two is a time.';
  return '';
}
