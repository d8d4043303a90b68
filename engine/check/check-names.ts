// What a name and a part of it mean: a cell, a column, a field of a record, an end of a span.

import { time } from '../dimension/dimension.ts';
import { findUnit } from '../dimension/unit.ts';
import type { Name, PartNode } from '../language/ast.ts';
import { libraryFunctions } from '../library/library.ts';
import { unitOption } from './check-common.ts';
import { unknownColumn } from './check-with.ts';
import type { Checker, Place } from './checker.ts';
import { slice } from './checker.ts';
import { describeKind } from './describe.ts';
import { reject } from './rejected.ts';
import { along, componentCount, momentType, quantity } from './type.ts';
import type { Expr } from './typed.ts';

export function checkName(c: Checker, name: Name, place: Place): Expr {
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
  const fn = libraryFunctions.get(name.key);
  if (fn?.parameters.length === 0)
    reject(
      'function-alone',
      name.span,
      `"${name.text}" is a function. Write parentheses after it, with nothing in them: ${fn.name}().`,
      [{ label: `Write ${fn.name}()`, span: name.span, text: `${fn.name}()` }],
    );
  if (fn)
    reject(
      'function-alone',
      name.span,
      `"${name.text}" is a function. Write what it works on in parentheses: ${name.text}(…).`,
    );
  return c.unknownName(name.text, name.key, name.span, place);
}

export function checkPart(c: Checker, node: PartNode, place: Place): Expr {
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
