// A formula while it is being typed: its messages, its colours, its value now. The formula is checked
// and run in a notebook of its own text, so that nothing of the open one is touched.

import { checkNotebook } from '../check/check.ts';
import { describeType } from '../check/describe.ts';
import { nameKey, tokenize } from '../language/parser.ts';
import { libraryFunctions } from '../library/library.ts';
import { insertItems, setFormula } from '../notebook/edit-notebook.ts';
import type { Notebook } from '../notebook/notebook.ts';
import { writeNotebook } from '../notebook/write-notebook.ts';
import { Evaluation } from './evaluation.ts';
import { keyOf, unitContext } from './formula-parts.ts';
import { messagesOf } from './messages.ts';
import { showValue } from './show-value.ts';
import type { Preview, ShownValue } from './snapshot.ts';

const NOTHING: ShownValue = {
  state: 'waits',
  shown: { figure: '', unit: '' },
  text: '',
  number: Number.NaN,
  overridden: false,
  changed: false,
};

export function previewFormula(
  notebook: Notebook,
  now: Evaluation,
  cell: string,
  formula: string,
): Preview {
  const { scope } = now.checked;
  const tokens = tokenize(formula, unitContext).map((token) => {
    if (token.kind !== 'name') return token;
    const name = formula.slice(token.span.start, token.span.end);
    const kind =
      keyOf(scope, name, undefined) !== undefined
        ? ('cell' as const)
        : libraryFunctions.has(nameKey(name))
          ? ('function' as const)
          : ('name' as const);
    return { ...token, kind };
  });
  const edited = scope.cells.has(nameKey(cell))
    ? setFormula(notebook, cell, formula)
    : insertItems(notebook, notebook.items.length, `${cell === '' ? 'result' : cell} = ${formula}`);
  if (!edited || formula.trim() === '')
    return { messages: [], tokens, value: NOTHING, description: '' };
  const evaluation = new Evaluation(checkNotebook(edited.notebook));
  const id = evaluation.checked.scope.cells.get(nameKey(cell === '' ? 'result' : cell));
  const node = id === undefined ? undefined : evaluation.program.nodes[id];
  if (id === undefined || !node) return { messages: [], tokens, value: NOTHING, description: '' };
  evaluation.run(false);
  const item = edited.notebook.items[node.item];
  const start = item?.kind === 'cell' ? item.formula.span.start : 0;
  const messages = messagesOf(evaluation, () => writeNotebook(edited.notebook))
    .filter((m) => m.item === node.item)
    .map((m) => ({
      code: m.code,
      text: m.text,
      span: { start: m.span.start - start, end: m.span.end - start },
      fixes: m.fixes.map((f) => ({
        ...f,
        span: { start: f.span.start - start, end: f.span.end - start },
      })),
    }));
  return {
    messages,
    tokens,
    value: showValue(evaluation, id, 0),
    description: node.type ? describeType(node.type) : '',
  };
}
