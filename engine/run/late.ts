// What a scenario puts off. Besides the cells that are put off everywhere it is what is put in from
// such a cell, since the plan has no value for it yet, and all that draws on that.

import type { CheckedScenario } from '../check/check.ts';
import type { Program } from '../plan/program.ts';
import type { ConeAction } from '../plan/sites.ts';

/** Right sides of a scenario that the plan puts off. */
export function lateSources(program: Program, scenario: CheckedScenario): readonly number[] {
  return scenario.overrides
    .filter(({ override, from }) => override.value.op !== 'const' && program.slow[from] === 1)
    .map(({ from }) => from);
}

/** Work of a scenario that is put off, with the nodes that it gives a value. */
export interface LateAction {
  readonly action: ConeAction;
  readonly nodes: readonly number[];
}

/** A scenario's work parted into what is done at once and what is put off, each in order. */
export interface Parted {
  readonly quick: readonly ConeAction[];
  readonly later: readonly LateAction[];
  /** Nodes that have their value only once what was put off is done. */
  readonly late: ReadonlySet<number>;
}

export function partActions(
  program: Program,
  scenario: CheckedScenario,
  actions: readonly ConeAction[],
): Parted {
  const sources = new Set(lateSources(program, scenario));
  const held = new Set<number>();
  const late = new Set<number>();
  for (const { override, from } of scenario.overrides) {
    if (override.row === undefined) held.add(override.node);
    // The other entries of a column that is put off come late.
    if (sources.has(from) || (override.row !== undefined && program.slow[override.node] === 1))
      late.add(override.node);
  }
  const isLate = (id: number): boolean =>
    program.slow[id] === 1 || (program.draws[id] ?? []).some((on) => late.has(on));
  const quick: ConeAction[] = [];
  const later: LateAction[] = [];
  for (const action of actions) {
    // What is put in place of a member of a circle stands.
    const nodes = nodesOf(program, action).filter((id) => action.kind !== 'unit' || !held.has(id));
    if (action.kind === 'unit' && nodes.some(isLate)) for (const id of nodes) late.add(id);
    if (nodes.some((id) => late.has(id))) later.push({ action, nodes });
    else quick.push(action);
  }
  return { quick, later, late };
}

function nodesOf(program: Program, action: ConeAction): readonly number[] {
  if (action.kind === 'unit') return program.units[action.unit]?.nodes ?? [];
  return action.kind === 'circle' ? [] : [action.node];
}
