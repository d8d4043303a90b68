// The compiler's workbench: slots, rows, constants, instructions. `vector` compiles an expression
// for whole series; `scalar` (in circles) for one place of the axis that is being stepped.

import { type Axis, componentCount, type Type } from '../check/type.ts';
import type { Expr } from '../check/typed.ts';
import type { LibraryFunction } from '../library/signature.ts';
import type { CallContextSource } from './call-context.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, type Op, opNumber, type Step, type StepCost } from './program.ts';

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
  readonly stepCosts: (StepCost | undefined)[] = [];
  readonly shapes: number[][] = [[]];
  readonly #shapeOf = new Map<string, number>([['', 0]]);
  readonly #constants = new Map<number, number>();
  /** All constants so far and where they stand. */
  readonly constants: { readonly slot: number; readonly value: number }[] = [];
  /** Places that belong to a node or hold a constant. */
  readonly takenSet = new Set<Operand>();
  #nanSlot = -1;
  /** Parts of formulas that the present stream has worked, by what they are. */
  #known: Map<Expr, readonly Operand[]> | undefined;
  scalarCount = 0;
  rowCount = 0;
  /** End of the code that is laid out; a program may have room behind it. */
  codeEnd = 0;
  /** Places for what lies between, by the node that was compiled again with them. */
  readonly #between = new Map<number, { readonly scalars: Operand[]; readonly rows: Operand[] }>();
  #used: { readonly scalars: Operand[]; readonly rows: Operand[] } | undefined;
  #free: { readonly scalars: Operand[]; readonly rows: Operand[] } | undefined;
  readonly operands: (readonly Operand[])[] = [];
  /** The type of a node that has its places still to come. */
  typeOf: (node: number) => Type | undefined = () => undefined;
  readonly context: CallContextSource;
  readonly seed: number;
  readonly trials: number;

  constructor(context: CallContextSource, seed: number, trials: number) {
    this.context = context;
    this.seed = seed;
    this.trials = trials;
  }

  newScalar(): Operand {
    const place = this.#free?.scalars.pop() ?? this.scalarCount++;
    this.#used?.scalars.push(place);
    return place;
  }

  newRow(): Operand {
    const place = this.#free?.rows.pop() ?? ~this.rowCount++;
    this.#used?.rows.push(place);
    return place;
  }

  /** A node is compiled again: what it had for itself the last time it may use again. */
  startOver(node: number): void {
    this.#free = this.#between.get(node) ?? { scalars: [], rows: [] };
    this.#used = { scalars: [], rows: [] };
    this.#between.set(node, this.#used);
  }

  stopOver(): void {
    this.#used?.scalars.push(...(this.#free?.scalars ?? []));
    this.#used?.rows.push(...(this.#free?.rows ?? []));
    this.#free = undefined;
    this.#used = undefined;
  }

  /** A place for good. */
  #constantPlace(value: number): Operand {
    const slot = this.scalarCount++;
    this.takenSet.add(slot);
    this.constants.push({ slot, value });
    return slot;
  }

  /** Places for a value of this type. */
  reserve(type: Type): Operand[] {
    const count = componentCount(type);
    const series = type.axes.length > 0 || type.kind === 'window';
    const places: Operand[] = [];
    for (let k = 0; k < count; k++) places.push(series ? this.newRow() : this.newScalar());
    return places;
  }

  /** The places of a node, kept for it when it is compiled later. */
  placesOf(node: number): readonly Operand[] {
    const known = this.operands[node];
    if (known) return known;
    const type = this.typeOf(node);
    if (!type) return [];
    const places = this.reserve(type);
    for (const place of places) this.takenSet.add(place);
    this.operands[node] = places;
    return places;
  }

  constant(value: number): Operand {
    if (Number.isNaN(value)) {
      if (this.#nanSlot < 0) this.#nanSlot = this.#constantPlace(Number.NaN);
      return this.#nanSlot;
    }
    const key = Object.is(value, -0) ? 0 : value;
    const known = this.#constants.get(key);
    if (known !== undefined) return known;
    const slot = this.#constantPlace(key);
    this.#constants.set(key, slot);
    return slot;
  }

  shape(axes: readonly Axis[]): number {
    if (axes.length === 0) return 0;
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

  /** @param cost what the step takes; left out where that does not depend on lengths */
  step(step: Step, cost?: StepCost): void {
    if (cost) this.stepCosts[this.steps.length] = cost;
    this.steps.push(step);
    this.emit('step', 0, this.steps.length - 1, 0, 0);
  }

  /** Instructions written by `work`, taken out of the main stream. */
  aside(work: () => void): number[] {
    const main = this.code;
    const known = this.#known;
    this.code = [];
    this.#known = undefined;
    try {
      work();
      return this.code;
    } finally {
      this.code = main;
      this.#known = known;
    }
  }

  /** Where the same part of a formula stands that this stream has worked before; made when it has not. */
  once(part: Expr, make: () => readonly Operand[]): readonly Operand[] {
    const known = this.#known?.get(part);
    if (known) return known;
    const made = make();
    this.#known ??= new Map();
    this.#known.set(part, made);
    return made;
  }
}

/** All instructions of a program, one stretch behind the other. */
export class Layout {
  #code = new Int32Array(1024);
  #end = 0;

  place(instructions: readonly number[]): CodeRange {
    const from = this.#end;
    const to = from + instructions.length;
    if (to > this.#code.length) {
      const longer = new Int32Array(2 * to);
      longer.set(this.#code);
      this.#code = longer;
    }
    for (let i = 0; i < instructions.length; i++) this.#code[from + i] = instructions[i] as number;
    this.#end = to;
    return { from, to };
  }

  finish(): Int32Array {
    return this.#code.slice(0, this.#end);
  }
}

export type { LibraryFunction, Memory };
