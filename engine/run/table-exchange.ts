// Tables in and out of a notebook as fields of text. Out, a column whose entries all have one unit
// has it in its heading: `power (W)`. In, such a heading gives its unit to every bare number below
// it. What comes in is data: it becomes literals and texts, and everything that was changed on the
// way is told.

import { parseContext } from '../check/scope.ts';
import { isUnit } from '../dimension/unit.ts';
import { nameKey, parseEntry } from '../language/parser.ts';
import {
  DELIMITED_LIMITS,
  readDelimited,
  type Separator,
  withPlainNumber,
  writeDelimited,
} from '../notebook/delimited-text.ts';
import { rowText } from '../notebook/edit-rows.ts';
import { noteMark } from '../notebook/lines.ts';
import { isCellName, isPhrase, wordsOf } from '../source/name.ts';
import { findOutsideText } from '../source/quote.ts';
import type { ShownColumn, ShownEntry, TableRowShown } from './snapshot.ts';

/** A table that came from outside, as it can stand in a notebook. */
export interface TableFromText {
  readonly columns: readonly string[];
  /** The unit of a column's heading; empty when it had none. */
  readonly units: readonly string[];
  /** One text an entry, as written in a notebook. */
  readonly rows: readonly (readonly string[])[];
  /** Whether the first line was taken for headings. */
  readonly headed: boolean;
  /** What was changed on the way, one sentence each. */
  readonly notes: readonly string[];
}

// ── out ─────────────────────────────────────────────────────────────────────────────────────────

const FIGURE = /^([-+−]?[\d.\u202f\u00a0 ]*\d(?:e[-+−]?\d+)?)[\u202f\u00a0 ]?(\D*)$/u;

/** A number before its unit, or alone. */
const LEADING_DECIMAL = /^([-+−]?\d+)\.(\d+)(?=[ %°]|$)/u;

/** The table as a text with this separator; semicolons go with decimal commas. */
export function tableToText(table: TableRowShown, separator: Separator): string {
  const comma = separator === ';';
  const columns = table.columns.map((column, c) =>
    columnOut(
      column,
      table.entries.map((row) => row[c]),
      comma,
    ),
  );
  const rows = table.entries.map((_, r) => columns.map((column) => column.fields[r] ?? ''));
  return writeDelimited([columns.map((column) => column.head), ...rows], separator);
}

function columnOut(
  column: ShownColumn,
  entries: readonly (ShownEntry | undefined)[],
  comma: boolean,
): { readonly head: string; readonly fields: readonly string[] } {
  const texts = entries.map((entry) => (entry?.state === 'value' ? textOut(entry) : ''));
  const figures = texts.map((text) => (text === '' ? undefined : FIGURE.exec(text)));
  const units = new Set(figures.map((found) => found?.[2]?.trim()));
  units.delete(undefined);
  const filled = texts.filter((text) => text !== '').length;
  const alike = units.size === 1 && figures.filter((found) => found).length === filled;
  const [unit = ''] = alike ? units : [];
  const number = (text: string): string => {
    const plain = text.replace(/[\u202f\u00a0 ]/gu, '').replace('−', '-');
    return comma ? plain.replace('.', ',') : plain;
  };
  return {
    head: unit === '' ? safeField(column.name) : `${column.name} (${unit})`,
    fields: alike
      ? figures.map((found) => number(found?.[1] ?? ''))
      : texts.map((text) => safeField(comma ? text.replace(LEADING_DECIMAL, '$1,$2') : text)),
  };
}

function textOut(entry: ShownEntry): string {
  const { written, text } = entry;
  const words = written !== '' && !written.startsWith('=') && !entry.overridden ? written : text;
  return unquoted(words).replace(/[\u202f\u00a0]/gu, ' ');
}

function unquoted(text: string): string {
  return /^"[^"]*"$|^“[^“”]*”$/u.test(text) ? text.slice(1, -1) : text;
}

/**
 * Programs that keep tables take a field that begins so for a formula of theirs and may run it: an
 * apostrophe makes it a text, and is taken off again when it comes back.
 */
function safeField(text: string): string {
  return /^(?:[=@\t\r]|[-+](?![\d.])|'[=@+-])/u.test(text) ? `'${text}` : text;
}

// ── in ──────────────────────────────────────────────────────────────────────────────────────────

const MISSING = /^(?:[-–—]|n\/?a|nan|null|none|\?)$/iu;
const HEAD_UNIT = /^(.*?)\s*(?:\(([^()]*)\)|\[([^[\]]*)\])\s*$/su;

/** Reads a table from a file's or the clipboard's text, or says why not. */
export function tableFromText(
  text: string,
  heading: 'judge' | 'none' = 'judge',
): TableFromText | { readonly fault: string } {
  const read = readDelimited(text);
  if ('fault' in read) return read;
  const fields = read.rows.map((row) => row.map(cleaned));
  const width = Math.max(...fields.map((row) => row.length));
  const notes: string[] = [];
  const headed =
    heading === 'judge' && fields.length > 1 && isHeading(fields[0] ?? [], read.decimal);
  const heads = headed ? (fields[0] ?? []) : [];
  const body = headed ? fields.slice(1) : fields;
  if (body.length > DELIMITED_LIMITS.rows) {
    return { fault: `This table has more than ${DELIMITED_LIMITS.rows} rows.` };
  }
  const parts = Array.from({ length: width }, (_, c) => splitHead(heads[c] ?? ''));
  const columns = namesFor(parts.map((part) => part.name));
  const units = parts.map((part) => part.unit);
  const renamed = columns.filter((name, c) => headed && name !== parts[c]?.name);
  if (renamed.length > 0) notes.push(`Headings were made into names: ${renamed.join(', ')}.`);
  if (read.decimal === 'unclear') {
    notes.push(
      'A comma here may mark a decimal or a thousand; numbers with one are left as they were.',
    );
  }
  let missing = 0;
  const made = Array.from({ length: width }, (_, c) => {
    const entries = body.map((row) => withPlainNumber(row[c] ?? '', read.decimal));
    const kept = entriesOf(entries, units[c] ?? '');
    missing += kept.missing;
    return kept.entries;
  });
  if (missing > 0) {
    notes.push(`${missing} ${missing === 1 ? 'entry' : 'entries'} such as “n/a” became empty.`);
  }
  const rows = body.map((_, r) => made.map((column) => column[r] ?? ''));
  return { columns, units, rows, headed, notes };
}

/** One line, no signs that cannot be seen, no apostrophe that only guards a sign. */
function cleaned(field: string): string {
  return field
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .trim()
    .replace(/^'(?=['=@+-])/u, '');
}

function isHeading(row: readonly string[], decimal: 'point' | 'comma' | 'unclear'): boolean {
  return row.every((field) => {
    const parsed = parseEntry(withPlainNumber(field, decimal), parseContext);
    return field === '' || parsed.words === true || parsed.node.kind === 'text';
  });
}

function splitHead(head: string): { readonly name: string; readonly unit: string } {
  const found = HEAD_UNIT.exec(head);
  const unit = (found?.[2] ?? found?.[3] ?? '').trim();
  if (found && unit !== '' && isUnit(unit)) return { name: found[1]?.trim() ?? '', unit };
  return { name: head, unit: '' };
}

/** A name for each column, no two alike. */
function namesFor(heads: readonly string[]): readonly string[] {
  const taken = new Set<string>();
  return heads.map((head, c) => {
    const words = isPhrase(head) ? head.trim().replace(/\s+/gu, ' ') : nameFrom(head);
    const base = words === '' ? `column ${c + 1}` : words;
    let name = base;
    for (let n = 2; taken.has(nameKey(name)); n++) name = `${base} ${n}`;
    taken.add(nameKey(name));
    return name;
  });
}

/** The nearest name to a heading: its words, joined by a hyphen where a word may not stand alone. */
function nameFrom(head: string): string {
  const words = wordsOf(head.replace(/[^\p{L}\p{M}\p{Nd}'’ -]+/gu, ' ').slice(0, 200));
  const start = words.findIndex((word) => /^\p{L}/u.test(word));
  const tail = start < 0 ? [] : words.slice(start);
  for (const name of [tail.join(' '), tail.join('-')]) if (isPhrase(name)) return name;
  return '';
}

/** Entries of one column: all literals, or all texts. */
function entriesOf(
  fields: readonly string[],
  unit: string,
): { readonly entries: readonly string[]; readonly missing: number } {
  const literal = fields.map((field) => (MISSING.test(field) ? undefined : asLiteral(field, unit)));
  const words = fields.filter(
    (field, r) => field !== '' && !MISSING.test(field) && literal[r] === undefined,
  );
  const anyLiteral = literal.some((entry) => entry !== undefined);
  if (words.length > 0 || !anyLiteral) return { entries: fields.map(asText), missing: 0 };
  return {
    entries: literal.map((entry) => entry ?? ''),
    missing: fields.filter((field) => MISSING.test(field)).length,
  };
}

/** The field as a literal that can be read; undefined when it is none. */
function asLiteral(field: string, unit: string): string | undefined {
  if (field === '' || field.startsWith('=')) return undefined;
  const bare = /^[-+−]?[\d.]+(?:e[-+]?\d+)?$/iu.test(field);
  const entry = bare && unit !== '' ? `${field} ${unit}` : field;
  const parsed = parseEntry(entry, parseContext);
  const read = parsed.diagnostics.length === 0 && parsed.words !== true;
  return read && parsed.node.kind !== 'text' && isOneEntry(entry) ? entry : undefined;
}

/** The field as a text: bare words where they are read as such, in quotes otherwise. */
function asText(field: string): string {
  if (field === '') return '';
  const parsed = parseEntry(field, parseContext);
  // A quotation mark that is not closed would reach into the next entry.
  const quoted = /["“”„‟]/u.test(field);
  const bare = parsed.words === true && parsed.diagnostics.length === 0 && isOneEntry(field);
  if (bare && !quoted) return field;
  if (!field.includes('"')) return `"${field}"`;
  return /[“”„‟]/u.test(field) ? `"${field.replaceAll('"', '”')}"` : `“${field}”`;
}

/** Whether nothing in an entry would be read as a border or a note. */
function isOneEntry(entry: string): boolean {
  const bar = findOutsideText(entry, 0, entry.length, (at) => entry.charAt(at) === '|');
  return bar < 0 && noteMark(` ${entry}`, 0, entry.length + 1) < 0;
}

/** The table as lines of a notebook. */
export function tableLines(name: string, table: TableFromText): string {
  const grid = [table.columns, ...table.rows];
  const widths = table.columns.map((_, c) =>
    Math.min(30, Math.max(...grid.map((row) => (row[c] ?? '').length))),
  );
  const lines = grid.map((row) => `  ${rowText(row, widths)}`);
  return `${isCellName(name) ? name : 'table'} = table\n${lines.join('\n')}\n`;
}

// ── into a table that stands ────────────────────────────────────────────────────────────────────

export interface PlacedRows {
  /** Entries for `row` on, one a column of the table as written; undefined keeps what is there. */
  readonly entries: readonly (readonly (string | undefined)[])[];
  readonly row: number;
  readonly notes: readonly string[];
}

/**
 * Finds the place of pasted rows in a table: by their headings where these name its columns, from the
 * entry in hand on where not. Columns with a formula keep it.
 */
export function placeRows(
  table: TableRowShown,
  text: string,
  at: { readonly row: number; readonly column: number },
): PlacedRows | { readonly fault: string } {
  const own = table.columns.filter((column) => !column.added);
  const named = tableFromText(text);
  if ('fault' in named) return named;
  const keys = own.map((column) => nameKey(column.name));
  const byName = named.headed && named.columns.some((name) => keys.includes(nameKey(name)));
  const read = byName ? named : tableFromText(text, 'none');
  if ('fault' in read) return read;
  const targets = read.columns.map((name, c) =>
    byName ? keys.indexOf(nameKey(name)) : c + at.column,
  );
  const notes = read.notes.filter((note) => byName || !note.startsWith('Headings'));
  const left = targets.filter((target) => own[target] === undefined).length;
  if (left === targets.length) return { fault: 'No column of this table fits what was pasted.' };
  if (left > 0) {
    notes.push(
      `${left === 1 ? 'One column has' : `${left} columns have`} no place here and stayed out.`,
    );
  }
  const made = targets.filter((target) => own[target]?.given === false);
  if (made.length > 0) notes.push('Columns with a formula keep it.');
  const entries = read.rows.map((row) => {
    const placed: (string | undefined)[] = own.map(() => undefined);
    row.forEach((entry, c) => {
      const column = own[targets[c] ?? -1];
      if (column?.given !== true) return;
      placed[targets[c] ?? -1] = inUnit(entry, column, read.units[c] ?? '');
    });
    return placed;
  });
  return { entries, row: Math.min(at.row, table.entries.length), notes };
}

/** A bare number put into a column with a unit has the column's unit. */
function inUnit(entry: string, column: ShownColumn, headUnit: string): string {
  const bare = /^[-+−]?[\d.]+(?:e[-+]?\d+)?$/iu.test(entry);
  return bare && headUnit === '' && column.unit !== '' ? `${entry} ${column.unit}` : entry;
}
