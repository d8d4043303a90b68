// Amounts that are written out: as numbers, and as the ends of a given's bounds.

import { areaOfGauge } from '../dimension/gauge.ts';
import { findUnit, isPointUnit, toStored } from '../dimension/unit.ts';
import type { Node } from '../language/ast.ts';
import type { ParsedBounds, RangeBounds } from '../language/parser.ts';
import { printFormula } from '../language/printer.ts';
import type { Fix } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';

/**
 * Bounds whose low end is the higher one are none, with a message. Hours may pass midnight, and
 * gauges fall as wires get thicker: both may stand either way.
 */
export function inOrder(parsed: ParsedBounds): ParsedBounds {
  const { bounds } = parsed;
  if (bounds?.kind !== 'range') return parsed;
  const { high } = bounds;
  if (high.kind === 'time of day' || high.kind === 'gauge') return parsed;
  const low = lowEnd(bounds);
  const [from, to] = [literalAmount(low), literalAmount(high)];
  if (from === undefined || to === undefined || from <= to) return parsed;
  const span = { start: bounds.low.span.start, end: high.span.end };
  const written = (end: Node): string => printFormula(end, { isPointUnit });
  const [lower, higher] = [written(high), written(low)];
  const fix: Fix = { label: 'Swap the ends', span, text: `${lower}..${higher}` };
  return {
    bounds: undefined,
    diagnostics: [message('bounds-reversed', span, [lower, higher], [fix])],
  };
}

/** The low end of bounds; a bare one has the unit of the high end. */
export function lowEnd({ low, high }: RangeBounds): Node {
  const isBare = low.kind === 'number' && !low.unit && high.kind === 'number' && high.unit;
  return isBare ? { ...low, unit: high.unit } : low;
}

/** The step of bounds; a bare one has the unit of the high end. */
export function stepOf({ high, step }: RangeBounds): Node | undefined {
  const isBare = step?.kind === 'number' && !step.unit && high.kind === 'number' && high.unit;
  return isBare ? { ...step, unit: high.unit } : step;
}

/** A literal amount as stored (SI; °C number, dBm), or undefined when the node is no plain literal. */
export function literalAmount(node: Node, asDifference = false): number | undefined {
  if (node.kind === 'unary' && node.operator === '-') {
    const inner = literalAmount(node.operand, asDifference);
    return inner === undefined ? undefined : -inner;
  }
  if (node.kind === 'gauge') return areaOfGauge(node.gauge);
  if (node.kind === 'moment') return node.days * 86_400 + (node.minutes ?? 0) * 60;
  if (node.kind === 'time of day') return node.minutes * 60;
  if (node.kind !== 'number') return undefined;
  if (!node.unit) return node.value;
  const unit = findUnit(node.unit.text);
  if (!unit) return undefined;
  return asDifference ? node.value * unit.factor : toStored(node.value, unit);
}
