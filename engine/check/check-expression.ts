// One expression: names looked up, kinds and dimensions worked out, units taken off. Written as one
// function a sort of node; the first fault leaves the formula (see rejected.ts).

import {
  area,
  divide,
  level,
  multiply,
  plain,
  power,
  temperature,
  time,
  wattage,
} from '../dimension/dimension.ts';
import { areaOfGauge } from '../dimension/gauge.ts';
import { findUnit } from '../dimension/unit.ts';
import type { AsNode, BinaryNode, CompareNode, Name, Node, PartNode } from '../language/ast.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Span } from '../source/span.ts';
import { checkCall } from './check-call.ts';
import {
  alike,
  asQuantity,
  checkRange,
  joinAxes,
  number,
  textId,
  toleranceOf,
  unitOf,
  unitOption,
} from './check-common.ts';
import { checkWith, unknownColumn } from './check-with.ts';
import type { Checker, Place } from './checker.ts';
import { constant, slice } from './checker.ts';
import { describeKind, remedyFor } from './describe.ts';
import { reject } from './rejected.ts';
import {
  along,
  componentCount,
  momentType,
  type QuantityType,
  quantity,
  type SpanType,
  type Type,
  textType,
  timeOfDayType,
  truth,
} from './type.ts';
import type { BinaryOp, Expr } from './typed.ts';

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
      reject('broken', node.span, 'This part cannot be read.');
  }
  throw new RangeError(`unexpected node ${(node as Node).kind}`);
}

function checkName(c: Checker, name: Name, place: Place): Expr {
  const found = c.lookUp(name.key, place);
  if (found.node !== undefined) return c.ref(found.node, c.typeOf(found.node, place, name.span));
  if (found.table)
    return {
      op: 'const',
      type: {
        kind: 'table',
        key: found.table.key,
        rows: found.table.rows,
        axes: [],
        optional: false,
      },
      values: [],
    };
  if (libraryFunctions.has(name.key))
    reject(
      'function-alone',
      name.span,
      `"${name.text}" is a function. Write what it works on in parentheses: ${name.text}(…).`,
    );
  return c.unknownName(name.text, name.key, name.span, place);
}

function checkPart(c: Checker, node: PartNode, place: Place): Expr {
  // A name with a table of that name is most often meant; it is not a value by itself.
  if (node.of.kind === 'name') {
    const table = c.scope.tables.get(node.of.name.key);
    if (table && place.table?.columnByKey.get(node.of.name.key) === undefined) {
      const column = table.columnByKey.get(node.name.key);
      if (column !== undefined) return c.ref(column, c.typeOf(column, place, node.span));
      const cell = c.scope.cells.get(node.name.key);
      if (cell !== undefined) {
        const type = c.typeOf(cell, place, node.span);
        if (type.axes.length === 1 && type.axes[0] === table.rows) return c.ref(cell, type);
      }
      unknownColumn(c, table, node.name);
    }
  }
  const of = c.expression(node.of, place);
  return partOf(of, node.name, c.quote(node.of, place));
}

function partOf(of: Expr, name: Name, quoted: string): Expr {
  const { type } = of;
  if (type.kind === 'span') {
    const part = type.of;
    const atStart = along(part, type.axes, type.optional);
    if (name.key === 'start') return slice(of, 0, atStart);
    if (name.key === 'end') return slice(of, 1, atStart);
    if (name.key === 'length') {
      if (part.kind === 'time of day')
        return {
          op: 'map',
          fn: 'hours length',
          type: quantity(time, { axes: type.axes, optional: type.optional }),
          args: [slice(of, 0, atStart), slice(of, 1, atStart)],
        };
      return {
        op: 'binary',
        fn: 'sub',
        type: quantity(part.dimension, {
          axes: type.axes,
          optional: type.optional,
          ...unitOption(part.unit && !part.unit.isPoint ? part.unit : undefined),
        }),
        a: slice(of, 1, atStart),
        b: slice(of, 0, atStart),
      };
    }
    reject(
      'unknown-part',
      name.span,
      `A span has the parts start, end and length, not "${name.text}".`,
    );
  }
  if (type.kind === 'quantity' && type.timeline) {
    if (name.key === 'start' || name.key === 'end')
      return { op: 'axis field', type: momentType, axis: type.timeline, field: name.key };
    if (name.key === 'step')
      return {
        op: 'axis field',
        type: quantity(time, unitOption(findUnit('min'))),
        axis: type.timeline,
        field: 'step',
      };
    reject(
      'unknown-part',
      name.span,
      `A timeline has the parts start, end and step, not "${name.text}".`,
    );
  }
  if (type.kind === 'record') {
    let from = 0;
    for (const field of type.fields) {
      if (field.name === name.key) return slice(of, from, field.type);
      from += componentCount(field.type);
    }
    reject(
      'unknown-part',
      name.span,
      `"${quoted}" has the parts ${type.fields.map((f) => f.name).join(', ')}, not "${name.text}".`,
    );
  }
  reject(
    'no-parts',
    name.span,
    `"${quoted}" is ${describeKind(type)}; it has no part called "${name.text}".`,
  );
  throw new RangeError(name.text);
}

// ── axes ────────────────────────────────────────────────────────────────────────────────────────

// ── operators ───────────────────────────────────────────────────────────────────────────────────

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

function checkSum(c: Checker, node: BinaryNode, place: Place): Expr {
  const a = c.expression(node.left, place);
  const b = c.expression(node.right, place);
  const adding = node.operator === '+';
  const joined = joinAxes(
    c,
    [
      { expr: a, node: node.left },
      { expr: b, node: node.right },
    ],
    node.span,
    place,
  );
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
  const both = `"${c.quote(node.left, place)} ${node.operator} ${c.quote(node.right, place)}"`;
  if (p.dimension !== q.dimension) {
    const [left, right] = [describeKind(a.type), describeKind(b.type)];
    const words = adding
      ? `${both} adds ${left} to ${right}.`
      : `${both} ${verb} ${right} from ${left}.`;
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
        reject('points-added', node.span, `${both} adds two levels. Add their powers: ${text}.`, [
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
          `${both} adds two temperatures. A difference is written in K${difference ? `: ${difference}` : ''}.`,
          difference ? [{ label: `Write ${difference}`, span: node.span, text: difference }] : [],
        );
      }
      reject(
        'points-added',
        node.span,
        `${both} adds two moments. Add a time to a moment, or subtract one moment from the other.`,
      );
    }
    const unit = p.stance === 'moment' ? undefined : findUnit(p.stance === 'level' ? 'dB' : 'K');
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
      `${both} subtracts ${describeKind(b.type)} from a difference. Turn the two round.`,
    );
  const lead = q.stance !== 'plain' ? q : p;
  const unit = lead.unit ?? (p.stance === q.stance ? q.unit : undefined);
  return fold({
    op: 'binary',
    fn,
    type: quantity(p.dimension, { ...joined, stance: lead.stance, ...unitOption(unit) }),
    a,
    b,
  });
}

/** Literal arithmetic is done once, here. */
function fold(expr: Expr): Expr {
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

function checkProduct(c: Checker, node: BinaryNode, place: Place): Expr {
  const a = c.expression(node.left, place);
  const b = c.expression(node.right, place);
  const times = node.operator === '×';
  const p = asQuantity(c, a, node.left, place, times ? 'multiplied' : 'divided');
  const q = asQuantity(c, b, node.right, place, times ? 'multiplied' : 'divided by');
  for (const [t, n] of [
    [p, node.left],
    [q, node.right],
  ] as const)
    if (t.stance !== 'plain') {
      const help =
        t.stance === 'temperature'
          ? ` Take a difference first, such as ${c.quote(n, place)} - 0 °C, or from absolute zero ${c.quote(n, place)} - (-273.15 °C).`
          : t.stance === 'level'
            ? ` Take it as a power first: (${c.quote(n, place)} as mW).`
            : ' Take the time between two moments first.';
      reject(
        'point-multiplied',
        n.span,
        `"${c.quote(n, place)}" is ${describeKind(t)}, a point on a scale, and cannot be ${times ? 'multiplied' : 'divided'}.${help}`,
      );
    }
  const joined = joinAxes(
    c,
    [
      { expr: a, node: node.left },
      { expr: b, node: node.right },
    ],
    node.span,
    place,
  );
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
    type: quantity(dimension, { ...joined, ...unitOption(unit) }),
    a,
    b,
  });
}

function checkPower(c: Checker, node: BinaryNode, place: Place): Expr {
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
      `A power is a plain number; "${c.quote(node.right, place)}" is ${describeKind(b.type)}.`,
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
  if (exponent === 2)
    return { op: 'binary', fn: 'mul', type: quantity(dimension as typeof plain, joined), a, b: a };
  return { op: 'binary', fn: 'pow', type: quantity(dimension as typeof plain, joined), a, b };
}

const CHAIN: Readonly<Record<string, BinaryOp>> = {
  '<': 'lt',
  '≤': 'le',
  '=': 'eq',
  '≥': 'ge',
  '>': 'gt',
};

function checkCompare(c: Checker, node: CompareNode, place: Place): Expr {
  const operands = node.operands.map((n) => c.expression(n, place));
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

function comparison(
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

function checkWithin(c: Checker, node: BinaryNode, place: Place): Expr {
  const x = c.expression(node.left, place);
  if (node.right.kind === 'tolerance') {
    const centre = c.expression(node.right.centre, place);
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

export function checkAs(c: Checker, node: AsNode, place: Place): Expr {
  const value = c.expression(node.value, place);
  const type = asQuantity(c, value, node.value, place, `shown in ${node.unit.text}`);
  const unit = unitOf(node.unit.text, node.unit.span);
  const q = c.quote(node.value, place);
  const to = (
    fn: 'dBm of W' | 'W of dBm' | 'dB of share' | 'share of dB',
    t: QuantityType,
  ): Expr => ({ op: 'map', fn, type: t, args: [value] });
  const shape = { axes: type.axes, optional: type.optional, flow: type.flow };
  if (type.stance === 'moment')
    reject('as-unit', node.unit.span, `"${q}" is a moment and has no unit.`);
  if (type.dimension === level) {
    if (type.stance === 'level') {
      if (unit.dimension === wattage) return to('W of dBm', quantity(wattage, { ...shape, unit }));
      if (unit.isPoint && unit.dimension === level)
        return { ...value, type: { ...type, unit } } as Expr;
    } else {
      if (unit.scale === 'times') return to('share of dB', quantity(plain, shape));
      if (unit.dimension === level && !unit.isPoint)
        return { ...value, type: { ...type, unit } } as Expr;
    }
  }
  if (unit.dimension === level && type.stance === 'plain') {
    if (unit.isPoint && type.dimension === wattage)
      return to('dBm of W', quantity(level, { ...shape, stance: 'level', unit }));
    if (!unit.isPoint && type.dimension === plain)
      return to('dB of share', quantity(level, { ...shape, unit }));
  }
  if (unit.scale === 'gauge' && type.dimension === area)
    return { ...value, type: { ...type, unit } } as Expr;
  const isLevel = unit.isPoint && unit.dimension === level;
  if (
    unit.dimension !== type.dimension ||
    (type.dimension === level && isLevel !== (type.stance === 'level'))
  ) {
    const other = quantity(unit.dimension, { unit, stance: isLevel ? 'level' : 'plain' });
    reject(
      'as-dimension',
      node.span,
      `"${q}" is ${describeKind({ ...type, axes: [] })} and cannot be shown in ${node.unit.text}, which is ${describeKind(other)}.`,
    );
  }
  if (type.stance === 'temperature' && !unit.isPoint)
    reject(
      'as-kelvin',
      node.span,
      `"${q}" is a temperature on a scale; it has no "as ${node.unit.text}". Its distance from absolute zero is ${q} - (-273.15 °C).`,
    );
  if (type.stance === 'plain' && unit.isPoint && type.dimension === temperature)
    reject('as-kelvin', node.span, `"${q}" is a difference of temperature. Show it as K.`, [
      { label: 'as K', span: node.unit.span, text: 'K' },
    ]);
  const { timeline: _, ...rest } = type;
  return { ...value, type: { ...rest, unit } } as Expr;
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
