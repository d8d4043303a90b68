// What a key or a click in the sheet means. It moves the hand, opens the editor, and hands every
// change to the desk as one command.

import type { CellRow, Command, Row } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { type Column, editedInStrip, NAME, WORDS } from '../parts/place.ts';
import { moveRowsInHand, removeRowsInHand } from './rows-hand.ts';
import { hasSlider, stepOf, written } from './strip-view.ts';

/** The columns a row can be focused in, from left to right. */
export function columnsOf(row: Row, columns: readonly number[]): readonly Column[] {
  switch (row.kind) {
    case 'cell':
    case 'check':
      return [NAME, WORDS, ...columns];
    case 'chart':
    case 'table':
    case 'scenario':
      return [NAME, WORDS];
    case 'unread':
      return [NAME, WORDS, 0];
    default:
      return [WORDS];
  }
}

/** The nearest column a row has. */
export function fitColumn(row: Row, column: Column, columns: readonly number[]): Column {
  const own = columnsOf(row, columns);
  return own.includes(column) ? column : WORDS;
}

/** Opens the editor on the selected place. `typed` starts it with a character. */
export function beginEdit(desk: Desk, row: Row, column: Column, typed?: string): boolean {
  const caret = typed === undefined ? 'all' : 'end';
  const { item } = row;
  if (row.kind === 'cell') {
    const cell = row.key;
    if (column === NAME) {
      desk.edit({ kind: 'name', item, cell }, typed ?? row.name, caret, row.name);
      return true;
    }
    const strip = column > 0 || editedInStrip(row);
    if (strip) {
      const at = Math.max(0, column);
      const value = row.values[at];
      const text = at === 0 ? row.formula : (value?.text ?? '');
      desk.column = at;
      desk.edit({ kind: 'value', item, cell, column: at }, typed ?? text, caret, text);
      return true;
    }
    desk.column = WORDS;
    desk.edit({ kind: 'formula', item, cell }, typed ?? row.formula, caret, row.formula);
    return true;
  }
  if (row.kind === 'check' && column !== NAME) {
    desk.column = WORDS;
    desk.edit({ kind: 'check', item }, typed ?? row.formula, caret, row.formula);
    return true;
  }
  if (row.kind === 'scenario' && column === NAME) {
    const { name } = row;
    desk.edit({ kind: 'scenario', item, name, part: 'name' }, typed ?? name, caret, name);
    return true;
  }
  const { first, count, text } = desk.linesOf(row);
  desk.column = WORDS;
  desk.edit({ kind: 'lines', item, first, count }, text, 'end');
  return true;
}

/** Steps a bounded given. */
export function stepGiven(desk: Desk, row: Row, steps: number, column = 0): boolean {
  if (row.kind !== 'cell' || !row.bounds || !hasSlider(row)) return false;
  const { bounds } = row;
  const now = (row.values[column] ?? row.values[0])?.number ?? bounds.low;
  const next = Math.max(bounds.low, Math.min(bounds.high, now + steps * stepOf(bounds)));
  return desk.run(givenCommand(desk, row, written(next, bounds), column), row.name);
}

/** What gives a value to a given: in the plan, or in the scenario whose strip is meant. */
export function givenCommand(desk: Desk, row: CellRow, text: string, column: number): Command {
  const scenario = column > 0 ? desk.snapshot.verdicts[column]?.name : undefined;
  return scenario === undefined
    ? { do: 'formula', cell: row.key, text }
    : { do: 'override', scenario, target: row.name, text };
}

function follow(desk: Desk, row: Row, back: boolean): boolean {
  const keys =
    row.kind === 'cell' || row.kind === 'table'
      ? back
        ? row.drawsOn
        : row.drawnOnBy
      : row.kind === 'check' || row.kind === 'chart'
        ? back
          ? row.drawsOn
          : []
        : [];
  const target = keys.map((key) => desk.rowOf(key)).find((found) => found !== undefined);
  if (!target) return false;
  desk.select(target.item, WORDS);
  return true;
}

/** The column beside the one in hand; on from a scenario's strip those out of view come into it. */
function columnBeside(
  desk: Desk,
  own: readonly Column[],
  columns: readonly number[],
  by: -1 | 1,
): Column {
  const next = desk.column + by;
  const others = columns.length > 1 && own.includes(desk.column) && desk.column > 0;
  if (others && next > 0 && next < desk.snapshot.verdicts.length) return next;
  const at = own.indexOf(desk.column);
  return own[Math.max(0, Math.min(own.length - 1, at + by))] ?? WORDS;
}

/** Carries out a key on the selected row. True when the key was used. */
export function sheetKey(desk: Desk, columns: readonly number[], event: KeyboardEvent): boolean {
  const row = desk.selected;
  const { rows } = desk;
  if (!row) return false;
  const index = rows.findIndex((other) => other.item === row.item);
  const control = event.ctrlKey || event.metaKey;
  const to = (next: number): boolean => {
    const target = rows[Math.max(0, Math.min(rows.length - 1, next))];
    if (!target) return false;
    const extend = event.shiftKey && (event.key === 'ArrowUp' || event.key === 'ArrowDown');
    desk.select(target.item, fitColumn(target, desk.column, columns), extend);
    return true;
  };
  if (event.altKey) {
    if (event.key === 'ArrowLeft') return follow(desk, row, true);
    if (event.key === 'ArrowRight') return follow(desk, row, false);
    if (event.key === 'ArrowUp') return moveRowsInHand(desk, -1);
    if (event.key === 'ArrowDown') return moveRowsInHand(desk, 1);
    return false;
  }
  const own = columnsOf(row, columns);
  switch (event.key) {
    case 'ArrowUp':
      return to(index - 1);
    case 'ArrowDown':
      return to(index + 1);
    case 'PageUp':
      return to(index - 10);
    case 'PageDown':
      return to(index + 10);
    case 'Home':
      return to(control ? 0 : index);
    case 'End':
      return to(control ? rows.length - 1 : index);
    case 'ArrowLeft':
      desk.select(row.item, columnBeside(desk, own, columns, -1));
      return true;
    case 'ArrowRight':
      desk.select(row.item, columnBeside(desk, own, columns, 1));
      return true;
    case 'Enter':
      if (control) {
        desk.edit({ kind: 'new', item: row.item }, '');
        return true;
      }
      return beginEdit(desk, row, desk.column);
    case 'Escape':
      if (desk.anchor === undefined) return false;
      desk.select(row.item);
      return true;
    case 'F2':
      return beginEdit(desk, row, desk.column);
    case 'Delete': {
      if (event.shiftKey) return removeRowsInHand(desk, row);
      const scenario = desk.snapshot.verdicts[desk.column]?.name;
      if (desk.column > 0 && row.kind === 'cell' && scenario !== undefined) {
        return desk.putBack(scenario, row.name);
      }
      return false;
    }
    case '+':
    case '-':
      if (
        stepGiven(desk, row, (event.key === '+' ? 1 : -1) * (event.shiftKey ? 5 : 1), desk.column)
      )
        return true;
      break;
    default:
  }
  if (control && event.key.toLowerCase() === 'd') return desk.duplicateBlock();
  const types = event.key.length === 1 && event.key !== ' ' && !control;
  const written = row.kind === 'cell' || row.kind === 'check' ? desk.column !== NAME : false;
  if (types && (written || (row.kind === 'scenario' && desk.column === NAME))) {
    return beginEdit(desk, row, desk.column, event.key);
  }
  return false;
}

/** Arrow keys inside a table; Escape leaves it. */
export function tableKey(event: KeyboardEvent, entry: HTMLElement): boolean {
  const [row = 0, column = 0] = (entry.dataset.entry ?? '').split(',').map(Number);
  const steps: Readonly<Record<string, readonly [number, number]>> = {
    ArrowUp: [-1, 0],
    ArrowDown: [1, 0],
    ArrowLeft: [0, -1],
    ArrowRight: [0, 1],
  };
  const step = steps[event.key];
  if (step) {
    const next = `[data-entry="${row + step[0]},${column + step[1]}"]`;
    entry.closest('table')?.querySelector<HTMLElement>(next)?.focus();
    return true;
  }
  if (event.key === 'Enter' || event.key === 'F2') {
    entry.click();
    return true;
  }
  if (event.key === 'Escape') {
    entry.closest<HTMLElement>('.tbl')?.focus();
    return true;
  }
  return false;
}
