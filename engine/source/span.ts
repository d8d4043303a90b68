// A stretch of a notebook's text. Offsets count UTF-16 code units from the start of the text a
// node was read from, so that an editor can mark exactly those characters; lines and columns are
// worked out only when a message is shown.

export interface Span {
  readonly start: number;
  readonly end: number;
}

export function span(start: number, end: number): Span {
  return { start, end };
}

export function covering(first: Span, last: Span): Span {
  return { start: Math.min(first.start, last.start), end: Math.max(first.end, last.end) };
}
