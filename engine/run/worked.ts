// The worked line of a cell, as a teacher writes it: the formula, the numbers put in, the result.

import { nameKey } from '../language/parser.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Evaluation } from './evaluation.ts';
import { formulaParts } from './formula-parts.ts';
import { showValue } from './show-value.ts';
import type { FormulaPart, Worked } from './snapshot.ts';

export function workedOf(evaluation: Evaluation, cell: string, column: number): Worked {
  const { scope } = evaluation.checked;
  const id = scope.cells.get(nameKey(cell));
  const node = id === undefined ? undefined : evaluation.program.nodes[id];
  const item = node ? scope.notebook.items[node.item] : undefined;
  if (id === undefined || !node || item?.kind !== 'cell')
    return { lines: [], result: '', functions: [] };
  const parts = formulaParts(scope, item.formula.text);
  const used = parts
    .filter((part) => part.kind === 'function')
    .map((part) => libraryFunctions.get(nameKey(part.text)));
  const functions = used.flatMap((fn, i) =>
    fn && used.indexOf(fn) === i
      ? [{ name: fn.name, meaning: fn.meaning, source: fn.source, caution: fn.caution ?? '' }]
      : [],
  );
  const result = showValue(evaluation, id, column).text;
  if (node.draws.size === 0) return { lines: [parts], result, functions };
  const numbers = putIn(evaluation, parts, column);
  const lines = numbers ? [parts, numbers] : [parts];
  return { lines, result, functions };
}

/** The formula with values for names; nothing when one of them is no single value. */
function putIn(
  evaluation: Evaluation,
  parts: readonly FormulaPart[],
  column: number,
): FormulaPart[] | undefined {
  const out: FormulaPart[] = [];
  let replaced = 0;
  for (const [index, part] of parts.entries()) {
    if (part.kind === 'word' && part.text.toLowerCase() === 'with') return undefined;
    if (part.kind !== 'cell' || part.key === undefined) {
      out.push(part);
      continue;
    }
    const id = evaluation.checked.scope.cells.get(part.key);
    const node = id === undefined ? undefined : evaluation.program.nodes[id];
    if (
      id === undefined ||
      !node?.type ||
      node.type.axes.length > 0 ||
      node.type.kind === 'record'
    ) {
      out.push(part);
      continue;
    }
    const value = showValue(evaluation, id, column);
    if (value.state !== 'value') return undefined;
    // A negative number keeps its sign apart from an operator; a power is of the whole amount.
    const raised = /^[²³^]/.test(parts[index + 1]?.text.trimStart() ?? '');
    const text =
      raised || (value.text.startsWith('−') && out.some((p) => p.kind === 'operator'))
        ? `(${value.text})`
        : value.text;
    out.push({ text, kind: 'number', key: part.key });
    replaced++;
  }
  return replaced > 0 ? out : undefined;
}
