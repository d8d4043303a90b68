// The instructions of a batch: those of all its cells in one list, neighbours joined, then put in an
// order in which runs of one operation are long. A list of ten thousand cells is made at every opening,
// so that it is numbers in arrays, with tables by place, and no objects.

import { packed, type Runs, widthOf } from './batch-kernels.ts';
import type { Operand } from './memory.ts';
import { isBasic, MUL_MUL_ADD, PAIRS, pairOf, timed } from './pairs.ts';
import { opNumber, type Program, type Unit, WIDTH } from './program.ts';

/** Numbers of one instruction in a list: operation, destination, up to four places that it reads. */
const SIZE = 6;

/** An instruction that is part of another one now. */
const GONE = -1;

/** Tables by place, all zero between two uses. */
export interface Tables {
  /** Where the instruction stands that writes a place, counted from 1. */
  readonly maker: Int32Array;
  readonly uses: Int32Array;
  /** Places that belong to cells. */
  readonly kept: Uint8Array;
}

export function tablesFor({ scalarCount }: Program): Tables {
  return {
    maker: new Int32Array(scalarCount),
    uses: new Int32Array(scalarCount),
    kept: new Uint8Array(scalarCount),
  };
}

/** What plain units do, in the form in which it is executed. */
export function runsOf(program: Program, units: readonly Unit[], tables: Tables): Runs {
  const list = listOf(program, units);
  joinNeighbours(program, units, list, tables);
  return inRuns(list, tables.maker);
}

function listOf({ code }: Program, units: readonly Unit[]): Int32Array {
  let count = 0;
  for (const unit of units) count += (unit.code.to - unit.code.from) / WIDTH;
  const list = new Int32Array(SIZE * count);
  let at = 0;
  for (const unit of units)
    for (let pc = unit.code.from; pc < unit.code.to; pc += WIDTH, at += SIZE)
      for (let j = 0; j < WIDTH; j++) list[at + j] = code[pc + j] as number;
  return list;
}

/** How many places an operation reads. */
function readsOf(op: number): number {
  if (op >= MUL_MUL_ADD) return 4;
  if (op >= PAIRS || op === opNumber.select) return 3;
  return ONE_OPERAND.has(op) ? 1 : 2;
}

const ONE_OPERAND: ReadonlySet<number> = new Set(
  (['neg', 'not', 'abs', 'sqrt', 'copy'] as const).map((op) => opNumber[op]),
);

/** Joins an instruction with the one before it whose result it alone reads, where there is such a pair. */
function joinNeighbours(
  program: Program,
  units: readonly Unit[],
  list: Int32Array,
  { maker, uses, kept }: Tables,
): void {
  const keep = (mark: 0 | 1): void => {
    for (const unit of units)
      for (const id of unit.nodes)
        for (const place of program.operands[id] ?? []) kept[place] = mark;
  };
  keep(1);
  for (let at = 0; at < list.length; at += SIZE)
    for (let j = readsOf(list[at] as number); j > 0; j--) {
      const place = list[at + 1 + j] as Operand;
      uses[place] = (uses[place] as number) + 1;
    }
  /** The instruction that makes a place for this one alone, or −1. */
  const feeding = (place: Operand): number =>
    kept[place] === 1 || uses[place] !== 1 ? -1 : (maker[place] as number) - 1;
  for (let at = 0; at < list.length; at += SIZE) {
    if (isBasic(list[at] as number))
      join(list, at, feeding(list[at + 2] as Operand), feeding(list[at + 3] as Operand));
    maker[list[at + 1] as Operand] = at + 1;
  }
  keep(0);
  for (let at = 0; at < list.length; at += SIZE) {
    // What is gone has its places still.
    for (let j = 1; j < SIZE; j++) uses[list[at + j] as Operand] = 0;
    maker[list[at + 1] as Operand] = 0;
  }
}

/** Joins one instruction with those that feed it alone, given by where they stand, −1 where none does. */
function join(list: Int32Array, at: number, left: number, right: number): void {
  const op = list[at] as number;
  const [opLeft, opRight] = [list[left] ?? GONE, list[right] ?? GONE];
  const [a, b] = [list[at + 2] as Operand, list[at + 3] as Operand];
  /** Takes over the places that the other one reads, and one more of its own. */
  const take = (from: number, as: number, more: number, own: Operand): void => {
    list[at] = as;
    for (let j = 2; j < SIZE; j++) list[at + j] = list[from + j] as Operand;
    list[at + more] = own;
    list[from] = GONE;
  };
  const [timedLeft, timedRight] =
    op === opNumber.mul ? [timed(opLeft), timed(opRight)] : [undefined, undefined];
  if (timedLeft !== undefined) take(left, timedLeft, 5, b);
  else if (timedRight !== undefined) take(right, timedRight, 5, a);
  else if (op === opNumber.add && opLeft === opNumber.mul && opRight === opNumber.mul) {
    const [c, d] = [list[right + 2] as Operand, list[right + 3] as Operand];
    take(left, MUL_MUL_ADD, 4, c);
    list[at + 5] = d;
    list[right] = GONE;
  } else if (isBasic(opLeft)) take(left, pairOf(opLeft, op, false), 4, b);
  else if (isBasic(opRight)) take(right, pairOf(opRight, op, true), 4, a);
}

/**
 * An order in which runs of one operation are long: of the operations that have something ready, the
 * one that has most goes next, and takes along what becomes ready for it on the way.
 */
function inRuns(list: Int32Array, maker: Int32Array): Runs {
  const feeds = feedsOf(list, maker);
  const { waits } = feeds;
  const ready = new Map<number, number[]>();
  const offer = (at: number): void => {
    const op = list[at] as number;
    const known = ready.get(op);
    if (known) known.push(at);
    else ready.set(op, [at]);
  };
  let left = 0;
  for (let at = 0; at < list.length; at += SIZE) {
    if (list[at] === GONE) continue;
    left++;
    if (waits[at / SIZE] === 0) offer(at);
  }
  const runs: number[] = [];
  const places: number[] = [];
  while (left > 0) {
    let queue: number[] = [];
    for (const other of ready.values()) if (other.length > queue.length) queue = other;
    const [first] = queue;
    if (first === undefined) throw new RangeError('a batch goes round in a circle');
    const op = list[first] as number;
    const width = widthOf(op);
    // The queue grows while it is worked off.
    for (let k = 0; k < queue.length; k++) {
      const at = queue[k] as number;
      for (let j = 1; j <= width; j++) places.push(list[at + j] as Operand);
      for (
        let f = feeds.from[at / SIZE] as number;
        f < (feeds.from[at / SIZE + 1] as number);
        f++
      ) {
        const next = feeds.to[f] as number;
        waits[next] = (waits[next] as number) - 1;
        if (waits[next] === 0) offer(next * SIZE);
      }
    }
    left -= queue.length;
    queue.length = 0;
    // A run that follows one of its own operation lengthens it.
    if (runs[runs.length - 2] === op) runs[runs.length - 1] = places.length;
    else runs.push(op, places.length);
  }
  return packed(runs, places);
}

/** Which instructions each one feeds, by number: those of `i` are `to[from[i]]` and on. */
interface Feeds {
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** How many feed each of them. */
  readonly waits: Int32Array;
}

function feedsOf(list: Int32Array, maker: Int32Array): Feeds {
  const count = list.length / SIZE;
  const [from, waits] = [new Int32Array(count + 1), new Int32Array(count)];
  const each = (visit: (feeder: number, fed: number) => void): void => {
    for (let i = 0; i < count; i++) {
      const at = SIZE * i;
      if (list[at] === GONE) continue;
      for (let j = 2; j < 2 + readsOf(list[at] as number); j++) {
        const made = maker[list[at + j] as Operand] as number;
        // One that stands behind made the place in another turn.
        if (made > 0 && made <= i) visit(made - 1, i);
      }
    }
  };
  for (let i = 0; i < count; i++)
    if (list[SIZE * i] !== GONE) maker[list[SIZE * i + 1] as Operand] = i + 1;
  each((feeder, fed) => {
    from[feeder + 1] = (from[feeder + 1] as number) + 1;
    waits[fed] = (waits[fed] as number) + 1;
  });
  for (let i = 0; i < count; i++) from[i + 1] = (from[i + 1] as number) + (from[i] as number);
  const [to, at] = [new Int32Array(from[count] as number), from.slice()];
  each((feeder, fed) => {
    const next = at[feeder] as number;
    to[next] = fed;
    at[feeder] = next + 1;
  });
  for (let i = 0; i < count; i++) maker[list[SIZE * i + 1] as Operand] = 0;
  return { from, to, waits };
}
