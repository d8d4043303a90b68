// Plain arithmetic on single numbers, taken out of many cells and put in an order in which
// a run of the same operation executes in one tight loop. A batch holds the cells that only arithmetic
// leads to; what needs a series, a call or a table stands between batches and is run by itself. Two
// operations of which the first feeds only the second become one, with the same result to the bit.

import type { GraphNode } from '../check/scope.ts';
import { runsOf, type Tables, tablesFor } from './batch-code.ts';
import { executeRuns, finiteAt, type Runs } from './batch-kernels.ts';
import type { Operand } from './memory.ts';
import { opNumber, type Program, type Unit, WIDTH } from './program.ts';

export interface Batch {
  readonly units: readonly Unit[];
  readonly nodes: Int32Array;
  readonly runs: Runs;
  /** Where the nodes' own values stand. */
  readonly results: Int32Array;
  /** Nodes outside all batches that this one draws on. */
  readonly outside: Int32Array;
}

/** Cells that are no plain arithmetic on single numbers, one after the other. */
export interface Stream {
  readonly stream: readonly Unit[];
  readonly nodes: Int32Array;
  /** Nodes outside that these draw on. */
  readonly outside: Int32Array;
}

/** A whole notebook in the order it is worked. */
export interface Order {
  readonly parts: readonly (Batch | Stream | Unit)[];
  /** Put-off units, after all others. */
  readonly slow: readonly Unit[];
}

/** One number's worth of arithmetic that a batch can hold. */
export function isPlain(program: Program, unit: Unit): boolean {
  const id = unit.nodes[0];
  if (unit.loop || unit.nodes.length !== 1 || id === undefined) return false;
  const { type, expr } = program.nodes[id] as GraphNode;
  if (!type || !expr || type.optional || type.axes.length > 0 || type.kind === 'window')
    return false;
  if (expr.op === 'blank') return false;
  const operands = program.operands[id];
  if (!operands || operands.length === 0) return false;
  for (const operand of operands) if (operand < 0) return false;
  const { code } = program;
  for (let pc = unit.code.from; pc < unit.code.to; pc += WIDTH) {
    if (code[pc] === opNumber.step || (code[pc + 1] as number) < 0) return false;
  }
  return true;
}

/** `isAlone` tells units that are best worked by themselves. */
export function orderOf(program: Program, isAlone: (unit: Unit) => boolean = () => true): Order {
  const count = program.nodes.length;
  const stage = new Int32Array(count);
  const plain = new Uint8Array(count);
  const batches: Unit[][] = [];
  const singles: Unit[][] = [];
  const slow: Unit[] = [];
  for (const unit of program.units) {
    if (unit.nodes.some((id) => program.knots.has(id))) continue;
    if (unit.nodes.some((id) => program.slow[id] === 1)) {
      slow.push(unit);
      continue;
    }
    const own = isPlain(program, unit);
    let at = 0;
    let broken = false;
    for (const id of unit.nodes)
      for (const on of program.needs.of[id] ?? []) {
        if (unit.nodes.includes(on)) continue;
        if (program.broken.has(on) || program.slow[on] === 1) broken = true;
        // A batch stands before the singles of its stage.
        const then = stage[on] as number;
        at = Math.max(at, own && plain[on] !== 1 ? then + 1 : then);
      }
    for (const id of unit.nodes) {
      stage[id] = at;
      plain[id] = own && !broken ? 1 : 0;
    }
    const list = own && !broken ? batches : singles;
    let units = list[at];
    if (!units) {
      units = [];
      list[at] = units;
    }
    units.push(unit);
  }
  const parts: (Batch | Stream | Unit)[] = [];
  const tables = tablesFor(program);
  for (let at = 0; at < Math.max(batches.length, singles.length); at++) {
    const units = batches[at];
    if (units) parts.push(batchOf(program, units, plain, tables));
    const rest = singles[at];
    if (rest) parts.push(...streamsOf(program, rest, isAlone));
  }
  return { parts, slow };
}

function streamsOf(
  program: Program,
  units: readonly Unit[],
  isAlone: (unit: Unit) => boolean,
): readonly (Stream | Unit)[] {
  const parts: (Stream | Unit)[] = [];
  let stream: Unit[] = [];
  const end = (): void => {
    if (stream.length > 1) {
      const nodes = stream.flatMap((unit) => unit.nodes);
      const own = new Set(nodes);
      const outside = new Set(
        nodes.flatMap((id) => (program.needs.of[id] ?? []).filter((on) => !own.has(on))),
      );
      parts.push({ stream, nodes: Int32Array.from(nodes), outside: Int32Array.from(outside) });
    } else parts.push(...stream);
    stream = [];
  };
  for (const unit of units) {
    if (!isAlone(unit)) {
      stream.push(unit);
      continue;
    }
    end();
    parts.push(unit);
  }
  end();
  return parts;
}

function batchOf(
  program: Program,
  units: readonly Unit[],
  plain: Uint8Array,
  tables: Tables,
): Batch {
  const outside = new Set<number>();
  const results: number[] = [];
  // Fixed givens stand in a memory from its beginning.
  const moving = units.filter((unit) => !isFixed(program, unit.nodes[0] ?? -1));
  for (const unit of moving)
    for (const id of unit.nodes) {
      for (const place of program.operands[id] ?? []) results.push(place);
      for (const on of program.draws[id] ?? []) if (plain[on] !== 1) outside.add(on);
    }
  return {
    units,
    nodes: Int32Array.from(units.flatMap((unit) => unit.nodes)),
    runs: runsOf(program, moving, tables),
    results: Int32Array.from(results).sort(),
    outside: Int32Array.from(outside),
  };
}

/**
 * Works a batch; whether all its nodes came out finite. A number on the way may be infinite although
 * what is made of it is not, as in a branch that is not taken: then the nodes are looked at alone.
 */
export function executeBatch({ runs, results }: Batch, s: Float64Array): boolean {
  return executeRuns(runs, s) || finiteAt(s, results);
}

/** Whether a node is finite numbers and nothing else. */
export function isFixed(program: Program, id: number): boolean {
  const expr = program.nodes[id]?.expr;
  const operands = program.operands[id] ?? [];
  return (
    expr?.op === 'const' &&
    !program.broken.has(id) &&
    operands.length === expr.values.length &&
    operands.every((operand) => operand >= 0) &&
    expr.values.every(Number.isFinite)
  );
}

/** What follows one given, ready to be worked when it moves. */
export interface Following {
  /** The given. */
  readonly id: number;
  /** Where the given's number stands. */
  readonly place: Operand;
  /** In order, put-off ones included. */
  readonly units: readonly Unit[];
  /** The given and all nodes of these units. */
  readonly nodes: ReadonlySet<number>;
  /** All of it together, when it is plain arithmetic on single numbers. */
  readonly batch: Batch | undefined;
}

/**
 * The units that draw on a node, near or far, in order. Cells of a circle that is left are not worked,
 * but what puts something in for one of them is reached through it.
 */
export function unitsAfter(program: Program, id: number): readonly Unit[] {
  const reached = new Set<number>();
  const knotted = new Set<number>();
  const stack = [id];
  while (stack.length > 0) {
    for (const by of program.drawnOnBy[stack.pop() as number] ?? []) {
      if (program.knots.has(by)) {
        if (!knotted.has(by)) stack.push(by);
        knotted.add(by);
        continue;
      }
      const unit = program.unitOf[by] ?? -1;
      if (unit < 0 || reached.has(unit)) continue;
      reached.add(unit);
      for (const node of program.units[unit]?.nodes ?? []) stack.push(node);
    }
  }
  const own = program.unitOf[id] ?? -1;
  reached.delete(own);
  return [...reached].sort((a, b) => a - b).map((unit) => program.units[unit] as Unit);
}

export function followingOf(program: Program, id: number): Following {
  const [place] = program.operands[id] ?? [];
  if (place === undefined || place < 0) throw new RangeError(`node ${id} is no single number`);
  const units = unitsAfter(program, id);
  const flat = units.every(
    (unit) => isPlain(program, unit) && unit.nodes.every((node) => program.slow[node] !== 1),
  );
  const nodes = new Set([id, ...units.flatMap((unit) => unit.nodes)]);
  if (!flat) return { id, place, units, nodes, batch: undefined };
  return {
    id,
    place,
    units,
    nodes,
    batch: batchOf(program, units, new Uint8Array(program.nodes.length), tablesFor(program)),
  };
}
