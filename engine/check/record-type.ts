// The types of the records that functions return, and what a call's arguments were bound to.

import { findUnit } from '../dimension/unit.ts';
import type { Node } from '../language/ast.ts';
import { recordFields } from '../library/records.ts';
import { type Axis, quantity, type RecordType } from './type.ts';

/** Arguments of a call by parameter name; functions of any number of values use `0`, `1`, …. */
export type Bound = ReadonlyMap<string, Node>;

/** The type of a record of a known sort along axes. */
export function recordOf(
  sort: string,
  axes: readonly Axis[],
  optional: boolean,
  flows: Readonly<Record<string, 'rate' | 'state'>> = {},
): RecordType {
  const fields = recordFields(sort).map((f) => ({
    name: f.name,
    type: quantity(f.dimension, {
      stance: f.stance,
      axes,
      optional,
      flow: flows[f.name] ?? 'rate',
      ...(f.name === 'charge' ? unit('%') : {}),
    }),
  }));
  return { kind: 'record', sort, fields, axes, optional };
}

function unit(symbol: string): { unit?: ReturnType<typeof findUnit> & object } {
  const found = findUnit(symbol);
  return found ? { unit: found } : {};
}
