// Forms of whole models: the outline of the sky and the battery's run.

import {
  angle,
  divide,
  energy as energyDimension,
  plain,
  temperature,
  time,
  wattage,
} from '../dimension/dimension.ts';
import type { Node } from '../language/ast.ts';
import { asQuantity, joinAxes } from './check-common.ts';
import { constant } from './checker.ts';
import { describeKind, describeType } from './describe.ts';
import type { Form } from './form-arguments.ts';
import { recordOf } from './record-type.ts';
import { reject } from './rejected.ts';
import { type Axis, quantity, sameAxes } from './type.ts';
import type { Expr } from './typed.ts';

export const skyWindow: Form = (c, node, bound, place) => {
  const part = (
    name: string,
    dimension: typeof plain,
    required: boolean,
  ): { expr: Expr; node: Node } | undefined => {
    const n = bound.get(name);
    if (!n) {
      if (required) reject('missing-argument', node.span, `sky window(…) needs ${name}:.`);
      return undefined;
    }
    const expr = c.expression(n, place);
    if (
      expr.type.kind !== 'quantity' ||
      expr.type.dimension !== dimension ||
      expr.type.axes.length !== 1 ||
      expr.type.axes[0]?.kind !== 'rows'
    )
      reject(
        'wrong-argument',
        n.span,
        `sky window(…) takes ${name} as ${describeKind(quantity(dimension))} on the rows of a table; "${c.quote(n, place)}" is ${describeType(expr.type)}.`,
      );
    return { expr, node: n };
  };
  const azimuth = part('azimuth', angle, true) as { expr: Expr; node: Node };
  const height = part('height', angle, true) as { expr: Expr; node: Node };
  const through = part('light through', plain, false);
  joinAxes(c, [azimuth, height, ...(through ? [through] : [])], node.span, place);
  return {
    op: 'sky window',
    type: { kind: 'window', axes: [], optional: false },
    rows: azimuth.expr.type.axes[0] as Axis,
    azimuth: azimuth.expr,
    height: height.expr,
    through: through?.expr ?? constant(0, plain),
  };
};

export const openSky: Form = () => ({
  op: 'open sky',
  type: { kind: 'window', axes: [], optional: false },
});

const BATTERY: readonly {
  name: string;
  dimension: typeof plain;
  stance?: 'temperature';
  fallback?: number;
}[] = [
  { name: 'charging', dimension: wattage },
  { name: 'load', dimension: wattage },
  { name: 'capacity', dimension: energyDimension },
  { name: 'start', dimension: plain, fallback: 1 },
  { name: 'floor', dimension: plain, fallback: 0 },
  { name: 'round trip', dimension: plain, fallback: 0.9 },
  { name: 'charge limit', dimension: wattage, fallback: Number.MAX_VALUE },
  { name: 'taper from', dimension: plain, fallback: 0.95 },
  { name: 'tail', dimension: time, fallback: 3600 },
  { name: 'idle', dimension: wattage, fallback: 0 },
  { name: 'self-loss', dimension: divide(plain, time), fallback: 0 },
  { name: 'cell', dimension: temperature, stance: 'temperature', fallback: 25 },
];

export const batteryRun: Form = (c, node, bound, place) => {
  const operands: { expr: Expr; node: Node }[] = [];
  const args = BATTERY.map(({ name, dimension, stance, fallback }) => {
    const n = bound.get(name);
    if (!n) {
      if (fallback === undefined)
        reject('missing-argument', node.span, `battery run(…) needs ${name}:.`);
      return constant(fallback as number, dimension);
    }
    const expr = c.expression(n, place);
    const q = asQuantity(c, expr, n, place, 'used here');
    if (q.dimension !== dimension || q.stance !== (stance ?? 'plain'))
      reject(
        'wrong-argument',
        n.span,
        `battery run(…) takes ${name} as ${describeKind(quantity(dimension, { stance: stance ?? 'plain' }))}; "${c.quote(n, place)}" is ${describeKind(q)}.`,
      );
    operands.push({ expr, node: n });
    return expr;
  });
  const joined = joinAxes(c, operands, node.span, place);
  const [axis] = joined.axes;
  if (axis?.kind !== 'timeline' || joined.axes.length > 1)
    reject(
      'needs-timeline',
      node.span,
      'battery run(…) steps along a timeline: at least one of charging and load must be a series on it.',
    );
  const r = bound.get('readings');
  const m = bound.get('read at');
  const type = recordOf('store', [axis as Axis], joined.optional, {
    charge: 'state',
    energy: 'state',
  });
  if (!r && !m) return { op: 'battery run', type, axis: axis as Axis, args };
  if (!r || !m)
    reject(
      'missing-argument',
      node.span,
      'battery run(…) takes "readings:" and "read at:" together.',
    );
  const [charge, moment] = [c.expression(r as Node, place), c.expression(m as Node, place)];
  const fine =
    charge.type.kind === 'quantity' &&
    charge.type.dimension === plain &&
    moment.type.kind === 'quantity' &&
    moment.type.stance === 'moment' &&
    charge.type.axes[0]?.kind === 'rows' &&
    sameAxes(charge.type.axes, moment.type.axes);
  if (!fine)
    reject(
      'wrong-argument',
      (r as Node).span,
      'battery run(…) takes readings as shares and "read at" as moments, both columns of one log.',
    );
  return {
    op: 'battery run',
    type,
    axis: axis as Axis,
    args,
    readings: { charge, moment, axis: charge.type.axes[0] as Axis },
  };
};
