// Forms that take an axis away or change it for days: sums, extremes, counts, daily values.

import { energy as energyDimension, multiply, plain, time } from '../dimension/dimension.ts';
import { findUnit } from '../dimension/unit.ts';
import { alike, asQuantity } from './check-common.ts';
import { describeKind } from './describe.ts';
import { type Form, need, optional, series, unitOption, whereOf } from './form-arguments.ts';
import { reject } from './rejected.ts';
import { type Axis, along, momentType, quantity, scalarOf, type Type } from './type.ts';
import type { DailyOp, ReduceOp } from './typed.ts';

function placeType(axis: Axis): Type {
  const { coordinate } = axis;
  if (coordinate.kind === 'text') return { kind: 'text', axes: [], optional: false };
  if (coordinate.kind === 'time of day') return { kind: 'time of day', axes: [], optional: false };
  // A day is told by its date.
  const unit = axis.kind === 'days' ? findUnit('d') : coordinate.unit;
  return quantity(coordinate.dimension, {
    stance: coordinate.stance,
    ...(unit ? { unit } : {}),
  });
}

export function reduce(fn: ReduceOp): Form {
  return (c, node, bound, place) => {
    const x = need(bound, 'x', node);
    const { expr, axis, rest } = series(c, x, place, fn);
    const { type } = expr;
    const quoted = c.quote(x, place);
    const where = whereOf(c, bound, expr, node, place);
    const otherwise = optional(c, bound, 'otherwise', place);
    let result: Type;
    if (fn === 'count' || fn === 'time while' || fn === 'first moment') {
      if (type.kind !== 'truth')
        reject(
          'not-truth',
          x.span,
          `${fn}(…) works on a question along an axis, such as ${quoted} > …; "${quoted}" is ${describeKind(type)}.`,
        );
      if (fn === 'count') result = quantity(plain, { axes: rest });
      else {
        if (axis.kind !== 'timeline')
          reject(
            'needs-timeline',
            x.span,
            `${fn}(…) works along a timeline; "${quoted}" runs along ${axis.name}.`,
          );
        result =
          fn === 'time while'
            ? quantity(time, { axes: rest, ...unitOption('h') })
            : along(momentType, rest);
      }
    } else if (fn === 'first' || fn === 'last') {
      result = along(type, rest, false);
    } else {
      if (fn === 'at lowest' || fn === 'at highest') {
        if (axis.kind === 'rows' && axis.node >= 0) c.typeOf(axis.node, place, x.span);
        asQuantity(c, expr, x, place, 'compared');
        result = along(placeType(axis), rest, false);
      } else if (fn === 'energy') {
        const q = asQuantity(c, expr, x, place, 'summed over time');
        if (axis.kind !== 'timeline')
          reject(
            'needs-timeline',
            x.span,
            `energy(…) sums a power along a timeline; "${quoted}" runs along ${axis.name}. Use sum(…).`,
          );
        const dimension = multiply(q.dimension, time);
        if (q.stance !== 'plain')
          reject(
            'point-summed',
            x.span,
            `"${quoted}" is ${describeKind(type)}; points cannot be summed.`,
          );
        result = quantity(dimension, { axes: rest, ...(dimension === energyDimension ? {} : {}) });
      } else {
        if (type.kind === 'time of day' && (fn === 'lowest' || fn === 'highest'))
          result = along(type, rest, false);
        else {
          const q = asQuantity(c, expr, x, place, 'reduced');
          if (fn === 'sum' && q.stance !== 'plain')
            reject(
              'point-summed',
              x.span,
              `"${quoted}" is ${describeKind(type)}; points cannot be summed. mean(…) works.`,
            );
          result = along(q, rest, false);
        }
      }
    }
    if (otherwise)
      alike(
        c,
        { op: 'const', type: scalarOf(result), values: [] },
        otherwise.expr,
        x,
        otherwise.node,
        node.span,
        place,
        'exchanged with',
      );
    return {
      op: 'reduce',
      fn,
      type: result,
      a: expr,
      axis,
      ...where,
      ...(otherwise ? { otherwise: otherwise.expr } : {}),
    };
  };
}

export function daily(fn: DailyOp): Form {
  return (c, node, bound, place) => {
    const x = need(bound, 'x', node);
    const { expr, axis, rest } = series(c, x, place, fn);
    const q = asQuantity(c, expr, x, place, 'taken day by day');
    if (axis.kind !== 'timeline')
      reject(
        'needs-timeline',
        x.span,
        `${fn}(…) works along a timeline; "${c.quote(x, place)}" runs along ${axis.name}.`,
      );
    if (rest.length > 0) reject('two-axes', x.span, `"${c.quote(x, place)}" runs along two axes.`);
    if (fn === 'daily energy' && q.stance !== 'plain')
      reject(
        'point-summed',
        x.span,
        `"${c.quote(x, place)}" is ${describeKind(q)}; points cannot be summed.`,
      );
    const days = c.daysOf(axis);
    const base = fn === 'daily energy' ? quantity(multiply(q.dimension, time)) : along(q, []);
    return {
      op: 'daily',
      fn,
      type: { ...along(base, [days], q.optional), flow: 'rate' },
      a: expr,
      axis,
      days,
    };
  };
}
