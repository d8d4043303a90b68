// The engine as the bench uses it: a text checked and compiled, and its values by cell.

import { checkNotebook } from '../../engine/check/check.ts';
import { nameKey } from '../../engine/language/parser.ts';
import type { Notebook } from '../../engine/notebook/notebook.ts';
import { LINE_LIMIT, readNotebook } from '../../engine/notebook/read-notebook.ts';
import { Evaluation } from '../../engine/run/evaluation.ts';

/** A notebook of any length: one longer than the reader takes is read in pieces and put together. */
function anyLength(text: string): Notebook {
  const lines = text.split('\n');
  const first = readNotebook(lines.slice(0, LINE_LIMIT - 1).join('\n'));
  const items = [...first.items];
  for (let k = LINE_LIMIT - 1; k < lines.length; k += LINE_LIMIT - 10) {
    const piece = lines.slice(k, k + LINE_LIMIT - 10).join('\n');
    items.push(...readNotebook(`dapple 1\ntitle: More\n\n${piece}`).items);
  }
  return { ...first, items };
}

export function evaluationOf(text: string): Evaluation {
  const evaluation = new Evaluation(checkNotebook(anyLength(text)));
  evaluation.run(true);
  const faulty = evaluation.program.nodes.filter(({ id }) => evaluation.plan.faults[id]);
  if (faulty.length > 0) {
    const first = faulty[0];
    throw new Error(
      `The bench's own notebook has faults: ${first?.name}: ${first?.problem?.text ?? JSON.stringify(evaluation.plan.faults[first?.id ?? 0])}`,
    );
  }
  return evaluation;
}

export function nodeOf(evaluation: Evaluation, name: string): number {
  const id = evaluation.checked.scope.cells.get(nameKey(name));
  if (id === undefined) throw new RangeError(`no cell ${name}`);
  return id;
}

/** The place in the scalars of a cell that is one number. */
export function slotOf(evaluation: Evaluation, name: string): number {
  const operand = evaluation.program.operands[nodeOf(evaluation, name)]?.[0];
  if (operand === undefined || operand < 0) throw new RangeError(`${name} is no single number`);
  return operand;
}

/** The values of a series cell. */
export function seriesOf(evaluation: Evaluation, name: string): Float64Array {
  const operand = evaluation.program.operands[nodeOf(evaluation, name)]?.[0] ?? 0;
  const row = evaluation.plan.rows[~operand];
  if (operand >= 0 || row === undefined) throw new RangeError(`${name} is no series`);
  return row;
}
