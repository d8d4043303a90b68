// Lines of a text with their places. A line keeps its end (\n, \r\n or \r), so that lines joined give
// the text again. Spans count from the start of the whole text until an item makes them its own.

import { findOutsideText, signOutsideText } from '../source/quote.ts';
import type { Span } from '../source/span.ts';
import type { Piece } from './notebook.ts';

export interface Line {
  /** Offset of its first character in the whole text. */
  readonly start: number;
  /** Offset after its last character, before the line end. */
  readonly end: number;
  /** Offset after the line end. */
  readonly next: number;
}

/** The lines of a text; the empty text has none, and a text that ends with a line end no empty last one. */
export function linesOf(text: string): readonly Line[] {
  const lines: Line[] = [];
  const ends = /\r\n|\n|\r/gu;
  let start = 0;
  for (let found = ends.exec(text); found !== null; found = ends.exec(text)) {
    const next = found.index + found[0].length;
    lines.push({ start, end: found.index, next });
    start = next;
  }
  if (start < text.length) lines.push({ start, end: text.length, next: text.length });
  return lines;
}

/** Line and column, both from 1, of an offset in a text. Columns count UTF-16 code units. */
export function lineAndColumn(
  text: string,
  offset: number,
): { readonly line: number; readonly column: number } {
  const place = Math.max(0, Math.min(offset, text.length));
  let line = 1;
  let start = 0;
  const ends = /\r\n|\n|\r/gu;
  for (let found = ends.exec(text); found !== null; found = ends.exec(text)) {
    const next = found.index + found[0].length;
    if (next > place) break;
    line += 1;
    start = next;
  }
  return { line, column: place - start + 1 };
}

/** The stretch without white space at its ends; an empty one stands after the first white space. */
export function trimmed(text: string, start: number, end: number): Span {
  const piece = text.slice(start, end);
  const inner = piece.trim();
  if (inner === '') {
    const at = Math.min(
      end,
      start + (piece.length > 0 && !/[\r\n]/u.test(piece.charAt(0)) ? 1 : 0),
    );
    return { start: at, end: at };
  }
  const from = start + piece.length - piece.trimStart().length;
  return { start: from, end: from + inner.length };
}

/** A piece of a text, with its place counted from an item's start. */
export function pieceAt(text: string, place: Span, base: number): Piece {
  return {
    text: text.slice(place.start, place.end),
    span: { start: place.start - base, end: place.end - base },
  };
}

/** Where the note's mark begins: the first ` --` or ` — ` outside a text; -1 when there is none. */
export function noteMark(text: string, start: number, end: number): number {
  const stretch = text.slice(start, end);
  if (!stretch.includes('--') && !stretch.includes('—')) return -1;
  return findOutsideText(text, start, end, (at) => {
    const character = text.charAt(at);
    if (character !== '-' && character !== '—') return false;
    if (at > 0 && !/\s/u.test(text.charAt(at - 1))) return false;
    if (character === '-') return text.charAt(at + 1) === '-' && at + 2 <= end;
    return at + 1 >= end || /\s/u.test(text.charAt(at + 1));
  });
}

/** What follows the note's mark, or nothing. `mark` is where the mark begins. */
export function noteAt(text: string, mark: number, end: number, base: number): Piece | undefined {
  if (mark < 0) return undefined;
  const after = mark + (text.charAt(mark) === '—' ? 1 : 2);
  return pieceAt(text, trimmed(text, after, end), base);
}

/** The stretches between the `|` of a line, outside texts. */
export function cellsBetweenBars(text: string, start: number, end: number): readonly Span[] {
  const cells: Span[] = [];
  let from = start;
  while (from <= end) {
    const bar = signOutsideText(text, from, end, '|');
    if (bar < 0) break;
    cells.push({ start: from, end: bar });
    from = bar + 1;
  }
  cells.push({ start: from, end });
  return cells;
}
