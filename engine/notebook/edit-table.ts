// Edits of a table's entries. The bars of a row keep their columns as far as there is room.

import { applyEdit, change, type Edit, type Edited } from './edit.ts';
import { endsLine, lineEnd, sameShape, tableIndex } from './edit-piece.ts';
import { cellsBetweenBars, linesOf, noteMark, trimmed } from './lines.ts';
import type { Notebook, TableItem } from './notebook.ts';

/**
 * Puts a text in place of a table's entry (rows and columns from 0). A row one beyond the last is
 * added.
 */
export function setEntry(
  notebook: Notebook,
  table: string,
  row: number,
  column: number,
  text: string,
): Edited | undefined {
  const index = tableIndex(notebook, table);
  const item = notebook.items[index];
  if (item?.kind !== 'table' || column < 0 || column >= item.columns.length) return undefined;
  const entry = text.trim();
  if (row < 0 || row > item.rows.length) return undefined;
  const edit =
    row === item.rows.length
      ? newRow(notebook, item, column, entry)
      : entryEdit(item, row, column, entry);
  if (edit === undefined) return undefined;
  const edited = applyEdit(notebook, edit);
  const now = edited.notebook.items[index];
  const kept = now?.kind === 'table' && (now.rows[row]?.entries[column]?.text ?? '') === entry;
  const rows = now?.kind === 'table' ? now.rows.length : -1;
  const wanted = Math.max(item.rows.length, row + 1);
  return kept && rows === wanted && sameShape(notebook, edited.notebook) ? edited : undefined;
}

function entryEdit(item: TableItem, row: number, column: number, entry: string): Edit | undefined {
  const line = rowLines(item)[row];
  if (line === undefined) return undefined;
  const mark = noteMark(item.source, line.start, line.end);
  const end = mark < 0 ? line.end : mark;
  const cells = cellsBetweenBars(item.source, line.start, end);
  const cell = cells[column];
  if (cell === undefined) {
    // Entries left out at the end of the row: write the bars up to this one.
    if (entry === '') return { changes: [] };
    const body = item.source.slice(line.start, end).trimEnd().length + line.start;
    const bars = ' |'.repeat(column - cells.length + 1);
    const put = `${bars} ${entry}`;
    const room = mark < 0 ? 0 : Math.max(1, mark - body - put.length);
    const to = mark < 0 ? line.end : mark;
    return change(item.offset + body, item.offset + to, put + ' '.repeat(room));
  }
  const place = trimmed(item.source, cell.start, cell.end);
  const leading = item.source.slice(cell.start, place.start);
  const lead = leading === '' && entry !== '' && column > 0 ? ' ' : leading;
  const width = cell.end - cell.start;
  const isLast = column === cells.length - 1 && mark < 0;
  const put = lead + entry;
  const trailing = place.end < cell.end || mark >= 0 || place.start === place.end ? 1 : 0;
  const padded = isLast
    ? put
    : put + ' '.repeat(Math.max(entry === '' ? 0 : trailing, width - put.length));
  return change(item.offset + cell.start, item.offset + cell.end, padded);
}

function newRow(
  notebook: Notebook,
  item: TableItem,
  column: number,
  entry: string,
): Edit | undefined {
  if (item.columns.length === 0 || entry === '') return undefined;
  const end = lineEnd(notebook);
  const line = `  ${'| '.repeat(column)}${entry}`;
  const at = item.offset + item.source.length;
  return change(at, at, endsLine(item.source) ? line + end : end + line);
}

/** The lines of a table's rows, in order. */
export function rowLines(
  item: TableItem,
): readonly { readonly start: number; readonly end: number }[] {
  return linesOf(item.source)
    .slice(1)
    .filter(
      (line) =>
        noteMark(item.source, line.start, line.end) !==
        trimmed(item.source, line.start, line.end).start,
    )
    .slice(1);
}
