// What keeping a typed text means at each place of the sheet: the command that is carried out, and
// what the step is called for undo.

import type { CellRow, Command, Snapshot, TableRowShown } from '../../engine/index.ts';
import type { EditPlace } from '../parts/place.ts';

export interface TypedStep {
  readonly command: Command;
  readonly label: string;
}

/** What is known of the notebook that is typed into. */
export interface TypedInto {
  readonly text: string;
  readonly snapshot: Snapshot;
  rowOf(key: string): CellRow | TableRowShown | undefined;
}

/** An entry as a scenario names it, by what stands first in its row: `weather.clear index(3)`. */
export function entryTarget(table: TableRowShown, row: number, column: number): string | undefined {
  const first = table.entries[row]?.[0]?.written.trim() ?? '';
  const head = table.columns[column]?.name;
  if (first === '' || head === undefined) return undefined;
  // A number, a date and a time of day stand as they are; a text stands in quotes.
  const key = /^[-+\d]/u.test(first) ? first : `"${first.replaceAll('"', '')}"`;
  return `${table.name}.${head}(${key})`;
}

export function puttingBack(scenario: string, target: string): TypedStep {
  return { command: { do: 'put back', scenario, target }, label: `put back ${target}` };
}

/** A scenario gets another value; nothing typed puts the plan's back. */
function puttingIn(
  into: TypedInto,
  column: number,
  target: string,
  typed: string,
  label: string,
): TypedStep {
  const scenario = into.snapshot.verdicts[column]?.name ?? '';
  if (typed.trim() === '') return puttingBack(scenario, target);
  return {
    command: { do: 'override', scenario, target, text: typed },
    label: `${label} in ${scenario}`,
  };
}

/** An entry of the plan's table, or what a scenario has in its place. */
function entryStep(
  into: TypedInto,
  place: Extract<EditPlace, { kind: 'entry' }>,
  typed: string,
  label: string,
): TypedStep | undefined {
  const { table, row, column } = place;
  if (place.into === 0) return { command: { do: 'entry', table, row, column, text: typed }, label };
  const shown = into.rowOf(table);
  const target = shown?.kind === 'table' ? entryTarget(shown, row, column) : undefined;
  return target === undefined ? undefined : puttingIn(into, place.into, target, typed, label);
}

/**
 * The step that keeps `typed` at a place; `label` is what its row is called. Nothing where there is no
 * such place.
 */
export function typedStep(
  into: TypedInto,
  place: EditPlace,
  typed: string,
  label: string,
): TypedStep | undefined {
  switch (place.kind) {
    case 'formula':
      return { command: { do: 'formula', cell: place.cell, text: typed }, label };
    case 'check':
      return { command: { do: 'check', item: place.item, text: typed }, label };
    case 'name':
      return {
        command: { do: 'rename', cell: place.cell, name: typed.trim() },
        label: `name ${label}`,
      };
    case 'value': {
      const { cell, column } = place;
      if (column === 0) return { command: { do: 'formula', cell, text: typed }, label };
      return puttingIn(into, column, into.rowOf(cell)?.name ?? cell, typed, label);
    }
    case 'entry':
      return entryStep(into, place, typed, label);
    case 'scenario': {
      const scenario = place.name;
      return place.part === 'name'
        ? { command: { do: 'name scenario', scenario, name: typed }, label: `name ${label}` }
        : { command: { do: 'describe scenario', scenario, text: typed }, label };
    }
    case 'lines': {
      const lines = into.text.split('\n');
      lines.splice(place.first, place.count, ...typed.split('\n'));
      return { command: { do: 'text', text: lines.join('\n') }, label };
    }
    case 'new':
      return { command: { do: 'insert', item: place.item + 1, text: typed }, label: 'new row' };
  }
}
