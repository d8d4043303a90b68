// A notebook compiled: where each node's numbers stand, the instructions of each node, the order of
// the nodes. Arithmetic is a stream of numbers for one switch; everything else is a *step*, an
// object that runs on a memory.

import type { GraphNode } from '../check/scope.ts';
import type { Axis } from '../check/type.ts';
import type { Code } from '../source/catalogue.ts';
import type { Fault, Memory, Operand } from './memory.ts';
import type { Needs } from './needs.ts';

/** Instructions are five numbers: operation, destination, operands a and b, and c (third operand or shape). */
export const WIDTH = 5;

export const OPS = [
  'add',
  'sub',
  'mul',
  'div',
  'pow',
  'lt',
  'le',
  'eq',
  'ge',
  'gt',
  'ne',
  'and',
  'or',
  'min',
  'max',
  'round',
  'round up',
  'round down',
  'clock add',
  'clock sub',
  'same',
  'differs',
  'neg',
  'not',
  'abs',
  'sqrt',
  'select',
  'copy',
  'step',
  'here',
  'before',
] as const;
export type Op = (typeof OPS)[number];
export const opNumber: Readonly<Record<Op, number>> = Object.fromEntries(
  OPS.map((op, i) => [op, i]),
) as Record<Op, number>;

export interface Step {
  run(m: Memory): void;
  /** Takes any numbers in its stride, infinite ones and such that are none included. */
  readonly calm?: boolean;
  /** For explaining a value that is none: the places read and written, and whether rows are read as a whole. */
  readonly reads?: readonly Operand[];
  readonly writes?: readonly Operand[];
  readonly isWhole?: boolean;
  /** What is wrong when it made no number out of numbers. */
  readonly why?: { readonly code: Code; readonly text: string };
}

/** What a step takes, for bounding work: so many nanoseconds at each place along these axes. */
export interface StepCost {
  readonly axes: readonly number[];
  readonly nanoseconds: number;
}

export interface CodeRange {
  readonly from: number;
  readonly to: number;
}

export interface LoopMember {
  readonly node: number;
  readonly code: CodeRange;
  readonly now: readonly Operand[];
  readonly rows: readonly Operand[];
}

/** What is run at once: a node, or a circle of nodes stepped along its axis. */
export interface Unit {
  readonly id: number;
  readonly nodes: readonly number[];
  readonly code: CodeRange;
  /** The same with one operation an instruction, when some are joined: to explain what went wrong. */
  readonly apart?: CodeRange | undefined;
  /** A circle: its axis and the code of one place. */
  readonly loop?: {
    readonly axis: Axis;
    readonly before: CodeRange;
    /** In the order of one place: code of the member, slots of this place, rows of all places. */
    readonly members: readonly LoopMember[];
  };
}

export interface Program {
  readonly nodes: readonly GraphNode[];
  /** The text of an item, to quote from. */
  readonly textOf: (item: number) => string;
  readonly seed: number;
  readonly trials: number;
  /** Components of each node. */
  readonly operands: readonly (readonly Operand[])[];
  readonly code: Int32Array;
  readonly steps: readonly Step[];
  /** By step; absent where it is slight, or counts itself. */
  readonly stepCosts: readonly (StepCost | undefined)[];
  /** Axis ids of each shape, outermost first. */
  readonly shapes: readonly (readonly number[])[];
  /** In an order in which every unit follows what it draws on. */
  readonly units: readonly Unit[];
  readonly unitOf: Int32Array;
  readonly constants: readonly { readonly slot: number; readonly value: number }[];
  readonly scalarCount: number;
  readonly rowCount: number;
  readonly axisCount: number;
  readonly rowLengths: readonly { readonly axis: number; readonly length: number }[];
  /** Nodes that have no value in the plan, with what is wrong or missing. */
  readonly broken: ReadonlyMap<number, Fault>;
  /** Those of them that go round in a circle: a run that puts something in may work them. */
  readonly knots: ReadonlySet<number>;
  /** Work that is put off: trials, solving, long sweeps, and what depends on them. */
  readonly slow: Uint8Array;
  /** Everything each node draws on, directly. */
  readonly draws: readonly (readonly number[])[];
  readonly drawnOnBy: readonly (readonly number[])[];
  /** What each node must have before it can be worked. */
  readonly needs: Needs;
  /** Order of nodes among units, for cones. */
  readonly position: Int32Array;
}
