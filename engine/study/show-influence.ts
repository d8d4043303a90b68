// Influence in display units.

import { formatQuantity } from '../dimension/quantity.ts';
import { fromStored, plainUnit } from '../dimension/unit.ts';
import { nameKey } from '../language/parser.ts';
import type { Session } from '../run/session.ts';
import { unitFor } from '../run/show-value.ts';
import type { ShownInfluence } from '../run/snapshot.ts';
import { influenceOn } from './influence.ts';

/** Uncertain givens ranked by how far they move a cell; empty when none does. */
export function influenceOf(
  session: Session,
  cell: string,
  column: number,
  trials: number,
): readonly ShownInfluence[] {
  const { evaluation } = session;
  const key = nameKey(cell);
  const id = evaluation.checked.scope.cells.get(key);
  const type = id === undefined ? undefined : evaluation.program.nodes[id]?.type;
  if (
    id === undefined ||
    type?.kind !== 'quantity' ||
    type.axes.length > 0 ||
    evaluation.program.slow[id] === 1
  )
    return [];
  const unit = unitFor(evaluation, type, id);
  return influenceOn(evaluation, column, id, trials).map((one) => {
    const given = evaluation.program.nodes[one.node];
    const own =
      given?.type?.kind === 'quantity' ? unitFor(evaluation, given.type, one.node) : plainUnit;
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
