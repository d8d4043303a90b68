// Renaming a cell, a table or a column with every use of it. It needs the parser to find the uses and
// the notebook's edits to write them, so it stands above both.

import { isPointUnit, isUnit } from '../dimension/unit.ts';
import { nameKey, tokenize } from '../language/parser.ts';
import { applyEdit, type Change, type Edited } from '../notebook/edit-notebook.ts';
import type { Item, Notebook, Piece } from '../notebook/notebook.ts';
import { isCellName } from '../source/name.ts';

const context = { isUnit, isPointUnit };

/** The notebook with the cell or table `cell` called `name`; nothing when that cannot be. */
export function renameCell(notebook: Notebook, cell: string, name: string): Edited | undefined {
  const key = nameKey(cell);
  const wanted = name.trim();
  if (!isCellName(wanted) || wanted === '') return undefined;
  const taken = notebook.items.some((item) => (item.kind === 'cell' || item.kind === 'table') && nameKey(item.name.text) === nameKey(wanted) && nameKey(wanted) !== key);
  if (taken) return undefined;
  const changes: Change[] = [];
  for (const item of notebook.items) {
    if ((item.kind === 'cell' || item.kind === 'table' || item.kind === 'answer') && nameKey(item.name.text) === key) changes.push(changeOf(item, item.name, wanted));
    for (const piece of formulasOf(item)) changes.push(...usesIn(item, piece, key, wanted));
  }
  if (changes.length === 0) return undefined;
  changes.sort((a, b) => a.span.start - b.span.start);
  return applyEdit(notebook, { changes });
}

function changeOf(item: Item, piece: Piece, text: string): Change {
  return { span: { start: item.offset + piece.span.start, end: item.offset + piece.span.end }, text };
}

function formulasOf(item: Item): readonly Piece[] {
  switch (item.kind) {
    case 'cell':
    case 'check':
    case 'answer':
      return [item.formula];
    case 'table':
      return [...item.columns.flatMap((c) => (c.formula ? [c.formula] : [])), ...item.rows.flatMap((row) => row.entries.filter((e) => e.text.trimStart().startsWith('=')))];
    case 'chart':
      return [item.body];
    case 'scenario':
      return item.overrides.flatMap((o) => [o.target, o.value]);
    default:
      return [];
  }
}

/** Tokens of a piece that name the cell. A part after a dot is another's name. */
function usesIn(item: Item, piece: Piece, key: string, name: string): Change[] {
  const found: Change[] = [];
  for (const token of tokenize(piece.text, context)) {
    if (token.kind !== 'name') continue;
    const text = piece.text.slice(token.span.start, token.span.end);
    if (nameKey(text) !== key || /[.]\s*$/u.test(piece.text.slice(0, token.span.start))) continue;
    const start = item.offset + piece.span.start + token.span.start;
    found.push({ span: { start, end: start + (token.span.end - token.span.start) }, text: name });
  }
  return found;
}
