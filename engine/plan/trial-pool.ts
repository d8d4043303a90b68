// Trials that are asked for in the same context (`chance(…) with a = 1` in one cell, `percentile(…)
// with a = 1` in the next) are run once: whichever cell is worked first keeps the samples of the
// others. What is kept is taken only when every number that the trials draw on is, to the bit, what
// it was; so nothing has to be told when something beneath moves.

import type { TypedOverride } from '../check/typed.ts';
import type { DrawnInstead, Memory, Operand } from './memory.ts';
import type { Program } from './program.ts';
import type { ConeAction, PoolMember, RunContext, Sample, Site } from './sites.ts';

/** A run in which nothing is shared. */
export const APART: RunContext = { key: undefined, outer: undefined, site: undefined };

/** Names what a `with` puts in; undefined when that is more than numbers and cells. */
export function contextKey(
  outer: RunContext | undefined,
  overrides: readonly TypedOverride[],
): string | undefined {
  const parts = [outer === undefined ? '' : outer.key];
  for (const { node, row, value } of overrides) {
    const what =
      value.op === 'const'
        ? value.values.map((v) => (Object.is(v, -0) ? '-0' : String(v))).join('|')
        : value.op === 'ref'
          ? `cell ${value.node}`
          : undefined;
    parts.push(what === undefined ? undefined : `${node}:${row ?? ''}=${what}`);
  }
  return parts.includes(undefined) ? undefined : parts.join(';');
}

/** Numbers that are compared at most; beyond, trials are not shared. */
const MOST_INPUTS = 2_000_000;

/**
 * All numbers that the trials of a site draw on but do not work themselves, with their axes and with
 * what the runs around have put in. Undefined when one of them has failed, or they are too many.
 */
export function trialInputs(
  program: Program,
  site: Site,
  cone: readonly ConeAction[],
  child: Memory,
): readonly number[] | undefined {
  const worked = new Set<number>();
  for (const action of cone)
    if (action.kind === 'unit')
      for (const id of program.units[action.unit]?.nodes ?? []) worked.add(id);
  const nodes = new Set<number>([...site.wanted, ...site.also]);
  for (const id of worked) {
    for (const on of program.draws[id] ?? []) nodes.add(on);
    for (const on of program.needs.of[id] ?? []) nodes.add(on);
  }
  for (const id of [...nodes]) for (const axis of axisNodes(program, id)) nodes.add(axis);
  const found: number[] = [];
  const put = (operand: Operand): void => {
    if (operand >= 0) found.push(1, child.scalars[operand] as number);
    else {
      const row = child.rows[~operand] as Float64Array;
      found.push(row.length);
      for (let i = 0; i < row.length && found.length <= MOST_INPUTS; i++)
        found.push(row[i] as number);
    }
  };
  const axes = new Set<number>();
  for (const id of [...nodes].sort((a, b) => a - b)) {
    const isHeld = child.heldBefore.has(id);
    found.push(id, isHeld ? 1 : 0);
    for (const axis of program.nodes[id]?.type?.axes ?? []) axes.add(axis.id);
    if (worked.has(id) && !isHeld) continue;
    if (child.faults[id]) return undefined;
    for (const operand of program.operands[id] ?? []) put(operand);
    if (found.length > MOST_INPUTS) return undefined;
  }
  for (const id of axes) {
    const axis = child.axes[id];
    if (!axis) return undefined;
    found.push(axis.length, axis.start, axis.end, axis.step);
    for (let i = 0; i < axis.places.length && found.length <= MOST_INPUTS; i++)
      found.push(axis.places[i] as number);
  }
  for (const key of child.heldRowsBefore) for (const part of key.split(':')) found.push(+part);
  return found.length > MOST_INPUTS ? undefined : found;
}

function axisNodes(program: Program, id: number): number[] {
  return (program.nodes[id]?.type?.axes ?? []).map((axis) => axis.node).filter((node) => node >= 0);
}

/** What was kept for a member, if it was worked from the same numbers. */
export function keptFor(
  member: PoolMember,
  inputs: readonly number[],
  instead: ReadonlyMap<string, DrawnInstead>,
): Sample | undefined {
  const { kept } = member.pool;
  if (!kept || kept.inputs.length !== inputs.length || kept.instead.size !== instead.size) return;
  for (const [key, { distribution }] of instead)
    if (kept.instead.get(key)?.distribution !== distribution) return undefined;
  for (let i = 0; i < inputs.length; i++)
    if (!Object.is(kept.inputs[i], inputs[i])) return undefined;
  return kept.samples.get(member);
}
