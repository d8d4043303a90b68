// What a formula may call, described as data: the name, the arguments with kind, dimension, range
// and default, the result, one line of meaning, the source, an example. The checker types calls
// from it, the machine runs `apply`, the page and the command line print it as reference.
//
// Two sorts of function: an *element* function works on one place at a time and lifts over any
// axis (`apply` is given). A *form* is known to the checker and the compiler by name (sums, axes,
// steps through time, trials) and stands here for its description alone (`apply` is absent).

import type { Dimension } from '../dimension/dimension.ts';
import type { Code } from '../source/catalogue.ts';

/** Points on a scale, or a plain amount (a difference of points is plain). */
export type Stance = 'plain' | 'temperature' | 'level' | 'moment';

export type ParameterKind =
  | 'quantity'
  | 'text'
  | 'truth'
  | 'time of day'
  | 'span'
  | 'record'
  | 'window'
  /** Any kind or dimension; forms only. */
  | 'any';

export interface Parameter {
  /** As written before the colon; the first one or two of a function may also be given by position. */
  readonly name: string;
  readonly kind: ParameterKind;
  /** Quantities only; absent: any dimension. */
  readonly dimension?: Dimension;
  /** Quantities only; 'plain' when absent. */
  readonly stance?: Stance;
  /** Records only: `sun`, `sky`. */
  readonly sort?: string;
  /** In SI (°C number for temperatures, dBm for levels); texts as text. Absent: must be given. */
  readonly default?: number | string;
  /** Inclusive, in SI. A value outside is a message, and `apply` is not asked. */
  readonly range?: readonly [low: number, high: number];
  /** Texts only: the words allowed. */
  readonly choices?: readonly string[];
  /** The range, in the trade's units, for messages: `1 to 10`, `−40 °C to 120 °C`. */
  readonly rangeText?: string;
  /** May be left out and has no default value (forms only). */
  readonly optional?: boolean;
  readonly meaning: string;
}

export type ResultField = {
  readonly name: string;
  readonly dimension: Dimension;
  readonly stance: Stance;
};

export type Result =
  | {
      readonly kind: 'quantity';
      readonly dimension: Dimension;
      readonly stance: Stance /** Preferred unit to show. */;
      readonly unit?: string;
      /** The argument whose written word is the unit to show instead. */
      readonly unitFrom?: string;
    }
  | { readonly kind: 'truth' | 'time of day' | 'text' | 'window' }
  | { readonly kind: 'record'; readonly sort: string; readonly fields: readonly ResultField[] }
  /** Worked out by the checker; `text` says it in words. */
  | { readonly kind: 'form'; readonly text: string };

/** What a function may know of the notebook it runs in. */
export interface CallContext {
  /** rad, rad, m, and s east of UTC; NaN when the header has no place (the checker then refuses functions that need it). */
  readonly latitude: number;
  readonly longitude: number;
  readonly altitude: number;
  readonly offset: number;
  /** Text of a text argument's number. */
  readonly textOf: (id: number) => string;
  /** Where `apply` reports what is wrong when it writes NaN: one sentence in the trade's words. */
  problem: string;
  /** The name of that message; what lies outside what a function takes, as a rule. */
  code: Code;
}

/**
 * Works one place: reads `args` (one number an argument component in parameter order; a record's
 * fields in the order of its sort; a text as an id for `context.textOf`), writes `out`.
 * `windows` holds the packed outline of each window argument in order.
 */
export type Apply = (
  args: Float64Array,
  out: Float64Array,
  context: CallContext,
  windows: readonly Float64Array[],
) => void;

/** One argument along the places of a call: its number at place `i` is `array[begin + i × stride]`. */
export interface ArgumentRow {
  array: Float64Array;
  readonly begin: number;
  readonly stride: number;
}

/**
 * Works a whole row of places at once and gives the same bits as `apply` at each of them. It is asked
 * only when every argument is a number within its range; false when it leaves the row to `apply`.
 */
export type ApplyRows = (
  places: number,
  args: readonly ArgumentRow[],
  out: readonly Float64Array[],
  context: CallContext,
  windows: readonly Float64Array[],
) => boolean;

export interface LibraryFunction {
  readonly name: string;
  readonly parameters: readonly Parameter[];
  readonly result: Result;
  readonly apply?: Apply;
  /** Makes the way to work a whole row; each call in a notebook has one of its own, with its memory. */
  readonly rows?: () => ApplyRows;
  /** What one place takes, ns, roughly, where it is much more than a sine: it bounds work that is repeated. */
  readonly cost?: number;
  readonly needsPlace?: boolean;
  /** How many leading arguments may be given by position. */
  readonly positional: number;
  readonly subject:
    | 'numbers'
    | 'series'
    | 'time'
    | 'chance'
    | 'sun and sky'
    | 'cable'
    | 'battery'
    | 'radio';
  /** One line. */
  readonly meaning: string;
  /** Author, title, edition, equation; `arithmetic` for plain definitions; says when from memory. */
  readonly source: string;
  /**
   * A formula that evaluates by itself, and what it gives: `sqrt(9 m²)` → `3 m`. Where the function
   * works on cells or on a table, `before` holds the notebook lines they are made of.
   */
  readonly example: {
    readonly before?: readonly string[];
    readonly formula: string;
    readonly gives: string;
  };
  /** Cautions shown wherever the function is used. */
  readonly caution?: string;
}

/** Fields of the record sorts, in the order of their components. */
export const RECORD_SORTS = ['sun', 'sky', 'store'] as const;
