// A formula cut into the stretches a page shows: cell names linked, the rest by sort.

import type { Scope } from '../check/scope.ts';
import { isPointUnit, isUnit } from '../dimension/unit.ts';
import { LENGTH_LIMIT, nameKey, tokenize } from '../language/parser.ts';
import { libraryFunctions } from '../library/library.ts';
import type { FormulaPart } from './snapshot.ts';

const context = { isUnit, isPointUnit };

/** Key of the cell or column that a name means; `table` is the table whose column the formula is. */
export function keyOf(scope: Scope, name: string, table: string | undefined): string | undefined {
  const key = nameKey(name);
  if (table !== undefined && scope.tables.get(table)?.columnByKey.has(key))
    return `${table}.${key}`;
  if (scope.cells.has(key)) return key;
  return scope.tables.has(key) ? key : undefined;
}

/** Parts once cut, for as long as the names of the notebook are the same. */
const cut = new WeakMap<Scope, Map<string, readonly FormulaPart[]>>();

export function formulaParts(scope: Scope, text: string, table?: string): readonly FormulaPart[] {
  let known = cut.get(scope);
  if (!known) {
    known = new Map();
    cut.set(scope, known);
  }
  // A text of its own for each formula of a long notebook would double what is kept.
  const key = table === undefined ? text : `${table}\u0000${text}`;
  const cutBefore = known.get(key);
  if (cutBefore) return cutBefore;
  const parts = cutFormula(scope, text, table);
  known.set(key, parts);
  return parts;
}

/** Single spaces, signs and brackets: one of each for all formulas, for they are most of all parts. */
const signs = new Map<string, FormulaPart>();

function partOf(text: string, kind: FormulaPart['kind']): FormulaPart {
  if (text.length !== 1 || (kind !== 'plain' && kind !== 'operator')) return { text, kind };
  const key = `${kind}${text}`;
  const known = signs.get(key) ?? { text, kind };
  signs.set(key, known);
  return known;
}

function cutFormula(scope: Scope, text: string, table?: string): readonly FormulaPart[] {
  // What is too long to be read is shown as it stands.
  if (text.length > LENGTH_LIMIT) return [{ text, kind: 'plain' }];
  const parts: FormulaPart[] = [];
  let end = 0;
  for (const token of tokenize(text, context)) {
    if (token.span.start > end) parts.push(partOf(text.slice(end, token.span.start), 'plain'));
    const piece = text.slice(token.span.start, token.span.end);
    end = token.span.end;
    if (token.kind === 'name') {
      const key = keyOf(scope, piece, table);
      if (key !== undefined) parts.push({ text: piece, kind: 'cell', key });
      else
        parts.push({
          text: piece,
          kind: libraryFunctions.has(nameKey(piece)) ? 'function' : 'plain',
        });
    } else {
      const kind = {
        number: 'number',
        moment: 'number',
        unit: 'unit',
        text: 'text',
        operator: 'operator',
        word: 'word',
        punctuation: 'plain',
        bad: 'plain',
      } as const;
      parts.push(partOf(piece, kind[token.kind]));
    }
  }
  if (end < text.length) parts.push({ text: text.slice(end), kind: 'plain' });
  // A list that grew has room for more; a copy has not.
  return parts.slice();
}

export { context as unitContext };
