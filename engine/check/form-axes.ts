// Forms that make an axis or run along one step by step: timelines, steps, looking back, totals,
// hours on a timeline.

import {
  current,
  type Dimension,
  irradiance,
  multiply,
  plain,
  temperature,
  time,
  wattage,
} from '../dimension/dimension.ts';
import { findUnit } from '../dimension/unit.ts';
import type { Node } from '../language/ast.ts';
import { alike, asQuantity, borrow } from './check-common.ts';
import { constant } from './checker.ts';
import { describeKind, describeType } from './describe.ts';
import {
  type Form,
  need,
  optional,
  series,
  spanArgument,
  timelineArgument,
  unitOption,
} from './form-arguments.ts';
import { lookingBackType } from './look-back.ts';
import { reject } from './rejected.ts';
import {
  type Axis,
  along,
  momentType,
  type QuantityType,
  quantity,
  type SpanType,
  sameAxes,
} from './type.ts';
import type { Expr } from './typed.ts';

export const timeline: Form = (c, node, bound, place) => {
  const point = (name: string): Expr => {
    const n = need(bound, name, node);
    const e = c.expression(n, place);
    if (e.type.kind !== 'quantity' || e.type.stance !== 'moment' || e.type.axes.length > 0)
      reject(
        'wrong-argument',
        n.span,
        `timeline(…) takes ${name} as a date or a moment; "${c.quote(n, place)}" is ${describeType(e.type)}.`,
      );
    return e;
  };
  const from = point('from');
  const until = point('until');
  const by = optional(c, bound, 'by', place);
  if (by) {
    const q = asQuantity(c, by.expr, by.node, place, 'used as a step');
    if (q.dimension !== time || q.stance !== 'plain' || q.axes.length > 0)
      reject('wrong-argument', by.node.span, `timeline(…) takes by as a time, such as 15 min.`);
  }
  const name = place.node.kind === 'cell' ? place.node.name : 'a timeline';
  const axis = c.newAxis(
    'timeline',
    name,
    { kind: 'quantity', dimension: time, stance: 'moment' },
    place.node.id,
  );
  return {
    op: 'timeline',
    type: { ...along(momentType, [axis]), timeline: axis },
    axis,
    from,
    until,
    by: by?.expr ?? constant(900, time),
  };
};

export const steps: Form = (c, node, bound, place) => {
  const by = bound.get('by');
  const values = [...bound].filter(([name]) => name !== 'by').map(([, n]) => n);
  const [first, second] = values;
  if (!first || !second)
    reject(
      'missing-argument',
      node.span,
      'steps(…) needs two ends and a step, steps(5 m, 50 m, by: 5 m), or two or more values.',
    );
  if (by && values.length !== 2)
    reject('too-many-arguments', node.span, 'steps(…) with "by:" takes two ends.');
  const last = values[values.length - 1] as Node;
  const exprs = values.map((n) =>
    n === last ? c.expression(n, place) : borrow(c, n, last, place),
  );
  const head = exprs[0] as Expr;
  exprs.forEach((e, i) => {
    if (e.type.axes.length > 0)
      reject(
        'series-inside',
        (values[i] as Node).span,
        `A step is one value; "${c.quote(values[i] as Node, place)}" is ${describeType(e.type)}.`,
      );
    if (i > 0) alike(c, head, e, first as Node, values[i] as Node, node.span, place, 'listed with');
  });
  const { type } = head;
  if (by) {
    const q = asQuantity(c, head, first as Node, place, 'stepped');
    let step = c.expression(by, place);
    const s = asQuantity(c, step, by, place, 'used as a step');
    // After "by" a degree is a difference.
    if (s.stance === 'temperature' && by.kind === 'number' && by.unit)
      step = constant(by.value * (findUnit(by.unit.text)?.factor ?? 1), temperature);
    else if (s.dimension !== q.dimension || s.stance !== 'plain')
      reject(
        'wrong-argument',
        by.span,
        `"by:" is ${describeKind(s)}; the ends are ${describeKind(q)}.`,
      );
    exprs.push(step);
  }
  const coordinate =
    type.kind === 'text'
      ? ({ kind: 'text' } as const)
      : type.kind === 'time of day'
        ? ({ kind: 'time of day' } as const)
        : type.kind === 'quantity'
          ? {
              kind: 'quantity' as const,
              dimension: type.dimension,
              stance: type.stance,
              ...(type.unit ? { unit: type.unit } : {}),
            }
          : ({ kind: 'text' } as const);
  const named = place.puttingIn ?? place.node.name;
  const axis = c.newAxis('steps', `the steps of ${named}`, coordinate, -1);
  return { op: 'steps', type: along(type, [axis]), axis, parts: exprs, even: by !== undefined };
};

export const previous: Form = (c, node, bound, place) => {
  const x = need(bound, 'x', node);
  const firstNode = need(bound, 'first', node);
  const first = c.expression(firstNode, place);
  if (first.type.axes.length > 0)
    reject(
      'wrong-argument',
      firstNode.span,
      `"first:" is one value; "${c.quote(firstNode, place)}" is ${describeType(first.type)}.`,
    );
  return lookingBackType(c, x, first, firstNode, node, place);
};

/** Dimensions that add up over time. */
const RATES: ReadonlySet<Dimension> = new Set([wattage, irradiance, current]);

export const runningTotal: Form = (c, node, bound, place) => {
  const x = need(bound, 'change', node);
  const { expr, axis, rest } = series(c, x, place, 'running total');
  const q = asQuantity(c, expr, x, place, 'added up');
  if (rest.length > 0) reject('two-axes', x.span, `"${c.quote(x, place)}" runs along two axes.`);
  if (q.stance !== 'plain')
    reject(
      'point-summed',
      x.span,
      `"${c.quote(x, place)}" is ${describeKind(q)}; points cannot be summed.`,
    );
  const start = optional(c, bound, 'start', place);
  const s = start ? asQuantity(c, start.expr, start.node, place, 'used as a start') : undefined;
  // A rate is multiplied by the step. Without a start, what is a rate by its nature is one.
  const perTime =
    axis.kind === 'timeline' && (s ? s.dimension !== q.dimension : RATES.has(q.dimension));
  const dimension = perTime ? multiply(q.dimension, time) : q.dimension;
  const limit = (name: string): Expr | undefined => {
    const e = optional(c, bound, name, place);
    if (!e) return undefined;
    const t = asQuantity(c, e.expr, e.node, place, 'used as a limit');
    if (t.dimension !== dimension)
      reject(
        'kinds-differ',
        e.node.span,
        `"${name}:" is ${describeKind(t)}; the total is ${describeKind(quantity(dimension))}.`,
      );
    return e.expr;
  };
  if (start && s && s.dimension !== dimension)
    reject(
      'kinds-differ',
      start.node.span,
      `"start:" is ${describeKind(s)}; the total is ${describeKind(quantity(dimension))}.`,
    );
  const [least, most] = [limit('least'), limit('most')];
  const unit = s?.unit ?? (perTime ? undefined : q.unit);
  return {
    op: 'running total',
    axis,
    perTime,
    change: expr,
    start: start?.expr ?? constant(0, dimension),
    type: quantity(dimension, {
      axes: [axis],
      optional: q.optional,
      flow: 'state',
      stance: s?.stance ?? 'plain',
      ...(unit ? { unit } : {}),
    }),
    ...(least ? { least } : {}),
    ...(most ? { most } : {}),
  };
};

export const during: Form = (c, node, bound, place) => {
  const { axis, at } = timelineArgument(c, need(bound, 'at', node), place, 'during');
  const hours = bound.get('hours');
  if (!hours)
    reject(
      'missing-argument',
      node.span,
      'during(…) needs a span of hours: during(clock, 17:00..21:00).',
    );
  const span = spanArgument(c, hours as Node, place, 'during');
  if (span.type.axes.length > 0)
    reject(
      'series-inside',
      (hours as Node).span,
      'during(…) takes one span; several rows against time go through load profile(…).',
    );
  return {
    op: 'during',
    type: quantity(plain, { axes: [axis], ...unitOption('%') }),
    axis,
    at,
    span,
    daily: (span.type as SpanType).of.kind === 'time of day',
  };
};

export const loadProfile: Form = (c, node, bound, place) => {
  const [pn, hn, an] = [
    need(bound, 'power', node),
    need(bound, 'hours', node),
    need(bound, 'at', node),
  ];
  const power = c.expression(pn, place);
  const q = asQuantity(c, power, pn, place, 'summed');
  const hours = spanArgument(c, hn, place, 'load profile');
  const [rows] = hours.type.axes;
  if (rows?.kind !== 'rows' || !sameAxes(q.axes, [rows]))
    reject(
      'axes-differ',
      node.span,
      `load profile(…) takes a power and hours on the rows of one table; "${c.quote(pn, place)}" is ${describeType(q)}, "${c.quote(hn, place)}" ${describeType(hours.type)}.`,
    );
  if ((hours.type as SpanType).of.kind !== 'time of day')
    reject('wrong-argument', hn.span, 'load profile(…) takes hours of the day.');
  const { axis, at } = timelineArgument(c, an, place, 'load profile');
  return {
    op: 'load profile',
    type: quantity(q.dimension, { axes: [axis], ...(q.unit ? { unit: q.unit } : {}) }),
    axis,
    at,
    power,
    hours,
    rows: rows as Axis,
  };
};

export const tripDay: Form = (c, node, bound, place) => {
  const n = need(bound, 'moment', node);
  const e = c.expression(n, place);
  if (e.type.kind !== 'quantity' || e.type.stance !== 'moment')
    reject(
      'wrong-argument',
      n.span,
      `trip day(…) takes a moment or a timeline; "${c.quote(n, place)}" is ${describeKind(e.type)}.`,
    );
  let axis = (e.type as QuantityType).timeline ?? e.type.axes.find((a) => a.kind === 'timeline');
  if (!axis) {
    const clock = c.timelines[0];
    if (clock === undefined)
      reject(
        'needs-timeline',
        n.span,
        'trip day(…) counts from the first day of a timeline; this notebook has none.',
      );
    axis = (c.typeOf(clock as number, place, n.span) as QuantityType).timeline;
  }
  const start: Expr = { op: 'axis field', type: momentType, axis: axis as Axis, field: 'start' };
  return {
    op: 'map',
    fn: 'trip day',
    type: quantity(plain, { axes: e.type.axes, optional: e.type.optional }),
    args: [e, start],
  };
};
