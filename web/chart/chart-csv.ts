// The values of a chart as a file: comma separated (RFC 4180), units in the heads, times as civil
// ISO 8601. A text that a spreadsheet would take for a formula is written with an apostrophe before
// it; numbers stay numbers.

import type { ChartReading, Entry, ReadingHead } from './chart-reading.ts';

/** A text's first character that makes a spreadsheet work it out. */
const WORKED_OUT = /^[=+\-@\t\r]/u;

function field(entry: Entry): string {
  if (typeof entry === 'number') return Number.isFinite(entry) ? String(entry) : '';
  const text = WORKED_OUT.test(entry) ? `'${entry}` : entry;
  return /[",\r\n]/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

function headText({ name, unit }: ReadingHead): string {
  return unit === '' ? name : `${name} (${unit})`;
}

export function readingToCsv({ heads, rows }: ChartReading): string {
  const lines = [heads.map(headText), ...rows.map(({ plain }) => plain)];
  return lines.map((line) => `${line.map(field).join(',')}\r\n`).join('');
}
