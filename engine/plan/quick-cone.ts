// A cone that is worked again and again with other numbers put in: its cells' instructions stand one
// after the other in one stream, and only what must be looked at is looked at. When all went well the
// values are those of the cells worked one by one; when not, nothing is known but that, and the cells
// must be worked one by one to tell what is wrong where.

import { FIRST_JOIN, type Join, joinNumber } from './joins.ts';
import { execute, firstUnfit } from './kernels.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, type Op, opNumber, type Program, type Unit, WIDTH } from './program.ts';
import type { ConeAction, RunSites } from './sites.ts';

/** Cells in a row, a look at what others are about to take, a unit by itself, or something that is put in. */
type Part =
  | { readonly kind: 'cells'; readonly code: Int32Array; readonly range: CodeRange }
  | { readonly kind: 'look'; readonly looks: readonly Operand[] }
  | { readonly kind: 'unit'; readonly unit: Unit }
  | { readonly kind: 'put in'; readonly index: number };

export type QuickCone = readonly Part[];

/** What a cone has put in. */
interface PutIn {
  readonly node: number;
  readonly row: number | undefined;
  readonly fault?: unknown;
}

/**
 * Makes a cone ready for many runs on this memory. Nothing when something in it cannot be worked or
 * waits for what has failed.
 */
export function quickCone(
  program: Program,
  sites: RunSites,
  actions: readonly ConeAction[],
  list: readonly PutIn[],
  m: Memory,
): QuickCone | undefined {
  if (list.some(({ fault }) => fault !== undefined)) return undefined;
  const worked = new Set<number>(list.map(({ node }) => node));
  const writer = new PartWriter(program);
  for (const action of actions) {
    if (action.kind === 'circle') return undefined;
    if (action.kind !== 'unit') {
      // An entry may be put in where the column itself has failed.
      if (action.kind === 'patch' && writer.hasWorked(action.node)) return undefined;
      list.forEach(({ node, row }, index) => {
        if (node === action.node && (row === undefined) === (action.kind === 'replace'))
          writer.put({ kind: 'put in', index });
      });
      continue;
    }
    const unit = program.units[action.unit] as Unit;
    for (const id of unit.nodes) {
      const node = program.nodes[id];
      if (!node?.type || node.expr?.op === 'blank') return undefined;
      for (const on of program.needs.of[id] ?? [])
        if (m.faults[on] !== undefined && !worked.has(on)) return undefined;
    }
    for (const id of unit.nodes) if (!m.heldBefore.has(id)) worked.add(id);
    if (unit.loop || !m.heldBefore.has(unit.nodes[0] as number))
      writer.work(
        unit,
        unit.nodes.some((id) => sites.owners.has(id)),
      );
  }
  return writer.end();
}

/** The same for cells of a whole notebook, in order. */
export function streamCone(program: Program, units: readonly Unit[]): QuickCone {
  const writer = new PartWriter(program);
  for (const unit of units) writer.work(unit);
  return writer.end();
}

/** Writes the parts of a cone. */
class PartWriter {
  readonly #program: Program;
  readonly #parts: Part[] = [];
  readonly #units: Unit[] = [];
  readonly #nodes = new Set<number>();
  readonly #looked = new Set<Operand>();
  #words: number[] = [];

  constructor(program: Program) {
    this.#program = program;
  }

  hasWorked(node: number): boolean {
    return this.#nodes.has(node);
  }

  put(part: Part): void {
    const range = { from: 0, to: this.#words.length };
    if (range.to > 0)
      this.#parts.push({ kind: 'cells', code: Int32Array.from(this.#words), range });
    this.#words = [];
    this.#parts.push(part);
  }

  /** @param runsAgain whether it runs part of the notebook again, and tells by itself how that went */
  work(unit: Unit, runsAgain = false): void {
    const { code } = this.#program;
    // Of what may be absent each absent place is asked why.
    const isAlone =
      runsAgain ||
      unit.loop !== undefined ||
      unit.nodes.some((id) => this.#program.nodes[id]?.type?.optional !== false);
    if (isAlone || !isCalm(this.#program, unit)) this.#lookAt(unit);
    if (isAlone) {
      this.put({ kind: 'unit', unit });
      return;
    }
    for (let pc = unit.code.from; pc < unit.code.to; pc++) this.#words.push(code[pc] as number);
    this.#units.push(unit);
    for (const id of unit.nodes) this.#nodes.add(id);
  }

  /** What a unit draws on is looked at before it is worked. */
  #lookAt(unit: Unit): void {
    const { nodes, operands, needs } = this.#program;
    const looks: Operand[] = [];
    for (const id of unit.nodes)
      for (const on of needs.of[id] ?? []) {
        const { type } = nodes[on] ?? {};
        if (!this.#nodes.has(on) || !type || type.kind === 'window') continue;
        for (const operand of operands[on] ?? []) {
          if (this.#looked.has(operand)) continue;
          this.#looked.add(operand);
          looks.push(operand);
        }
      }
    if (looks.length > 0) this.put({ kind: 'look', looks });
  }

  end(): QuickCone {
    const looks = toLookAt(this.#program, this.#units).filter(
      (operand) => !this.#looked.has(operand),
    );
    this.put({ kind: 'look', looks });
    return this.#parts;
  }
}

/** Whether all of a unit's steps take any numbers. */
function isCalm({ code, steps }: Program, unit: Unit): boolean {
  for (const pc of instructionsOf(code, unit.code))
    if (code[pc] === opNumber.step && steps[code[pc + 2] as number]?.calm !== true) return false;
  return true;
}

/** Where instructions begin: a join, and a selection of series, take two instructions' room. */
function instructionsOf(code: Int32Array, { from, to }: CodeRange): number[] {
  const starts: number[] = [];
  for (let pc = from; pc < to; pc += WIDTH) {
    starts.push(pc);
    const op = code[pc] as number;
    if (op >= FIRST_JOIN || (op === opNumber.select && (code[pc + 1] as number) < 0)) pc += WIDTH;
  }
  return starts;
}

/**
 * Works the cone. False when something is amiss; `putIn` puts the thing of that number in, `alone`
 * works a unit by itself and tells whether it went well.
 */
export function runQuickCone(
  cone: QuickCone,
  program: Program,
  m: Memory,
  putIn: (index: number) => void,
  alone: (unit: Unit) => boolean,
): boolean {
  const { steps, shapes } = program;
  for (let k = 0; k < cone.length; k++) {
    const part = cone[k] as Part;
    switch (part.kind) {
      case 'cells':
        m.problem = '';
        m.index = 0;
        execute(part.code, part.range, m, steps, shapes);
        if (m.problem !== '') return false;
        break;
      case 'look':
        for (let j = 0; j < part.looks.length; j++)
          if (firstUnfit(m, part.looks[j] as Operand, false) >= 0) return false;
        break;
      case 'put in':
        putIn(part.index);
        break;
      case 'unit':
        if (!alone(part.unit)) return false;
    }
  }
  return true;
}

/**
 * The values that must be looked at for numbers that are none. A finite sum has finite parts, so that
 * one look at the last of a chain of sums and products is a look at all of it.
 */
function toLookAt(program: Program, units: readonly Unit[]): readonly Operand[] {
  /** Series that are finite wherever another one along the same axes is. */
  const sure = new Map<Operand, string>();
  const looked: Operand[] = [];
  for (let k = units.length - 1; k >= 0; k--) {
    const unit = units[k] as Unit;
    const id = unit.nodes[0] as number;
    const { type } = program.nodes[id] ?? {};
    if (!type || type.kind === 'window') continue;
    const axes = type.axes.map((axis) => axis.id).join();
    for (const operand of program.operands[id] ?? []) {
      if (sure.get(operand) !== axes) looked.push(operand);
      if (operand < 0) for (const place of partsOf(program, unit, operand)) sure.set(place, axes);
    }
  }
  return looked.reverse();
}

/** Series that are finite where this result of a unit is. */
function partsOf(program: Program, unit: Unit, result: Operand): ReadonlySet<Operand> {
  const { code } = program;
  const found = new Set([result]);
  for (const pc of instructionsOf(code, unit.code).reverse()) {
    if (!found.has(code[pc + 1] as number)) continue;
    for (const part of SURE.get(code[pc] as number) ?? []) {
      const place = code[pc + 2 + part] as number;
      if (place < 0) found.add(place);
    }
  }
  return found;
}

type Parts = readonly number[];
/** Which rows of an operation are finite at each place where its result is. */
const SURE: ReadonlyMap<number, Parts> = new Map<number, Parts>([
  ...(
    [
      ['add', [0, 1]],
      ['sub', [0, 1]],
      ['mul', [0, 1]],
      ['div', [0]],
      ['neg', [0]],
      ['copy', [0]],
    ] as readonly (readonly [Op, Parts])[]
  ).map(([op, parts]) => [opNumber[op], parts] as const),
  ...(
    [
      ['weighed sum', [0, 1]],
      ['sum times', [0, 1]],
      ['line', [0]],
      ['line times', [0]],
      ['line over', [0]],
      ['line times row', [0, 1]],
      ['times times', [0, 1]],
      ['product times', [0, 1]],
      ['product over', [0, 1]],
      ['times over', [0]],
      ['over plus', [0, 1]],
      ['product plus', [0, 1, 2]],
      ['three terms', [0, 1, 2]],
    ] as readonly (readonly [Join, Parts])[]
  ).map(([join, parts]) => [joinNumber[join], parts] as const),
]);
