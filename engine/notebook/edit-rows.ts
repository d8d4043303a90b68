// Edits of many entries of a table at once, as they come with a paste: one change of text, whatever
// the number of rows. Rows that are not touched keep their lines.

import { applyEdit, type Change, type Edited } from './edit.ts';
import { endsLine, lineEnd, sameShape, tableIndex } from './edit-piece.ts';
import { rowLines } from './edit-table.ts';
import { cellsBetweenBars, linesOf, noteMark } from './lines.ts';
import type { Notebook, TableItem } from './notebook.ts';

/**
 * Puts texts into a table's entries, row by row from `from` on (0 the first; one beyond the last adds
 * rows). An undefined text keeps what stands there. Nothing when a text would not be read back.
 */
export function setRows(
  notebook: Notebook,
  table: string,
  from: number,
  rows: readonly (readonly (string | undefined)[])[],
): Edited | undefined {
  const index = tableIndex(notebook, table);
  const item = notebook.items[index];
  if (item?.kind !== 'table' || from < 0 || from > item.rows.length) return undefined;
  const width = item.columns.length;
  if (rows.length === 0 || rows.some((row) => row.length > width)) return undefined;
  const widths = headWidths(item);
  const lines = rowLines(item);
  const wanted = rows.map((row, r) => {
    const standing = item.rows[from + r];
    return Array.from({ length: width }, (_, c) =>
      (row[c] ?? standing?.entries[c]?.text ?? '').trim(),
    );
  });
  const changes: Change[] = [];
  let added = '';
  const end = lineEnd(notebook);
  wanted.forEach((entries, r) => {
    const line = lines[from + r];
    if (line === undefined) {
      added += `${end}  ${rowText(entries, widths)}`;
      return;
    }
    const mark = noteMark(item.source, line.start, line.end);
    const note = mark < 0 ? '' : ` ${item.source.slice(mark, line.end)}`;
    const text = `  ${rowText(entries, widths)}${note}`;
    const span = { start: item.offset + line.start, end: item.offset + line.end };
    changes.push({ span, text });
  });
  if (added !== '') {
    const at = item.offset + item.source.length;
    const ended = endsLine(item.source);
    const text = ended ? added.slice(end.length) + end : added;
    changes.push({ span: { start: at, end: at }, text });
  }
  const edited = applyEdit(notebook, { changes });
  const now = edited.notebook.items[index];
  if (now?.kind !== 'table' || !sameShape(notebook, edited.notebook)) return undefined;
  const kept = wanted.every((entries, r) =>
    entries.every((entry, c) => (now.rows[from + r]?.entries[c]?.text ?? '') === entry),
  );
  const length = Math.max(item.rows.length, from + rows.length);
  return kept && now.rows.length === length ? edited : undefined;
}

/** Room for each column, as the line of names has it. */
export function headWidths(item: TableItem): readonly number[] {
  const names = new Set(item.columns.map((column) => column.name.span.start));
  const head = linesOf(item.source).find((line) =>
    [...names].some((start) => start >= line.start && start < line.end),
  );
  if (head === undefined) return [];
  return cellsBetweenBars(item.source, head.start, head.end).map((cell) =>
    Math.max(0, cell.end - cell.start - 2),
  );
}

/** A row of which every entry is empty still has a bar, so that it is a row. */
export function rowText(entries: readonly string[], widths: readonly number[]): string {
  const last = entries.findLastIndex((entry) => entry !== '');
  if (last < 0) return '|';
  const kept = entries.slice(0, last + 1);
  const line = kept.map((entry, c) => entry.padEnd(c === last ? 0 : (widths[c] ?? 0))).join(' | ');
  return last < entries.length - 1 ? `${line} |` : line;
}
