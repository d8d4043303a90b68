// Where a run keeps its numbers: scalars in one array, series in rows, axes beside them. A child
// memory starts as its parent's view and owns only what it writes, so that a run with overrides
// costs its cone and nothing else.
//
// An *operand* names a place: a scalar s ≥ 0, or a row r as ~r. Rows of a child that it has not
// written are the parent's own arrays; they are never written through.

import type { Distribution } from '../check/typed.ts';
import type { Code } from '../source/catalogue.ts';
import type { Span } from '../source/span.ts';

export interface AxisValue {
  readonly length: number;
  /** Timelines and days: civil seconds since 1970-01-01. */
  readonly start: number;
  readonly end: number;
  /** s; 0 for other axes. */
  readonly step: number;
  /** The coordinate of each place (a timeline's: the middle of the step). */
  readonly places: Float64Array;
  /** The end that was asked for, where the stay is no whole number of steps. */
  readonly asked?: number;
}

export type Fault =
  | {
      readonly kind: 'error';
      readonly text: string;
      readonly code: Code;
      /** Where in the formula, when that is known. */
      readonly span?: Span;
    }
  | { readonly kind: 'waits'; readonly on: number }
  | { readonly kind: 'pending' }
  | { readonly kind: 'blank' };

/** What waits for one that waits has its reason, so that no chain of them need be followed. */
export function waitingFor(on: number, fault: Fault): Fault {
  return fault.kind === 'pending' || fault.kind === 'waits' ? fault : { kind: 'waits', on };
}

/** An uncertain amount that a scenario puts in place of a node, or of one entry of a column. */
export interface DrawnInstead {
  readonly node: number;
  readonly row: number | undefined;
  readonly distribution: Distribution;
}

export function placeKey(node: number, row: number | undefined): string {
  return row === undefined ? `${node}` : `${node}:${row}`;
}

export type Operand = number;

const NO_PLACES = new Float64Array(0);
export const NO_AXIS: AxisValue = { length: 0, start: 0, end: 0, step: 0, places: NO_PLACES };

const NOTHING_HELD: ReadonlySet<number> = new Set();
const NOTHING_INSTEAD: ReadonlyMap<string, DrawnInstead> = new Map();
const NO_ROW_HELD: ReadonlySet<string> = new Set();

export class Memory {
  /** Where runs within this one are worked, one after the other. */
  child: Memory | undefined;
  /** How many runs this one stands within. */
  depth = 0;
  readonly scalars: Float64Array;
  readonly rows: Float64Array[];
  readonly #own: (Float64Array | undefined)[];
  readonly axes: AxisValue[];
  readonly faults: (Fault | undefined)[];
  /** Number of the trial, −1 in the plain run. */
  trial = -1;
  /** Nodes that this run or one around it has replaced: they are not worked and not drawn again. */
  held: ReadonlySet<number> = NOTHING_HELD;
  /** Replaced entries, as `node:row`. */
  heldRows: ReadonlySet<string> = NO_ROW_HELD;
  /** What the runs around this one have replaced. */
  heldBefore: ReadonlySet<number> = NOTHING_HELD;
  heldRowsBefore: ReadonlySet<string> = NO_ROW_HELD;
  /** What is replaced and drawn in trials all the same: a scenario's own uncertain amounts, by `placeKey`. */
  instead: ReadonlyMap<string, DrawnInstead> = NOTHING_INSTEAD;
  /** Place on the axis while a circle is stepped. */
  index = 0;
  /** Whether a node ever had a fault here: then faults must be cleared before cells are worked together. */
  faulty = false;
  /** What went wrong in the instruction at work, in words, and the name of the message. */
  problem = '';
  code: Code = 'no-number';
  /** The node at the root of that, −1 when it is here. */
  root = -1;

  constructor(scalarCount: number, rowCount: number, axisCount: number, nodeCount: number) {
    this.scalars = new Float64Array(scalarCount);
    this.rows = new Array<Float64Array>(rowCount).fill(NO_PLACES);
    this.#own = new Array<Float64Array | undefined>(rowCount).fill(undefined);
    this.axes = new Array<AxisValue>(axisCount).fill(NO_AXIS);
    this.faults = new Array<Fault | undefined>(nodeCount).fill(undefined);
  }

  /** Says what went wrong; what was said first is the reason. */
  say(code: Code, problem: string): void {
    if (this.problem !== '') return;
    this.root = -1;
    this.code = code;
    this.problem = problem;
  }

  /** Takes over what went wrong in a run within this one. */
  passOn(child: Memory): void {
    if (this.problem !== '') return;
    this.say(child.code, child.problem);
    const known = child.root >= 0 ? this.faults[child.root] : undefined;
    // A circle of the plan has its message, in whatever order cells are worked: this waits for it.
    if (known?.kind === 'error' && known.code === 'circle' && known.text === child.problem)
      this.root = child.root;
  }

  /** Becomes a view of the parent's present state. */
  follow(parent: Memory): void {
    this.scalars.set(parent.scalars);
    for (let r = 0; r < this.rows.length; r++) this.rows[r] = parent.rows[r] as Float64Array;
    for (let a = 0; a < this.axes.length; a++) this.axes[a] = parent.axes[a] as AxisValue;
    for (let n = 0; n < this.faults.length; n++) this.faults[n] = parent.faults[n];
    this.trial = parent.trial;
    this.held = parent.held;
    this.heldRows = parent.heldRows;
    this.heldBefore = parent.held;
    this.heldRowsBefore = parent.heldRows;
    this.instead = parent.instead;
    this.faulty = parent.faulty;
  }

  /** This memory's own array for a row, of the given length, to be written now. */
  own(row: number, length: number): Float64Array {
    let array = this.#own[row];
    if (!array || array.length !== length) {
      array = new Float64Array(length);
      this.#own[row] = array;
    }
    this.rows[row] = array;
    return array;
  }

  /** A copy of what the row holds now, owned. */
  ownCopy(row: number): Float64Array {
    const from = this.rows[row] as Float64Array;
    const to = this.own(row, from.length);
    if (to !== from) to.set(from);
    return to;
  }

  array(operand: Operand): Float64Array {
    return operand >= 0 ? this.scalars : (this.rows[~operand] as Float64Array);
  }

  /** Element `i` of an operand; a scalar is the same everywhere. */
  at(operand: Operand, i: number): number {
    return (
      operand >= 0 ? this.scalars[operand] : (this.rows[~operand] as Float64Array)[i]
    ) as number;
  }
}
