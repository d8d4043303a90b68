// A timeline whose stay is no whole number of steps. Every step has the same length, so that its end is
// moved to the nearest one; that is told, for the energy of what is left out is missing.

import type { GraphNode } from '../check/scope.ts';
import { formatMoment, formatNumber } from '../dimension/quantity.ts';
import type { AxisValue } from '../plan/memory.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import type { Evaluation } from './evaluation.ts';

const HOUR = 3600;

/** What is to be told of a timeline in a column; a scenario only of what it lays out anew. */
export function cutTimeline(
  evaluation: Evaluation,
  node: GraphNode,
  column: number,
): Diagnostic | undefined {
  const { type, tree } = node;
  const shown = evaluation.columns[column];
  if (type?.kind !== 'quantity' || !type.timeline || node.kind !== 'cell' || !shown)
    return undefined;
  const axis = shown.memory.axes[type.timeline.id];
  if (axis?.asked === undefined || shown.memory.faults[node.id]) return undefined;
  if (column > 0 && isSame(axis, evaluation.plan.axes[type.timeline.id])) return undefined;
  const where = column === 0 ? '' : `In the scenario "${shown.name}": `;
  const gap = axis.asked - axis.end;
  const moved = gap > 0 ? `the last ${timeText(gap)} are left out` : `${timeText(-gap)} later`;
  return {
    code: 'timeline-part',
    span: tree?.span ?? { start: 0, end: 1 },
    text: `${where}From ${formatMoment(axis.start)} until ${formatMoment(axis.asked)} is no whole number of steps of ${timeText(axis.step)}: "${node.name}" ends at ${formatMoment(axis.end)}, ${moved}. Choose an end that fits, or a shorter step.`,
  };
}

function isSame(axis: AxisValue, plan: AxisValue | undefined): boolean {
  return axis.start === plan?.start && axis.end === plan.end && axis.asked === plan.asked;
}

function timeText(seconds: number): string {
  return seconds < HOUR
    ? `${formatNumber(seconds / 60)}\u00a0min`
    : `${formatNumber(seconds / HOUR)}\u00a0h`;
}
