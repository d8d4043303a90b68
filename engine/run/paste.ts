// Lines that were copied, here or in another notebook, as they go into a notebook: a name that is
// taken gets a number, in every use of it within the lines, so that what was copied still hangs
// together and nothing that stands here comes to mean something else.

import { nameKey } from '../language/parser.ts';
import { type Edited, insertItems } from '../notebook/edit-notebook.ts';
import type { Notebook } from '../notebook/notebook.ts';
import { readNotebook } from '../notebook/read-notebook.ts';
import { writeNotebook } from '../notebook/write-notebook.ts';
import { renameCell } from './rename.ts';

const HEADER = 'dapple 1\n';

function namesIn(notebook: Notebook): Map<string, string> {
  const names = new Map<string, string>();
  for (const item of notebook.items)
    if (item.kind === 'cell' || item.kind === 'table')
      names.set(nameKey(item.name.text), item.name.text);
  return names;
}

function scenariosIn(notebook: Notebook): Set<string> {
  return new Set(
    notebook.items.flatMap((item) => (item.kind === 'scenario' ? [nameKey(item.name.text)] : [])),
  );
}

/** `name 2`, or the first number that is free. */
function freshName(name: string, isTaken: (name: string) => boolean): string {
  const stem = name.replace(/\s+\d+$/u, '');
  for (let number = 2; ; number++) {
    const fresh = `${stem} ${number}`;
    if (!isTaken(fresh)) return fresh;
  }
}

/** The lines with fresh names for those that the notebook has already. */
export function withFreshNames(notebook: Notebook, text: string): string {
  const taken = namesIn(notebook);
  let own = readNotebook(HEADER + text);
  for (const [key, name] of namesIn(own)) {
    if (!taken.has(key)) continue;
    const inside = namesIn(own);
    const fresh = freshName(name, (one) => taken.has(nameKey(one)) || inside.has(nameKey(one)));
    own = renameCell(own, key, fresh)?.notebook ?? own;
  }
  const scenarios = scenariosIn(notebook);
  let lines = writeNotebook(own).slice(HEADER.length);
  for (const name of scenariosIn(own)) {
    if (!scenarios.has(name)) continue;
    lines = lines.replace(/^scenario[ \t]+(.*?)[ \t]*$/gmu, (line, written: string) =>
      nameKey(written) === name
        ? `scenario ${freshName(written, (one) => scenarios.has(nameKey(one)))}`
        : line,
    );
  }
  return lines;
}

/** Puts lines in so that they stand at `index`, with fresh names where theirs are taken. */
export function pasteItems(notebook: Notebook, index: number, text: string): Edited | undefined {
  if (text.trim() === '') return undefined;
  return insertItems(notebook, index, withFreshNames(notebook, text.replace(/\r\n?/gu, '\n')));
}
