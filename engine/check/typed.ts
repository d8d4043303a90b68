// A formula after checking: every name looked up, every operation of one known sort on operands of
// known type, units gone (amounts are SI numbers). The compiler turns this into instructions.

import type { LibraryFunction } from '../library/signature.ts';
import type { Axis, Type } from './type.ts';

export type UnaryOp = 'neg' | 'not' | 'abs' | 'sqrt';
export type BinaryOp =
  | 'add'
  | 'sub'
  | 'mul'
  | 'div'
  | 'pow'
  | 'lt'
  | 'le'
  | 'eq'
  | 'ge'
  | 'gt'
  | 'ne'
  | 'and'
  | 'or'
  | 'min'
  | 'max'
  | 'round'
  | 'round up'
  | 'round down'
  /** time of day + time, wraps at midnight. */
  | 'clock add'
  /** time of day − time of day, forward round the clock. */
  | 'clock sub'
  /** text = text, exact. */
  | 'same'
  | 'differs';
export type MapOp =
  /** time of day, start, end → truth; half open, may pass midnight. */
  | 'within hours'
  /** moment, start, end (times of day) → truth, every day. */
  | 'moment within hours'
  /** x, low, high → truth, both ends in. */
  | 'within'
  /** x, low, high → truth, upper end out. */
  | 'within open'
  /** start, end (times of day) → length, 0..24 h. */
  | 'hours length'
  | 'dBm of W'
  | 'W of dBm'
  | 'dB of share'
  | 'share of dB'
  /** moment, start of the timeline → trip day. */
  | 'trip day';

export type ReduceOp =
  | 'sum'
  | 'mean'
  | 'lowest'
  | 'highest'
  | 'at lowest'
  | 'at highest'
  | 'first'
  | 'last'
  | 'count'
  | 'energy'
  | 'time while'
  | 'first moment';
export type DailyOp = 'daily energy' | 'daily lowest' | 'daily highest' | 'daily mean';

export interface TypedOverride {
  /** Node whose value is replaced. */
  readonly node: number;
  /** One entry of a column: the row. */
  readonly row?: number;
  readonly value: Expr;
}

export type Expr =
  | { readonly op: 'const'; readonly type: Type; readonly values: readonly number[] }
  | { readonly op: 'ref'; readonly type: Type; readonly node: number }
  | { readonly op: 'slice'; readonly type: Type; readonly of: Expr; readonly from: number }
  | { readonly op: 'pack'; readonly type: Type; readonly parts: readonly Expr[] }
  | { readonly op: 'unary'; readonly type: Type; readonly fn: UnaryOp; readonly a: Expr }
  | {
      readonly op: 'binary';
      readonly type: Type;
      readonly fn: BinaryOp;
      readonly a: Expr;
      readonly b: Expr;
    }
  | { readonly op: 'map'; readonly type: Type; readonly fn: MapOp; readonly args: readonly Expr[] }
  | {
      readonly op: 'select';
      readonly type: Type;
      readonly condition: Expr;
      readonly a: Expr;
      readonly b: Expr;
    }
  | {
      readonly op: 'call';
      readonly type: Type;
      readonly fn: LibraryFunction;
      readonly args: readonly Expr[];
      readonly windows: readonly Expr[];
      /** Range of each argument component, for messages at run time. */
      readonly ranges: readonly CheckedRange[];
    }
  | {
      readonly op: 'reduce';
      readonly type: Type;
      readonly fn: ReduceOp;
      readonly a: Expr;
      readonly where?: Expr;
      readonly axis: Axis;
      readonly otherwise?: Expr;
    }
  | {
      readonly op: 'daily';
      readonly type: Type;
      readonly fn: DailyOp;
      readonly a: Expr;
      readonly axis: Axis;
      readonly days: Axis;
    }
  | {
      readonly op: 'lookup';
      readonly type: Type;
      readonly of: Expr;
      readonly axis: Axis;
      readonly key: Expr;
      readonly straight: boolean;
    }
  | {
      readonly op: 'timeline';
      readonly type: Type;
      readonly axis: Axis;
      readonly from: Expr;
      readonly until: Expr;
      readonly by: Expr;
    }
  | {
      readonly op: 'axis field';
      readonly type: Type;
      readonly axis: Axis;
      readonly field: 'start' | 'end' | 'step';
    }
  | {
      readonly op: 'steps';
      readonly type: Type;
      readonly axis: Axis;
      readonly parts: readonly Expr[];
      readonly even: boolean;
    }
  | {
      readonly op: 'column';
      readonly type: Type;
      readonly axis: Axis;
      readonly formula?: Expr;
      /** Entry a row: components, an expression on the rows or a scalar, absent, or left to the formula. */
      readonly entries: readonly (readonly number[] | Expr | 'absent' | 'formula')[];
    }
  | {
      readonly op: 'with';
      readonly type: Type;
      readonly value: Expr;
      readonly overrides: readonly TypedOverride[] /** Steps axes of the overrides, outermost first. */;
      readonly sweeps: readonly Axis[];
    }
  | {
      readonly op: 'solve';
      readonly type: Type;
      readonly node: number;
      readonly left: Expr;
      readonly right: Expr;
      readonly relation: '=' | '≥' | '≤';
      readonly low: Expr;
      readonly high: Expr;
    }
  | { readonly op: 'chance'; readonly type: Type; readonly condition: Expr }
  | { readonly op: 'percentile'; readonly type: Type; readonly value: Expr; readonly share: Expr }
  | {
      readonly op: 'previous';
      readonly type: Type;
      /** What is looked back at: settled last, and the same for every copy with another unit. */
      readonly back: { readonly of: Expr };
      readonly first: Expr;
      readonly axis: Axis;
    }
  | {
      readonly op: 'running total';
      readonly type: Type;
      readonly change: Expr;
      readonly start: Expr;
      readonly least?: Expr;
      readonly most?: Expr;
      readonly axis: Axis;
      /** The change is a rate to be multiplied by the step. */
      readonly perTime: boolean;
    }
  | {
      readonly op: 'battery run';
      readonly type: Type;
      readonly axis: Axis;
      /** charging, load, capacity, start, floor, round trip, charge limit, taper from, tail, idle, self-loss, cell. */
      readonly args: readonly Expr[];
      readonly readings?: { readonly charge: Expr; readonly moment: Expr; readonly axis: Axis };
    }
  | {
      readonly op: 'during';
      readonly type: Type;
      /** The timeline itself: it may be made right here. */ readonly at: Expr;
      readonly axis: Axis;
      readonly span: Expr;
      readonly daily: boolean;
    }
  | {
      readonly op: 'load profile';
      readonly type: Type;
      /** The timeline itself: it may be made right here. */ readonly at: Expr;
      readonly axis: Axis;
      readonly power: Expr;
      readonly hours: Expr;
      readonly rows: Axis;
    }
  | {
      readonly op: 'sky window';
      readonly type: Type;
      readonly rows: Axis;
      readonly azimuth: Expr;
      readonly height: Expr;
      readonly through: Expr;
    }
  | { readonly op: 'open sky'; readonly type: Type }
  | {
      readonly op: 'drawn sky';
      readonly type: Type;
      /** The timeline itself: it may be made right here. */ readonly at: Expr;
      readonly axis: Axis;
      readonly node: number /** Wet days, wet spell, clear index of a dry and of a wet day; one below zero is drawn. */;
      readonly args: readonly Expr[];
    }
  | { readonly op: 'blank'; readonly type: Type };

export interface CheckedRange {
  readonly argument: string;
  readonly low: number;
  readonly high: number;
  readonly text: string;
}

/** How an uncertain given is drawn; amounts in SI. */
export interface Distribution {
  readonly shape: 'triangular' | 'normal' | 'uniform' | 'usual';
  /** low, likely, high; or mean and spread; or low and high. */
  readonly parameters: readonly number[];
  /** What the plain run uses. */
  readonly likely: number;
}
