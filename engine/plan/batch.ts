// Plain arithmetic on single numbers, taken out of many cells and sorted by (level, operation), so that
// a run of the same operation executes in one tight loop. A batch holds the cells that only arithmetic
// leads to; what needs a series, a call or a table stands between batches and is run by itself.

import type { Operand } from './memory.ts';
import { type CodeRange, opNumber, type Program, type Unit, WIDTH } from './program.ts';

/** A run of one operation. */
export interface OperationRun {
  readonly op: number;
  readonly from: number;
  readonly to: number;
}

export interface Batch {
  readonly units: readonly Unit[];
  readonly nodes: Int32Array;
  readonly runs: readonly OperationRun[];
  readonly to: Int32Array;
  readonly a: Int32Array;
  readonly b: Int32Array;
  readonly c: Int32Array;
  /** Where the nodes' own values stand. */
  readonly results: Int32Array;
  /** Nodes outside all batches that this one draws on. */
  readonly outside: Int32Array;
}

/** A whole notebook in the order it is worked. */
export interface Order {
  readonly parts: readonly (Batch | Unit)[];
  /** Put-off units, after all others. */
  readonly slow: readonly Unit[];
}

/** One number's worth of arithmetic that a batch can hold. */
export function isPlain(program: Program, unit: Unit): boolean {
  const [id] = unit.nodes;
  if (unit.loop || unit.nodes.length !== 1 || id === undefined) return false;
  const node = program.nodes[id];
  const { type, expr } = node ?? {};
  if (!type || !expr || type.optional || type.axes.length > 0 || type.kind === 'window') return false;
  if (expr.op === 'blank') return false;
  const operands = program.operands[id] ?? [];
  if (operands.length === 0 || operands.some((operand) => operand < 0)) return false;
  const { code } = program;
  for (let pc = unit.code.from; pc < unit.code.to; pc += WIDTH) {
    if (code[pc] === opNumber.step || (code[pc + 1] as number) < 0) return false;
  }
  return true;
}

export function orderOf(program: Program): Order {
  const count = program.nodes.length;
  const stage = new Int32Array(count);
  const plain = new Uint8Array(count);
  const batches: Unit[][] = [];
  const singles: Unit[][] = [];
  const slow: Unit[] = [];
  for (const unit of program.units) {
    if (unit.nodes.some((id) => program.slow[id] === 1)) {
      slow.push(unit);
      continue;
    }
    const own = isPlain(program, unit);
    let at = 0;
    let broken = false;
    for (const id of unit.nodes)
      for (const on of program.draws[id] ?? []) {
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
  const parts: (Batch | Unit)[] = [];
  for (let at = 0; at < Math.max(batches.length, singles.length); at++) {
    const units = batches[at];
    if (units) parts.push(batchOf(program, units, plain));
    parts.push(...(singles[at] ?? []));
  }
  return { parts, slow };
}

interface Instruction {
  readonly op: number;
  readonly level: number;
  readonly pc: number;
}

function batchOf(program: Program, units: readonly Unit[], plain: Uint8Array): Batch {
  const { code } = program;
  const level = new Map<Operand, number>();
  const list: Instruction[] = [];
  const outside = new Set<number>();
  const results: number[] = [];
  for (const unit of units) {
    for (let pc = unit.code.from; pc < unit.code.to; pc += WIDTH) {
      const op = code[pc] as number;
      const [to, a, b, c] = [code[pc + 1], code[pc + 2], code[pc + 3], code[pc + 4]] as number[] as [
        number,
        number,
        number,
        number,
      ];
      let at = Math.max(level.get(a) ?? 0, level.get(b) ?? 0);
      if (op === opNumber.select) at = Math.max(at, level.get(c) ?? 0);
      level.set(to, at + 1);
      list.push({ op, level: at, pc });
    }
    for (const id of unit.nodes) {
      results.push(...(program.operands[id] ?? []));
      for (const on of program.draws[id] ?? []) if (plain[on] !== 1) outside.add(on);
    }
  }
  list.sort((x, y) => x.level - y.level || x.op - y.op || x.pc - y.pc);
  const runs: OperationRun[] = [];
  let from = 0;
  list.forEach(({ op, level: at }, i) => {
    const next = list[i + 1];
    if (next && next.op === op && next.level === at) return;
    runs.push({ op, from, to: i + 1 });
    from = i + 1;
  });
  const column = (k: number): Int32Array => Int32Array.from(list, ({ pc }) => code[pc + k] as number);
  return {
    units,
    nodes: Int32Array.from(units.flatMap((unit) => unit.nodes)),
    runs,
    to: column(1),
    a: column(2),
    b: column(3),
    c: column(4),
    results: Int32Array.from(results),
    outside: Int32Array.from(outside),
  };
}

/** What follows one given, ready to be worked when it moves. */
export interface Following {
  /** In order, put-off ones included. */
  readonly units: readonly Unit[];
  /** All of it as one stretch of instructions, when it is plain arithmetic on single numbers. */
  readonly flat:
    | { readonly code: Int32Array; readonly range: CodeRange; readonly nodes: Int32Array; readonly results: Int32Array }
    | undefined;
}

export function followingOf(program: Program, id: number): Following {
  const reached = new Set<number>();
  const stack = [id];
  while (stack.length > 0) {
    for (const by of program.drawnOnBy[stack.pop() as number] ?? []) {
      const unit = program.unitOf[by] ?? -1;
      if (unit < 0 || reached.has(unit)) continue;
      reached.add(unit);
      for (const node of program.units[unit]?.nodes ?? []) stack.push(node);
    }
  }
  const own = program.unitOf[id] ?? -1;
  reached.delete(own);
  const units = [...reached].sort((a, b) => a - b).map((unit) => program.units[unit] as Unit);
  const flat = units.every(
    (unit) => isPlain(program, unit) && unit.nodes.every((node) => program.slow[node] !== 1),
  );
  if (!flat) return { units, flat: undefined };
  const words: number[] = [];
  for (const unit of units)
    for (let pc = unit.code.from; pc < unit.code.to; pc++) words.push(program.code[pc] as number);
  const nodes = units.flatMap((unit) => unit.nodes);
  return {
    units,
    flat: {
      code: Int32Array.from(words),
      range: { from: 0, to: words.length },
      nodes: Int32Array.from(nodes),
      results: Int32Array.from(nodes.flatMap((node) => program.operands[node] ?? [])),
    },
  };
}
