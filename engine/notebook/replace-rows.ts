// All rows of a table anew, as drawing an outline gives them: one change of text. Lines that hold
// no row, such as remarks between rows, stay where they are.

import { applyEdit, type Change, type Edited } from './edit.ts';
import { endsLine, lineEnd, sameShape, tableIndex } from './edit-piece.ts';
import { headWidths, rowText } from './edit-rows.ts';
import { rowLines } from './edit-table.ts';
import { noteMark } from './lines.ts';
import type { Notebook } from './notebook.ts';

export interface NewRow {
  readonly entries: readonly string[];
  /** The row that stood before whose note goes with this one. */
  readonly noteOf?: number;
}

/** Nothing when a text would not be read back, or when no row would be left. */
export function replaceRows(
  notebook: Notebook,
  table: string,
  rows: readonly NewRow[],
): Edited | undefined {
  const index = tableIndex(notebook, table);
  const item = notebook.items[index];
  if (item?.kind !== 'table' || rows.length === 0) return undefined;
  if (rows.some(({ entries }) => entries.length > item.columns.length)) return undefined;
  const widths = headWidths(item);
  const lines = rowLines(item);
  const end = lineEnd(notebook);
  const texts = rows.map(({ entries, noteOf }) => {
    const line = noteOf === undefined ? undefined : lines[noteOf];
    const mark = line === undefined ? -1 : noteMark(item.source, line.start, line.end);
    const note = line === undefined || mark < 0 ? '' : ` ${item.source.slice(mark, line.end)}`;
    return `  ${rowText(
      entries.map((entry) => entry.trim()),
      widths,
    )}${note}`;
  });
  const changes: Change[] = lines.map(({ start, end: to }, row): Change => {
    const text = texts[row];
    const from = item.offset + start;
    if (text !== undefined) return { span: { start: from, end: item.offset + to }, text };
    // A line that goes takes its end with it.
    const after = item.source.slice(to).match(/^\r?\n/u)?.[0].length ?? 0;
    return { span: { start: from, end: item.offset + to + after }, text: '' };
  });
  const added = texts.slice(lines.length);
  if (added.length > 0) {
    const last = lines.at(-1)?.end ?? item.source.length;
    const at = item.offset + last;
    const begun = last === item.source.length && endsLine(item.source);
    const text = begun
      ? added.map((line) => line + end).join('')
      : added.map((line) => end + line).join('');
    changes.push({ span: { start: at, end: at }, text });
  }
  const edited = applyEdit(notebook, { changes });
  const now = edited.notebook.items[index];
  if (now?.kind !== 'table' || !sameShape(notebook, edited.notebook)) return undefined;
  const kept = rows.every(({ entries }, r) =>
    entries.every((entry, c) => (now.rows[r]?.entries[c]?.text ?? '') === entry.trim()),
  );
  return kept && now.rows.length === rows.length ? edited : undefined;
}
