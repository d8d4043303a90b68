// One given through several values: every single-valued result at each of them.

import { coneNodes, orderCone } from '../plan/link.ts';
import type { Operand } from '../plan/memory.ts';
import type { ConeAction } from '../plan/sites.ts';
import type { Evaluation } from '../run/evaluation.ts';

export interface Sweep {
  readonly given: number;
  /** Stored units. */
  readonly values: readonly number[];
  /** Scalar results that the given moves: stored units, one a value; NaN where it could not be worked out. */
  readonly results: ReadonlyMap<number, Float64Array>;
}

/** What one value of a sweep costs, in passes. */
export function sweepCost(evaluation: Evaluation, column: number, given: number): number {
  const { memory } = evaluation.columns[column] as Evaluation['columns'][number];
  return evaluation.compiled.machine.costOf(reachOf(evaluation, given).actions, memory);
}

/** Single-valued results that a given may move, and how they are worked again. */
function reachOf(
  { program }: Evaluation,
  given: number,
): { readonly actions: readonly ConeAction[]; readonly moved: readonly number[] } {
  const targets = [{ node: given, row: undefined }];
  const wanted = program.nodes
    .filter(
      (node) =>
        node.kind === 'cell' &&
        node.type?.kind === 'quantity' &&
        node.type.axes.length === 0 &&
        !program.broken.has(node.id),
    )
    .map((node) => node.id);
  const cone = coneNodes(program, targets, wanted, []);
  return { actions: orderCone(program, cone, targets), moved: wanted.filter((id) => cone.has(id)) };
}

export function sweepGiven(
  evaluation: Evaluation,
  column: number,
  given: number,
  values: readonly number[],
): Sweep {
  const { program, compiled } = evaluation;
  const { actions, moved } = reachOf(evaluation, given);
  const results = new Map(
    moved.map((id) => [id, new Float64Array(values.length).fill(Number.NaN)]),
  );
  const child = compiled.machine.newMemory();
  const { memory } = evaluation.columns[column] as Evaluation['columns'][number];
  child.follow(memory);
  values.forEach((value, i) => {
    const list = [
      ...evaluation.replacementsOf(column).filter((r) => r.node !== given),
      { node: given, row: undefined, value: () => value },
    ];
    compiled.machine.runActions(actions, list, child);
    for (const id of moved)
      if (!child.faults[id])
        (results.get(id) as Float64Array)[i] = child.at(program.operands[id]?.[0] as Operand, 0);
  });
  return { given, values, results };
}
