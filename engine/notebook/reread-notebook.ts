// Reading a notebook again after one stretch of its text changed: only the items round the stretch are
// read, the others are kept and moved. What comes out equals reading the whole text; on ten thousand
// lines it takes a fraction of the time, and the page does it at every keystroke.

import type { Diagnostic, Fix } from '../source/diagnostic.ts';
import type { Span } from '../source/span.ts';
import { linesOf } from './lines.ts';
import type { Item, Notebook } from './notebook.ts';
import { LINE_LIMIT, readItems, readNotebook } from './read-notebook.ts';
import { changeWritten, keepWritten } from './write-notebook.ts';

/**
 * @param before   the notebook as it was
 * @param text     the whole text as it is now
 * @param changed  the stretch of the old text that was replaced; all else is the same
 */
export function rereadNotebook(before: Notebook, text: string, changed: Span): Notebook {
  const { items } = before;
  const last = items.length - 1;
  // An item's first line may come to belong to the item above, so that one is read again; so is the
  // one below, whose first line may come to belong to a changed item.
  const first = lastStartingAtOrBefore(items, changed.start) - 1;
  const next = withIndented(items, Math.min(last, lastStartingAtOrBefore(items, changed.end) + 1));
  const start = items[first];
  const end = items[next];
  const lines = (items[last]?.line ?? 0) + (items[last]?.source.length ?? 0);
  // Without a header the first line has a message of the header's.
  const headless = before.headerSource.length <= 1;
  if (headless || first < 0 || start === undefined || end === undefined || lines > LINE_LIMIT) {
    return readNotebook(text);
  }
  const oldEnd = end.offset + end.source.length;
  const oldLength = (items[last]?.offset ?? 0) + (items[last]?.source.length ?? 0);
  const grown = text.length - oldLength;
  const stretch = text.slice(start.offset, oldEnd + grown);
  const stretchLines = linesOf(stretch);
  if ((items[last]?.line ?? 0) + stretchLines.length > LINE_LIMIT) return readNotebook(text);
  const messages: Diagnostic[] = [];
  const read = readItems(stretch, stretchLines, 0, 0, messages);
  const nextLine = items[next + 1]?.line;
  const linesGrown = nextLine === undefined ? 0 : start.line + stretchLines.length - nextLine;
  const diagnostics = [
    ...before.diagnostics.filter(({ span }) => span.start < start.offset),
    ...messages.map((one) => movedMessage(one, start.offset)),
    ...before.diagnostics
      .filter(({ span }) => span.start >= oldEnd)
      .map((one) => movedMessage(one, grown)),
  ];
  const notebook = {
    ...before,
    items: [
      ...items.slice(0, first),
      ...read.map((item) => moved(item, start.offset, start.line - 1)),
      ...items.slice(next + 1).map((item) => moved(item, grown, linesGrown)),
    ],
    diagnostics,
  };
  return keepWritten(notebook, text);
}

/** Lines that stand alone though they are indented may come to belong above, however many there are. */
function withIndented(items: readonly Item[], next: number): number {
  let at = next;
  while (/^\s+\S/u.test(items[at + 1]?.source ?? '')) at++;
  return at;
}

/** A notebook with one item of another text, and what stood in its place. */
export interface Within {
  readonly notebook: Notebook;
  readonly removed: string;
}

/**
 * A change within a cell that leaves it a cell of as many lines: no other item is touched, and the whole
 * text is not needed. Nothing when it is another sort of change.
 *
 * @param changed  the stretch of the old text that is replaced
 * @param put      what takes its place
 */
export function rereadWithin(before: Notebook, changed: Span, put: string): Within | undefined {
  const { items, diagnostics } = before;
  const at = lastStartingAtOrBefore(items, changed.start);
  const [item, below] = [items[at], items[at + 1]];
  // Without a header the first line has a message of the header's.
  if (item?.kind !== 'cell' || below === undefined || before.headerSource.length <= 1)
    return undefined;
  const { offset, source, line } = item;
  const [start, end] = [changed.start - offset, changed.end - offset];
  // The line end of the last line stays as it is.
  const content = source.length - (source.endsWith('\r\n') ? 2 : 1);
  if (start <= 0 || end < start || end > content || line >= LINE_LIMIT - 1) return undefined;
  const now = source.slice(0, start) + put + source.slice(end);
  // A return put in before the line's end becomes part of it.
  if (now.endsWith('\r\n') !== source.endsWith('\r\n')) return undefined;
  const lines = linesOf(now);
  if (lines.length !== below.line - line) return undefined;
  const messages: Diagnostic[] = [];
  const [read, more] = readItems(now, lines, 0, 0, messages);
  if (read?.kind !== 'cell' || more !== undefined) return undefined;
  const grown = put.length - (end - start);
  const list = items.slice();
  list[at] = moved(read, offset, line - 1);
  if (grown !== 0)
    for (let k = at + 1; k < list.length; k++) list[k] = moved(list[k] as Item, grown, 0);
  const oldEnd = offset + source.length;
  const notebook = {
    ...before,
    items: list,
    diagnostics:
      diagnostics.length + messages.length === 0
        ? diagnostics
        : [
            ...diagnostics.filter(({ span }) => span.start < offset),
            ...messages.map((one) => movedMessage(one, offset)),
            ...diagnostics
              .filter(({ span }) => span.start >= oldEnd)
              .map((one) => movedMessage(one, grown)),
          ],
  };
  changeWritten(before, notebook, changed, put);
  return { notebook, removed: source.slice(start, end) };
}

/** Index of the last item that starts at or before an offset, or -1. */
function lastStartingAtOrBefore(items: readonly Item[], offset: number): number {
  let low = 0;
  let high = items.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((items[middle]?.offset ?? 0) <= offset) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

function moved<One extends Item>(item: One, characters: number, lines: number): One {
  if (characters === 0 && lines === 0) return item;
  return { ...item, offset: item.offset + characters, line: item.line + lines };
}

function movedMessage(diagnostic: Diagnostic, characters: number): Diagnostic {
  if (characters === 0) return diagnostic;
  const { fixes } = diagnostic;
  const place = movedSpan(diagnostic.span, characters);
  if (fixes === undefined) return { ...diagnostic, span: place };
  const movedFixes = fixes.map((fix): Fix => ({ ...fix, span: movedSpan(fix.span, characters) }));
  return { ...diagnostic, span: place, fixes: movedFixes };
}

function movedSpan({ start, end }: Span, characters: number): Span {
  return { start: start + characters, end: end + characters };
}
