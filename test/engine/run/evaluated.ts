// For the tests of checking and running: a notebook's body in, values and messages out, as the
// command line would print them.

import { openSession, type Report, type ReportCell } from '../../../engine/index.ts';

export const PLACE = 'place: 44.5 °N, 110.2 °W, 2100 m, UTC-6';

export function notebook(
  body: string,
  header = `title: Test\n${PLACE}\ntrials: 200\nseed: 3`,
): string {
  return `dapple 1\n${header}\n\n${body}\n`;
}

export function report(body: string, column = 0, full = false): Report {
  return openSession(notebook(body)).report(column, full);
}

/** What a test may expect of a value. */
export type Value =
  | number
  | string
  | boolean
  | null
  | readonly unknown[]
  | { readonly start: unknown; readonly end: unknown };

/** The cell `result` of a body with one more line, and what is said about that line. */
export function evaluated(
  body: string,
  formula: string,
): { readonly cell: ReportCell; readonly messages: Report['messages'] } {
  const line = notebook(body).split('\n').length;
  const all = report(`${body}\nresult = ${formula}`, 0, true);
  const cell = all.cells.result;
  if (!cell) throw new RangeError('no cell called result');
  return { cell, messages: all.messages.filter((message) => message.line >= line) };
}

/** The values of a series or column along its axis. */
export function values(cell: ReportCell | undefined): unknown {
  const { value } = cell ?? { value: null };
  return value !== null && typeof value === 'object' && 'values' in value ? value.values : value;
}

/** The column, from 1, at which a part of a formula begins on a line `result = …`. */
export function columnOf(formula: string, part: string): number {
  const at = formula.indexOf(part);
  if (at < 0) throw new RangeError(`"${part}" is no part of "${formula}"`);
  return 'result = '.length + at + 1;
}
