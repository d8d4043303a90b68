// Products, quotients and powers.

import { divide, multiply, plain, power } from '../dimension/dimension.ts';
import type { BinaryNode, Node } from '../language/ast.ts';
import { asQuantity, joinedQuantity, joinSides } from './check-common.ts';
import { fold } from './check-sum.ts';
import type { Checker, Place } from './checker.ts';
import { describeKind } from './describe.ts';
import { reject } from './rejected.ts';
import { type QuantityType, quantity } from './type.ts';
import type { Expr } from './typed.ts';
import { partsOf } from './typed-walk.ts';

export function checkProduct(c: Checker, node: BinaryNode, place: Place): Expr {
  const a = c.expression(node.left, place);
  const b = c.expression(node.right, place);
  const times = node.operator === '×';
  const p = asQuantity(c, a, node.left, place, times ? 'multiplied' : 'divided');
  const q = asQuantity(c, b, node.right, place, times ? 'multiplied' : 'divided by');
  if (p.stance !== 'plain') rejectPoint(c, p, node.left, times, place);
  if (q.stance !== 'plain') rejectPoint(c, q, node.right, times, place);
  const joined = joinSides(c, a, b, node, place);
  const dimension = times ? multiply(p.dimension, q.dimension) : divide(p.dimension, q.dimension);
  // A plain factor leaves the unit as it was; a share times a share stays a share.
  const unit =
    q.dimension === plain
      ? p.dimension === plain && p.unit?.symbol !== q.unit?.symbol
        ? undefined
        : p.unit
      : times && p.dimension === plain
        ? q.unit
        : undefined;
  return fold({
    op: 'binary',
    fn: times ? 'mul' : 'div',
    type: joinedQuantity(dimension, joined, 'plain', unit),
    a,
    b,
  });
}

function rejectPoint(
  c: Checker,
  type: QuantityType,
  node: Node,
  times: boolean,
  place: Place,
): never {
  const help =
    type.stance === 'temperature'
      ? ` Take a difference first, such as ${c.quote(node, place)} - 0 °C, or from absolute zero ${c.quote(node, place)} - (-273.15 °C).`
      : type.stance === 'level'
        ? ` Take it as a power first: (${c.quote(node, place)} as mW).`
        : ' Take the time between two moments first.';
  return reject(
    'point-multiplied',
    node.span,
    `"${c.quote(node, place)}" is ${describeKind(type)}, a point on a scale, and cannot be ${times ? 'multiplied' : 'divided'}.${help}`,
  );
}

/** A square of so few parts works them twice, which is faster than a power. */
const SMALL = 16;

export function checkPower(c: Checker, node: BinaryNode, place: Place): Expr {
  const a = c.expression(node.left, place);
  const b = c.expression(node.right, place);
  const p = asQuantity(c, a, node.left, place, 'raised to a power');
  const q = asQuantity(c, b, node.right, place, 'used as a power');
  if (p.stance !== 'plain')
    reject(
      'point-multiplied',
      node.left.span,
      `"${c.quote(node.left, place)}" is ${describeKind(a.type)}, a point on a scale, and cannot be raised to a power.`,
    );
  if (q.dimension !== plain)
    reject(
      'power-dimension',
      node.right.span,
      `A power is a plain number; "${c.quote(node.right, place)}" is ${describeKind(b.type)}. A number in powers of ten is written 1e3 W.`,
    );
  const joined = joinSides(c, a, b, node, place);
  if (p.dimension === plain)
    return { op: 'binary', fn: 'pow', type: quantity(plain, joined), a, b };
  const exponent = b.op === 'const' ? b.values[0] : undefined;
  const dimension = exponent === undefined ? undefined : power(p.dimension, exponent);
  if (dimension === undefined || exponent === undefined)
    reject(
      'power-open',
      node.right.span,
      `"${c.quote(node.left, place)}" is ${describeKind(a.type)}; its power must be a number such as 2, 3 or 0.5.`,
    );
  // Of many parts it would not be, and squares in each other would double them with each.
  if (exponent === 2 && partsOf(a) <= SMALL)
    return { op: 'binary', fn: 'mul', type: quantity(dimension as typeof plain, joined), a, b: a };
  return { op: 'binary', fn: 'pow', type: quantity(dimension as typeof plain, joined), a, b };
}
