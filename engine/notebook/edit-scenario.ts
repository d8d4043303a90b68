// Edits of scenarios: what they change, adding one, taking one away.

import { findOutsideText } from '../source/quote.ts';
import { applyEdit, change, type Edit, type Edited } from './edit.ts';
import { insertItems, removeItem } from './edit-notebook.ts';
import { endsLine, lineEnd, pieceEdit, sameShape, scenarioIndex } from './edit-piece.ts';
import { linesOf, noteMark } from './lines.ts';
import type { Notebook } from './notebook.ts';

/** Sets what a scenario changes a target to, adding the line when it has none for it. */
export function setOverride(
  notebook: Notebook,
  scenario: string,
  target: string,
  value: string,
): Edited | undefined {
  const index = scenarioIndex(notebook, scenario);
  const item = notebook.items[index];
  const put = value.trim();
  if (item?.kind !== 'scenario' || put === '' || /[\r\n]/u.test(target + put)) return undefined;
  const key = targetKey(target);
  const found = item.overrides.find((override) => targetKey(override.target.text) === key);
  let edit: Edit;
  if (found === undefined) {
    const at = item.offset + item.source.length;
    const end = lineEnd(notebook);
    const opening = endsLine(item.source) ? '' : end;
    const line = `  ${target.trim()} = ${put}`;
    edit = change(at, at, opening === '' ? line + end : opening + line);
  } else {
    edit = pieceEdit(item, found.value, put);
  }
  const edited = applyEdit(notebook, edit);
  const now = edited.notebook.items[index];
  const set = (now?.kind === 'scenario' ? now.overrides : []).find(
    (override) => targetKey(override.target.text) === key,
  );
  return set?.value.text === put && sameShape(notebook, edited.notebook) ? edited : undefined;
}

/** Takes a scenario's change of a target away, with its line. */
export function removeOverride(
  notebook: Notebook,
  scenario: string,
  target: string,
): Edited | undefined {
  const item = notebook.items[scenarioIndex(notebook, scenario)];
  if (item?.kind !== 'scenario') return undefined;
  const key = targetKey(target);
  const found = item.overrides.find((override) => targetKey(override.target.text) === key);
  if (found === undefined) return undefined;
  const line = linesOf(item.source).find(
    ({ start, next }) => start <= found.target.span.start && found.target.span.start < next,
  );
  if (line === undefined) return undefined;
  return applyEdit(notebook, change(item.offset + line.start, item.offset + line.next, ''));
}

/** Adds an empty scenario, or one with the changes of another, after the last one. */
export function addScenario(notebook: Notebook, name: string, copyOf?: string): Edited | undefined {
  const title = name.trim();
  if (title === '' || /[\r\n]/u.test(title) || noteMark(` ${title}`, 0, title.length + 1) >= 0) {
    return undefined;
  }
  if (scenarioIndex(notebook, title) >= 0) return undefined;
  const end = lineEnd(notebook);
  let lines = '';
  if (copyOf !== undefined) {
    const source = notebook.items[scenarioIndex(notebook, copyOf)]?.source;
    if (source === undefined) return undefined;
    const first = linesOf(source)[0];
    lines = source.slice(first?.next ?? source.length);
    if (lines !== '' && !endsLine(lines)) lines += end;
  }
  const last = notebook.items.findLastIndex(({ kind }) => kind === 'scenario');
  const at = last < 0 ? notebook.items.length : last + 1;
  const above = notebook.items[at - 1]?.kind;
  const gap = above === undefined || above === 'blank' || above === 'scenario' ? '' : end;
  return insertItems(notebook, at, `${gap}scenario ${title}${end}${lines}`);
}

export function removeScenario(notebook: Notebook, name: string): Edited | undefined {
  return removeItem(notebook, scenarioIndex(notebook, name));
}

/** A target in the form in which two of the same are equal; texts in it keep their case. */
export function targetKey(target: string): string {
  let key = '';
  let at = 0;
  while (at < target.length) {
    const quote = findOutsideText(target, at, target.length, (place) =>
      /["“”„‟]/u.test(target.charAt(place)),
    );
    const stop = quote < 0 ? target.length : quote;
    key += target.slice(at, stop).toLowerCase().replace(/[’ʼ‘]/gu, "'").replace(/\s+/gu, ' ');
    if (quote < 0) break;
    key += '"';
    at = quote + 1;
    const close = /["“”„‟]/u.exec(target.slice(at));
    const end = close === null ? target.length : at + close.index;
    key += target.slice(at, end) + (close === null ? '' : '"');
    at = end + 1;
  }
  return key.replace(/ ?([.()]) ?/gu, '$1').trim();
}
