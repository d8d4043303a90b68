// Functions whose typing is not that of an element function: they work on a whole axis, make one,
// look one place back, or run the notebook again. One entry a form; the library describes them.

import {
  angle,
  current,
  type Dimension,
  divide,
  energy as energyDimension,
  irradiance,
  multiply,
  plain,
  power as raise,
  temperature,
  time,
  wattage,
} from '../dimension/dimension.ts';
import { findUnit, type Unit } from '../dimension/unit.ts';
import type { CallNode, Node } from '../language/ast.ts';
import { alike, asQuantity, borrow, checkRange, joinAxes } from './check-common.ts';
import { findTarget } from './check-with.ts';
import { type Checker, constant, type Place, slice } from './checker.ts';
import { describeKind, describeType } from './describe.ts';
import { lookingBackType } from './look-back.ts';
import { type Bound, recordOf } from './record-type.ts';
import { reject } from './rejected.ts';
import {
  type Axis,
  along,
  momentType,
  plainNumber,
  type QuantityType,
  quantity,
  type SpanType,
  sameAxes,
  scalarOf,
  type Type,
} from './type.ts';
import type { BinaryOp, DailyOp, Expr, ReduceOp } from './typed.ts';
import { visitExpr } from './typed-walk.ts';

export type Form = (c: Checker, node: CallNode, bound: Bound, place: Place) => Expr;

function need(bound: Bound, name: string, node: CallNode): Node {
  const found = bound.get(name) ?? bound.get('0');
  if (!found) reject('missing-argument', node.span, `This call needs ${name}.`);
  return found as Node;
}

function optional(
  c: Checker,
  bound: Bound,
  name: string,
  place: Place,
): { expr: Expr; node: Node } | undefined {
  const node = bound.get(name);
  return node ? { expr: c.expression(node, place), node } : undefined;
}

function unitOption(symbol: string): { unit?: Unit } {
  const unit = findUnit(symbol);
  return unit ? { unit } : {};
}

function series(
  c: Checker,
  node: Node,
  place: Place,
  doing: string,
): { expr: Expr; axis: Axis; rest: readonly Axis[] } {
  const expr = c.expression(node, place);
  const axis = expr.type.axes[expr.type.axes.length - 1];
  if (!axis)
    reject(
      'needs-series',
      node.span,
      `"${c.quote(node, place)}" is ${describeType(expr.type)}; ${doing} works on a series, along a timeline, a table or steps.`,
    );
  return { expr, axis: axis as Axis, rest: expr.type.axes.slice(0, -1) };
}

function whereOf(
  c: Checker,
  bound: Bound,
  expr: Expr,
  node: CallNode,
  place: Place,
): { where?: Expr } {
  const where = optional(c, bound, 'where', place);
  if (!where) return {};
  if (where.expr.type.kind !== 'truth')
    reject(
      'not-truth',
      where.node.span,
      `After "where:" stands ${describeKind(where.expr.type)}. It needs a question with yes or no.`,
    );
  if (where.expr.type.axes.length > 0 && !sameAxes(where.expr.type.axes, expr.type.axes))
    reject(
      'axes-differ',
      node.span,
      `"where:" runs along ${where.expr.type.axes.map((a) => a.name).join(' and ')}, the series along ${expr.type.axes.map((a) => a.name).join(' and ')}.`,
    );
  return { where: where.expr };
}

function placeType(axis: Axis): Type {
  const { coordinate } = axis;
  if (coordinate.kind === 'text') return { kind: 'text', axes: [], optional: false };
  if (coordinate.kind === 'time of day') return { kind: 'time of day', axes: [], optional: false };
  return quantity(coordinate.dimension, {
    stance: coordinate.stance,
    ...(coordinate.unit ? { unit: coordinate.unit } : {}),
  });
}

function reduce(fn: ReduceOp): Form {
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

function daily(fn: DailyOp): Form {
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

function place1(op: 'sqrt' | 'abs'): Form {
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

function extreme(fn: 'min' | 'max'): Form {
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
    let result: Expr | undefined;
    let resultNode = nodes[0] as Node;
    for (const n of nodes) {
      const e = c.expression(n, place);
      if (!result) {
        result = e;
        continue;
      }
      asQuantity(c, e, n, place, 'compared');
      alike(c, result, e, resultNode, n, node.span, place, 'compared with');
      const joined = joinAxes(
        c,
        [
          { expr: result, node: resultNode },
          { expr: e, node: n },
        ],
        node.span,
        place,
      );
      const q: QuantityType = result.type as QuantityType;
      const unit: Unit | undefined = q.unit ?? (e.type as QuantityType).unit;
      result = {
        op: 'binary',
        fn,
        type: quantity(q.dimension, { ...joined, stance: q.stance, ...(unit ? { unit } : {}) }),
        a: result,
        b: e,
      };
      if (e.type.axes.length > 0) resultNode = n;
    }
    return result as Expr;
  };
}

function rounding(fn: BinaryOp): Form {
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

const timeline: Form = (c, node, bound, place) => {
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

const steps: Form = (c, node, bound, place) => {
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
  const axis = c.newAxis('steps', `the steps of ${place.node.name}`, coordinate, -1);
  return { op: 'steps', type: along(type, [axis]), axis, parts: exprs, even: by !== undefined };
};

const previous: Form = (c, node, bound, place) => {
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

const runningTotal: Form = (c, node, bound, place) => {
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

function timelineArgument(c: Checker, n: Node, place: Place, fn: string): { axis: Axis; at: Expr } {
  const e = c.expression(n, place);
  const axis = e.type.kind === 'quantity' ? e.type.timeline : undefined;
  if (!axis)
    reject(
      'needs-timeline',
      n.span,
      `${fn}(…) needs a timeline, the cell made by timeline(…); "${c.quote(n, place)}" is ${describeType(e.type)}.`,
    );
  return { axis: axis as Axis, at: e };
}

function spanArgument(c: Checker, n: Node, place: Place, fn: string): Expr {
  const e = n.kind === 'range' ? checkRange(c, n, place) : c.expression(n, place);
  const ok =
    e.type.kind === 'span' && (e.type.of.kind === 'time of day' || e.type.of.stance === 'moment');
  if (!ok)
    reject(
      'wrong-argument',
      n.span,
      `${fn}(…) takes a span of times of day or of moments, such as 17:00..21:00; "${c.quote(n, place)}" is ${describeKind(e.type)}.`,
    );
  return e;
}

const during: Form = (c, node, bound, place) => {
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

const loadProfile: Form = (c, node, bound, place) => {
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

const tripDay: Form = (c, node, bound, place) => {
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

const chance: Form = (c, node, bound, place) => {
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

const percentile: Form = (c, node, bound, place) => {
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
    reject('wrong-argument', (s as Node).span, 'percentile(…) takes a share from 0 % to 100 %.');
  withoutTrials(e, n, 'percentile');
  return { op: 'percentile', type: along(q, q.axes), value: e, share };
};

const uncertainOnly: Form = (_c, node) =>
  reject(
    'uncertain-inside',
    node.span,
    'An uncertain amount must be the whole formula of a given. Give it a cell of its own, so that it can be ranked.',
  );

const drawnSky: Form = (c, node, bound, place) => {
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
  return {
    op: 'drawn sky',
    type: quantity(plain, { axes: [axis], ...unitOption('%') }),
    axis,
    at,
    node: place.node.id,
    args: [amount('wet days'), amount('wet spell')],
  };
};

const solve: Form = (c, node, bound, place) => {
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

const skyWindow: Form = (c, node, bound, place) => {
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

const openSky: Form = () => ({
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

const batteryRun: Form = (c, node, bound, place) => {
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

export const forms: Readonly<Record<string, Form>> = {
  sqrt: place1('sqrt'),
  abs: place1('abs'),
  min: extreme('min'),
  max: extreme('max'),
  round: rounding('round'),
  'round up': rounding('round up'),
  'round down': rounding('round down'),
  sum: reduce('sum'),
  mean: reduce('mean'),
  lowest: reduce('lowest'),
  highest: reduce('highest'),
  'at lowest': reduce('at lowest'),
  'at highest': reduce('at highest'),
  first: reduce('first'),
  last: reduce('last'),
  count: reduce('count'),
  energy: reduce('energy'),
  'time while': reduce('time while'),
  'first moment': reduce('first moment'),
  'daily energy': daily('daily energy'),
  'daily lowest': daily('daily lowest'),
  'daily highest': daily('daily highest'),
  'daily mean': daily('daily mean'),
  'running total': runningTotal,
  previous,
  during,
  'load profile': loadProfile,
  timeline,
  steps,
  'trip day': tripDay,
  between: uncertainOnly,
  usual: uncertainOnly,
  chance,
  percentile,
  'drawn sky': drawnSky,
  solve,
  'sky window': skyWindow,
  'open sky': openSky,
  'battery run': batteryRun,
};
