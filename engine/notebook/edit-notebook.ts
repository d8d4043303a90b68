// The edits a page makes. Each takes a notebook and gives the new one with the edit that takes it
// back, or nothing when the edit does not fit: no such cell, or a text that would not be read back as
// what was meant. What stands round the changed piece keeps its column where there is room.

import { applyEdit, change, type Edit, type Edited } from './edit.ts';
import {
  cellIndex,
  endsLine,
  lineEnd,
  noteStart,
  pieceEdit,
  sameShape,
  startOf,
  takesNote,
} from './edit-piece.ts';
import { linesOf, trimmed } from './lines.ts';
import type { Item, Notebook, Piece } from './notebook.ts';
import { writeNotebook } from './write-notebook.ts';

export { applyEdit, type Change, change, type Edit, type Edited } from './edit.ts';
export { cellIndex, scenarioIndex, tableIndex } from './edit-piece.ts';

/** Puts a text in place of an item. */
export function replaceItem(notebook: Notebook, index: number, text: string): Edited | undefined {
  const item = notebook.items[index];
  if (item === undefined) return undefined;
  const last = index === notebook.items.length - 1;
  const ended = last || endsLine(text) ? text : text + lineEnd(notebook);
  return applyEdit(notebook, change(item.offset, item.offset + item.source.length, ended));
}

/** Puts lines before the item at `index`; at the end when `index` is the number of items. */
export function insertItems(notebook: Notebook, index: number, text: string): Edited | undefined {
  if (index < 0 || index > notebook.items.length || text === '') return undefined;
  const at = startOf(notebook, index);
  const before = writeNotebook(notebook).slice(0, at);
  const opening = before === '' || endsLine(before) || before === '\ufeff' ? '' : lineEnd(notebook);
  const closing = endsLine(text) ? '' : lineEnd(notebook);
  return applyEdit(notebook, change(at, at, opening + text + closing));
}

export function removeItem(notebook: Notebook, index: number): Edited | undefined {
  const item = notebook.items[index];
  if (item === undefined) return undefined;
  return applyEdit(notebook, change(item.offset, item.offset + item.source.length, ''));
}

/** Moves an item so that it stands at `to` among the items as they are without it. */
export function moveItem(notebook: Notebook, from: number, to: number): Edited | undefined {
  const item = notebook.items[from];
  const { length } = notebook.items;
  if (item === undefined || to < 0 || to >= length || from === to) return undefined;
  const target = to > from ? to + 1 : to;
  const at = startOf(notebook, target);
  const end = lineEnd(notebook);
  const text = endsLine(item.source) ? item.source : item.source + end;
  const whole = writeNotebook(notebook);
  const opening = at > 0 && at === whole.length && !endsLine(whole) ? end : '';
  const removed = { span: { start: item.offset, end: item.offset + item.source.length }, text: '' };
  const inserted = { span: { start: at, end: at }, text: opening + text };
  const changes = at > item.offset ? [removed, inserted] : [inserted, removed];
  return applyEdit(notebook, { changes });
}

/** Puts a formula in place of a cell's, keeping its bounds and note. `near` is where the cell may well stand. */
export function setFormula(
  notebook: Notebook,
  cell: string,
  text: string,
  near = -1,
): Edited | undefined {
  const index = cellIndex(notebook, cell, near);
  const item = notebook.items[index];
  if (item?.kind !== 'cell') return undefined;
  const formula = asContinuation(text, notebook);
  const edited = applyEdit(notebook, pieceEdit(item, item.formula, formula));
  const now = edited.notebook.items[index];
  const kept =
    now?.kind === 'cell' &&
    now.formula.text === formula &&
    now.bounds?.text === item.bounds?.text &&
    now.note?.text === item.note?.text;
  return kept && (edited.isWithin || sameShape(notebook, edited.notebook)) ? edited : undefined;
}

/** Puts a formula in place of a check's, an answer's or a chart's. */
export function setBody(notebook: Notebook, index: number, text: string): Edited | undefined {
  const item = notebook.items[index];
  const piece = item === undefined ? undefined : bodyOf(item);
  if (item === undefined || piece === undefined || item.kind === 'cell') return undefined;
  const body = asContinuation(text, notebook);
  const edited = applyEdit(notebook, pieceEdit(item, piece, body));
  const now = edited.notebook.items[index];
  const kept = now?.kind === item.kind && bodyOf(now)?.text === body;
  return kept && sameShape(notebook, edited.notebook) ? edited : undefined;
}

/** Puts bounds in place of a cell's, or takes them away when the text is empty. */
export function setBounds(notebook: Notebook, cell: string, text: string): Edited | undefined {
  const index = cellIndex(notebook, cell);
  const item = notebook.items[index];
  if (item?.kind !== 'cell') return undefined;
  const bounds = text.trim();
  const { offset, formula } = item;
  const end = offset + formula.span.end;
  const note = noteStart(item);
  let edit: Edit;
  if (item.bounds !== undefined && bounds !== '') {
    const { start } = item.bounds.span;
    const close = item.source.indexOf(']', item.bounds.span.end) + 1;
    const put = `${bounds}]`;
    const padding = note < 0 ? '' : ' '.repeat(Math.max(1, note - start - put.length));
    edit = change(offset + start, offset + (note < 0 ? close : note), put + padding);
  } else if (item.bounds !== undefined) {
    const close = offset + item.source.indexOf(']', item.bounds.span.end) + 1;
    const room = note < 0 ? 0 : offset + note - end;
    edit = change(end, note < 0 ? close : offset + note, ' '.repeat(room));
  } else if (bounds === '') {
    return applyEdit(notebook, { changes: [] });
  } else {
    const room = note < 0 ? 0 : note - formula.span.end;
    const put = `  [${bounds}]`;
    const padding = note < 0 ? '' : ' '.repeat(Math.max(1, room - put.length));
    edit = change(end, note < 0 ? end : offset + note, put + padding);
  }
  const edited = applyEdit(notebook, edit);
  const now = edited.notebook.items[index];
  const kept =
    now?.kind === 'cell' &&
    (now.bounds?.text ?? '') === bounds &&
    now.formula.text === formula.text &&
    now.note?.text === item.note?.text;
  return kept && sameShape(notebook, edited.notebook) ? edited : undefined;
}

/** Puts a note on a cell, table, check, answer or chart, or takes it away when the text is empty. */
export function setNote(notebook: Notebook, index: number, text: string): Edited | undefined {
  const item = notebook.items[index];
  if (item === undefined || !takesNote(item)) return undefined;
  const note = text.trim().replace(/\s+/gu, ' ');
  const { offset, source } = item;
  const mark = noteStart(item);
  let edit: Edit;
  if (item.note !== undefined && note !== '') {
    edit = pieceEdit(item, item.note, item.note.text === '' ? ` ${note}` : note);
  } else if (item.note !== undefined) {
    const before = source.slice(0, mark).trimEnd().length;
    edit = change(offset + before, offset + item.note.span.end, '');
  } else if (note === '') {
    return applyEdit(notebook, { changes: [] });
  } else {
    const lines = linesOf(source);
    const line = item.kind === 'table' ? lines[0] : lines.at(-1);
    const end = line?.end ?? source.length;
    const before = source.slice(0, end).trimEnd().length;
    edit = change(offset + before, offset + end, `   -- ${note}`);
  }
  const edited = applyEdit(notebook, edit);
  const now = edited.notebook.items[index];
  const kept = now?.kind === item.kind && takesNote(now) && (now.note?.text ?? '') === note;
  return kept && sameShape(notebook, edited.notebook) ? edited : undefined;
}

/** Sets a key of the header: `title`, `place`, `units`, `trials`, `seed`. */
export function setHeaderKey(notebook: Notebook, key: string, text: string): Edited | undefined {
  const value = text.trim();
  if (!/^(?:title|place|units|trials|seed)$/u.test(key) || /[\r\n]/u.test(value)) return undefined;
  const source = notebook.headerSource;
  const end = lineEnd(notebook);
  const lines = linesOf(source);
  if (lines.length === 0) {
    const at = source.length;
    return applyEdit(notebook, change(at, at, `dapple 1${end}${key}: ${value}${end}${end}`));
  }
  for (const line of lines.slice(1)) {
    const found = /^([\p{L}_-]+)\s*:/u.exec(source.slice(line.start, line.end));
    if (found?.[1]?.toLowerCase() !== key) continue;
    const from = line.start + found[0].length;
    const place = trimmed(source, from, line.end);
    const put = place.start === place.end && place.start === from ? ` ${value}` : value;
    return applyEdit(notebook, change(place.start, place.end, put));
  }
  const last =
    lines.findLast((line) => source.slice(line.start, line.end).trim() !== '') ?? lines[0];
  const at = last?.next ?? 0;
  const opening = endsLine(source.slice(0, at)) ? '' : end;
  return applyEdit(notebook, change(at, at, `${opening}${key}: ${value}${end}`));
}

export function setTitle(notebook: Notebook, text: string): Edited | undefined {
  return setHeaderKey(notebook, 'title', text);
}

function bodyOf(item: Item): Piece | undefined {
  if (item.kind === 'chart') return item.body;
  return item.kind === 'check' || item.kind === 'answer' || item.kind === 'cell'
    ? item.formula
    : undefined;
}

/** A formula of several lines: each further line begins with a space, or it would be a line of its own. */
function asContinuation(text: string, notebook: Notebook): string {
  const whole = text.trim();
  if (!/[\r\n]/.test(whole)) return whole;
  return whole
    .split(/\r\n|\n|\r/u)
    .filter((line, index) => index === 0 || line.trim() !== '')
    .map((line, index) => (index === 0 || /^\s/u.test(line) ? line : `    ${line}`))
    .join(lineEnd(notebook));
}
