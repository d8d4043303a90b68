// Edits of several rows that stand together. A block is named by its first item and the item the next
// row begins with, as the page counts rows; the empty lines between belong to neither.

import { applyEdit, type Edited } from './edit.ts';
import { endsLine, lineEnd, startOf } from './edit-piece.ts';
import type { Notebook } from './notebook.ts';
import { writeNotebook } from './write-notebook.ts';

/** Rows from one item up to where the next row begins; −1 when there is none. */
export interface Block {
  readonly first: number;
  readonly next: number;
}

/** A block's stretch of the text, without the empty lines below it. */
function spanOf(
  notebook: Notebook,
  block: Block,
): { readonly start: number; readonly end: number } | undefined {
  const { items } = notebook;
  let next = block.next < 0 ? items.length : block.next;
  if (block.first < 0 || next > items.length || block.first >= next) return undefined;
  while (next - 1 > block.first && items[next - 1]?.kind === 'blank') next--;
  return { start: startOf(notebook, block.first), end: startOf(notebook, next) };
}

/** Puts a block on the other side of one that stands above or below it. */
export function moveBlock(notebook: Notebook, block: Block, past: Block): Edited | undefined {
  const span = spanOf(notebook, block);
  const other = spanOf(notebook, past);
  if (!span || !other) return undefined;
  const isAbove = other.end <= span.start;
  if (!isAbove && other.start < span.end) return undefined;
  const whole = writeNotebook(notebook);
  const end = lineEnd(notebook);
  const text = whole.slice(span.start, span.end);
  const put = endsLine(text) ? text : text + end;
  const at = isAbove ? other.start : other.end;
  const opening = at === whole.length && !endsLine(whole) ? end : '';
  const removed = { span, text: '' };
  const inserted = { span: { start: at, end: at }, text: opening + put };
  return applyEdit(notebook, { changes: isAbove ? [inserted, removed] : [removed, inserted] });
}
