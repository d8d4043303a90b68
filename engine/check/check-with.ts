// `with` and scenario overrides: what is replaced, by what, and whether the two fit.

import { isPointUnit } from '../dimension/unit.ts';
import type { Name, Node, Override, Target, WithNode } from '../language/ast.ts';
import { printFormula } from '../language/printer.ts';
import { nameKey } from '../source/name.ts';
import { nearest } from '../source/nearest.ts';
import type { Checker, Place } from './checker.ts';
import { describeKind } from './describe.ts';
import { reject } from './rejected.ts';
import { literalAmount, type TableScope } from './scope.ts';
import { type Axis, along, componentCount, sameAxes, scalarOf, type Type } from './type.ts';
import type { Expr, TypedOverride } from './typed.ts';

export function checkWith(c: Checker, node: WithNode, place: Place): Expr {
  const sweeps: Axis[] = [];
  const overrides = node.overrides.map((o) => checkOverride(c, o, place, sweeps));
  const value = c.expression(node.value, place);
  if (value.type.kind === 'table' || value.type.kind === 'window')
    reject(
      'with-kind',
      node.value.span,
      `"with" works on values; "${c.quote(node.value, place)}" is ${describeKind(value.type)}.`,
    );
  const axes = [...sweeps, ...value.type.axes];
  return { op: 'with', type: along(value.type, axes), value, overrides, sweeps };
}

function checkOverride(
  c: Checker,
  override: Override,
  place: Place,
  sweeps: Axis[],
): TypedOverride {
  const puttingIn = c.quote({ kind: 'broken', span: override.target.span }, place);
  const value = c.expression(override.value, { ...place, puttingIn });
  return fitOverride(c, override.target, value, override.value, place, sweeps);
}

/** Which node (and row) a target names. */
export function findTarget(
  c: Checker,
  target: Target,
  place: Place,
): { readonly node: number; readonly row: number | undefined; readonly type: Type } {
  const table = c.scope.tables.get(target.name.key);
  if (target.column && table) {
    const column = table.columnByKey.get(target.column.key);
    if (column === undefined) unknownColumn(c, table, target.column);
    const type = c.typeOf(column, place, target.span);
    if (!target.entry) return { node: column, row: undefined, type };
    return { node: column, row: rowOf(c, table, target.entry), type };
  }
  const cell = c.scope.cells.get(target.name.key);
  if (cell === undefined) {
    if (table)
      reject(
        'target-table',
        target.span,
        `"${table.name}" is a table. Name one of its columns: ${table.name}.….`,
      );
    c.unknownName(target.name.text, nameKey(target.name.text), target.name.span, place);
  }
  const id = cell as number;
  if (target.column)
    reject(
      'no-parts',
      target.column.span,
      `A part of "${target.name.text}" cannot be replaced, only the whole cell. Give what it is made from a cell of its own and change that.`,
    );
  if (target.entry)
    reject(
      'no-entry',
      target.entry.span,
      `"${target.name.text}" is not a table's column; only a whole cell can be replaced.`,
    );
  return { node: id, row: undefined, type: c.typeOf(id, place, target.span) };
}

/** Says which columns a table has, and offers the nearest. */
export function unknownColumn(c: Checker, table: TableScope, name: Name): never {
  const names = table.columns.map((id) => c.node(id).name.slice(table.name.length + 1));
  const near = nearest(name.text, names);
  const meant = near === undefined ? '' : ` Did you mean "${near}"?`;
  reject(
    'unknown-column',
    name.span,
    `The table "${table.name}" has no column "${name.text}".${meant} It has ${names.map((n) => `"${n}"`).join(', ') || 'none yet'}.`,
    near === undefined ? [] : [{ label: `Use ${near}`, span: name.span, text: near }],
  );
}

function rowOf(c: Checker, table: TableScope, entry: Node): number {
  const names: string[] = [];
  for (let row = 0; row < table.rowCount; row++) {
    const first = table.entries[row]?.[0]?.node;
    if (!first) continue;
    if (entry.kind === 'text' && first.kind === 'text' && first.value === entry.value) return row;
    const [a, b] = [literalAmount(first), literalAmount(entry)];
    if (entry.kind !== 'text' && first.kind !== 'text' && a !== undefined && a === b) return row;
    names.push(printFormula(first, { isPointUnit }));
  }
  reject(
    'unknown-row',
    entry.span,
    `The table "${table.name}" has no such row. Its rows are ${names.slice(0, 12).join(', ')}.`,
  );
  return c.scope.nextAxis;
}

export function fitOverride(
  c: Checker,
  target: Target,
  value: Expr,
  node: Node,
  place: Place,
  sweeps: Axis[],
): TypedOverride {
  const found = findTarget(c, target, place);
  const whole = found.row === undefined;
  const wanted = whole ? found.type : scalarOf(found.type);
  const named = c.quote({ kind: 'broken', span: target.span }, place);
  if (value.type.kind === 'nothing') {
    const count = componentCount(found.type);
    return {
      node: found.node,
      ...(whole ? {} : { row: found.row as number }),
      value: {
        op: 'const',
        type: scalarOf(found.type),
        values: new Array<number>(count).fill(Number.NaN),
      },
    };
  }
  if (!sameKind(wanted, value.type))
    reject(
      'override-kind',
      node.span,
      `"${named}" is ${describeKind(wanted)}; it cannot be replaced by ${describeKind(value.type)}.`,
    );
  const extra = value.type.axes.filter(
    (axis) => axis.kind === 'steps' && !wanted.axes.includes(axis),
  );
  for (const axis of extra) if (!sweeps.includes(axis)) sweeps.push(axis);
  const rest = value.type.axes.filter((axis) => !extra.includes(axis));
  if (rest.length > 0 && !sameAxes(rest, wanted.axes))
    reject(
      'override-axes',
      node.span,
      `"${named}" cannot be replaced by a series along ${rest.map((a) => a.name).join(' and ')}.`,
    );
  if (found.node >= 0 && whole) return { node: found.node, value };
  return { node: found.node, row: found.row as number, value };
}

export function sameKind(a: Type, b: Type): boolean {
  if (a.kind !== b.kind) return false;
  if (a.kind === 'quantity' && b.kind === 'quantity')
    return a.dimension === b.dimension && a.stance === b.stance;
  if (a.kind === 'span' && b.kind === 'span') return sameKind(a.of, b.of);
  if (a.kind === 'record' && b.kind === 'record') return a.sort === b.sort;
  return true;
}
