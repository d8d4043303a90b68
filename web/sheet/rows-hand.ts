// What is done with the rows in hand, by keys in the sheet and by buttons in the bench: moved past
// their neighbour, taken away. Each is one step.

import type { Row, RowBlock } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';

function blockAt(rows: readonly Row[], from: number, to: number): RowBlock {
  return { first: rows[from]?.item ?? -1, next: rows[to + 1]?.item ?? -1 };
}

/** Moves the rows in hand past the row above or below them; they stay in hand. */
export function moveRowsInHand(desk: Desk, by: -1 | 1): boolean {
  const { block, rows } = desk;
  const from = rows.findIndex((row) => row.item === block[0]?.item);
  const to = from + block.length - 1;
  const other = by < 0 ? from - 1 : to + 1;
  if (from < 0 || other < 0 || other >= rows.length) return false;
  const command = {
    do: 'move rows',
    rows: blockAt(rows, from, to),
    past: blockAt(rows, other, other),
  } as const;
  const total = rows.length;
  if (!desk.run(command, block.length > 1 ? `move ${block.length} rows` : 'move a row'))
    return false;
  // Words that come to stand side by side are one row; then the places have changed.
  const [first, last] = [desk.rows[from + by], desk.rows[to + by]];
  if (desk.rows.length !== total || !first || !last) return true;
  desk.select(first.item);
  if (block.length > 1) desk.select(last.item, desk.column, true);
  return true;
}

export function removeRowsInHand(desk: Desk, row: Row): boolean {
  if (desk.anchor !== undefined) return desk.removeBlock();
  const items = row.kind === 'prose' ? row.items.toReversed() : [row.item];
  const label = row.kind === 'prose' ? 'take words away' : 'take a row away';
  return desk.runAll(
    items.map((item) => ({ do: 'remove', item }) as const),
    label,
  );
}
