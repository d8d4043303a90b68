// What the edits share: finding an item by its name, putting a text in place of a piece so that the
// rest of its line keeps its column, and the test that an edit changed nothing else.

import { nameKey } from '../source/name.ts';
import { change, type Edit } from './edit.ts';
import { linesOf, noteMark } from './lines.ts';
import type { Item, Notebook, Piece } from './notebook.ts';

/** Place of the cell of this name among the items, or -1. `near`: where the first of that name stands, if at all. */
export function cellIndex(notebook: Notebook, name: string, near = -1): number {
  const item = notebook.items[near];
  if (item?.kind === 'cell' && nameKey(item.name.text) === nameKey(name)) return near;
  return namedIndex(notebook, 'cell', name);
}

export function tableIndex(notebook: Notebook, name: string): number {
  return namedIndex(notebook, 'table', name);
}

export function scenarioIndex(notebook: Notebook, name: string): number {
  return namedIndex(notebook, 'scenario', name);
}

/**
 * Puts a text in place of a piece. What follows on the same line after spaces keeps its column as far
 * as the spaces reach; two of them stay if there were two.
 */
export function pieceEdit(item: Item, piece: Piece, text: string): Edit {
  const { start, end } = piece.span;
  const spaces = /^[ ]*/u.exec(item.source.slice(end))?.[0].length ?? 0;
  const next = item.source.charAt(end + spaces);
  const from = item.offset + start;
  const before =
    piece.text === '' && start > 0 && !/\s/u.test(item.source.charAt(start - 1)) ? ' ' : '';
  const put = before + text;
  if (next === '' || next === '\n' || next === '\r' || next === ']' || /[\r\n]/u.test(text)) {
    const room = spaces === 0 && next !== '' && !/[\s\]]/u.test(next) ? ' ' : '';
    return change(from, item.offset + end, put + room);
  }
  const least = piece.text === '' ? 1 : Math.min(spaces, 2);
  const room = Math.max(least, spaces - (put.length - piece.text.length));
  return change(from, item.offset + end + spaces, put + ' '.repeat(room));
}

export type Noted = Extract<
  Item,
  { readonly kind: 'cell' | 'table' | 'check' | 'answer' | 'chart' }
>;

export function takesNote(item: Item): item is Noted {
  return ['cell', 'table', 'check', 'answer', 'chart'].includes(item.kind);
}

/** Where the mark of an item's note begins in its source, or -1. */
export function noteStart(item: Item): number {
  if (!takesNote(item) || item.note === undefined) return -1;
  const end = item.kind === 'table' ? (linesOf(item.source)[0]?.end ?? 0) : item.source.length;
  return noteMark(item.source, 0, end);
}

export function sameShape(before: Notebook, after: Notebook): boolean {
  const [left, right] = [before.items, after.items];
  if (left.length !== right.length) return false;
  for (let i = 0; i < left.length; i++)
    if (left[i] !== right[i] && left[i]?.kind !== right[i]?.kind) return false;
  return true;
}

export function startOf(notebook: Notebook, index: number): number {
  const item = notebook.items[index];
  if (item !== undefined) return item.offset;
  const last = notebook.items.at(-1);
  return last === undefined ? notebook.headerSource.length : last.offset + last.source.length;
}

/** The line end that the notebook uses. */
export function lineEnd(notebook: Notebook): string {
  const first = (text: string): string | undefined => /\r\n|\n|\r/u.exec(text)?.[0];
  return first(notebook.headerSource) ?? first(notebook.items[0]?.source ?? '') ?? '\n';
}

export function endsLine(text: string): boolean {
  return /[\r\n]$/u.test(text);
}

function namedIndex(notebook: Notebook, kind: Item['kind'], name: string): number {
  const key = nameKey(name);
  return notebook.items.findIndex(
    (item) => item.kind === kind && 'name' in item && nameKey(item.name.text) === key,
  );
}
