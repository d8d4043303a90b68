// Forms that run the notebook again: chance, percentiles, solving; and what is drawn in each trial.

import { plain, time } from '../dimension/dimension.ts';
import type { Node } from '../language/ast.ts';
import { alike, asQuantity, checkRange } from './check-common.ts';
import { findTarget } from './check-with.ts';
import { constant, slice } from './checker.ts';
import { describeKind, describeType } from './describe.ts';
import { type Form, need, timelineArgument, unitOption } from './form-arguments.ts';
import { reject } from './rejected.ts';
import { along, plainNumber, type QuantityType, quantity, scalarOf } from './type.ts';
import type { Expr } from './typed.ts';
import { visitExpr } from './typed-walk.ts';

/** Trials are not run inside trials: a cell of its own is worked once and then stands still. */
function withoutTrials(expr: Expr, n: Node, fn: string): void {
  visitExpr(expr, (x) => {
    if (x.op === 'chance' || x.op === 'percentile')
      reject(
        'chance-inside',
        n.span,
        `${x.op}(…) cannot stand inside ${fn}(…). Give it a cell of its own.`,
      );
  });
}

export const chance: Form = (c, node, bound, place) => {
  const n = need(bound, 'truth', node);
  const e = c.expression(n, place);
  if (e.type.kind !== 'truth' || e.type.axes.length > 0)
    reject(
      'wrong-argument',
      n.span,
      `chance(…) takes one question with yes or no; "${c.quote(n, place)}" is ${describeType(e.type)}.`,
    );
  withoutTrials(e, n, 'chance');
  return { op: 'chance', type: quantity(plain, unitOption('%')), condition: e };
};

export const percentile: Form = (c, node, bound, place) => {
  const n = need(bound, 'x', node);
  const e = c.expression(n, place);
  const q = asQuantity(c, e, n, place, 'ranked');
  const s = bound.get('share');
  if (!s)
    reject(
      'missing-argument',
      node.span,
      'percentile(…) needs a share: percentile(lowest charge, 10 %).',
    );
  const share = c.expression(s as Node, place);
  if (
    share.type.kind !== 'quantity' ||
    share.type.dimension !== plain ||
    share.type.axes.length > 0
  )
    reject(
      'wrong-argument',
      (s as Node).span,
      'percentile(…) takes a share from 0 % to 100 %. Write 10 % for ten in a hundred.',
    );
  withoutTrials(e, n, 'percentile');
  return { op: 'percentile', type: along(q, q.axes), value: e, share };
};

export const uncertainOnly: Form = (_c, node) =>
  reject(
    'uncertain-inside',
    node.span,
    'An uncertain amount must be the whole formula of a given. Give it a cell of its own, so that it can be ranked.',
  );

export const drawnSky: Form = (c, node, bound, place) => {
  const { axis, at } = timelineArgument(c, need(bound, 'at', node), place, 'drawn sky');
  const amount = (name: string, dimension = plain): Expr => {
    const n = need(bound, name, node);
    const e = c.expression(n, place);
    const q = asQuantity(c, e, n, place, 'used here');
    const days =
      q.dimension === time
        ? ({ op: 'binary', fn: 'div', type: plainNumber, a: e, b: constant(86_400, time) } as Expr)
        : e;
    if (
      (q.dimension !== dimension && q.dimension !== time) ||
      q.axes.length > 0 ||
      q.stance !== 'plain'
    )
      reject('wrong-argument', n.span, `drawn sky(…) takes ${name} as a number of days.`);
    return days;
  };
  // Below zero stands for one that is left out.
  const index = (name: string): Expr => {
    const n = bound.get(name);
    if (!n) return constant(-1, plain);
    const e = c.expression(n, place);
    const q = asQuantity(c, e, n, place, 'used here');
    if (q.dimension !== plain || q.axes.length > 0 || q.stance !== 'plain')
      reject(
        'wrong-argument',
        n.span,
        `drawn sky(…) takes ${name} as one clear index, such as 65 %.`,
      );
    return e;
  };
  return {
    op: 'drawn sky',
    type: quantity(plain, { axes: [axis], ...unitOption('%') }),
    axis,
    at,
    node: place.node.id,
    args: [amount('wet days'), amount('wet spell'), index('dry day'), index('wet day')],
  };
};

export const solve: Form = (c, node, bound, place) => {
  const cell = need(bound, 'cell', node);
  if (cell.kind !== 'name')
    reject(
      'wrong-argument',
      cell.span,
      'solve(…) begins with the name of a given: solve(panel rating, so that: …, over: …).',
    );
  const target = findTarget(
    c,
    { name: (cell as Extract<Node, { kind: 'name' }>).name, span: cell.span },
    place,
  );
  const type = target.type;
  if (type.kind !== 'quantity' || type.axes.length > 0)
    reject(
      'wrong-argument',
      cell.span,
      `"${c.quote(cell, place)}" is ${describeType(type)}; solve(…) looks for one amount.`,
    );
  const condition = bound.get('so that');
  if (condition?.kind !== 'compare' || condition.operands.length !== 2)
    reject(
      'wrong-argument',
      condition?.span ?? node.span,
      'solve(…) needs "so that:" with one comparison, such as lowest charge ≥ 20 %.',
    );
  const compare = condition as Extract<Node, { kind: 'compare' }>;
  const [ln, rn] = compare.operands as [Node, Node];
  const [left, right] = [c.expression(ln, place), c.expression(rn, place)];
  alike(c, left, right, ln, rn, compare.span, place, 'compared with');
  asQuantity(c, left, ln, place, 'solved for');
  if (left.type.axes.length > 0 || right.type.axes.length > 0)
    reject(
      'series-inside',
      compare.span,
      'solve(…) compares single values; reduce the series first, such as lowest(charge).',
    );
  const over = bound.get('over');
  if (!over)
    reject(
      'missing-argument',
      node.span,
      'solve(…) needs "over:" with the range to look in, such as over: 50 W..800 W.',
    );
  const span =
    over?.kind === 'range' ? checkRange(c, over, place) : c.expression(over as Node, place);
  if (
    span.type.kind !== 'span' ||
    span.type.of.kind !== 'quantity' ||
    span.type.of.dimension !== (type as QuantityType).dimension
  )
    reject(
      'wrong-argument',
      (over as Node).span,
      `solve(…) looks over a span of ${describeKind(type)}.`,
    );
  const relation = { '=': '=', '≥': '≥', '>': '≥', '≤': '≤', '<': '≤' }[
    compare.operators[0] ?? '='
  ] as '=' | '≥' | '≤';
  const q = type as QuantityType;
  return {
    op: 'solve',
    type: quantity(q.dimension, { stance: q.stance, ...(q.unit ? { unit: q.unit } : {}) }),
    node: target.node,
    left,
    right,
    relation,
    low: slice(span, 0, scalarOf(q)),
    high: slice(span, 1, scalarOf(q)),
  };
};
