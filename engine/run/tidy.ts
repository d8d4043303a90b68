// A notebook put in order: formulas in symbols, `=` under `=`, the bars of a table in line. Only the
// look of lines changes. A line that would be read otherwise afterwards stays as it was, and so does
// every line that cannot be read.

import { parseContext } from '../check/scope.ts';
import { formatFormula } from '../language/formatter.ts';
import type { CellItem, Item, Piece, ScenarioItem, TableItem } from '../notebook/notebook.ts';
import { readNotebook } from '../notebook/read-notebook.ts';

/** Names longer than this stand out of line rather than push all others away. */
const LONGEST_NAME = 32;

/** Puts a text in place of a stretch of an item's source. */
interface Change {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The same notebook in order; the same text when there is nothing to do. */
export function tidyNotebook(text: string): string {
  const { headerSource, items } = readNotebook(text);
  const tidied = items.map((item) => item.source);
  for (const run of runsOfCells(items)) {
    const sources = tidyCells(run.map((index) => items[index] as CellItem));
    run.forEach((index, k) => {
      tidied[index] = sources[k] as string;
    });
  }
  items.forEach((item, index) => {
    if (item.kind === 'table') tidied[index] = tidyTable(item);
    else if (item.kind === 'scenario') tidied[index] = tidyScenario(item);
    else if (item.kind === 'check' || item.kind === 'answer')
      tidied[index] = changed(item.source, [formatted(item.formula)]);
  });
  const whole = headerSource + tidied.join('');
  if (whole === text) return text;
  // What is read differently goes back; if lines no longer part as they did, all of it.
  const after = readNotebook(whole).items;
  if (after.length !== items.length) return text;
  const kept = items.map((item, index) =>
    isSame(item, after[index] as Item) ? (tidied[index] as string) : item.source,
  );
  const result = headerSource + kept.join('');
  const again = readNotebook(result).items;
  const isRead =
    again.length === items.length &&
    items.every((item, index) => isSame(item, again[index] as Item));
  return isRead ? result : text;
}

/** Neighbouring cells, remarks between them left out. */
function runsOfCells(items: readonly Item[]): readonly (readonly number[])[] {
  const runs: number[][] = [];
  let open: number[] | undefined;
  items.forEach((item, index) => {
    if (item.kind === 'cell') {
      if (!open) {
        open = [];
        runs.push(open);
      }
      open.push(index);
    } else if (item.kind !== 'remark') open = undefined;
  });
  return runs;
}

function tidyCells(cells: readonly CellItem[]): readonly string[] {
  const columns = alignedAt(cells.map(({ source, name }) => ({ source, name })));
  return cells.map(({ source, name, formula }, k) =>
    changed(source, [
      { start: name.span.end, end: formula.span.start, text: gapTo(name, columns[k] as number) },
      formatted(formula),
    ]),
  );
}

/** What a scenario changes stays where its author put it; only the values get their symbols. */
function tidyScenario({ source, overrides }: ScenarioItem): string {
  return changed(
    source,
    overrides.map(({ value }) => formatted(value)),
  );
}

/**
 * How wide each name's stretch before `=` is to be: what most of the run have already, when names of
 * different lengths show that it is meant; else what the longest name needs. A name that is too long
 * stands out.
 */
function alignedAt(
  parts: readonly { readonly source: string; readonly name: Piece }[],
): readonly number[] {
  const lengths = parts.map(({ name }) => name.text.length);
  const now = parts.map(({ source, name }) => source.indexOf('=', name.span.end) - name.span.start);
  const isMeant = (column: number): boolean => {
    // A sign that touches its name shows no column: the name would be pushed out of it.
    const there = lengths.filter((length, k) => now[k] === column && length < column);
    const many = 2 * there.length > now.length && new Set(there).size > 1;
    return many || there.length === now.length;
  };
  const widest = Math.max(...lengths.filter((length) => length <= LONGEST_NAME), 0);
  const column = now.find(isMeant) ?? widest + 1;
  return lengths.map((length) => Math.max(column, length + 1));
}

function gapTo(name: Piece, column: number): string {
  return `${' '.repeat(Math.max(1, column - name.text.length))}= `;
}

function formatted({ text, span }: Piece): Change {
  return { ...span, text: formatFormula(text, parseContext) };
}

function tidyTable({ source, columns, rows }: TableItem): string {
  if (columns.length < 2 || columns.some(({ name }) => name.text === '')) return source;
  const head = columns.map(({ name, formula }) => ({
    start: name.span.start,
    end: (formula ?? name).span.end,
    text:
      formula === undefined
        ? name.text
        : `${name.text} = ${formatFormula(formula.text, parseContext)}`,
  }));
  const lines = [head, ...rows.map(({ entries }) => entries.map(tidyEntry))];
  const widths = columns.map((_, column) =>
    Math.max(...lines.map((line) => line[column]?.text.length ?? 0)),
  );
  return changed(
    source,
    lines.flatMap((line) => {
      const [first, last] = [line[0], line.at(-1)];
      if (!first || !last || line.length < 2) return [];
      // A row of more entries than there are columns is told of, and left as it is.
      if (/^[^\S\r\n]*\|/u.test(source.slice(last.end))) return [];
      const text = line.map((entry, column) => entry.text.padEnd(widths[column] as number));
      const whole = text.join(' | ').trimEnd();
      // An empty last entry may stand anywhere in its stretch; a note keeps its room.
      return [{ start: first.start, end: last.end, text: whole }];
    }),
  );
}

function tidyEntry({ text, span }: Piece): Change {
  if (!text.startsWith('=')) return { ...span, text };
  return { ...span, text: `= ${formatFormula(text.slice(1).trim(), parseContext)}` };
}

/** The source with the changes made; what follows on a line keeps its column as far as there is room. */
function changed(source: string, changes: readonly Change[]): string {
  let result = '';
  let at = 0;
  for (const { start, end, text } of changes) {
    if (start < at) return source;
    result += source.slice(at, start) + text;
    at = end;
    const spaces = /^ */u.exec(source.slice(at))?.[0].length ?? 0;
    const next = source.charAt(at + spaces);
    if (spaces === 0 || next === '=') continue;
    at += spaces;
    if (/^[\r\n]?$/u.test(next)) continue;
    const column = at - lineStart(source, at);
    const now = result.length - lineStart(result, result.length);
    result += ' '.repeat(Math.max(Math.min(spaces, 2), column - now));
  }
  return result + source.slice(at);
}

function lineStart(text: string, at: number): number {
  return Math.max(text.lastIndexOf('\n', at - 1), text.lastIndexOf('\r', at - 1)) + 1;
}

/** What an item says: its pieces without their places, formulas in symbols. */
function meaningOf(item: Item): string {
  return JSON.stringify(item, (key, value: unknown) => {
    if (key === 'source' && item.kind !== 'unread' && item.kind !== 'chart') return undefined;
    if (key === 'line' || key === 'offset' || key === 'span') return undefined;
    if ((key === 'formula' || key === 'value') && isPiece(value))
      return formatFormula(value.text, parseContext);
    if (key === 'entries' && Array.isArray(value))
      return value.map((entry: Piece) => tidyEntry(entry).text);
    return value;
  });
}

function isPiece(value: unknown): value is Piece {
  return typeof value === 'object' && value !== null && 'text' in value;
}

function isSame(before: Item, after: Item): boolean {
  return meaningOf(before) === meaningOf(after);
}

/** One formula in order: the same text when there is nothing to do, or when it cannot be read. */
export function tidyFormula(text: string): string {
  return formatFormula(text, parseContext);
}
