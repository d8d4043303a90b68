// Sums and differences, with points, levels and times of day; literal arithmetic done once.

import { time, wattage } from '../dimension/dimension.ts';
import { findUnit } from '../dimension/unit.ts';
import type { BinaryNode } from '../language/ast.ts';
import { asQuantity, joinedQuantity, joinSides, unitOption } from './check-common.ts';
import type { Checker, Place } from './checker.ts';
import { describeKind, remedyFor } from './describe.ts';
import { reject } from './rejected.ts';
import { type QuantityType, quantity, timeOfDayType } from './type.ts';
import type { BinaryOp, Expr } from './typed.ts';

export function checkSum(c: Checker, node: BinaryNode, place: Place): Expr {
  const a = c.expression(node.left, place);
  const b = c.expression(node.right, place);
  const adding = node.operator === '+';
  const joined = joinSides(c, a, b, node, place);
  const fn: BinaryOp = adding ? 'add' : 'sub';
  // times of day
  if (a.type.kind === 'time of day' && b.type.kind === 'time of day' && !adding)
    return {
      op: 'binary',
      fn: 'clock sub',
      type: quantity(time, { ...joined, ...unitOption(findUnit('h')) }),
      a,
      b,
    };
  if (
    a.type.kind === 'time of day' &&
    b.type.kind === 'quantity' &&
    b.type.dimension === time &&
    b.type.stance === 'plain'
  ) {
    const shift: Expr = adding ? b : { op: 'unary', fn: 'neg', type: b.type, a: b };
    return {
      op: 'binary',
      fn: 'clock add',
      type: timeOfDayType(joined.axes, joined.optional),
      a,
      b: shift,
    };
  }
  // A time and a time of day, as with any point: either may stand first.
  if (
    adding &&
    b.type.kind === 'time of day' &&
    a.type.kind === 'quantity' &&
    a.type.dimension === time &&
    a.type.stance === 'plain'
  )
    return {
      op: 'binary',
      fn: 'clock add',
      type: timeOfDayType(joined.axes, joined.optional),
      a: b,
      b: a,
    };
  const p = asQuantity(c, a, node.left, place, adding ? 'added' : 'subtracted from');
  const q = asQuantity(c, b, node.right, place, adding ? 'added' : 'subtracted');
  const verb = adding ? 'adds' : 'subtracts';
  // Quoted only when something is said.
  const both = (): string =>
    `"${c.quote(node.left, place)} ${node.operator} ${c.quote(node.right, place)}"`;
  if (p.dimension !== q.dimension) {
    const [left, right] = [describeKind(a.type), describeKind(b.type)];
    const words = adding
      ? `${both()} adds ${left} to ${right}.`
      : `${both()} ${verb} ${right} from ${left}.`;
    const remedy = remedyFor(
      { type: p, text: c.quote(node.left, place) },
      { type: q, text: c.quote(node.right, place) },
    );
    const series = p.dimension === wattage ? node.left : node.right;
    const fixes = remedy.includes('energy(')
      ? [
          {
            label: `Use energy(${c.quote(series, place)})`,
            span: series.span,
            text: `energy(${c.quote(series, place)})`,
          },
        ]
      : [];
    reject('dimensions-differ', node.span, `${words}${remedy}`, fixes);
  }
  if (p.stance !== 'plain' && q.stance !== 'plain') {
    if (adding) {
      if (p.stance === 'level') {
        const text = `((${c.quote(node.left, place)}) as mW) + ((${c.quote(node.right, place)}) as mW) as dBm`;
        reject('points-added', node.span, `${both()} adds two levels. Add their powers: ${text}.`, [
          { label: 'Add the powers', span: node.span, text },
        ]);
      }
      if (p.stance === 'temperature') {
        const difference =
          node.right.kind === 'number'
            ? `${c.quote(node.left, place)} + ${node.right.value} K`
            : '';
        reject(
          'points-added',
          node.span,
          `${both()} adds two temperatures. A difference is written in K${difference ? `: ${difference}` : ''}.`,
          difference ? [{ label: `Write ${difference}`, span: node.span, text: difference }] : [],
        );
      }
      reject(
        'points-added',
        node.span,
        `${both()} adds two moments. Add a time to a moment, or subtract one moment from the other.`,
      );
    }
    const unit = p.stance === 'moment' ? undefined : findUnit(differenceSymbol(p, q));
    return {
      op: 'binary',
      fn,
      type: quantity(p.dimension, { ...joined, ...unitOption(unit) }),
      a,
      b,
    };
  }
  if (p.stance === 'plain' && q.stance !== 'plain' && !adding)
    reject(
      'point-subtracted',
      node.span,
      `${both()} subtracts ${describeKind(b.type)} from a difference. Turn the two round.`,
    );
  const lead = q.stance !== 'plain' ? q : p;
  const unit = lead.unit ?? (p.stance === q.stance ? q.unit : undefined);
  return fold({
    op: 'binary',
    fn,
    type: joinedQuantity(p.dimension, joined, lead.stance, unit),
    a,
    b,
  });
}

/** The unit of a difference of two points: degrees of the scale on which both are read. */
function differenceSymbol(p: QuantityType, q: QuantityType): string {
  if (p.stance === 'level') return 'dB';
  return p.unit?.symbol === '°F' && q.unit?.symbol === '°F' ? 'Δ°F' : 'K';
}

/** Literal arithmetic is done once, here. */
export function fold(expr: Expr): Expr {
  if (expr.op !== 'binary' || expr.a.op !== 'const' || expr.b.op !== 'const') return expr;
  const [x, y] = [expr.a.values[0], expr.b.values[0]];
  if (x === undefined || y === undefined) return expr;
  const value =
    expr.fn === 'add'
      ? x + y
      : expr.fn === 'sub'
        ? x - y
        : expr.fn === 'mul'
          ? x * y
          : expr.fn === 'div'
            ? x / y
            : Number.NaN;
  return Number.isFinite(value) ? { op: 'const', type: expr.type, values: [value] } : expr;
}
