// Influence in display units.

import { nameKey } from '../language/parser.ts';
import type { Session } from '../run/session.ts';
import { unitFor } from '../run/show-value.ts';
import { shownInfluence } from '../run/shown-influence.ts';
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
    evaluation.isPutOff(column, id)
  )
    return [];
  const list = influenceOn(evaluation, column, id, trials);
  return shownInfluence(evaluation, list, unitFor(evaluation, type, id));
}
