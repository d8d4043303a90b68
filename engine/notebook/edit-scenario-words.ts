// Edits of a scenario's own words: its name, and the prose under it that says what it is for.

import { nameKey } from '../source/name.ts';
import { applyEdit, change, type Edited } from './edit.ts';
import { lineEnd, pieceEdit, sameShape, scenarioIndex } from './edit-piece.ts';
import { linesOf, trimmed } from './lines.ts';
import type { Notebook } from './notebook.ts';

/** Gives a scenario another name; nothing when another scenario has it. */
export function nameScenario(
  notebook: Notebook,
  scenario: string,
  name: string,
): Edited | undefined {
  const index = scenarioIndex(notebook, scenario);
  const item = notebook.items[index];
  const wanted = name.trim();
  if (item?.kind !== 'scenario' || wanted === '' || /[\r\n]/u.test(wanted)) return undefined;
  const taken = scenarioIndex(notebook, wanted);
  if (taken >= 0 && taken !== index) return undefined;
  const edited = applyEdit(notebook, pieceEdit(item, item.name, wanted));
  const now = edited.notebook.items[index];
  const kept =
    now?.kind === 'scenario' &&
    nameKey(now.name.text) === nameKey(wanted) &&
    now.overrides.length === item.overrides.length;
  return kept && sameShape(notebook, edited.notebook) ? edited : undefined;
}

/** Puts prose in place of a scenario's, a line for each line of it; an empty text takes it away. */
export function describeScenario(
  notebook: Notebook,
  scenario: string,
  text: string,
): Edited | undefined {
  const index = scenarioIndex(notebook, scenario);
  const item = notebook.items[index];
  if (item?.kind !== 'scenario') return undefined;
  const end = lineEnd(notebook);
  const wanted = text
    .split(/\r\n|\n|\r/u)
    .map((line) => line.trim())
    .filter((line) => line !== '');
  const [first, ...further] = linesOf(item.source);
  if (first === undefined) return undefined;
  const isProse = (line: { readonly start: number; readonly end: number }): boolean =>
    item.source.charAt(trimmed(item.source, line.start, line.end).start) === '|';
  const kept = further
    .filter((line) => !isProse(line))
    .map((line) => item.source.slice(line.start, line.next))
    .join('');
  const head = item.source.slice(0, first.next);
  const prose = wanted.map((line) => `  | ${line}`).join(end);
  const opening = prose !== '' && first.next === first.end ? end : '';
  const closing = prose !== '' && (kept !== '' || opening === '') ? end : '';
  const source = head + opening + prose + closing + kept;
  const edited = applyEdit(notebook, change(item.offset, item.offset + item.source.length, source));
  const now = edited.notebook.items[index];
  const read =
    now?.kind === 'scenario' &&
    now.overrides.length === item.overrides.length &&
    now.prose.map((piece) => piece.text).join('\n') === wanted.join('\n');
  return read && sameShape(notebook, edited.notebook) ? edited : undefined;
}
