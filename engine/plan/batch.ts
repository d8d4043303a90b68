// Plain arithmetic on single numbers, taken out of many cells and put in an order in which
// a run of the same operation executes in one tight loop. A batch holds the cells that only arithmetic
// leads to; what needs a series, a call or a table stands between batches and is run by itself. Two
// operations of which the first feeds only the second become one, with the same result to the bit.

import { executeRuns, finiteAt, packed, type Runs, widthOf } from './batch-kernels.ts';
import type { Operand } from './memory.ts';
import { isBasic, MUL_MUL_ADD, PAIRS, pairOf, timed } from './pairs.ts';
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
  const [id] = unit.nodes;
  if (unit.loop || unit.nodes.length !== 1 || id === undefined) return false;
  const node = program.nodes[id];
  const { type, expr } = node ?? {};
  if (!type || !expr || type.optional || type.axes.length > 0 || type.kind === 'window')
    return false;
  if (expr.op === 'blank') return false;
  const operands = program.operands[id] ?? [];
  if (operands.length === 0 || operands.some((operand) => operand < 0)) return false;
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
  for (let at = 0; at < Math.max(batches.length, singles.length); at++) {
    const units = batches[at];
    if (units) parts.push(batchOf(program, units, plain));
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

interface Instruction {
  op: number;
  to: Operand;
  a: Operand;
  b: Operand;
  c: Operand;
  d: Operand;
}

/** The instructions of a plain unit, neighbours joined. */
function joined(program: Program, unit: Unit): readonly Instruction[] {
  const { code } = program;
  const list: Instruction[] = [];
  for (let pc = unit.code.from; pc < unit.code.to; pc += WIDTH) {
    const [op, to, a, b, c] = code.subarray(pc, pc + WIDTH) as unknown as [
      number,
      number,
      number,
      number,
      number,
    ];
    list.push({ op, to, a, b, c, d: 0 });
  }
  const kept = new Set(unit.nodes.flatMap((id) => program.operands[id] ?? []));
  const uses = new Map<Operand, number>();
  for (const { op, a, b, c } of list) {
    uses.set(a, (uses.get(a) ?? 0) + 1);
    if (!ONE_OPERAND.has(op)) uses.set(b, (uses.get(b) ?? 0) + 1);
    if (op === opNumber.select) uses.set(c, (uses.get(c) ?? 0) + 1);
  }
  const made = new Map<Operand, Instruction>();
  const gone = new Set<Instruction>();
  const source = (place: Operand): Instruction | undefined => {
    const from = made.get(place);
    return from && isBasic(from.op) && !kept.has(place) && uses.get(place) === 1 ? from : undefined;
  };
  const timedAt = (place: Operand): Instruction | undefined => {
    const from = made.get(place);
    return from && timed(from.op) !== undefined && !kept.has(place) && uses.get(place) === 1
      ? from
      : undefined;
  };
  for (const one of list) {
    if (isBasic(one.op)) {
      const [left, right] = [source(one.a), source(one.b)];
      const { op, a, b } = one;
      const [leftPair, rightPair] = op === opNumber.mul ? [timedAt(a), timedAt(b)] : [];
      const inner = leftPair ?? rightPair;
      if (inner) {
        const d = inner === leftPair ? b : a;
        Object.assign(one, { ...inner, op: timed(inner.op), to: one.to, d });
        gone.add(inner);
      } else if (op === opNumber.add && left?.op === opNumber.mul && right?.op === opNumber.mul) {
        Object.assign(one, { op: MUL_MUL_ADD, a: left.a, b: left.b, c: right.a, d: right.b });
        gone.add(left).add(right);
      } else if (left) {
        Object.assign(one, { op: pairOf(left.op, op, false), a: left.a, b: left.b, c: b });
        gone.add(left);
      } else if (right) {
        Object.assign(one, { op: pairOf(right.op, op, true), a: right.a, b: right.b, c: a });
        gone.add(right);
      }
    }
    made.set(one.to, one);
  }
  return list.filter((one) => !gone.has(one));
}

const ONE_OPERAND: ReadonlySet<number> = new Set(
  (['neg', 'not', 'abs', 'sqrt', 'copy'] as const).map((op) => opNumber[op]),
);

/** How many places an instruction reads. */
function reads({ op, a, b, c, d }: Instruction): readonly Operand[] {
  if (op >= MUL_MUL_ADD) return [a, b, c, d];
  if (op >= PAIRS || op === opNumber.select) return [a, b, c];
  return ONE_OPERAND.has(op) ? [a] : [a, b];
}

/**
 * An order in which runs of one operation are long: of the operations that have something ready, the
 * one that has most goes next, and takes along what becomes ready for it on the way.
 */
function inRuns(list: readonly Instruction[]): readonly Instruction[] {
  const maker = new Map<Operand, number>();
  list.forEach(({ to }, i) => {
    maker.set(to, i);
  });
  const waits = new Int32Array(list.length);
  const feeds: number[][] = list.map(() => []);
  list.forEach((one, i) => {
    for (const place of reads(one)) {
      const from = maker.get(place);
      if (from === undefined || from >= i) continue;
      feeds[from]?.push(i);
      waits[i] = (waits[i] as number) + 1;
    }
  });
  const ready = new Map<number, number[]>();
  const offer = (i: number): void => {
    const { op } = list[i] as Instruction;
    const known = ready.get(op);
    if (known) known.push(i);
    else ready.set(op, [i]);
  };
  list.forEach((_, i) => {
    if (waits[i] === 0) offer(i);
  });
  const ordered: Instruction[] = [];
  while (ordered.length < list.length) {
    let queue: number[] = [];
    for (const other of ready.values()) if (other.length > queue.length) queue = other;
    if (queue.length === 0) throw new RangeError('a batch goes round in a circle');
    // The queue grows while it is worked off.
    for (let k = 0; k < queue.length; k++) {
      const i = queue[k] as number;
      ordered.push(list[i] as Instruction);
      for (const next of feeds[i] as readonly number[]) {
        waits[next] = (waits[next] as number) - 1;
        if (waits[next] === 0) offer(next);
      }
    }
    queue.length = 0;
  }
  return ordered;
}

function batchOf(program: Program, units: readonly Unit[], plain: Uint8Array): Batch {
  const outside = new Set<number>();
  const results: number[] = [];
  // Fixed givens stand in a memory from its beginning.
  const moving = units.filter((unit) => !isFixed(program, unit.nodes[0] ?? -1));
  for (const unit of moving)
    for (const id of unit.nodes) {
      results.push(...(program.operands[id] ?? []));
      for (const on of program.draws[id] ?? []) if (plain[on] !== 1) outside.add(on);
    }
  const list = inRuns(moving.flatMap((unit) => joined(program, unit)));
  const runs: number[] = [];
  const code: number[] = [];
  list.forEach((one, i) => {
    const { op, to, a, b, c, d } = one;
    code.push(...[to, a, b, c, d].slice(0, widthOf(op)));
    if (list[i + 1]?.op !== op) runs.push(op, code.length);
  });
  return {
    units,
    nodes: Int32Array.from(units.flatMap((unit) => unit.nodes)),
    runs: packed(runs, code),
    results: Int32Array.from(results.sort((x, y) => x - y)),
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
    batch: batchOf(program, units, new Uint8Array(program.nodes.length)),
  };
}
