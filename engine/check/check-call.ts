// Calls: of a series at a place, of a library function, of a form that the checker knows by name.

import { plain } from '../dimension/dimension.ts';
import { findUnit, preferredUnit } from '../dimension/unit.ts';
import type { Argument, CallNode, Node } from '../language/ast.ts';
import { libraryFunctions } from '../library/library.ts';
import type { LibraryFunction, Parameter } from '../library/signature.ts';
import { nearest } from '../source/nearest.ts';
import type { Span } from '../source/span.ts';
import { joinAxes, textId } from './check-common.ts';
import { forms } from './check-form.ts';
import { type Checker, type Place, slice } from './checker.ts';
import { describeKind, describeType } from './describe.ts';
import { type Bound, recordOf } from './record-type.ts';
import { reject } from './rejected.ts';
import {
  type Axis,
  along,
  componentCount,
  quantity,
  runsStraight,
  type Type,
  textType,
  timeOfDayType,
  truth,
} from './type.ts';
import type { CheckedRange, Expr } from './typed.ts';

export function checkCall(c: Checker, node: CallNode, place: Place): Expr {
  if (node.callee.kind === 'name') {
    const { name } = node.callee;
    const found = c.lookUp(name.key, place);
    if (found.node === undefined && found.table === undefined) {
      const fn = libraryFunctions.get(name.key);
      if (!fn) {
        const names = [...libraryFunctions.values()].map((f) => f.name);
        const near = nearest(name.text, names);
        const known = KNOWN_ELSEWHERE.get(name.key);
        if (known)
          reject(
            'unknown-function',
            name.span,
            `There is no function "${name.text}". Write ${known}.`,
          );
        if (near === undefined) return c.unknownName(name.text, name.key, name.span, place);
        reject(
          'unknown-function',
          name.span,
          `There is no function "${name.text}". Did you mean "${near}"?`,
          [{ label: `Use ${near}`, span: name.span, text: near }],
        );
      }
      needsPlace(c, fn, name.span);
      const form = forms[name.key];
      if (form) return form(c, node, bindAll(fn, node, name.span), place);
      return callElement(c, fn, node, place);
    }
  }
  return checkLookup(c, node, place);
}

/** What school and desk calculators call things, and how they are written here. */
const KNOWN_ELSEWHERE: ReadonlyMap<string, string> = new Map([
  ['log', 'log10(…) or ln(…)'],
  ['lg', 'log10(…)'],
  ['ceil', 'round up(…)'],
  ['ceiling', 'round up(…)'],
  ['floor', 'round down(…)'],
  ['int', 'round down(…)'],
  ['avg', 'mean(…)'],
  ['average', 'mean(…)'],
  ['total', 'sum(…)'],
  ['maximum', 'highest(…) of a series, or max(…, …)'],
  ['minimum', 'lowest(…) of a series, or min(…, …)'],
  ['pow', 'x^2'],
  ['power', 'x^2'],
  ['root', 'sqrt(…)'],
  ['mod', 'a - b × round down(a / b)'],
  ['asin', 'arcsin(…)'],
  ['acos', 'arccos(…)'],
  ['atan', 'arctan(…)'],
]);

function needsPlace(c: Checker, fn: LibraryFunction, span: Span): void {
  if (fn.needsPlace && !c.scope.notebook.header.place)
    reject(
      'no-place',
      span,
      `${fn.name}(…) needs to know where the camp is. Add a header line such as "place: 44.5 °N, 110.2 °W, 2100 m, UTC-6".`,
    );
}

// ── a series at a place ─────────────────────────────────────────────────────────────────────────

function checkLookup(c: Checker, node: CallNode, place: Place): Expr {
  const of = c.expression(node.callee, place);
  const quoted = c.quote(node.callee, place);
  const [argument, ...more] = node.arguments;
  if (of.type.axes.length === 0) {
    const { callee } = node;
    const hidden = callee.kind === 'name' && libraryFunctions.has(callee.name.key);
    reject(
      'not-callable',
      node.span,
      hidden
        ? `"${quoted}" is a cell here, and hides the function ${quoted}(…). Call the cell something else.`
        : `"${quoted}" is ${describeType(of.type)}. Only a series can be called at a place; write × to multiply.`,
    );
  }
  if (!argument || more.length > 0 || argument.label)
    reject('one-place', node.span, `"${quoted}" is called at one place: ${quoted}(…).`);
  return lookUp(c, of, quoted, argument.value, node.span, place);
}

export function lookUp(
  c: Checker,
  of: Expr,
  quoted: string,
  at: Node,
  span: Span,
  place: Place,
): Expr {
  const axis = of.type.axes[of.type.axes.length - 1] as Axis;
  if (of.type.axes.length > 1)
    reject(
      'two-axes',
      span,
      `"${quoted}" runs along two axes and cannot be called. Reduce it first.`,
    );
  if (axis.kind === 'rows' && axis.node >= 0) c.typeOf(axis.node, place, span);
  rowQuoted(c, axis, at, place);
  const key = c.expression(at, place);
  const { coordinate } = axis;
  const wanted =
    coordinate.kind === 'text'
      ? 'a name in quotes'
      : coordinate.kind === 'time of day'
        ? 'a time of day'
        : describeKind(quantity(coordinate.dimension, { stance: coordinate.stance }));
  // A moment on a table of times of day is met by its clock reading.
  const reads =
    coordinate.kind === 'time of day' &&
    key.type.kind === 'quantity' &&
    key.type.stance === 'moment';
  const fits =
    coordinate.kind === 'quantity'
      ? key.type.kind === 'quantity' &&
        key.type.dimension === coordinate.dimension &&
        key.type.stance === coordinate.stance
      : key.type.kind === coordinate.kind;
  if (!fits && !reads)
    reject(
      'wrong-place',
      at.span,
      `"${quoted}" runs along ${axis.name} and is called with ${wanted}, not ${describeKind(key.type)}.`,
    );
  if (at.kind === 'text') rowNamed(c, axis, at);
  const straight =
    runsStraight(of.type) &&
    coordinate.kind === 'quantity' &&
    (axis.kind === 'timeline'
      ? of.type.kind === 'quantity' && of.type.flow === 'state'
      : axis.kind !== 'days' && coordinate.stance !== 'moment');
  return {
    op: 'lookup',
    type: along(of.type, key.type.axes, of.type.optional || key.type.optional),
    of,
    axis,
    key,
    straight,
  };
}

/** A row named without quotes, where no cell has that name. */
function rowQuoted(c: Checker, axis: Axis, at: Node, place: Place): void {
  if (axis.coordinate.kind !== 'text' || at.kind !== 'name') return;
  const { name } = at;
  const { node, table } = c.lookUp(name.key, place);
  if (node !== undefined || table !== undefined) return;
  const rows = [...c.scope.tables.values()].find((t) => t.rows === axis)?.entries ?? [];
  const row = rows
    .map(([first]) => (first?.node.kind === 'text' ? first.node.value : ''))
    .find((one) => one.toLowerCase() === name.text.toLowerCase());
  if (row === undefined) return;
  reject('unknown-row', name.span, `The name of a row stands in quotes. Write "${row}".`, [
    { label: `Write "${row}"`, span: name.span, text: `"${row}"` },
  ]);
}

/** A row named in quotes is looked for now: a slip shows while it is typed. */
function rowNamed(c: Checker, axis: Axis, at: Extract<Node, { kind: 'text' }>): void {
  const table = [...c.scope.tables.values()].find((t) => t.rows === axis);
  if (!table) return;
  const names = table.entries.flatMap((row) => {
    const first = row[0]?.node;
    return first?.kind === 'text' ? [first.value] : [];
  });
  if (names.length < table.rowCount || names.includes(at.value)) return;
  const near = nearest(at.value, names);
  reject(
    'unknown-row',
    at.span,
    `The table "${table.name}" has no row "${at.value}". ${
      near === undefined
        ? `Its rows are ${names
            .slice(0, 12)
            .map((n) => `"${n}"`)
            .join(', ')}.`
        : `Did you mean "${near}"?`
    }`,
    near === undefined ? [] : [{ label: `Use ${near}`, span: at.span, text: `"${near}"` }],
  );
}

// ── arguments ───────────────────────────────────────────────────────────────────────────────────

/** Which written argument is which parameter. Functions of any number of values are left to their form. */
export function bindAll(fn: LibraryFunction, node: CallNode, span: Span): Bound {
  const bound = new Map<string, Node>();
  let position = 0;
  for (const argument of node.arguments) {
    if (argument.label) {
      bindLabelled(fn, argument, bound);
      continue;
    }
    if (fn.positional >= 99) {
      bound.set(`${position++}`, argument.value);
      continue;
    }
    const parameter = fn.parameters[position];
    if (!parameter || position >= fn.positional) {
      tooMany(fn, argument, bound);
    }
    bound.set(parameter.name, argument.value);
    position++;
  }
  for (const p of fn.parameters)
    if (!bound.has(p.name) && p.default === undefined && !p.optional && fn.positional < 99)
      reject('missing-argument', span, `${fn.name}(…) needs ${p.name}: ${p.meaning}`);
  return bound;
}

function tooMany(fn: LibraryFunction, argument: Argument, bound: Map<string, Node>): never {
  const left = fn.parameters.filter((p) => !bound.has(p.name));
  const named = left.map((p) => `${p.name}:`);
  const text =
    fn.parameters.length === 0
      ? `${fn.name}() takes nothing in its parentheses.`
      : left.length === 0
        ? `${fn.name}(…) takes no more than this; leave it out. A span is written 17:00..21:00.`
        : left.length === 1 && left[0]?.name === 'where'
          ? `${fn.name}(…) works on one series. Single amounts are joined by operators, such as a + b; which places count is said by where:.`
          : `${fn.name}(…) takes this argument by name: ${named.join(', ')}. Write ${named[0]} before it.`;
  reject('too-many-arguments', argument.span, text);
}

function bindLabelled(fn: LibraryFunction, argument: Argument, bound: Map<string, Node>): void {
  const label = argument.label;
  if (!label) return;
  const parameter = fn.parameters.find((p) => p.name.toLowerCase() === label.key);
  if (!parameter) {
    const names = fn.parameters.map((p) => p.name);
    const near = nearest(label.text, names);
    reject(
      'unknown-argument',
      label.span,
      `${fn.name}(…) has no argument "${label.text}".${near ? ` Did you mean "${near}"?` : ''} It has ${names.join(', ') || 'none'}.`,
    );
  }
  if (bound.has(parameter.name))
    reject('argument-twice', label.span, `${fn.name}(…) is given "${label.text}" twice.`);
  bound.set(parameter.name, argument.value);
}

function callElement(c: Checker, fn: LibraryFunction, node: CallNode, place: Place): Expr {
  const bound = bindAll(fn, node, node.callee.span);
  const args: Expr[] = [];
  const windows: Expr[] = [];
  const ranges: CheckedRange[] = [];
  const operands: { expr: Expr; node: Node }[] = [];
  for (const parameter of fn.parameters) {
    const written = bound.get(parameter.name);
    if (written) inQuotes(c, parameter, written, place);
    const expr = written ? c.expression(written, place) : defaultOf(c, parameter);
    if (written) {
      fits(c, fn, parameter, expr, written, place);
      operands.push({ expr, node: written });
    }
    if (parameter.kind === 'window') {
      windows.push(expr);
      continue;
    }
    const count = componentCount(expr.type);
    if (count === 1) args.push(expr);
    else for (let i = 0; i < count; i++) args.push(slice(expr, i, componentType(expr.type, i)));
    for (let i = 0; i < count; i++)
      ranges.push({
        argument: parameter.name,
        low: parameter.range?.[0] ?? Number.NEGATIVE_INFINITY,
        high: parameter.range?.[1] ?? Number.POSITIVE_INFINITY,
        text: parameter.rangeText ?? '',
      });
  }
  const joined = joinAxes(c, operands, node.span, place);
  return { op: 'call', type: resultType(fn, joined, bound), fn, args, windows, ranges };
}

/** A choice written as a name, where no cell has that name. */
function inQuotes(c: Checker, parameter: Parameter, node: Node, place: Place): void {
  if (node.kind !== 'name' || !parameter.choices) return;
  const { name } = node;
  const found = c.lookUp(name.key, place);
  const choice = parameter.choices.find((one) => one.toLowerCase() === name.text.toLowerCase());
  if (choice === undefined || found.node !== undefined) return;
  reject('unknown-choice', name.span, `A word to choose stands in quotes. Write "${choice}".`, [
    { label: `Write "${choice}"`, span: name.span, text: `"${choice}"` },
  ]);
}

export function componentType(type: Type, index: number): Type {
  if (type.kind === 'span') return along(type.of, type.axes, type.optional);
  if (type.kind === 'record') {
    let at = 0;
    for (const field of type.fields) {
      const count = componentCount(field.type);
      if (index < at + count) return componentType(field.type, index - at);
      at += count;
    }
  }
  return type;
}

function defaultOf(c: Checker, parameter: Parameter): Expr {
  const value = parameter.default;
  if (typeof value === 'string')
    return { op: 'const', type: textType(), values: [textId(c, value)] };
  if (value === undefined) throw new RangeError(`no default for ${parameter.name}`);
  return {
    op: 'const',
    type: quantity(parameter.dimension ?? plain, { stance: parameter.stance ?? 'plain' }),
    values: [value],
  };
}

/** For a bare number: how it is written with the unit in which the parameter's range is told. */
function withUnit(fn: LibraryFunction, parameter: Parameter, node: Node): string {
  if (node.kind !== 'number' || node.unit) return '';
  if (fn.subject === 'numbers') return ` Write ${node.value}°.`;
  const units = [...(parameter.rangeText ?? '').matchAll(/\d\s?([^\s\d.]+)(?= to|$)/gu)];
  const [low, high] = units.map(([, one]) => one);
  const told = low !== undefined && low === high ? findUnit(low) : undefined;
  const point = parameter.stance !== undefined && parameter.stance !== 'plain';
  const { symbol: unit } = told ?? preferredUnit(parameter.dimension ?? plain, [], { point });
  if (unit === '') return '';
  return ` Write the unit, such as ${node.value}${unit === '°' ? '' : ' '}${unit}.`;
}

function fits(
  c: Checker,
  fn: LibraryFunction,
  parameter: Parameter,
  expr: Expr,
  node: Node,
  place: Place,
): void {
  const { type } = expr;
  const no = (wanted: string, more = ''): never =>
    reject(
      'wrong-argument',
      node.span,
      `${fn.name}(…) takes ${parameter.name} as ${wanted}; "${c.quote(node, place)}" is ${describeKind(type)}.${more}`,
    );
  switch (parameter.kind) {
    case 'quantity': {
      const stance = parameter.stance ?? 'plain';
      const wanted = parameter.dimension
        ? describeKind(quantity(parameter.dimension, { stance }))
        : 'an amount';
      if (type.kind !== 'quantity') no(wanted);
      else if (
        type.stance !== stance ||
        (parameter.dimension && type.dimension !== parameter.dimension)
      ) {
        no(wanted, parameter.dimension ? withUnit(fn, parameter, node) : '');
      }
      if (expr.op === 'const' && parameter.range) {
        const value = expr.values[0] ?? 0;
        if (value < parameter.range[0] - 1e-12 || value > parameter.range[1] + 1e-12)
          reject(
            'argument-range',
            node.span,
            `${fn.name}(…) takes ${parameter.name} from ${parameter.rangeText ?? `${parameter.range[0]} to ${parameter.range[1]}`}; "${c.quote(node, place)}" is outside.`,
          );
      }
      break;
    }
    case 'text':
      if (type.kind !== 'text') no('a text in quotes');
      if (parameter.choices && node.kind === 'text' && !parameter.choices.includes(node.value))
        reject(
          'unknown-choice',
          node.span,
          `${fn.name}(…) does not know "${node.value}". It knows ${parameter.choices.map((t) => `"${t}"`).join(', ')}.`,
        );
      break;
    case 'record':
      if (type.kind !== 'record' || type.sort !== parameter.sort) no(`a ${parameter.sort} record`);
      break;
    case 'window':
      if (type.kind !== 'window') no('a sky window, made by sky window(…) or open sky()');
      break;
    case 'truth':
    case 'time of day':
    case 'span':
      if (type.kind !== parameter.kind)
        no(parameter.kind === 'truth' ? 'a question with yes or no' : `a ${parameter.kind}`);
      break;
    case 'any':
      break;
  }
}

function resultType(
  fn: LibraryFunction,
  joined: { axes: readonly Axis[]; optional: boolean; flow: 'rate' | 'state' },
  bound: Bound,
): Type {
  const { result } = fn;
  const { axes, optional } = joined;
  switch (result.kind) {
    case 'quantity': {
      const word = result.unitFrom === undefined ? undefined : bound.get(result.unitFrom);
      const symbol = word?.kind === 'text' ? word.value : result.unit;
      const unit = symbol === undefined ? undefined : findUnit(symbol);
      return quantity(result.dimension, {
        ...joined,
        stance: result.stance,
        ...(unit ? { unit } : {}),
      });
    }
    case 'truth':
      return truth(axes, optional);
    case 'text':
      return textType(axes, optional);
    case 'time of day':
      return timeOfDayType(axes, optional);
    case 'record':
      return recordOf(result.sort, axes, optional);
    default:
      throw new RangeError(`${fn.name} has no element result`);
  }
}
