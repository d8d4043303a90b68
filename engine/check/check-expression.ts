// One expression: names looked up, kinds and dimensions worked out, units taken off. Written as one
// function a sort of node; the first fault leaves the formula (see rejected.ts).

import { area, plain } from '../dimension/dimension.ts';
import { areaOfGauge } from '../dimension/gauge.ts';
import { findUnit } from '../dimension/unit.ts';
import type { BinaryNode, Node } from '../language/ast.ts';
import type { Span } from '../source/span.ts';
import { checkAs } from './check-as.ts';
import { checkCall } from './check-call.ts';
import { alike, checkRange, joinAxes, number, textId, unitOption } from './check-common.ts';
import { checkCompare, checkWithin, comparison } from './check-compare.ts';
import { checkName, checkPart } from './check-names.ts';
import { checkPower, checkProduct } from './check-product.ts';
import { checkSum } from './check-sum.ts';
import { checkWith } from './check-with.ts';
import type { Checker, Place } from './checker.ts';
import { constant } from './checker.ts';
import { describeKind } from './describe.ts';
import { reject } from './rejected.ts';
import {
  along,
  momentType,
  type QuantityType,
  quantity,
  type Type,
  textType,
  timeOfDayType,
  truth,
} from './type.ts';
import type { Expr } from './typed.ts';

export function checkExpression(c: Checker, node: Node, place: Place): Expr {
  switch (node.kind) {
    case 'number':
      return number(node);
    case 'gauge':
      return {
        op: 'const',
        type: quantity(area, unitOption(findUnit('AWG'))),
        values: [areaOfGauge(node.gauge)],
      };
    case 'moment':
      return {
        op: 'const',
        type: momentType,
        values: [node.days * 86_400 + (node.minutes ?? 0) * 60],
      };
    case 'time of day':
      return { op: 'const', type: timeOfDayType(), values: [node.minutes * 60] };
    case 'text':
      return { op: 'const', type: textType(), values: [textId(c, node.value)] };
    case 'pi':
      return constant(Math.PI, plain);
    case 'none':
      return { op: 'const', type: { kind: 'nothing', axes: [], optional: true }, values: [] };
    case 'blank':
      reject('blank-inside', node.span, 'A blank must be the whole formula of a given.');
      break;
    case 'name':
      return checkName(c, node.name, place);
    case 'part':
      return checkPart(c, node, place);
    case 'call':
      return checkCall(c, node, place);
    case 'unary':
      return checkUnary(c, node.operator, node.operand, node.span, place);
    case 'binary':
      return checkBinary(c, node, place);
    case 'compare':
      return checkCompare(c, node, place);
    case 'range':
      return checkRange(c, node, place);
    case 'tolerance':
      reject(
        'uncertain-inside',
        node.span,
        'An uncertain amount must be the whole formula of a given. Give it a cell of its own, so that it can be ranked.',
      );
      break;
    case 'as':
      return checkAs(c, node, place);
    case 'if': {
      const condition = c.expression(node.condition, place);
      if (condition.type.kind !== 'truth')
        reject(
          'not-truth',
          node.condition.span,
          `After "if" stands ${describeKind(condition.type)}. It needs a question with yes or no, such as ${c.quote(node.condition, place)} > ….`,
        );
      return choose(
        c,
        condition,
        c.expression(node.then, place),
        c.expression(node.otherwise, place),
        node.then,
        node.otherwise,
        node.span,
        place,
      );
    }
    case 'with':
      return checkWith(c, node, place);
    case 'broken':
      reject('cannot-stand', node.span, 'This part cannot be read.');
  }
  throw new RangeError(`unexpected node ${(node as Node).kind}`);
}

function checkUnary(
  c: Checker,
  operator: '-' | 'not',
  operand: Node,
  span: Span,
  place: Place,
): Expr {
  const a = c.expression(operand, place);
  if (operator === 'not') {
    if (a.type.kind !== 'truth')
      reject(
        'not-truth',
        operand.span,
        `After "not" stands ${describeKind(a.type)}. It needs a question with yes or no.`,
      );
    return { op: 'unary', fn: 'not', type: a.type, a };
  }
  if (a.type.kind !== 'quantity' || a.type.stance !== 'plain')
    reject(
      'negated',
      span,
      `"${c.quote(operand, place)}" is ${describeKind(a.type)} and cannot be negated.`,
    );
  if (a.op === 'const') return { ...a, values: a.values.map((v) => -v) };
  const type = along(a.type, a.type.axes);
  return { op: 'unary', fn: 'neg', type, a };
}

function checkBinary(c: Checker, node: BinaryNode, place: Place): Expr {
  switch (node.operator) {
    case 'and':
    case 'or': {
      const [a, b] = [c.expression(node.left, place), c.expression(node.right, place)];
      for (const [e, n] of [
        [a, node.left],
        [b, node.right],
      ] as const)
        if (e.type.kind !== 'truth')
          reject(
            'not-truth',
            n.span,
            `"${node.operator}" joins questions with yes or no; "${c.quote(n, place)}" is ${describeKind(e.type)}.`,
          );
      const joined = joinAxes(
        c,
        [
          { expr: a, node: node.left },
          { expr: b, node: node.right },
        ],
        node.span,
        place,
      );
      return {
        op: 'binary',
        fn: node.operator,
        type: truth(joined.axes, joined.optional, joined.flow),
        a,
        b,
      };
    }
    case 'within':
      return checkWithin(c, node, place);
    case '≠': {
      const [a, b] = [c.expression(node.left, place), c.expression(node.right, place)];
      return comparison(c, 'ne', a, b, node.left, node.right, node.span, place);
    }
    case '^':
      return checkPower(c, node, place);
    case '×':
    case '/':
      return checkProduct(c, node, place);
    default:
      return checkSum(c, node, place);
  }
}

/** `if`: both sides alike; the result has the first one's unit. */
function choose(
  c: Checker,
  condition: Expr,
  a: Expr,
  b: Expr,
  na: Node,
  nb: Node,
  span: Span,
  place: Place,
): Expr {
  alike(c, a, b, na, nb, span, place, 'exchanged with');
  const joined = joinAxes(
    c,
    [
      { expr: condition, node: na },
      { expr: a, node: na },
      { expr: b, node: nb },
    ],
    span,
    place,
  );
  let type: Type = along(a.type, joined.axes, joined.optional);
  if (type.kind === 'quantity') {
    const other = (b.type as QuantityType).unit;
    type = { ...type, flow: joined.flow, ...(type.unit ? {} : unitOption(other)) };
  }
  if (type.kind === 'window' || type.kind === 'table')
    reject('if-kind', span, `"if" cannot choose between ${describeKind(type)} and another.`);
  return { op: 'select', type, condition, a, b };
}
