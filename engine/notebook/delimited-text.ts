// Rows of text fields, as programs that keep tables write them to a file or the clipboard: separated
// by commas, semicolons or tabs, with quotation marks round a field that holds one of these (RFC 4180
// for the quoting). Where decimals are written with a comma, files are separated by semicolons. Every
// text is read within bounds, in one pass.

export type Separator = ',' | ';' | '\t';

export interface DelimitedText {
  readonly rows: readonly (readonly string[])[];
  readonly separator: Separator;
  /** How its numbers are written; unclear when `1,234` is all there is to judge by. */
  readonly decimal: 'point' | 'comma' | 'unclear';
}

/** What a text may hold; beyond it nothing is read. */
export const DELIMITED_LIMITS = { characters: 2_000_000, rows: 5_000, columns: 60 } as const;

/** Lines looked at to find the separator. */
const LINES_TO_JUDGE = 20;

/** Reads the fields of a text, or says in one sentence why it cannot. */
export function readDelimited(text: string): DelimitedText | { readonly fault: string } {
  if (text.length > DELIMITED_LIMITS.characters) {
    return { fault: 'This table is too long: two million characters are the most.' };
  }
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  if (body.includes('\0')) return { fault: 'This is no table of text.' };
  if (body.trim() === '') return { fault: 'There is nothing in this table.' };
  const separator = separatorOf(body);
  const read = readRows(body, separator);
  if ('fault' in read) return read;
  const rows = read.rows.filter((row) => row.some((field) => field.trim() !== ''));
  if (rows.length === 0) return { fault: 'There is nothing in this table.' };
  return { rows, separator, decimal: decimalOf(rows, separator) };
}

/** The separator that the first lines agree about; a tab wins, since nobody types one. */
function separatorOf(text: string): Separator {
  const counts: Record<Separator, number>[] = [];
  let line = { ',': 0, ';': 0, '\t': 0 };
  let quoted = false;
  for (let at = 0; at < text.length && counts.length < LINES_TO_JUDGE; at++) {
    const character = text.charAt(at);
    if (character === '"') quoted = !quoted;
    else if (quoted) continue;
    else if (character === '\n' || character === '\r') {
      if (line[','] + line[';'] + line['\t'] > 0) counts.push(line);
      line = { ',': 0, ';': 0, '\t': 0 };
    } else if (character === ',' || character === ';' || character === '\t') line[character]++;
  }
  counts.push(line);
  const lines = counts.filter((one) => one[','] + one[';'] + one['\t'] > 0);
  const having = (separator: Separator): number => lines.filter((one) => one[separator] > 0).length;
  if (having('\t') > 0 && having('\t') * 2 >= lines.length) return '\t';
  const semicolons = having(';');
  return semicolons > 0 && semicolons >= having(',') ? ';' : ',';
}

function readRows(
  text: string,
  separator: Separator,
): { readonly rows: readonly (readonly string[])[] } | { readonly fault: string } {
  const rows: string[][] = [];
  let row: string[] = [];
  let lines = 1;
  let at = 0;
  while (at <= text.length) {
    let field = '';
    if (text.charAt(at) === '"') {
      const opened = lines;
      const end = quotedEnd(text, at);
      if (end < 0) return { fault: `The quotation mark on line ${opened} is never closed.` };
      field = text.slice(at + 1, end).replaceAll('""', '"');
      lines += field.split(/\r\n|\n|\r/u).length - 1;
      at = end + 1;
    }
    const stop = fieldEnd(text, at, separator);
    field += text.slice(at, stop);
    row.push(field);
    if (row.length > DELIMITED_LIMITS.columns) {
      return { fault: `This table has more than ${DELIMITED_LIMITS.columns} columns.` };
    }
    at = stop + 1;
    if (text.charAt(stop) === separator) continue;
    rows.push(row);
    row = [];
    lines++;
    if (rows.length > DELIMITED_LIMITS.rows + 1) {
      return { fault: `This table has more than ${DELIMITED_LIMITS.rows} rows.` };
    }
    if (text.charAt(stop) === '\r' && text.charAt(stop + 1) === '\n') at++;
    if (at >= text.length) break;
  }
  return { rows };
}

/** Where the field that opens with a quotation mark closes, or −1. A doubled mark does not close it. */
function quotedEnd(text: string, open: number): number {
  let end = text.indexOf('"', open + 1);
  while (end >= 0 && text.charAt(end + 1) === '"') end = text.indexOf('"', end + 2);
  return end;
}

function fieldEnd(text: string, from: number, separator: Separator): number {
  let at = from;
  while (at < text.length) {
    const character = text.charAt(at);
    if (character === separator || character === '\n' || character === '\r') break;
    at++;
  }
  return at;
}

/** Begins like a number with a comma, or with a point, that cannot be the mark of a thousand. */
const COMMA_DECIMAL = /^\s*[-+−]?(?:\d*,(?:\d{1,2}|\d{4,})|0,\d+|\d{4,},\d+)(?![\d.,])/u;
const POINT_DECIMAL = /^\s*[-+−]?(?:\d*\.(?:\d{1,2}|\d{4,})|0\.\d+|\d{4,}\.\d+)(?![\d.,])/u;
const COMMA_NUMBER = /^\s*[-+−]?\d+,\d+(?![\d.,])/u;

function decimalOf(
  rows: readonly (readonly string[])[],
  separator: Separator,
): DelimitedText['decimal'] {
  if (separator === ',') return 'point';
  let comma = false;
  let point = false;
  let either = false;
  for (const row of rows) {
    for (const field of row) {
      comma ||= COMMA_DECIMAL.test(field);
      point ||= POINT_DECIMAL.test(field);
      either ||= COMMA_NUMBER.test(field);
    }
  }
  if (comma && point) return 'unclear';
  if (comma) return 'comma';
  if (point) return 'point';
  if (!either) return 'point';
  // The semicolon is there because the comma had another task.
  return separator === ';' ? 'comma' : 'unclear';
}

/** Writes rows of fields; lines end as the standard wants in files, plainly on the clipboard. */
export function writeDelimited(rows: readonly (readonly string[])[], separator: Separator): string {
  const end = separator === '\t' ? '\n' : '\r\n';
  const quote = separator === ',' ? /[",\n\r]/u : separator === ';' ? /[";\n\r]/u : /["\t\n\r]/u;
  const written = (field: string): string =>
    quote.test(field) || field.trim() !== field ? `"${field.replaceAll('"', '""')}"` : field;
  return rows.map((row) => row.map(written).join(separator) + end).join('');
}

/** Signs of a number by how its decimals are written: the mark, thousands with groups, the whole. */
const NUMBER_FORMS = {
  point: {
    mark: '.',
    group: ',',
    grouped: /^[-+−]?\d{1,3}(?:,\d{3})+(?=\.|$)/u,
    whole: /^[-+−]?\d*(?:\.\d+)?$/u,
  },
  comma: {
    mark: ',',
    group: '.',
    grouped: /^[-+−]?\d{1,3}(?:\.\d{3})+(?=,|$)/u,
    whole: /^[-+−]?\d*(?:,\d+)?$/u,
  },
} as const;

/** A field with its number written as a notebook writes it; a field that begins with none is kept. */
export function withPlainNumber(field: string, decimal: DelimitedText['decimal']): string {
  if (decimal === 'unclear') return field;
  const { mark, group, grouped, whole } = NUMBER_FORMS[decimal];
  const number = /^[-+−]?(?:\d[\d.,'’ \u00a0\u202f]*\d|\d|[.,]\d+)/u.exec(field)?.[0];
  if (number === undefined) return field;
  const rest = field.slice(number.length);
  const digits = number.replace(/['’ \u00a0\u202f](?=\d{3}(?!\d))/gu, '');
  const plain = digits.replace(grouped, (part) => part.replaceAll(group, ''));
  if (!whole.test(plain)) return field;
  const pointed = plain.replace(mark, '.').replace(/^\+/u, '');
  return pointed.replace(/^(-|−|)\./u, '$10.') + rest;
}
