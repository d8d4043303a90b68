// The compiler's workbench: slots, rows, constants, instructions. `vector` compiles an expression
// for whole series; `scalar` (in circles) for one place of the axis that is being stepped.

import { type Axis, componentCount, type Type } from '../check/type.ts';
import type { LibraryFunction } from '../library/signature.ts';
import type { CallContextSource } from './call-context.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, type Op, opNumber, type Step } from './program.ts';

/** A circle that is being compiled. */
export interface LoopFrame {
  readonly axis: Axis;
  readonly members: ReadonlySet<number>;
  /** Scalar slots holding this place's components of a member. */
  readonly now: Map<number, readonly Operand[]>;
  /** Instructions to run once before the first place. */
  readonly before: number[];
}

export class Emitter {
  code: number[] = [];
  readonly steps: Step[] = [];
  readonly shapes: number[][] = [[]];
  readonly #shapeOf = new Map<string, number>([['', 0]]);
  readonly #constants = new Map<number, number>();
  /** Places that belong to a node or hold a constant. */
  readonly takenSet = new Set<Operand>();
  #nanSlot = -1;
  scalarCount = 0;
  rowCount = 0;
  readonly operands: (readonly Operand[])[] = [];
  readonly context: CallContextSource;
  readonly seed: number;
  readonly trials: number;

  constructor(context: CallContextSource, seed: number, trials: number) {
    this.context = context;
    this.seed = seed;
    this.trials = trials;
  }

  newScalar(): Operand {
    return this.scalarCount++;
  }

  newRow(): Operand {
    return ~this.rowCount++;
  }

  /** Places for a value of this type. */
  reserve(type: Type): Operand[] {
    const count = componentCount(type);
    const series = type.axes.length > 0 || type.kind === 'window';
    return Array.from({ length: count }, () => (series ? this.newRow() : this.newScalar()));
  }

  constant(value: number): Operand {
    if (Number.isNaN(value)) {
      if (this.#nanSlot < 0) {
        this.#nanSlot = this.newScalar();
        this.takenSet.add(this.#nanSlot);
      }
      return this.#nanSlot;
    }
    const key = Object.is(value, -0) ? 0 : value;
    const known = this.#constants.get(key);
    if (known !== undefined) return known;
    const slot = this.newScalar();
    this.#constants.set(key, slot);
    this.takenSet.add(slot);
    return slot;
  }

  constantList(): { slot: number; value: number }[] {
    const list = [...this.#constants].map(([value, slot]) => ({ slot, value }));
    if (this.#nanSlot >= 0) list.push({ slot: this.#nanSlot, value: Number.NaN });
    return list;
  }

  shape(axes: readonly Axis[]): number {
    const key = axes.map((axis) => axis.id).join(',');
    const known = this.#shapeOf.get(key);
    if (known !== undefined) return known;
    this.shapes.push(axes.map((axis) => axis.id));
    this.#shapeOf.set(key, this.shapes.length - 1);
    return this.shapes.length - 1;
  }

  emit(op: Op, dst: Operand, a: Operand, b: Operand, c: number): void {
    this.code.push(opNumber[op], dst, a, b, c);
  }

  step(step: Step): void {
    this.steps.push(step);
    this.emit('step', 0, this.steps.length - 1, 0, 0);
  }

  /** Instructions written by `work`, taken out of the main stream. */
  aside(work: () => void): number[] {
    const main = this.code;
    this.code = [];
    try {
      work();
      return this.code;
    } finally {
      this.code = main;
    }
  }

  place(instructions: readonly number[]): CodeRange {
    const from = this.code.length;
    for (const word of instructions) this.code.push(word);
    return { from, to: this.code.length };
  }
}

export type { LibraryFunction, Memory };
