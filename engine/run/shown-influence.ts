// Ranked givens in display units: the result's for how far they move it, their own for their ends.

import { formatQuantity } from '../dimension/quantity.ts';
import { fromStored, plainUnit, type Unit } from '../dimension/unit.ts';
import type { Evaluation } from './evaluation.ts';
import { unitFor } from './show-value.ts';
import type { ShownInfluence } from './snapshot.ts';
import type { Influence } from './study-results.ts';

/** `unit` is the result's. */
export function shownInfluence(
  evaluation: Evaluation,
  list: readonly Influence[],
  unit: Unit,
): readonly ShownInfluence[] {
  return list.map((one) => {
    const given = evaluation.program.nodes[one.node]?.type;
    const own = given?.kind === 'quantity' ? unitFor(evaluation, given, one.node) : plainUnit;
    return {
      name: one.name,
      low: fromStored(one.low, unit),
      high: fromStored(one.high, unit),
      rank: one.rank,
      unit: unit.symbol,
      lowText: formatQuantity(one.givenLow, own),
      highText: formatQuantity(one.givenHigh, own),
    };
  });
}
