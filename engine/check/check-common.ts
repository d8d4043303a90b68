// What the checks of expressions, calls and forms share: literals, axes that join, kinds that must
// be alike, spans and tolerances.

import { type Dimension, level, plain } from '../dimension/dimension.ts';
import { findUnit, toStored, type Unit, unitHint } from '../dimension/unit.ts';
import type { BinaryNode, Node, RangeNode } from '../language/ast.ts';
import type { Stance } from '../library/signature.ts';
import type { Span } from '../source/span.ts';
import { type Checker, constant, type Place } from './checker.ts';
import { describeAxes, describeKind, remedyFor } from './describe.ts';
import { reject } from './rejected.ts';
import {
  type Axis,
  along,
  NO_AXES,
  type QuantityType,
  quantity,
  quantityAlong,
  sameAxes,
  scalarOf,
} from './type.ts';
import type { Expr } from './typed.ts';

const texts = new WeakMap<object, Map<string, number>>();

/** Texts are numbers while running; the notebook's own table gives them back. */
export function textTable(scope: object): Map<string, number> {
  let table = texts.get(scope);
  if (!table) {
    table = new Map();
    texts.set(scope, table);
  }
  return table;
}

export function textId(c: Checker, text: string): number {
  const table = textTable(c.scope);
  const known = table.get(text);
  if (known !== undefined) return known;
  table.set(text, table.size + 1);
  return table.size;
}

export function unitOption(unit: Unit | undefined): { unit?: Unit } {
  return unit ? { unit } : {};
}

export function unitOf(text: string, span: Span): Unit {
  const unit = findUnit(text);
  if (unit) return unit;
  const hint = unitHint(text);
  reject(
    'unit-unknown',
    span,
    `"${text}" is no unit.${hint ? ` ${hint}` : ' Write × between a number and a cell.'}`,
  );
  throw new RangeError(text);
}

export function number(node: Extract<Node, { kind: 'number' }>): Expr {
  if (!node.unit) return constant(node.value, plain);
  const unit = unitOf(node.unit.text, node.unit.span);
  if (unit.scale === 'times')
    reject(
      'unit-unknown',
      node.unit.span,
      '"times" is only asked for after "as", to show decibels as a factor. Write the number alone.',
    );
  return { op: 'const', type: typeIn(unit), values: [toStored(node.value, unit)] };
}

/** The type of a number in a unit. */
function typeIn(unit: Unit): QuantityType {
  const stance = !unit.isPoint ? 'plain' : unit.dimension === level ? 'level' : 'temperature';
  return quantityAlong(unit.dimension, stance, NO_AXES, false, 'rate', unit);
}

/** What operands that are worked place by place have in common. */
export interface Joined {
  readonly axes: readonly Axis[];
  readonly optional: boolean;
  readonly flow: 'rate' | 'state';
}

const SINGLE: Joined = { axes: NO_AXES, optional: false, flow: 'rate' };

/** The common axes of the two sides of an operation; of single numbers there are none. */
export function joinSides(c: Checker, a: Expr, b: Expr, node: BinaryNode, place: Place): Joined {
  const [x, y] = [a.type, b.type];
  if (x.axes.length + y.axes.length === 0 && !x.optional && !y.optional) return SINGLE;
  return joinAxes(
    c,
    [
      { expr: a, node: node.left },
      { expr: b, node: node.right },
    ],
    node.span,
    place,
  );
}

/** A quantity along joined axes. */
export function joinedQuantity(
  dimension: Dimension,
  { axes, optional, flow }: Joined,
  stance: Stance,
  unit: Unit | undefined,
): QuantityType {
  return quantityAlong(dimension, stance, axes, optional, flow, unit);
}

/** The common axes of operands that are worked place by place. */
export function joinAxes(
  c: Checker,
  operands: readonly { readonly expr: Expr; readonly node: Node }[],
  span: Span,
  place: Place,
): Joined {
  let axes: readonly Axis[] = [];
  let owner: Node | undefined;
  let optional = false;
  let flow: 'rate' | 'state' | undefined;
  for (const { expr, node } of operands) {
    const { type } = expr;
    if (type.optional) optional = true;
    if (type.axes.length === 0) continue;
    const own = type.kind === 'quantity' || type.kind === 'truth' ? type.flow : 'rate';
    flow = flow === undefined ? own : flow === own ? flow : 'rate';
    if (axes.length === 0) {
      axes = type.axes;
      owner = node;
    } else if (!sameAxes(axes, type.axes)) {
      const first = owner ? c.quote(owner, place) : '';
      reject(
        'axes-differ',
        span,
        `"${first}" runs along ${describeAxes(axes)}, "${c.quote(node, place)}" along ${describeAxes(type.axes)}. Sum one of the two first, or call it at the places of the other.`,
      );
    }
  }
  return { axes, optional, flow: flow ?? 'rate' };
}

export function asQuantity(
  c: Checker,
  expr: Expr,
  node: Node,
  place: Place,
  doing: string,
): QuantityType {
  if (expr.type.kind === 'quantity') return expr.type;
  const hint =
    expr.type.kind === 'time of day'
      ? ' A time of day is a clock reading; take the difference of two for a time.'
      : expr.type.kind === 'table'
        ? ` Name one of its columns: ${c.quote(node, place)}.….`
        : expr.type.kind === 'record'
          ? ` Name one of its parts: ${expr.type.fields.map((f) => `${c.quote(node, place)}.${f.name}`).join(', ')}.`
          : '';
  reject(
    'not-a-quantity',
    node.span,
    `"${c.quote(node, place)}" is ${describeKind(expr.type)} and cannot be ${doing}.${hint}`,
  );
  throw new RangeError(doing);
}

/** Both operands must be of one kind, dimension and stance. */
export function alike(
  c: Checker,
  a: Expr,
  b: Expr,
  na: Node,
  nb: Node,
  span: Span,
  place: Place,
  doing: string,
): void {
  const [ta, tb] = [a.type, b.type];
  if (ta.kind === 'nothing' || tb.kind === 'nothing')
    reject('nothing-used', span, 'An absent value ("none") cannot be used here.');
  const same =
    ta.kind === tb.kind &&
    (ta.kind !== 'quantity' ||
      (tb.kind === 'quantity' && ta.dimension === tb.dimension && ta.stance === tb.stance));
  if (same) return;
  const [qa, qb] = [c.quote(na, place), c.quote(nb, place)];
  let remedy = '';
  if (ta.kind === 'quantity' && tb.kind === 'quantity') {
    if (ta.dimension === tb.dimension)
      remedy = ' One is a point on a scale, the other a difference.';
    else remedy = remedyFor({ type: ta, text: qa }, { type: tb, text: qb });
  }
  reject(
    'kinds-differ',
    span,
    `"${qa}" is ${describeKind(ta)} and cannot be ${doing} "${qb}", ${describeKind(tb)}.${remedy}`,
  );
}

/** The amount after ±: a difference of the same dimension, or a share of the centre. */
export function toleranceOf(
  c: Checker,
  node: Node,
  type: QuantityType,
  centre: Expr,
  place: Place,
): Expr {
  // After ± a degree is a difference.
  if (node.kind === 'number' && node.unit) {
    const unit = unitOf(node.unit.text, node.unit.span);
    if (unit.isPoint && unit.dimension === type.dimension)
      return constant(node.value * unit.factor, type.dimension);
  }
  const spread = c.expression(node, place);
  const q = asQuantity(c, spread, node, place, 'used as a tolerance');
  if (q.stance !== 'plain')
    reject('tolerance-point', node.span, `A tolerance is a difference, not ${describeKind(q)}.`);
  if (q.dimension === type.dimension) return spread;
  if (q.dimension === plain && type.stance === 'plain') {
    if (node.kind === 'number' && !node.unit && node.value >= 1)
      reject(
        'tolerance-dimension',
        node.span,
        `± ${node.value} without a unit would be ${100 * node.value} %. Write the unit, as in ${describeKind(type).replace(/^.*\((.*)\)$/u, `${node.value} $1`)}, or ${node.value} % for a share.`,
      );
    const size: Expr = {
      op: 'unary',
      fn: 'abs',
      type: quantity(type.dimension, { axes: centre.type.axes, optional: centre.type.optional }),
      a: centre,
    };
    return { op: 'binary', fn: 'mul', type: size.type, a: size, b: spread };
  }
  reject(
    'tolerance-dimension',
    node.span,
    `The tolerance is ${describeKind(q)}; it must be ${describeKind(type)} or a share of it. Write both with the same unit.`,
  );
  throw new RangeError('tolerance');
}

/** Both ends of a span; a bare number takes the unit of the last end. */
export function checkRange(c: Checker, node: RangeNode, place: Place): Expr {
  if (node.parts.length !== 2)
    reject(
      'uncertain-inside',
      node.span,
      'An uncertain amount must be the whole formula of a given. Give it a cell of its own, so that it can be ranked.',
    );
  const [first, last] = node.parts as [Node, Node];
  const b = c.expression(last, place);
  const a = borrow(c, first, last, place);
  alike(c, a, b, first, last, node.span, place, 'joined with');
  if (a.type.kind !== 'quantity' && a.type.kind !== 'time of day')
    reject(
      'span-kind',
      node.span,
      `A span runs between two amounts, times of day or moments, not ${describeKind(a.type)}.`,
    );
  // A span of hours may pass midnight; any other that runs backwards holds nothing.
  const [low, high] = [literal(a), literal(b)];
  if (a.type.kind === 'quantity' && low !== undefined && high !== undefined && low > high)
    reject(
      'span-order',
      node.span,
      `"${c.quote(node, place)}" runs from a high end to a low one, so that nothing lies in it. Write ${c.quote(last, place)}..${c.quote(first, place)}; only a span of times of day may pass midnight.`,
    );
  const joined = joinAxes(
    c,
    [
      { expr: a, node: first },
      { expr: b, node: last },
    ],
    node.span,
    place,
  );
  const of = along(scalarOf(b.type) as QuantityType, joined.axes, joined.optional);
  return {
    op: 'pack',
    type: { kind: 'span', of, axes: joined.axes, optional: joined.optional },
    parts: [a, b],
  };
}

function literal(expr: Expr): number | undefined {
  return expr.op === 'const' ? expr.values[0] : undefined;
}

/** A bare literal number with the unit of another literal: `10..30 V`. */
export function borrow(c: Checker, node: Node, from: Node, place: Place): Expr {
  const bare =
    node.kind === 'number' && !node.unit
      ? node
      : node.kind === 'unary' &&
          node.operator === '-' &&
          node.operand.kind === 'number' &&
          !node.operand.unit
        ? node.operand
        : undefined;
  const unitText = lastUnit(from);
  if (!bare || !unitText) return c.expression(node, place);
  const sign = bare === node ? 1 : -1;
  return number({ ...bare, value: sign * bare.value, unit: unitText });
}

export function lastUnit(node: Node): Extract<Node, { kind: 'number' }>['unit'] {
  if (node.kind === 'number') return node.unit;
  if (node.kind === 'unary') return lastUnit(node.operand);
  if (node.kind === 'range') return lastUnit(node.parts[node.parts.length - 1] as Node);
  return undefined;
}
