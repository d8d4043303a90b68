import type { BinaryNode, CompareNode, Node } from '../language/ast.ts';
import type { Span } from '../source/span.ts';
import { alike, asQuantity, joinAxes, toleranceOf, unitOption } from './check-common.ts';
import type { Checker, Place } from './checker.ts';
import { slice } from './checker.ts';
import { describeKind } from './describe.ts';
import { reject } from './rejected.ts';
import { along, quantity, type SpanType, truth } from './type.ts';
import type { BinaryOp, Expr } from './typed.ts';
import { partsOf } from './typed-walk.ts';

const CHAIN: Readonly<Record<string, BinaryOp>> = {
  '<': 'lt',
  '≤': 'le',
  '=': 'eq',
  '≥': 'ge',
  '>': 'gt',
};

export function checkCompare(c: Checker, node: CompareNode, place: Place): Expr {
  const operands = node.operands.map((n) => c.expression(n, place));
  for (const [at, middle] of operands.entries())
    if (at > 0 && at < operands.length - 1) worksTwice(middle, node.operands[at] as Node);
  let result: Expr | undefined;
  node.operators.forEach((operator, i) => {
    const [a, b, na, nb] = [operands[i], operands[i + 1], node.operands[i], node.operands[i + 1]];
    if (!a || !b || !na || !nb) return;
    const one = comparison(c, CHAIN[operator] ?? 'eq', a, b, na, nb, node.span, place);
    if (!result) result = one;
    else {
      const joined = joinAxes(
        c,
        [
          { expr: result, node: na },
          { expr: one, node: nb },
        ],
        node.span,
        place,
      );
      result = {
        op: 'binary',
        fn: 'and',
        type: truth(joined.axes, joined.optional, joined.flow),
        a: result,
        b: one,
      };
    }
  });
  if (!result) throw new RangeError('comparison without operands');
  return result;
}

/** What is compared with two others is worked for each; chains in each other would double it with each. */
const MOST_TWICE = 1000;

function worksTwice(expr: Expr, node: Node): void {
  if (partsOf(expr) > MOST_TWICE)
    reject(
      'formula-terms',
      node.span,
      `What is compared here strings more than ${MOST_TWICE} parts together. Give it a cell of its own.`,
    );
}

export function comparison(
  c: Checker,
  fn: BinaryOp,
  a: Expr,
  b: Expr,
  na: Node,
  nb: Node,
  span: Span,
  place: Place,
): Expr {
  alike(c, a, b, na, nb, span, place, 'compared with');
  const joined = joinAxes(
    c,
    [
      { expr: a, node: na },
      { expr: b, node: nb },
    ],
    span,
    place,
  );
  const type = truth(joined.axes, joined.optional, joined.flow);
  const kind = a.type.kind;
  if (kind === 'text' || kind === 'truth') {
    if (fn !== 'eq' && fn !== 'ne')
      reject('text-order', span, `Texts can be equal (=) or different (≠), not larger or smaller.`);
    return { op: 'binary', fn: fn === 'eq' ? 'same' : 'differs', type, a, b };
  }
  if (kind !== 'quantity' && kind !== 'time of day')
    reject(
      'not-comparable',
      span,
      `"${c.quote(na, place)}" is ${describeKind(a.type)} and cannot be compared.`,
    );
  return { op: 'binary', fn, type, a, b };
}

export function checkWithin(c: Checker, node: BinaryNode, place: Place): Expr {
  const x = c.expression(node.left, place);
  if (node.right.kind === 'tolerance') {
    const centre = c.expression(node.right.centre, place);
    worksTwice(centre, node.right.centre);
    alike(c, x, centre, node.left, node.right.centre, node.span, place, 'compared with');
    const type = asQuantity(c, x, node.left, place, 'compared');
    const spread = toleranceOf(c, node.right.spread, type, centre, place);
    const joined = joinAxes(
      c,
      [
        { expr: x, node: node.left },
        { expr: centre, node: node.right.centre },
        { expr: spread, node: node.right.spread },
      ],
      node.span,
      place,
    );
    const scalarPlain = quantity(type.dimension, {
      axes: joined.axes,
      optional: joined.optional,
      ...unitOption(type.unit && !type.unit.isPoint ? type.unit : undefined),
    });
    const gap: Expr = {
      op: 'unary',
      fn: 'abs',
      type: scalarPlain,
      a: { op: 'binary', fn: 'sub', type: scalarPlain, a: x, b: centre },
    };
    return {
      op: 'binary',
      fn: 'le',
      type: truth(joined.axes, joined.optional, joined.flow),
      a: gap,
      b: spread,
    };
  }
  const s = c.expression(node.right, place);
  if (s.type.kind !== 'span')
    reject(
      'not-a-span',
      node.right.span,
      `After "within" stands ${describeKind(s.type)}. Write a span such as 10..30 V or 17:00..21:00, or a value ± a tolerance.`,
    );
  const st = s.type as SpanType;
  const joined = joinAxes(
    c,
    [
      { expr: x, node: node.left },
      { expr: s, node: node.right },
    ],
    node.span,
    place,
  );
  const type = truth(joined.axes, joined.optional, joined.flow);
  const args = [
    x,
    slice(s, 0, along(st.of, st.axes, st.optional)),
    slice(s, 1, along(st.of, st.axes, st.optional)),
  ];
  if (st.of.kind === 'time of day') {
    if (x.type.kind === 'time of day') return { op: 'map', fn: 'within hours', type, args };
    if (x.type.kind === 'quantity' && x.type.stance === 'moment')
      return { op: 'map', fn: 'moment within hours', type, args };
    reject(
      'kinds-differ',
      node.span,
      `"${c.quote(node.left, place)}" is ${describeKind(x.type)}; only a moment or a time of day lies within hours.`,
    );
  }
  const end = args[1];
  if (end) alike(c, x, end, node.left, node.right, node.span, place, 'compared with');
  const open = st.of.kind === 'quantity' && st.of.stance === 'moment';
  return { op: 'map', fn: open ? 'within open' : 'within', type, args };
}
