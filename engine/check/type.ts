// What is known of a value before it is computed: its kind, its dimension, whether it is a point on
// a scale, along which axes it runs. A running value is bare numbers; `componentCount` says how many
// of them a type needs (a span two, a record those of its fields).

import { type Dimension, plain, time } from '../dimension/dimension.ts';
import type { Unit } from '../dimension/unit.ts';
import type { Stance } from '../library/signature.ts';

export type AxisKind = 'timeline' | 'days' | 'rows' | 'steps';

/** What the places of an axis are: its coordinate. */
export type Coordinate =
  | {
      readonly kind: 'quantity';
      readonly dimension: Dimension;
      readonly stance: Stance;
      readonly unit?: Unit;
    }
  | { readonly kind: 'text' }
  | { readonly kind: 'time of day' };

/** An axis is known by what made it; two axes are the same only if they are the same object. */
export interface Axis {
  readonly id: number;
  readonly kind: AxisKind;
  /** For messages: `clock`, `the rows of loads`. */
  readonly name: string;
  coordinate: Coordinate;
  /** The timeline whose days these are. */
  readonly of?: Axis;
  /** Node whose value lists the places (the timeline's cell, a table's first column), −1 if none. */
  node: number;
}

interface Along {
  readonly axes: readonly Axis[];
  /** Some places may be absent. */
  readonly optional: boolean;
}

export interface QuantityType extends Along {
  readonly kind: 'quantity';
  readonly dimension: Dimension;
  readonly stance: Stance;
  /** On a timeline: the average over a step, or the value at its end. */
  readonly flow: 'rate' | 'state';
  /** The unit it is shown in, when the formula says one. */
  readonly unit?: Unit;
  /** Set on the value of a `timeline(…)` call itself, which has parts. */
  readonly timeline?: Axis;
}
export interface TruthType extends Along {
  readonly kind: 'truth';
  readonly flow: 'rate' | 'state';
}
export interface TextType extends Along {
  readonly kind: 'text';
}
export interface TimeOfDayType extends Along {
  readonly kind: 'time of day';
}
export interface SpanType extends Along {
  readonly kind: 'span';
  readonly of: QuantityType | TimeOfDayType;
}
export interface Field {
  readonly name: string;
  readonly type: Type;
}
export interface RecordType extends Along {
  readonly kind: 'record';
  readonly sort: string;
  readonly fields: readonly Field[];
}
/** An outline of the sky; one component, the packed outline. */
export interface WindowType extends Along {
  readonly kind: 'window';
}
export interface TableType extends Along {
  readonly kind: 'table';
  readonly key: string;
  readonly rows: Axis;
}
/** The literal `none`. */
export interface NothingType extends Along {
  readonly kind: 'nothing';
}

export type Type =
  | QuantityType
  | TruthType
  | TextType
  | TimeOfDayType
  | SpanType
  | RecordType
  | WindowType
  | TableType
  | NothingType;

export const NO_AXES: readonly Axis[] = [];
const NO_OPTIONS = {};

export function quantity(
  dimension: Dimension,
  options: Partial<Omit<QuantityType, 'kind' | 'dimension'>> = NO_OPTIONS,
): QuantityType {
  const { stance = 'plain', axes = NO_AXES, optional = false, flow = 'rate' } = options;
  const { unit, timeline } = options;
  if (!timeline) return quantityAlong(dimension, stance, axes, optional, flow, unit);
  return unit
    ? { kind: 'quantity', dimension, stance, axes, optional, flow, unit, timeline }
    : { kind: 'quantity', dimension, stance, axes, optional, flow, timeline };
}

/** Types of single amounts: one for all in a unit, one for all of a dimension that have none. */
const inUnits = new WeakMap<Unit, QuantityType>();
const ofDimensions = new WeakMap<Dimension, QuantityType>();

/** A quantity that is no timeline. */
export function quantityAlong(
  dimension: Dimension,
  stance: Stance,
  axes: readonly Axis[],
  optional: boolean,
  flow: 'rate' | 'state',
  unit: Unit | undefined,
): QuantityType {
  const isSingle = axes.length === 0 && !optional && flow === 'rate';
  if (isSingle) {
    const known = unit ? inUnits.get(unit) : ofDimensions.get(dimension);
    if (known?.dimension === dimension && known.stance === stance) return known;
  }
  // Written out: an object put together of parts takes several times as long.
  const made: QuantityType = unit
    ? { kind: 'quantity', dimension, stance, axes, optional, flow, unit }
    : { kind: 'quantity', dimension, stance, axes, optional, flow };
  if (!isSingle) return made;
  if (unit) inUnits.set(unit, made);
  else ofDimensions.set(dimension, made);
  return made;
}

export const plainNumber: QuantityType = quantity(plain);
export const momentType: QuantityType = quantity(time, { stance: 'moment' });

export function truth(
  axes: readonly Axis[],
  optional: boolean,
  flow: 'rate' | 'state' = 'rate',
): TruthType {
  return { kind: 'truth', axes, optional, flow };
}

export function textType(axes: readonly Axis[] = NO_AXES, optional = false): TextType {
  return { kind: 'text', axes, optional };
}

export function timeOfDayType(axes: readonly Axis[] = NO_AXES, optional = false): TimeOfDayType {
  return { kind: 'time of day', axes, optional };
}

/** The same type along other axes. */
export function along<T extends Type>(
  type: T,
  axes: readonly Axis[],
  optional: boolean = type.optional,
): T {
  if (type.kind === 'record')
    return {
      ...type,
      axes,
      optional,
      fields: type.fields.map((f) => ({ name: f.name, type: along(f.type, axes, optional) })),
    };
  if (type.kind === 'span') return { ...type, axes, optional, of: { ...type.of, axes, optional } };
  if (type.kind === 'quantity') {
    const { dimension, stance, flow, unit } = type;
    return quantityAlong(dimension, stance, axes, optional, flow, unit) as unknown as T;
  }
  return { ...type, axes, optional };
}

export function scalarOf<T extends Type>(type: T): T {
  return along(type, NO_AXES);
}

export function componentCount(type: Type): number {
  switch (type.kind) {
    case 'span':
      return 2;
    case 'record':
      return type.fields.reduce((n, f) => n + componentCount(f.type), 0);
    case 'table':
    case 'nothing':
      return 0;
    default:
      return 1;
  }
}

/** Kinds whose values lie on a straight line between two places; all others hold. */
export function runsStraight(type: Type): boolean {
  return type.kind === 'quantity';
}

export function sameAxes(a: readonly Axis[], b: readonly Axis[]): boolean {
  return a.length === b.length && a.every((axis, i) => axis === b[i]);
}
