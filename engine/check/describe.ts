// Kinds and axes in the trade's words, for messages and for the page.

import {
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
import type { Axis, Type } from './type.ts';

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

/** What to do when two dimensions meet that cannot be added. */
export function remedyFor(a: Dimension, b: Dimension, aText: string, bText: string): string {
  const [p, e] =
    a === wattage && b === energy
      ? [aText, bText]
      : b === wattage && a === energy
        ? [bText, aText]
        : ['', ''];
  if (p !== '' && e !== '') return ` Multiply the power by a time first, or use energy(${p}).`;
  if (a === plain || b === plain) return ' Give the plain number a unit.';
  if (a === time || b === time) return ' One of the two is a time.';
  return '';
}
