// All messages of a notebook at their places: of lines, of names, of formulas, of values that could
// not be worked out. A fault of a value stands at its formula.

import type { GraphNode } from '../check/scope.ts';
import type { Notebook } from '../notebook/notebook.ts';
import { lineAndColumn } from '../notebook/read-notebook.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import type { Span } from '../source/span.ts';
import { cutTimeline } from './cut-timeline.ts';
import type { Evaluation } from './evaluation.ts';
import { outsideBounds } from './outside-bounds.ts';
import type { Message } from './snapshot.ts';

export function messagesOf(evaluation: Evaluation, text: () => string): readonly Message[] {
  const { scope, nodes, scenarios, charts, lines } = evaluation.checked;
  const { notebook } = scope;
  const found: Message[] = [];
  const seen = new Set<string>();
  const add = (item: number, diagnostic: Diagnostic): void => {
    const key = `${item} ${diagnostic.span.start} ${diagnostic.text}`;
    if (seen.has(key)) return;
    seen.add(key);
    const at = placeOf(notebook, item, diagnostic.span.start, text);
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
    const item = itemAt(notebook, diagnostic.span.start);
    const offset = item < 0 ? 0 : (notebook.items[item]?.offset ?? 0);
    const inItem = ({ start, end }: Span): Span => ({ start: start - offset, end: end - offset });
    add(item, {
      ...diagnostic,
      span: inItem(diagnostic.span),
      ...(diagnostic.fixes
        ? { fixes: diagnostic.fixes.map((fix) => ({ ...fix, span: inItem(fix.span) })) }
        : {}),
    });
  }
  for (const { item, diagnostic } of scope.problems) add(item, diagnostic);
  for (const { item, diagnostic } of lines) add(item, diagnostic);
  for (const node of remarkable(evaluation)) {
    // The reader has said already that a check says nothing.
    if (node.kind === 'check' && node.parseProblems[0]?.code === 'formula-empty') continue;
    for (const diagnostic of node.parseProblems) add(node.item, diagnostic);
    if (node.problem) add(node.item, node.problem);
  }
  for (const scenario of scenarios)
    for (const problem of scenario.problems) add(scenario.item, problem);
  for (const chart of charts) if (chart.problem) add(chart.item, chart.problem);
  for (const id of faulty(evaluation)) {
    const node = nodes[id];
    if (!node || node.problem || node.kind === 'side') continue;
    evaluation.columns.forEach((column, index) => {
      const fault = column.memory.faults[id];
      if (fault?.kind !== 'error' || (index > 0 && evaluation.plan.faults[id]?.kind === 'error'))
        return;
      const span = node.tree?.span ?? { start: 0, end: 1 };
      const prefix = index === 0 ? '' : `In the scenario "${column.name}": `;
      add(node.item, {
        code: fault.code,
        span: fault.span ?? span,
        text: `${prefix}${fault.text}`,
      });
    });
  }
  for (const node of remarkable(evaluation)) {
    evaluation.columns.forEach((_, index) => {
      const cut = cutTimeline(evaluation, node, index);
      if (cut) add(node.item, cut);
    });
    if (!node.bounds) continue;
    const plan = outsideBounds(evaluation, node, 0);
    if (plan) add(node.item, plan);
    // A scenario is told of what it brings about itself.
    else
      evaluation.columns.slice(1).forEach((_, index) => {
        const own = outsideBounds(evaluation, node, index + 1);
        if (own) add(node.item, own);
      });
  }
  return found.sort((a, b) => a.line - b.line || a.column - b.column);
}

const remarkableOf = new WeakMap<Evaluation, readonly GraphNode[]>();

/** Nodes of which the checker may have something to say: a formula put in where it stands has nothing. */
function remarkable(evaluation: Evaluation): readonly GraphNode[] {
  const known = remarkableOf.get(evaluation);
  if (known) return known;
  const found = evaluation.checked.nodes.filter(
    ({ problem, parseProblems, bounds, type }) =>
      problem !== undefined ||
      parseProblems.length > 0 ||
      bounds !== undefined ||
      (type?.kind === 'quantity' && type.timeline !== undefined),
  );
  remarkableOf.set(evaluation, found);
  return found;
}

/** Nodes that could not be worked out in some column, in the order of the file. */
function faulty({ columns }: Evaluation): readonly number[] {
  const found = new Set<number>();
  for (const { memory } of columns) {
    const { faults } = memory;
    for (let id = 0; id < faults.length; id++) if (faults[id]?.kind === 'error') found.add(id);
  }
  return [...found].sort((a, b) => a - b);
}

/** Line and column of a place in an item, counted from the item's own: a file may hold a message a line. */
function placeOf(
  notebook: Notebook,
  index: number,
  start: number,
  text: () => string,
): { readonly line: number; readonly column: number } {
  const item = notebook.items[index];
  if (!item || item.line === 1) return lineAndColumn(text(), (item?.offset ?? 0) + start);
  const inside = lineAndColumn(item.source, start);
  return { line: item.line + inside.line - 1, column: inside.column };
}

/** The item an offset stands in, or −1: items follow each other in rising order. */
function itemAt(notebook: Notebook, offset: number): number {
  const { items } = notebook;
  let low = 0;
  let high = items.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((items[middle]?.offset ?? 0) <= offset) low = middle + 1;
    else high = middle;
  }
  const item = items[low - 1];
  const inside = item && offset < item.offset + Math.max(1, item.source.length);
  return inside ? low - 1 : -1;
}
