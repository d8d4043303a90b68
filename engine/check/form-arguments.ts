// What the forms share: arguments taken by name, a series and its axis, a timeline, a span of hours.

import { findUnit, type Unit } from '../dimension/unit.ts';
import type { CallNode, Node } from '../language/ast.ts';
import { checkRange } from './check-common.ts';
import type { Checker, Place } from './checker.ts';
import { describeKind, describeType } from './describe.ts';
import type { Bound } from './record-type.ts';
import { reject } from './rejected.ts';
import { type Axis, sameAxes } from './type.ts';
import type { Expr } from './typed.ts';

export type Form = (c: Checker, node: CallNode, bound: Bound, place: Place) => Expr;

export function need(bound: Bound, name: string, node: CallNode): Node {
  const found = bound.get(name) ?? bound.get('0');
  if (!found) reject('missing-argument', node.span, `This call needs ${name}.`);
  return found as Node;
}

export function optional(
  c: Checker,
  bound: Bound,
  name: string,
  place: Place,
): { expr: Expr; node: Node } | undefined {
  const node = bound.get(name);
  return node ? { expr: c.expression(node, place), node } : undefined;
}

export function unitOption(symbol: string): { unit?: Unit } {
  const unit = findUnit(symbol);
  return unit ? { unit } : {};
}

export function series(
  c: Checker,
  node: Node,
  place: Place,
  doing: string,
): { expr: Expr; axis: Axis; rest: readonly Axis[] } {
  const expr = c.expression(node, place);
  const axis = expr.type.axes[expr.type.axes.length - 1];
  if (!axis)
    reject(
      'needs-series',
      node.span,
      `"${c.quote(node, place)}" is ${describeType(expr.type)}; ${doing} works on a series, along a timeline, a table or steps.`,
    );
  return { expr, axis: axis as Axis, rest: expr.type.axes.slice(0, -1) };
}

export function whereOf(
  c: Checker,
  bound: Bound,
  expr: Expr,
  node: CallNode,
  place: Place,
): { where?: Expr } {
  const where = optional(c, bound, 'where', place);
  if (!where) return {};
  if (where.expr.type.kind !== 'truth')
    reject(
      'not-truth',
      where.node.span,
      `After "where:" stands ${describeKind(where.expr.type)}. It needs a question with yes or no.`,
    );
  if (where.expr.type.axes.length > 0 && !sameAxes(where.expr.type.axes, expr.type.axes))
    reject(
      'axes-differ',
      node.span,
      `"where:" runs along ${where.expr.type.axes.map((a) => a.name).join(' and ')}, the series along ${expr.type.axes.map((a) => a.name).join(' and ')}.`,
    );
  return { where: where.expr };
}

export function timelineArgument(
  c: Checker,
  n: Node,
  place: Place,
  fn: string,
): { axis: Axis; at: Expr } {
  const e = c.expression(n, place);
  const axis = e.type.kind === 'quantity' ? e.type.timeline : undefined;
  if (!axis)
    reject(
      'needs-timeline',
      n.span,
      `${fn}(…) needs a timeline, the cell made by timeline(…); "${c.quote(n, place)}" is ${describeType(e.type)}.`,
    );
  return { axis: axis as Axis, at: e };
}

export function spanArgument(c: Checker, n: Node, place: Place, fn: string): Expr {
  const e = n.kind === 'range' ? checkRange(c, n, place) : c.expression(n, place);
  const ok =
    e.type.kind === 'span' && (e.type.of.kind === 'time of day' || e.type.of.stance === 'moment');
  if (!ok)
    reject(
      'wrong-argument',
      n.span,
      `${fn}(…) takes a span of times of day or of moments, such as 17:00..21:00; "${c.quote(n, place)}" is ${describeKind(e.type)}.`,
    );
  return e;
}
