// Forms that work place by place but whose result depends on what they are given: roots, the
// smaller of several, rounding.

import { plain, power as raise } from '../dimension/dimension.ts';
import type { Unit } from '../dimension/unit.ts';
import type { Node } from '../language/ast.ts';
import { alike, asQuantity, joinAxes } from './check-common.ts';
import { constant } from './checker.ts';
import { describeKind } from './describe.ts';
import { type Form, need, optional } from './form-arguments.ts';
import { reject } from './rejected.ts';
import { type QuantityType, quantity } from './type.ts';
import type { BinaryOp, Expr } from './typed.ts';

export function place1(op: 'sqrt' | 'abs'): Form {
  return (c, node, bound, place) => {
    const x = need(bound, 'x', node);
    const a = c.expression(x, place);
    const q = asQuantity(c, a, x, place, `used in ${op}`);
    if (q.stance !== 'plain')
      reject(
        'point-multiplied',
        x.span,
        `"${c.quote(x, place)}" is ${describeKind(q)}; ${op} needs an amount.`,
      );
    const { timeline: _, unit, ...rest } = q;
    if (op === 'abs') return { op: 'unary', fn: 'abs', type: q, a };
    const dimension = raise(q.dimension, 0.5);
    if (!dimension) reject('power-open', x.span, `The root of ${describeKind(q)} has no unit.`);
    return {
      op: 'unary',
      fn: 'sqrt',
      type: {
        ...rest,
        dimension: dimension ?? plain,
        ...(q.dimension === plain && unit === undefined ? {} : {}),
      },
      a,
    };
  };
}

interface Part {
  readonly expr: Expr;
  readonly node: Node;
}

/** So many values are compared one after another. */
const FEW = 8;

export function extreme(fn: 'min' | 'max'): Form {
  return (c, node, bound, place) => {
    const nodes = [...bound.values()];
    const [first] = nodes;
    if (!first || nodes.length < 2) {
      const whole = first ? c.quote(first, place) : '…';
      reject(
        'one-value',
        node.span,
        `${fn}(…) compares two or more values. For one series use ${fn === 'min' ? 'lowest' : 'highest'}(${whole}).`,
        [
          {
            label: `Use ${fn === 'min' ? 'lowest' : 'highest'}`,
            span: node.callee.span,
            text: fn === 'min' ? 'lowest' : 'highest',
          },
        ],
      );
    }
    const compared = (left: Part, right: Part): Part => {
      asQuantity(c, right.expr, right.node, place, 'compared');
      alike(c, left.expr, right.expr, left.node, right.node, node.span, place, 'compared with');
      const joined = joinAxes(c, [left, right], node.span, place);
      const q = left.expr.type as QuantityType;
      const unit: Unit | undefined = q.unit ?? (right.expr.type as QuantityType).unit;
      const type = quantity(q.dimension, {
        ...joined,
        stance: q.stance,
        ...(unit ? { unit } : {}),
      });
      return {
        expr: { op: 'binary', fn, type, a: left.expr, b: right.expr },
        node: right.expr.type.axes.length > 0 ? right.node : left.node,
      };
    };
    // Of many, halves: a tree that leaned to one side would be as deep as they are many.
    const ofAll = (list: readonly Node[]): Part => {
      const only = list[0] as Node;
      if (list.length === 1) return { expr: c.expression(only, place), node: only };
      const split = list.length > FEW ? list.length >> 1 : list.length - 1;
      return compared(ofAll(list.slice(0, split)), ofAll(list.slice(split)));
    };
    return ofAll(nodes).expr;
  };
}

export function rounding(fn: BinaryOp): Form {
  return (c, node, bound, place) => {
    const x = need(bound, 'x', node);
    const a = c.expression(x, place);
    const q = asQuantity(c, a, x, place, 'rounded');
    const to = optional(c, bound, 'to', place);
    if (!to && q.dimension !== plain)
      reject(
        'missing-argument',
        node.span,
        `${fn}(…) needs "to:", such as to: 1 ${q.unit?.symbol ?? 'W'}.`,
      );
    if (to) {
      const t = asQuantity(c, to.expr, to.node, place, 'used as a step');
      const sameStep =
        t.dimension === q.dimension && (t.stance === 'plain' || t.stance === q.stance);
      if (!sameStep)
        reject(
          'kinds-differ',
          to.node.span,
          `"to:" is ${describeKind(t)}; it must be ${describeKind(q)}.`,
        );
    }
    return { op: 'binary', fn, type: q, a, b: to?.expr ?? constant(1, plain) };
  };
}
