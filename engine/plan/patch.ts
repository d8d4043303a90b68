// One cell's code put anew into a program that is running: new instructions in place of the old ones,
// values where they were, so that nothing that draws on the cell need know. A program is compiled with
// some room to spare; when it is used up, or the cell no longer fits its place in the order, nothing
// is done and the whole notebook is compiled.

import { isSameList } from '../check/recheck.ts';
import { Rejected } from '../check/rejected.ts';
import type { GraphNode } from '../check/scope.ts';
import type { Expr } from '../check/typed.ts';
import { type Compiled, link } from './compile.ts';
import { vector } from './compile-expression.ts';
import type { Emitter } from './emitter.ts';
import { joinRows } from './join-rows.ts';
import type { Memory, Operand } from './memory.ts';
import { needsOf } from './needs.ts';
import { type CodeRange, opNumber, type Program, type Unit, WIDTH } from './program.ts';

/** Instructions and steps that may pile up before the program is compiled anew. */
const MOST_CODE = 200_000;
const MOST_STEPS = 2_000;

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

export interface Patch {
  /** What the cell drew on before or draws on now, but not both. */
  readonly redrawn: readonly number[];
}

/** Takes over a node that was checked again. Nothing when it must be compiled with all others. */
export function patchNode(
  compiled: Compiled,
  made: GraphNode,
  memories: readonly Memory[],
): Patch | undefined {
  const { program, sites, workbench: e } = compiled;
  const { id } = made;
  const unit = program.units[program.unitOf[id] ?? -1];
  const targets = program.operands[id] ?? [];
  if (!unit || unit.loop || unit.nodes.length !== 1 || program.broken.has(id)) return undefined;
  if (program.slow[id] === 1 || program.steps.length > MOST_STEPS) return undefined;
  const before = program.draws[id] ?? [];
  const now = [...made.draws];
  const same = isSameList(before, now);
  if (!same && !canDraw(compiled, id, now)) return undefined;
  const [siteCount, constants] = [sites.sites.length, e.constants.length];
  const code = compileInto(e, compiled, made, targets);
  if (
    code === undefined ||
    sites.sites.length !== siteCount ||
    e.scalarCount > program.scalarCount ||
    e.rowCount > program.rowCount ||
    !putCode(compiled, unit, code)
  )
    return undefined;
  for (const { slot, value } of e.constants.slice(constants))
    for (const memory of memories) memory.scalars[slot] = value;
  const redrawn = same ? [] : rewire(program, id, before, now);
  if (redrawn.length > 0 && !relinks(compiled)) return undefined;
  const { tree, role, expr, draws } = made;
  Object.assign(program.nodes[id] as GraphNode, { tree, role, expr, draws });
  compiled.machine.forget(id);
  return { redrawn };
}

/**
 * Whether a cell may draw on these where it stands. What stands before it in the order cannot draw on
 * it, so that no circle comes about. Trials that share their runs are put together by what all of them
 * draw on: with those the notebook is compiled anew.
 */
function canDraw({ program, sites }: Compiled, id: number, draws: readonly number[]): boolean {
  const place = program.position[id] as number;
  if (sites.pools.size > 0) return false;
  for (const [node] of program.broken) {
    const { problem, waits } = program.nodes[node] as GraphNode;
    // The message of a circle names its members.
    if (problem ? problem.code === 'circle' : waits.size === 0) return false;
  }
  return draws.every((on) => {
    const at = program.position[on] as number;
    return at >= 0 && at < place && program.slow[on] !== 1 && !program.broken.has(on);
  });
}

/** Links what runs the notebook within it; false when other work than before is to be put off. */
function relinks({ program, sites }: Compiled): boolean {
  if (sites.sites.length === 0) return true;
  const [slow, needs] = [program.slow.slice(), program.needs.of];
  (program as Mutable<Program>).needs = needsOf(program.nodes, program.draws);
  link(program, sites);
  // What runs something again must still stand after all that it needs.
  const stands = (id: number): boolean =>
    !program.needs.within.has(id) || isSameList(needs[id] ?? [], program.needs.of[id] ?? []);
  return slow.every((mark, id) => mark === program.slow[id] && stands(id));
}

/** Instructions with neighbours joined, and as they were. */
interface Written {
  readonly code: readonly number[];
  readonly apart: readonly number[];
}

function compileInto(
  e: Emitter,
  { sites }: Compiled,
  node: GraphNode,
  targets: readonly Operand[],
): Written | undefined {
  e.startOver(node.id);
  try {
    const code = e.aside(() => {
      const results = vector({ e, sites, vector, owner: node.id }, node.expr as Expr);
      const last = e.code.length - WIDTH;
      const [result] = results;
      // The last instruction may write to the cell's own place at once.
      if (
        results.length === 1 &&
        last >= 0 &&
        e.code[last] !== opNumber.step &&
        e.code[last + 1] === result &&
        result !== undefined &&
        result < 0 === (targets[0] as number) < 0 &&
        !e.takenSet.has(result)
      )
        e.code[last + 1] = targets[0] as number;
      else
        targets.forEach((to, j) => {
          const from = results[j] as Operand;
          e.emit('copy', to, from, from, e.shape(node.type?.axes ?? []));
        });
    });
    return { code: joinRows(code, node.type, (place) => e.takenSet.has(place)), apart: code };
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    return undefined;
  } finally {
    e.stopOver();
  }
}

/** Writes over the old instructions, or behind all others when there are more of them now. */
function putCode(compiled: Compiled, unit: Unit, { code, apart }: Written): boolean {
  const range = putRange(compiled, unit.code, code);
  const other =
    apart === code ? undefined : putRange(compiled, unit.apart ?? { from: 0, to: 0 }, apart);
  if (!range || (apart !== code && !other)) return false;
  (unit as Mutable<Unit>).code = range;
  if (unit.apart || other) (unit as Mutable<Unit>).apart = other;
  return true;
}

function putRange(
  compiled: Compiled,
  before: CodeRange,
  code: readonly number[],
): CodeRange | undefined {
  const program = compiled.program as Mutable<Program>;
  let { from } = before;
  if (code.length > before.to - from) {
    from = compiled.workbench.codeEnd;
    const end = from + code.length;
    if (end > MOST_CODE && end > 2 * program.code.length) return undefined;
    if (end > program.code.length) {
      const longer = new Int32Array(2 * end);
      longer.set(program.code);
      program.code = longer;
    }
    compiled.workbench.codeEnd = end;
  }
  program.code.set(code, from);
  return { from, to: from + code.length };
}

function rewire(
  program: Program,
  id: number,
  before: readonly number[],
  now: readonly number[],
): readonly number[] {
  (program.draws as (readonly number[])[])[id] = now;
  (program.needs.of as (readonly number[])[])[id] = now;
  const gone = before.filter((on) => !now.includes(on));
  const come = now.filter((on) => !before.includes(on));
  for (const list of [program.drawnOnBy, program.needs.by] as (readonly number[])[][]) {
    for (const on of gone) list[on] = (list[on] ?? []).filter((by) => by !== id);
    for (const on of come) list[on] = [...(list[on] ?? []), id].sort((a, b) => a - b);
  }
  return [...gone, ...come];
}
