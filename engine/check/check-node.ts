// One node of the graph: a cell's formula, a table's column, a check. Finds out whether it is a
// given, uncertain, blank or derived, and keeps its first fault.

import { plain } from '../dimension/dimension.ts';
import type { Node } from '../language/ast.ts';
import type { Span } from '../source/span.ts';
import { asQuantity, borrow, checkRange, toleranceOf, unitOf } from './check-common.ts';
import { sameKind } from './check-with.ts';
import type { Checker, Place } from './checker.ts';
import { columnSlip, entrySlip } from './column-slips.ts';
import { describeKind } from './describe.ts';
import { Rejected, reject } from './rejected.ts';
import type { GraphNode } from './scope.ts';
import {
  along,
  componentCount,
  type QuantityType,
  quantity,
  sameAxes,
  type Type,
  textType,
} from './type.ts';
import type { Distribution, Expr } from './typed.ts';

export function placeOf(c: Checker, node: GraphNode): Place {
  return {
    node,
    table: node.table,
    lookingBack: false,
    source: c.scope.notebook.items[node.item]?.source ?? '',
  };
}

export function checkNode(c: Checker, node: GraphNode): void {
  if (node.state !== 'new') return;
  node.state = 'checking';
  if (node.problem) {
    node.state = 'done';
    return;
  }
  const place = placeOf(c, node);
  try {
    const expr =
      node.kind === 'column' ? checkColumn(c, node, place) : checkFormula(c, node, place);
    node.expr = expr;
    node.type = c.maybeNone.has(node.key) ? along(expr.type, expr.type.axes, true) : expr.type;
    if (node.kind === 'cell' && node.type.kind === 'table')
      reject(
        'table-alone',
        spanOf(node),
        'A cell cannot be a whole table. Name one of its columns.',
      );
    if (node.kind === 'cell' && node.type.kind === 'nothing')
      reject('nothing-used', spanOf(node), '"none" stands only in a table or as a replacement.');
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    node.type = undefined;
    node.expr = undefined;
    if (error.diagnostic) node.problem = error.diagnostic;
  }
  if (node.role === 'derived' && node.kind === 'cell' && node.draws.size === 0) node.role = 'given';
  node.state = 'done';
}

function spanOf(node: GraphNode): Span {
  return node.tree?.span ?? { start: 0, end: 1 };
}

function checkFormula(c: Checker, node: GraphNode, place: Place): Expr {
  const { tree } = node;
  if (!tree) throw new RangeError(`no formula for ${node.key}`);
  if (tree.kind === 'blank') return blank(c, node, tree, place);
  const drawn = uncertain(c, tree, place);
  if (drawn) {
    if (node.kind !== 'cell' && node.kind !== 'scenario value' && node.kind !== 'answer')
      reject(
        'uncertain-inside',
        tree.span,
        'An uncertain amount must be the whole formula of a given. Give it a cell of its own, so that it can be ranked.',
      );
    node.distribution = drawn.distribution;
    node.role = 'uncertain';
    return { op: 'const', type: drawn.type, values: [drawn.distribution.likely] };
  }
  if (tree.kind === 'range') return checkRange(c, tree, place);
  if (node.kind === 'answer' && tree.kind === 'tolerance') return c.expression(tree.centre, place);
  return c.expression(tree, place);
}

/** `? A`: its kind comes from the unit, from the choices, or from its answer. */
function blank(
  c: Checker,
  node: GraphNode,
  tree: Extract<Node, { kind: 'blank' }>,
  place: Place,
): Expr {
  node.role = 'blank';
  if (tree.unit) {
    const unit = unitOf(tree.unit.text, tree.unit.span);
    return {
      op: 'blank',
      type: quantity(unit.dimension, {
        unit,
        stance: unit.isPoint ? (unit.symbol === 'dBm' ? 'level' : 'temperature') : 'plain',
      }),
    };
  }
  if (node.bounds?.kind === 'choices') {
    const [first] = node.bounds.choices;
    if (first) return { op: 'blank', type: c.expression(first, place).type };
  }
  const answer = c.scope.answers.get(node.key);
  if (answer !== undefined) {
    const other = c.node(answer);
    if (other.state === 'new') c.rules.node(c, other);
    if (other.type) return { op: 'blank', type: along(other.type, []) };
  }
  return { op: 'blank', type: quantity(plain) };
}

interface Drawn {
  readonly distribution: Distribution;
  readonly type: QuantityType;
}

/** Reads the whole formula of an uncertain given: `40..55..70 W`, `320 W ± 5 %`, `between(…)`, `usual(…)`. */
export function uncertain(c: Checker, tree: Node, place: Place): Drawn | undefined {
  if (tree.kind === 'range' && tree.parts.length === 3)
    return fromParts(c, tree.parts, 'triangular', tree, place);
  if (tree.kind === 'tolerance') {
    if (place.node.kind === 'answer') return undefined;
    const centre = c.expression(tree.centre, place);
    const type = asQuantity(c, centre, tree.centre, place, 'uncertain');
    const spread = toleranceOf(c, tree.spread, type, centre, place);
    const [m, s] = [amountOf(centre), amountOf(spread)];
    if (m === undefined || s === undefined)
      reject(
        'uncertain-literal',
        tree.span,
        'An uncertain amount is written with plain numbers, such as 320 W ± 5 %.',
      );
    if ((s as number) < 0)
      reject('uncertain-order', tree.span, 'The spread after ± is not negative.');
    return {
      type: along(type, []),
      distribution: {
        shape: 'normal',
        parameters: [m as number, s as number],
        likely: m as number,
      },
    };
  }
  if (
    tree.kind === 'call' &&
    tree.callee.kind === 'name' &&
    c.lookUp(tree.callee.name.key, place).node === undefined
  ) {
    const { key } = tree.callee.name;
    const values = tree.arguments.map((a) => a.value);
    if (key === 'between') {
      if (values.length !== 2)
        reject('missing-argument', tree.span, 'between(…) takes a low and a high amount.');
      return fromParts(c, values, 'uniform', tree, place);
    }
    if (key === 'usual') {
      if (values.length !== 3)
        reject('missing-argument', tree.span, 'usual(…) takes a low, a likely and a high amount.');
      return fromParts(c, values, 'usual', tree, place);
    }
  }
  return undefined;
}

/** Constant parts of a literal: SI numbers, also of a product with a sign folded in. */
function amountOf(expr: Expr): number | undefined {
  if (expr.op === 'const') return expr.values[0];
  if (expr.op === 'binary' && expr.fn === 'mul') {
    const [a, b] = [amountOf(expr.a), amountOf(expr.b)];
    return a === undefined || b === undefined ? undefined : a * b;
  }
  if (expr.op === 'unary' && expr.fn === 'abs') {
    const a = amountOf(expr.a);
    return a === undefined ? undefined : Math.abs(a);
  }
  return undefined;
}

function fromParts(
  c: Checker,
  parts: readonly Node[],
  shape: Distribution['shape'],
  tree: Node,
  place: Place,
): Drawn {
  const last = parts[parts.length - 1] as Node;
  const exprs = parts.map((n) => (n === last ? c.expression(n, place) : borrow(c, n, last, place)));
  const type = asQuantity(c, exprs[exprs.length - 1] as Expr, last, place, 'uncertain');
  exprs.forEach((e, i) => {
    if (!sameKind(e.type, type))
      reject(
        'kinds-differ',
        (parts[i] as Node).span,
        `"${c.quote(parts[i] as Node, place)}" is ${describeKind(e.type)}; the last part is ${describeKind(type)}.`,
      );
  });
  const values = exprs.map(amountOf);
  if (values.some((v) => v === undefined))
    reject(
      'uncertain-literal',
      tree.span,
      'An uncertain amount is written with plain numbers, such as 40..55..70 W.',
    );
  const numbers = values as number[];
  if (numbers.some((v, i) => i > 0 && v < (numbers[i - 1] as number)))
    reject('uncertain-order', tree.span, 'The parts of an uncertain amount rise from low to high.');
  const likely =
    shape === 'uniform'
      ? ((numbers[0] as number) + (numbers[1] as number)) / 2
      : (numbers[1] as number);
  return { type: along(type, []), distribution: { shape, parameters: numbers, likely } };
}

// ── columns ─────────────────────────────────────────────────────────────────────────────────────

function checkColumn(c: Checker, node: GraphNode, place: Place): Expr {
  const { table, tree } = node;
  if (!table) throw new RangeError('a column without a table');
  const formula = tree ? c.expression(tree, place) : undefined;
  let type: Type | undefined = formula?.type;
  let absent = false;
  const scalarPlace: Place = place;
  const entries: (readonly number[] | Expr | 'absent' | 'formula')[] = [];
  for (let row = 0; row < table.rowCount; row++) {
    const entry = table.entries[row]?.[node.column];
    if (!entry || entry.node.kind === 'none') {
      entries.push(formula && !entry ? 'formula' : 'absent');
      if (!(formula && !entry)) absent = true;
      continue;
    }
    const drawn = entry.formula ? undefined : uncertain(c, entry.node, scalarPlace);
    if (drawn) node.entryDistributions.push({ row, distribution: drawn.distribution });
    const expr: Expr = drawn
      ? { op: 'const', type: drawn.type, values: [drawn.distribution.likely] }
      : entry.node.kind === 'range'
        ? checkRange(c, entry.node, scalarPlace)
        : c.expression(entry.node, scalarPlace);
    if (type === undefined) type = expr.type;
    else if (!sameKind(type, expr.type)) {
      const ofColumn = table.entries.map((one) => one[node.column]);
      const slip = ofColumn.map((one) => entrySlip(one, place)).find((one) => one !== undefined);
      if (slip) throw new Rejected(slip);
      const first = row === 0 ? 'the column' : 'the entry above';
      reject(
        'column-kind',
        entry.node.span,
        `"${c.quote(entry.node, place)}" is ${describeKind(expr.type)}, but ${first} is ${describeKind(type)}. All entries of a column are of one kind.`,
      );
    }
    if (expr.type.optional) absent = true;
    const values = constantComponents(expr);
    if (values) entries.push(values);
    else if (entry.formula) {
      if (expr.type.axes.length > 0 && !sameAxes(expr.type.axes, [table.rows]))
        reject(
          'axes-differ',
          entry.node.span,
          `This entry runs along ${expr.type.axes.map((a) => a.name).join(' and ')}.`,
        );
      entries.push(expr);
    } else
      reject(
        'column-kind',
        entry.node.span,
        `"${c.quote(entry.node, place)}" is no plain value. Begin the entry with = to make it a formula.`,
      );
  }
  if (type?.kind === 'text' && !tree && node.column > 0) {
    const slip = columnSlip(
      table.entries.map((one) => one[node.column]),
      place,
    );
    if (slip) throw new Rejected(slip);
  }
  if (type === undefined) {
    type = textType();
    absent = true;
  }
  if (formula && formula.type.axes.length > 0 && !sameAxes(formula.type.axes, [table.rows]))
    reject(
      'axes-differ',
      tree?.span ?? { start: 0, end: 0 },
      `The column runs along ${formula.type.axes.map((a) => a.name).join(' and ')}, not along the rows of ${table.name}.`,
    );
  if (!tree) node.role = node.entryDistributions.length > 0 ? 'uncertain' : 'given';
  const result = along(type, [table.rows], absent || (formula?.type.optional ?? false));
  if (node.column === 0) settleRows(node, result, entries);
  return { op: 'column', type: result, axis: table.rows, entries, ...(formula ? { formula } : {}) };
}

/** The first column names the rows: texts differ, numbers and times rise. */
function settleRows(
  node: GraphNode,
  type: Type,
  entries: readonly (readonly number[] | Expr | 'absent' | 'formula')[],
): void {
  const { table } = node;
  if (!table) return;
  const numbers = entries.map((e) => (Array.isArray(e) ? (e[0] as number) : Number.NaN));
  const spanOf = (row: number): { start: number; end: number } =>
    table.entries[row]?.[0]?.node.span ?? { start: 0, end: 1 };
  numbers.forEach((value, row) => {
    if (Number.isNaN(value))
      reject(
        'row-unnamed',
        spanOf(row),
        'The first column names the rows; every row needs a plain value there.',
      );
    const before = numbers[row - 1];
    if (
      type.kind === 'text' ? numbers.indexOf(value) < row : before !== undefined && value <= before
    )
      reject(
        'rows-order',
        spanOf(row),
        type.kind === 'text'
          ? 'Two rows have the same name. Names of rows differ.'
          : 'The first column must rise from row to row.',
      );
  });
  if (type.kind === 'text') table.rows.coordinate = { kind: 'text' };
  else if (type.kind === 'time of day') table.rows.coordinate = { kind: 'time of day' };
  else if (type.kind === 'quantity')
    table.rows.coordinate = {
      kind: 'quantity',
      dimension: type.dimension,
      stance: type.stance,
      ...(type.unit ? { unit: type.unit } : {}),
    };
  else
    reject(
      'rows-kind',
      spanOf(0),
      `The first column names the rows with texts, amounts or times, not with ${describeKind(type)}.`,
    );
}

function constantComponents(expr: Expr): readonly number[] | undefined {
  if (expr.op === 'const' && componentCount(expr.type) === expr.values.length) return expr.values;
  if (expr.op === 'pack') {
    const parts = expr.parts.map(constantComponents);
    return parts.every((p) => p !== undefined) ? parts.flatMap((p) => p ?? []) : undefined;
  }
  return undefined;
}
