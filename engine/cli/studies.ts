// What the command line prints of studies and of the reference: tables as aligned text or as CSV.

import {
  influenceTable,
  type ReferenceEntry,
  referenceFunctions,
  referenceMessages,
  referenceOf,
  type Session,
  type StudyTable,
  sweepTable,
  trialTables,
} from '../index.ts';

export interface StudyOptions {
  readonly trials: number | undefined;
  readonly influence: string | undefined;
  readonly sweep: string | undefined;
  readonly csv: boolean;
}

/** The tables asked for, or a sentence that says what is wrong. */
export function studyTables(
  session: Session,
  column: number,
  options: StudyOptions,
): readonly StudyTable[] | string {
  const tables: StudyTable[] = [];
  if (options.sweep !== undefined) {
    const table = sweepTable(session, column, options.sweep);
    if (typeof table === 'string') return table;
    tables.push(table);
  }
  if (options.influence !== undefined) {
    const table = influenceTable(session, column, options.influence, options.trials ?? 500);
    if (typeof table === 'string') return table;
    tables.push(table);
  } else if (options.trials !== undefined) {
    const found = trialTables(session, column, options.trials);
    if (typeof found === 'string') return found;
    if (found.length === 0)
      return `Nothing is uncertain in ${column === 0 ? 'the plan' : 'this scenario'}. Make a given uncertain, such as 40..55..70 W.`;
    tables.push(...found);
  }
  return tables;
}

export function tableText(table: StudyTable, csv: boolean): string {
  if (csv)
    return `${[table.head, ...table.rows].map((row) => row.map(csvField).join(',')).join('\n')}\n`;
  const cells = [table.head, ...table.rows].map((row) =>
    row.map((v) => (typeof v === 'number' ? short(v) : v)),
  );
  const widths = table.head.map((_, c) => Math.max(...cells.map((row) => (row[c] ?? '').length)));
  const lines = cells.map((row) =>
    row
      .map((text, c) =>
        c === 0 ? text.padEnd(widths[c] as number) : text.padStart(widths[c] as number),
      )
      .join('  ')
      .trimEnd(),
  );
  return `${table.title}\n${lines.join('\n')}\n`;
}

function short(value: number): string {
  return Number.isNaN(value) ? '–' : String(Number(value.toPrecision(5)));
}

/** RFC 4180: quoted when it holds a comma, a quote or a line end. */
function csvField(value: string | number): string {
  const text = typeof value === 'number' ? (Number.isNaN(value) ? '' : String(value)) : value;
  return /[",\r\n]/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** The reference of one name, or the list of all functions; nothing when the name is unknown. */
export function helpText(name: string | undefined): string | undefined {
  if (name === undefined) return undefined;
  if (name === 'functions')
    return `${referenceFunctions()
      .map((f) => `${f.written}\n    ${f.meaning}`)
      .join('\n')}\n`;
  if (name === 'messages')
    return `${referenceMessages()
      .map((m) => `${m.written}\n    ${m.meaning}`)
      .join('\n')}\n`;
  const entry = referenceOf(name);
  return entry ? entryText(entry) : undefined;
}

function entryText(entry: ReferenceEntry): string {
  const lines = [entry.written, '', entry.meaning];
  if (entry.arguments.length > 0)
    lines.push('', ...entry.arguments.map((a) => `  ${a.name}: ${a.text}`));
  if (entry.result !== '') lines.push('', `Gives ${entry.result}.`);
  if (entry.example !== '') lines.push('', ...entry.example.split('\n').map((line) => `  ${line}`));
  if (entry.source !== '') lines.push('', `Source: ${entry.source}`);
  if (entry.caution !== '') lines.push('', entry.caution);
  return `${lines.join('\n')}\n`;
}
