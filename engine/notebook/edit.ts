// Changes of a notebook as changes of its text: a list of stretches and what takes their place. Every
// edit gives the new notebook and the edit that takes it back, to the byte.

import type { Span } from '../source/span.ts';
import type { Notebook } from './notebook.ts';
import { readNotebook } from './read-notebook.ts';
import { rereadNotebook, rereadWithin } from './reread-notebook.ts';
import { writeNotebook } from './write-notebook.ts';

/** One stretch of the whole text and its replacement. */
export interface Change {
  readonly span: Span;
  readonly text: string;
}

/** Changes in rising order that do not overlap. */
export interface Edit {
  readonly changes: readonly Change[];
}

export interface Edited {
  readonly notebook: Notebook;
  /** Takes the edit back when applied to the new notebook. */
  readonly inverse: Edit;
  /** One cell alone is another one now, and still a cell. */
  readonly isWithin?: boolean;
}

/** The notebook after an edit. Throws a RangeError when changes overlap or lie outside the text. */
export function applyEdit(notebook: Notebook, edit: Edit): Edited {
  const [one, more] = edit.changes;
  const within =
    one !== undefined && more === undefined
      ? rereadWithin(notebook, one.span, one.text)
      : undefined;
  if (one && within) {
    const { start } = one.span;
    const back = { span: { start, end: start + one.text.length }, text: within.removed };
    return { notebook: within.notebook, inverse: { changes: [back] }, isWithin: true };
  }
  const before = writeNotebook(notebook);
  const inverse: Change[] = [];
  let after = '';
  let at = 0;
  for (const { span, text } of edit.changes) {
    if (span.start < at || span.end < span.start || span.end > before.length) {
      throw new RangeError(`change at ${span.start}..${span.end} does not fit after ${at}`);
    }
    after += before.slice(at, span.start);
    inverse.push({
      span: { start: after.length, end: after.length + text.length },
      text: before.slice(span.start, span.end),
    });
    after += text;
    at = span.end;
  }
  const [only] = edit.changes;
  const text = after + before.slice(at);
  const next =
    only === undefined
      ? notebook
      : edit.changes.length === 1
        ? rereadNotebook(notebook, text, only.span)
        : readNotebook(text);
  return { notebook: next, inverse: { changes: inverse } };
}

/** An edit of one stretch. */
export function change(start: number, end: number, text: string): Edit {
  return { changes: [{ span: { start, end }, text }] };
}
