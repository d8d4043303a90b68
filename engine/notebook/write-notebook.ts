// From items back to text: joining, since every item keeps its lines as they were. A text that is known,
// or that differs from a known one in one stretch, is not joined again.

import type { Span } from '../source/span.ts';
import type { Notebook } from './notebook.ts';

/** A known text, or one stretch of a known text and what takes its place. */
type Written = string | { readonly before: string; readonly changed: Span; readonly put: string };

const written = new WeakMap<Notebook, Written>();

/** Says what the text of a notebook is, for one that was made of it. */
export function keepWritten(notebook: Notebook, text: string): Notebook {
  written.set(notebook, text);
  return notebook;
}

/** Says how the text of a notebook differs from another's. */
export function changeWritten(
  from: Notebook,
  notebook: Notebook,
  changed: Span,
  put: string,
): void {
  const before = written.get(from);
  if (typeof before === 'string') written.set(notebook, { before, changed, put });
}

export function writeNotebook(notebook: Notebook): string {
  const known = written.get(notebook);
  if (typeof known === 'string') return known;
  const text = known
    ? known.before.slice(0, known.changed.start) + known.put + known.before.slice(known.changed.end)
    : notebook.headerSource + notebook.items.map(({ source }) => source).join('');
  written.set(notebook, text);
  return text;
}
