// All messages of a notebook at their places: of lines, of names, of formulas, of values that could
// not be worked out. A fault of a value stands at its formula.

import { lineAndColumn } from '../notebook/read-notebook.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import type { Evaluation } from './evaluation.ts';
import type { Message } from './snapshot.ts';

export function messagesOf(evaluation: Evaluation, text: string): readonly Message[] {
  const { scope, nodes, scenarios, charts } = evaluation.checked;
  const { notebook } = scope;
  const found: Message[] = [];
  const add = (item: number, diagnostic: Diagnostic): void => {
    const offset = notebook.items[item]?.offset ?? 0;
    const at = lineAndColumn(text, offset + diagnostic.span.start);
    const same = found.some(
      (m) =>
        m.item === item && m.text === diagnostic.text && m.span.start === diagnostic.span.start,
    );
    if (same) return;
    found.push({
      code: diagnostic.code,
      text: diagnostic.text,
      line: at.line,
      column: at.column,
      item,
      span: diagnostic.span,
      fixes: diagnostic.fixes ?? [],
    });
  };
  for (const diagnostic of notebook.diagnostics) {
    const item = notebook.items.findIndex(
      (i) =>
        diagnostic.span.start >= i.offset &&
        diagnostic.span.start < i.offset + Math.max(1, i.source.length),
    );
    const offset = item < 0 ? 0 : (notebook.items[item]?.offset ?? 0);
    add(item, {
      ...diagnostic,
      span: { start: diagnostic.span.start - offset, end: diagnostic.span.end - offset },
    });
  }
  for (const { item, diagnostic } of scope.problems) add(item, diagnostic);
  for (const node of nodes) {
    // The reader has said already that a check says nothing.
    if (node.kind === 'check' && node.parseProblems[0]?.code === 'formula-empty') continue;
    for (const diagnostic of node.parseProblems) add(node.item, diagnostic);
    if (node.problem) add(node.item, node.problem);
  }
  for (const scenario of scenarios)
    for (const problem of scenario.problems) add(scenario.item, problem);
  for (const chart of charts) if (chart.problem) add(chart.item, chart.problem);
  for (const node of nodes) {
    if (node.problem || node.kind === 'side') continue;
    evaluation.columns.forEach((column, index) => {
      const fault = column.memory.faults[node.id];
      if (
        fault?.kind !== 'error' ||
        (index > 0 && evaluation.plan.faults[node.id]?.kind === 'error')
      )
        return;
      const span = node.tree?.span ?? { start: 0, end: 1 };
      const prefix = index === 0 ? '' : `In the scenario "${column.name}": `;
      add(node.item, { code: 'value', span, text: `${prefix}${fault.text}` });
    });
  }
  return found.sort((a, b) => a.line - b.line || a.column - b.column);
}
