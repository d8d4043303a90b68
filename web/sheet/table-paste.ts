// The clipboard on a table: what is pasted goes into its entries, from the one in hand on or under
// headings of the same names; what is copied is the entry in hand, or the whole table.

import { placeRows, type TableRowShown, tableToText } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';

/** The table under the hand, and the entry when one is in hand. */
function handOn(
  desk: Desk,
  target: EventTarget | null,
): { readonly table: TableRowShown; readonly entry?: readonly [number, number] } | undefined {
  if (!(target instanceof HTMLElement) || desk.editing) return undefined;
  const item = Number(target.closest<HTMLElement>('.row')?.dataset.item ?? Number.NaN);
  const row = desk.rows.find((one) => one.item === item);
  if (row?.kind !== 'table') return undefined;
  const [r, c] = (target.dataset.entry ?? '').split(',').map(Number);
  return r === undefined || c === undefined || Number.isNaN(c)
    ? { table: row }
    : { table: row, entry: [r, c] };
}

/** Puts pasted text into the table under the hand. What to tell; undefined when no table is there. */
export function pasteIntoTable(
  desk: Desk,
  target: EventTarget | null,
  text: string,
): string | undefined {
  const hand = handOn(desk, target);
  if (!hand || text.trim() === '') return undefined;
  return putIntoTable(desk, hand.table, text, hand.entry);
}

/** Puts rows into a table, below its last row unless an entry is named. What to tell about it. */
export function putIntoTable(
  desk: Desk,
  table: TableRowShown,
  text: string,
  entry: readonly [number, number] = [table.entries.length, 0],
): string {
  const placed = placeRows(table, text, { row: entry[0], column: entry[1] });
  if ('fault' in placed) return placed.fault;
  const { row, entries, notes } = placed;
  const done = desk.run({ do: 'rows', table: table.key, row, entries }, `paste into ${table.name}`);
  if (!done) return 'That does not fit into this table; nothing was changed.';
  return notes.join(' ');
}

/** The text of the entry in hand, or of the whole table with tabs between; undefined elsewhere. */
export function copiedFromTable(desk: Desk, target: EventTarget | null): string | undefined {
  const hand = handOn(desk, target);
  if (!hand) return undefined;
  if (!hand.entry) {
    const onTable = target instanceof HTMLElement && target.classList.contains('tbl');
    return onTable ? tableToText(hand.table, '\t') : undefined;
  }
  return hand.table.entries[hand.entry[0]]?.[hand.entry[1]]?.text;
}
