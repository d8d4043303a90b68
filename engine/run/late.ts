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

/** Nodes that have their value in a scenario only once what was put off is done. */
export function lateNodes(
  program: Program,
  scenario: CheckedScenario,
  actions: readonly ConeAction[],
): ReadonlySet<number> {
  const sources = new Set(lateSources(program, scenario));
  const late = new Set<number>();
  // The other entries of a column that is put off come late.
  for (const { override, from } of scenario.overrides)
    if (sources.has(from) || (override.row !== undefined && program.slow[override.node] === 1))
      late.add(override.node);
  for (const action of actions) {
    if (action.kind !== 'unit') continue;
    const { nodes = [] } = program.units[action.unit] ?? {};
    const isLate = (id: number): boolean =>
      program.slow[id] === 1 || (program.draws[id] ?? []).some((on) => late.has(on));
    if (nodes.some(isLate)) for (const id of nodes) late.add(id);
  }
  return late;
}
