// The lines of a table below `name = table`: the columns first, then a row a line, with `|` between.

import type { Diagnostic } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';
import { isPhrase, JOINING_WORDS, wordsOf } from '../source/name.ts';
import { signOutsideText } from '../source/quote.ts';
import { whyWrong } from './line-slips.ts';
import { cellsBetweenBars, type Line, noteAt, noteMark, pieceAt, trimmed } from './lines.ts';
import type { TableColumn, TableRow } from './notebook.ts';

export interface ReadTable {
  readonly columns: readonly TableColumn[];
  readonly rows: readonly TableRow[];
}

/** Reads the lines after the first; spans count from the first line's start. */
export function readTable(
  text: string,
  lines: readonly Line[],
  diagnostics: Diagnostic[],
): ReadTable {
  const first = lines[0] ?? { start: 0, end: 0, next: 0 };
  const below = lines.slice(1).filter((line) => !isOnlyNote(text, line));
  const header = below[0];
  if (header === undefined) {
    diagnostics.push(message('table-empty', { start: first.start, end: first.end }, []));
    return { columns: [], rows: [] };
  }
  const columns = readColumns(text, header, first.start, diagnostics);
  if (columns.length === 0) return { columns, rows: [] };
  const rows = below
    .slice(1)
    .map((line) => readRow(text, line, first.start, columns.length, diagnostics));
  return { columns, rows };
}

function isOnlyNote(text: string, line: Line): boolean {
  return noteMark(text, line.start, line.end) === trimmed(text, line.start, line.end).start;
}

function readColumns(
  text: string,
  line: Line,
  base: number,
  diagnostics: Diagnostic[],
): readonly TableColumn[] {
  const mark = noteMark(text, line.start, line.end);
  const end = mark < 0 ? line.end : mark;
  const cells = cellsBetweenBars(text, line.start, end);
  const [opening] = cells;
  if (cells.length > 2 && opening && text.slice(opening.start, opening.end).trim() === '') {
    const place = { start: opening.end, end: opening.end + 1 };
    diagnostics.push(message('bars-outside', place, []));
    return [];
  }
  return cells.map((cell): TableColumn => {
    const equals = signOutsideText(text, cell.start, cell.end, '=');
    const place = trimmed(text, cell.start, equals < 0 ? cell.end : equals);
    const name = pieceAt(text, place, base);
    if (name.text === '') {
      diagnostics.push(message('column-name', { start: cell.start, end: cell.end }, []));
    } else if (!isPhrase(name.text)) {
      const words = wordsOf(name.text);
      const joining = words.find((word) => JOINING_WORDS.has(word.toLowerCase()));
      const meant = words.join('-');
      diagnostics.push(
        joining !== undefined && isPhrase(meant)
          ? message(
              'name-joining',
              place,
              [joining, `"${meant}"`],
              [{ label: `Write "${meant}"`, span: place, text: meant }],
            )
          : message('name-wrong', place, [name.text, whyWrong(name.text, words, joining)]),
      );
    }
    if (equals < 0) return { name };
    return { name, formula: pieceAt(text, trimmed(text, equals + 1, cell.end), base) };
  });
}

function readRow(
  text: string,
  line: Line,
  base: number,
  columns: number,
  diagnostics: Diagnostic[],
): TableRow {
  const mark = noteMark(text, line.start, line.end);
  const end = mark < 0 ? line.end : mark;
  const entries = cellsBetweenBars(text, line.start, end).map((cell) =>
    trimmed(text, cell.start, cell.end),
  );
  const extra = entries.slice(columns).find((place) => place.end > place.start);
  if (extra !== undefined) diagnostics.push(message('row-long', extra, [String(columns)]));
  const note = noteAt(text, mark, line.end, base);
  const kept = entries.slice(0, columns).map((place) => pieceAt(text, place, base));
  return note === undefined ? { entries: kept } : { entries: kept, note };
}
