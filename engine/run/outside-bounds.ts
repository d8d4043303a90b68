// Values that lie outside the bounds of their cell, in the plan or in a scenario. What `with`, steps
// and solve put in may go beyond.

import { literalAmount, lowEnd } from '../check/literal-amount.ts';
import type { GraphNode } from '../check/scope.ts';
import type { Type } from '../check/type.ts';
import { plainUnit } from '../dimension/unit.ts';
import { equal } from '../plan/kernels.ts';
import type { Memory } from '../plan/memory.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import type { Evaluation } from './evaluation.ts';
import { figureOf, joined, placesOf, reader, textOf, unitFor } from './show-value.ts';

const DAY = 86_400;

/** The first value of a cell in a column that its bounds leave out, as a message at the bounds. */
export function outsideBounds(
  evaluation: Evaluation,
  node: GraphNode,
  column: number,
): Diagnostic | undefined {
  const { bounds, type } = node;
  const memory = evaluation.columns[column]?.memory;
  const item = evaluation.checked.scope.notebook.items[node.item];
  if (!bounds || !type || !memory || memory.faults[node.id] || item?.kind !== 'cell')
    return undefined;
  const at = firstOutside(evaluation, node, type, memory);
  if (at < 0) return undefined;
  const read = reader(evaluation, node.id, memory);
  const unit = type.kind === 'quantity' ? unitFor(evaluation, type, node.id) : plainUnit;
  const value = joined(figureOf(evaluation, type, read, at, unit));
  const written = item.bounds?.text.trim() ?? '';
  const where = column === 0 ? '' : `In the scenario "${evaluation.columns[column]?.name}": `;
  return {
    code: 'outside-bounds',
    span: item.bounds?.span ?? { start: 0, end: 1 },
    text:
      bounds.kind === 'choices'
        ? `${where}"${node.name}" is ${value}, none of its choices (${written}). Choose one, or add it to them.`
        : `${where}"${node.name}" is ${value}, outside its bounds (${written}). Change the value or the bounds.`,
  };
}

/** The first place whose value the bounds leave out, −1 when there is none. */
function firstOutside(evaluation: Evaluation, node: GraphNode, type: Type, memory: Memory): number {
  const allowed = allowedOf(evaluation, node, type);
  if (!allowed) return -1;
  const read = reader(evaluation, node.id, memory);
  const parts = type.kind === 'span' ? 2 : 1;
  const n = placesOf(evaluation, node.id, memory);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < parts; j++) {
      const x = read(j, i);
      if (!Number.isNaN(x) && !allowed(x)) return i;
    }
  return -1;
}

function allowedOf(
  evaluation: Evaluation,
  { bounds }: GraphNode,
  type: Type,
): ((x: number) => boolean) | undefined {
  if (!bounds) return undefined;
  if (bounds.kind === 'choices') {
    if (type.kind === 'text') {
      const texts = bounds.choices.map((one) => (one.kind === 'text' ? one.value : ''));
      return (x) => texts.includes(textOf(evaluation, x));
    }
    const amounts = bounds.choices.map((one) => literalAmount(one));
    if (amounts.some((one) => one === undefined)) return undefined;
    return (x) => amounts.some((one) => equal(x, one as number));
  }
  const [low, high] = [literalAmount(lowEnd(bounds)), literalAmount(bounds.high)];
  if (low === undefined || high === undefined) return undefined;
  const hours = bounds.high.kind === 'time of day';
  // Hours may pass midnight; gauges fall as wires get thicker.
  if (hours && low > high % DAY && high < DAY) return (x) => x >= low || x <= high;
  const [from, to] = low <= high ? [low, high] : [high, low];
  return (x) => (x >= from && x <= to) || equal(x, from) || equal(x, to);
}
