// A cone that is worked again and again with other numbers put in: its cells' instructions stand one
// after the other in one stream, and only what must be looked at is looked at. When all went well the
// values are those of the cells worked one by one; when not, nothing is known but that, and the cells
// must be worked one by one to tell what is wrong where.

import { FIRST_JOIN, type Join, joinNumber } from './joins.ts';
import { execute, firstUnfit } from './kernels.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, type Op, opNumber, type Program, type Unit, WIDTH } from './program.ts';
import type { ConeAction } from './sites.ts';

/** Cells in a row, a circle, or something that is put in. */
type Part =
  | { readonly kind: 'cells'; readonly code: Int32Array; readonly range: CodeRange }
  | { readonly kind: 'circle'; readonly unit: Unit }
  | { readonly kind: 'put in'; readonly index: number };

export interface QuickCone {
  readonly parts: readonly Part[];
  readonly looked: readonly { readonly operand: Operand; readonly optional: boolean }[];
}

/** What a cone has put in. */
interface PutIn {
  readonly node: number;
  readonly row: number | undefined;
  readonly fault?: unknown;
}

/**
 * Makes a cone ready for many runs on this memory. Nothing when something in it cannot be worked, or
 * waits for what has failed.
 */
export function quickCone(
  program: Program,
  actions: readonly ConeAction[],
  list: readonly PutIn[],
  m: Memory,
): QuickCone | undefined {
  if (list.some(({ fault }) => fault !== undefined)) return undefined;
  const worked = new Set<number>(list.map(({ node }) => node));
  const parts: Part[] = [];
  const units: Unit[] = [];
  let words: number[] = [];
  const endCells = (): void => {
    const range = { from: 0, to: words.length };
    if (words.length > 0) parts.push({ kind: 'cells', code: Int32Array.from(words), range });
    words = [];
  };
  for (const action of actions) {
    if (action.kind !== 'unit') {
      endCells();
      list.forEach(({ node, row }, index) => {
        if (node === action.node && (row === undefined) === (action.kind === 'replace'))
          parts.push({ kind: 'put in', index });
      });
      continue;
    }
    const unit = program.units[action.unit] as Unit;
    for (const id of unit.nodes) worked.add(id);
    if (unit.loop) {
      endCells();
      parts.push({ kind: 'circle', unit });
    } else if (!m.heldBefore.has(unit.nodes[0] as number)) {
      for (let pc = unit.code.from; pc < unit.code.to; pc++) words.push(program.code[pc] as number);
      units.push(unit);
    }
  }
  endCells();
  for (const action of actions) {
    // An entry may be put in where the column itself has failed.
    if (action.kind === 'patch' && units.some(({ nodes }) => nodes.includes(action.node)))
      return undefined;
    if (action.kind !== 'unit') continue;
    for (const id of program.units[action.unit]?.nodes ?? []) {
      const node = program.nodes[id];
      if (!node?.type || node.expr?.op === 'blank') return undefined;
      for (const on of program.draws[id] ?? [])
        if (m.faults[on] !== undefined && !worked.has(on)) return undefined;
    }
  }
  return { parts, looked: toLookAt(program, units) };
}

/**
 * Works the cone. False when something is amiss; `putIn` puts the thing of that number in, `circle`
 * works a circle and tells whether it went well.
 */
export function runQuickCone(
  { parts, looked }: QuickCone,
  program: Program,
  m: Memory,
  putIn: (index: number) => void,
  circle: (unit: Unit) => boolean,
): boolean {
  const { steps, shapes } = program;
  for (let k = 0; k < parts.length; k++) {
    const part = parts[k] as Part;
    if (part.kind === 'put in') putIn(part.index);
    else if (part.kind === 'circle') {
      if (!circle(part.unit)) return false;
    } else {
      m.problem = '';
      m.index = 0;
      execute(part.code, part.range, m, steps, shapes);
      if (m.problem !== '') return false;
    }
  }
  for (let k = 0; k < looked.length; k++) {
    const { operand, optional } = looked[k] as QuickCone['looked'][number];
    if (firstUnfit(m, operand, optional) >= 0) return false;
  }
  return true;
}

/**
 * The values that must be looked at for numbers that are none. A finite sum has finite parts, so that
 * one look at the last of a chain of sums and products is a look at all of it.
 */
function toLookAt(program: Program, units: readonly Unit[]): QuickCone['looked'] {
  /** Series that are finite wherever another one along the same axes is. */
  const sure = new Map<Operand, string>();
  const looked: { operand: Operand; optional: boolean }[] = [];
  for (let k = units.length - 1; k >= 0; k--) {
    const unit = units[k] as Unit;
    const id = unit.nodes[0] as number;
    const { type } = program.nodes[id] ?? {};
    if (!type || type.kind === 'window') continue;
    const axes = type.axes.map((axis) => axis.id).join();
    for (const operand of program.operands[id] ?? []) {
      if (type.optional || sure.get(operand) !== axes)
        looked.push({ operand, optional: type.optional });
      if (operand < 0 && !type.optional)
        for (const place of partsOf(program, unit, operand)) sure.set(place, axes);
    }
  }
  return looked.reverse();
}

/** Series that are finite where this result of a unit is. */
function partsOf(program: Program, unit: Unit, result: Operand): ReadonlySet<Operand> {
  const { code } = program;
  const found = new Set([result]);
  const starts: number[] = [];
  for (let pc = unit.code.from; pc < unit.code.to; pc += WIDTH) {
    starts.push(pc);
    const op = code[pc] as number;
    // A join, and a selection of series, take two instructions' room.
    if (op >= FIRST_JOIN || (op === opNumber.select && (code[pc + 1] as number) < 0)) pc += WIDTH;
  }
  for (const pc of starts.reverse()) {
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
