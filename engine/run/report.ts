// A whole notebook as plain data for the command line: every cell's value and unit, the checks, the
// messages. Numbers are in the unit shown.

import type { TableScope } from '../check/scope.ts';
import type { Type } from '../check/type.ts';
import { componentCount } from '../check/type.ts';
import { dayOfMoment, secondsOfDay } from '../dimension/calendar.ts';
import { formatDateIso, formatMomentIso, formatTimeOfDay } from '../dimension/quantity.ts';
import { plainUnit, type Unit } from '../dimension/unit.ts';
import type { Evaluation } from './evaluation.ts';
import {
  placesOf,
  plainNumber,
  type Read,
  reader,
  rootName,
  showValue,
  spanUnit,
  textOf,
  unitFor,
} from './show-value.ts';
import type { Message } from './snapshot.ts';
import { checkResult } from './verdict.ts';

export type ReportValue =
  | number
  | string
  | boolean
  | null
  | readonly ReportValue[]
  | { readonly [name: string]: ReportValue };

export interface ReportCell {
  readonly kind: string;
  readonly value: ReportValue;
  readonly unit: string;
  readonly text: string;
  readonly error?: string;
  readonly waits?: string;
}

export interface Report {
  readonly title: string;
  readonly cells: Readonly<Record<string, ReportCell>>;
  readonly checks: readonly {
    readonly name: string;
    readonly holds: boolean | null;
    readonly margin: number | null;
    readonly text: string;
  }[];
  readonly messages: readonly {
    readonly line: number;
    readonly column: number;
    readonly code: string;
    readonly text: string;
  }[];
}

export function reportOf(
  evaluation: Evaluation,
  column: number,
  full: boolean,
  messages: readonly Message[],
): Report {
  const { scope } = evaluation.checked;
  // No prototype: a cell may be called anything.
  const cells = Object.create(null) as Record<string, ReportCell>;
  const lines: readonly {
    readonly item: number;
    readonly node?: number;
    readonly table?: TableScope;
  }[] = [
    ...evaluation.program.nodes.flatMap(({ kind, id, item }) =>
      kind === 'cell' ? [{ item, node: id }] : [],
    ),
    ...[...scope.tables.values()].map((table) => ({ item: table.item, table })),
  ];
  // In the order of the file.
  for (const { node: id, table } of lines.toSorted((a, b) => a.item - b.item)) {
    if (id !== undefined) {
      const name = evaluation.program.nodes[id]?.name ?? '';
      cells[name] = reportCell(evaluation, id, column, full);
    }
    if (!table) continue;
    const fields = Object.create(null) as Record<string, ReportValue>;
    const faults: string[] = [];
    for (const id of table.columns) {
      const node = evaluation.program.nodes[id];
      if (!node) continue;
      const cell = reportCell(evaluation, id, column, true);
      fields[node.name.slice(table.name.length + 1)] =
        cell.error === undefined && cell.waits === undefined
          ? { unit: cell.unit, values: valuesOf(evaluation, id, column) }
          : null;
      if (cell.error !== undefined) faults.push(cell.error);
    }
    cells[table.name] = {
      kind: 'table',
      value: fields,
      unit: '',
      text: table.rowCount === 1 ? '1 row' : `${table.rowCount} rows`,
      ...(faults[0] === undefined ? {} : { error: faults[0] }),
    };
  }
  return {
    title: scope.notebook.header.title ?? '',
    cells,
    checks: evaluation.checked.checks.map((check) => {
      const { shown, name } = checkResult(evaluation, check, column);
      return {
        name,
        holds: shown.state === 'holds' ? true : shown.state === 'fails' ? false : null,
        margin: Number.isFinite(shown.margin) ? shown.margin : null,
        text: shown.text,
      };
    }),
    messages: messages.map(({ line, column: at, code, text }) => ({
      line,
      column: at,
      code,
      text,
    })),
  };
}

function kindOf(type: Type | undefined): string {
  if (!type) return 'unknown';
  if (type.kind === 'record') return 'record';
  if (type.axes.length > 0) return 'series';
  if (type.kind === 'quantity' && type.stance === 'moment') return 'moment';
  return type.kind;
}

function reportCell(evaluation: Evaluation, id: number, column: number, full: boolean): ReportCell {
  const node = evaluation.program.nodes[id];
  const memory = evaluation.columns[column]?.memory;
  if (!node || !memory) throw new RangeError('no such cell');
  const { type } = node;
  const unit =
    type?.kind === 'quantity'
      ? unitFor(evaluation, type, id)
      : type?.kind === 'span' && memory.faults[id] === undefined
        ? spanUnit(evaluation, type.of, reader(evaluation, id, memory), 0)
        : plainUnit;
  const base = { kind: kindOf(type), unit: unit.symbol };
  const fault = memory.faults[id];
  if (fault) {
    if (fault.kind === 'error')
      return { ...base, value: null, text: fault.text, error: fault.text };
    if (fault.kind === 'blank')
      return { ...base, kind: 'blank', value: null, text: 'to be filled in' };
    const on = fault.kind === 'waits' ? rootName(evaluation, fault.on, memory) : '';
    return {
      ...base,
      value: null,
      text: fault.kind === 'pending' ? 'being worked out' : `waits for ${on}`,
      waits: on,
    };
  }
  const shown = showValue(evaluation, id, column);
  if (!type) return { ...base, value: null, text: shown.text };
  const read = reader(evaluation, id, memory);
  if (type.kind === 'record') {
    const fields = Object.create(null) as Record<string, ReportValue>;
    let from = 0;
    for (const field of type.fields) {
      const at = from;
      const own = field.type.kind === 'quantity' ? unitFor(evaluation, field.type) : plainUnit;
      const part: Read = (j, i) => read(at + j, i);
      fields[field.name] = {
        unit: own.symbol,
        value:
          type.axes.length > 0
            ? statistics(evaluation, field.type, part, placesOf(evaluation, id, memory), own, full)
            : one(evaluation, field.type, part, 0, own),
      };
      from += componentCount(field.type);
    }
    return { ...base, value: fields, text: shown.text };
  }
  if (type.axes.length > 0)
    return {
      ...base,
      value: statistics(evaluation, type, read, placesOf(evaluation, id, memory), unit, full),
      text: shown.text,
    };
  return { ...base, value: one(evaluation, type, read, 0, unit), text: shown.text };
}

function valuesOf(evaluation: Evaluation, id: number, column: number): readonly ReportValue[] {
  const node = evaluation.program.nodes[id];
  const memory = evaluation.columns[column]?.memory;
  if (!node?.type || !memory) return [];
  const { type } = node;
  const unit = type.kind === 'quantity' ? unitFor(evaluation, type, id) : plainUnit;
  const read = reader(evaluation, id, memory);
  return Array.from({ length: placesOf(evaluation, id, memory) }, (_, i) =>
    one(evaluation, type, read, i, unit),
  );
}

function one(evaluation: Evaluation, type: Type, read: Read, i: number, unit: Unit): ReportValue {
  const x = read(0, i);
  if (type.kind !== 'window' && Number.isNaN(x)) return null;
  switch (type.kind) {
    case 'quantity':
      if (type.stance !== 'moment') return plainNumber(x, unit);
      return secondsOfDay(x) === 0 ? formatDateIso(dayOfMoment(x)) : formatMomentIso(x);
    case 'truth':
      return x !== 0;
    case 'text':
      return textOf(evaluation, x);
    case 'time of day':
      return formatTimeOfDay(x);
    case 'span': {
      const inner = spanUnit(evaluation, type.of, read, i);
      return {
        start: one(evaluation, type.of, read, i, inner),
        end: one(evaluation, type.of, (j, k) => read(j + 1, k), i, inner),
      };
    }
    default:
      return null;
  }
}

function statistics(
  evaluation: Evaluation,
  type: Type,
  read: Read,
  n: number,
  unit: Unit,
  full: boolean,
): ReportValue {
  const values = Array.from({ length: n }, (_, i) => one(evaluation, type, read, i, unit));
  const numbers = values.filter((v): v is number => typeof v === 'number');
  const base = { length: n, first: values[0] ?? null, last: values[n - 1] ?? null };
  let [min, max, sum] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (const v of numbers) {
    min = Math.min(min, v);
    max = Math.max(max, v);
    sum += v;
  }
  const some =
    numbers.length > 0
      ? { min, max, mean: sum / numbers.length }
      : { min: null, max: null, mean: null };
  return full ? { ...base, ...some, values } : { ...base, ...some };
}
