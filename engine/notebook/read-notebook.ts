// From the text of a notebook to its items. Any text at all can be read: what is no line of a known
// kind becomes an unread item with its message, and the items' sources joined give the text again.

import type { Diagnostic } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';
import {
  isCellName,
  isPhrase,
  JOINING_WORDS,
  LINE_WORDS,
  nameEnd,
  nameKey,
  TAKEN_WORDS,
  wordAt,
  wordsOf,
} from '../source/name.ts';
import { findOutsideText, signOutsideText } from '../source/quote.ts';
import type { Span } from '../source/span.ts';
import { equalsMissing, whyWrong, withoutEquals } from './line-slips.ts';
import { type Line, linesOf, noteAt, noteMark, pieceAt, trimmed } from './lines.ts';
import type { Item, Notebook } from './notebook.ts';
import { readHeader } from './read-header.ts';
import { readScenario } from './read-scenario.ts';
import { readTable } from './read-table.ts';

export { lineAndColumn } from './lines.ts';

/** Lines of one notebook; what follows is kept unread. */
export const LINE_LIMIT = 50_000;

export function readNotebook(text: string): Notebook {
  const all = linesOf(text);
  const { header, lines: headerLines, diagnostics: headerMessages } = readHeader(text, all);
  const diagnostics: Diagnostic[] = [...headerMessages];
  const bodyStart =
    headerLines > 0
      ? (all[headerLines - 1]?.next ?? text.length)
      : text.startsWith('\ufeff')
        ? 1
        : 0;
  const items = readItems(text, all, headerLines, bodyStart, diagnostics);
  return { headerSource: text.slice(0, bodyStart), header, items, diagnostics };
}

/** The items of the lines from `from` on. */
export function readItems(
  text: string,
  all: readonly Line[],
  from: number,
  bodyStart: number,
  diagnostics: Diagnostic[],
): readonly Item[] {
  const items: Item[] = [];
  let index = from;
  while (index < all.length) {
    const first = firstLine(all[index], bodyStart);
    if (first === undefined || first.start === first.next) break;
    if (index >= LINE_LIMIT) {
      const source = text.slice(first.start);
      diagnostics.push(message('lines-many', first, [String(LINE_LIMIT)]));
      items.push({ kind: 'unread', source, line: index + 1, offset: first.start });
      break;
    }
    const lines = [first];
    if (takesLines(text, first)) {
      for (let line = all[index + lines.length]; line !== undefined; ) {
        if (!isIndented(text, line)) break;
        lines.push(line);
        line = all[index + lines.length];
      }
    }
    items.push(readItem(text, lines, index + 1, diagnostics));
    index += lines.length;
  }
  return items;
}

/** A byte order mark belongs to no line. */
function firstLine(line: Line | undefined, bodyStart: number): Line | undefined {
  if (line === undefined || line.start >= bodyStart) return line;
  return { ...line, start: Math.min(bodyStart, line.end) };
}

/** Whether a line begins with a plain letter, as most do: then it is neither blank, indented nor marked. */
function beginsWithLetter(text: string, line: Line): boolean {
  const code = text.charCodeAt(line.start) | 0x20;
  return line.start < line.end && code >= 0x61 && code <= 0x7a;
}

function isIndented(text: string, line: Line): boolean {
  if (beginsWithLetter(text, line)) return false;
  const source = text.slice(line.start, line.end);
  return /^\s/u.test(source) && source.trim() !== '';
}

/** Whether indented lines below belong to this line. */
function takesLines(text: string, line: Line): boolean {
  if (beginsWithLetter(text, line)) return true;
  const source = text.slice(line.start, line.end);
  return source.trim() !== '' && !/^(?:[#|!\s]|--|—)/u.test(source);
}

interface Source {
  readonly text: string;
  readonly lines: readonly Line[];
  readonly first: Line;
  /** Offset after the last character, without the last line end. */
  readonly end: number;
  readonly base: { readonly source: string; readonly line: number; readonly offset: number };
  readonly diagnostics: Diagnostic[];
}

function readItem(
  text: string,
  lines: readonly Line[],
  line: number,
  diagnostics: Diagnostic[],
): Item {
  const first = lines[0] ?? { start: 0, end: 0, next: 0 };
  const last = lines.at(-1) ?? first;
  const base = { source: text.slice(first.start, last.next), line, offset: first.start };
  const source: Source = { text, lines, first, end: last.end, base, diagnostics };
  if (!beginsWithLetter(text, first)) {
    const opening = text.slice(first.start, first.end);
    if (opening.trim() === '') return { kind: 'blank', ...base };
    const marked = readMarked(source, opening);
    if (marked !== undefined) return marked;
    if (/^\s/u.test(opening)) return unread(source, message('line-alone', first, []));
  }
  const word = wordAt(text, first.start);
  const lower = word?.toLowerCase();
  const isLineWord =
    word !== undefined &&
    lower !== undefined &&
    LINE_WORDS.has(lower) &&
    /^(?:\s|$)/u.test(text.slice(first.start + word.length, first.end));
  return isLineWord ? readWordLine(source, word, lower) : readCell(source);
}

/** Lines known by their first sign: heading, prose, safety note, remark. */
function readMarked(source: Source, opening: string): Item | undefined {
  const { text, first, base } = source;
  const piece = (mark: number): ReturnType<typeof pieceAt> =>
    pieceAt(text, trimmed(text, first.start + mark, first.end), first.start);
  if (opening.startsWith('#')) return { kind: 'heading', text: piece(1), ...base };
  if (opening.startsWith('|')) return { kind: 'prose', text: piece(1), ...base };
  if (opening.startsWith('!')) return { kind: 'safety', text: piece(1), ...base };
  if (opening.startsWith('--')) return { kind: 'remark', text: piece(2), ...base };
  if (opening.startsWith('—')) return { kind: 'remark', text: piece(1), ...base };
  return undefined;
}

/** Lines known by their first word. */
function readWordLine(source: Source, word: string, kind: string): Item {
  const { text, first, end, base, diagnostics } = source;
  const wordSpan = { start: first.start, end: first.start + word.length };
  const rest = wordSpan.end;
  if (text.slice(rest, first.end).trimStart().startsWith('=')) {
    return unread(source, message('line-word', wordSpan, [word]));
  }
  if (kind === 'scenario')
    return { kind, ...readScenario(text, source.lines, rest, diagnostics), ...base };
  const mark = noteMark(text, rest, end);
  const note = noteAt(text, mark, end, first.start);
  const body = trimmed(text, rest, mark < 0 ? end : mark);
  const noted = note === undefined ? base : { ...base, note };
  const formula = pieceAt(text, body, first.start);
  if (kind === 'chart') return { kind, body: formula, ...noted };
  if (kind === 'check' || kind === 'must') {
    if (formula.text === '') diagnostics.push(message('check-empty', wordSpan, [word]));
    return { kind: 'check', must: kind === 'must', formula, ...noted };
  }
  const equals = equalsSign(text, body.start, body.end);
  const name = equals < 0 ? undefined : trimmed(text, body.start, equals);
  if (name === undefined || name.start === name.end) {
    return unread(source, message('answer-shape', wordSpan, []));
  }
  return {
    kind: 'answer',
    name: pieceAt(text, name, first.start),
    formula: pieceAt(text, trimmed(text, equals + 1, body.end), first.start),
    ...noted,
  };
}

function readCell(source: Source): Item {
  const { text, first, end, base, diagnostics } = source;
  const mark = noteMark(text, first.start, end);
  const bodyEnd = mark < 0 ? end : mark;
  const equals = equalsSign(text, first.start, Math.min(first.end, bodyEnd));
  if (equals < 0) {
    const line = text.slice(first.start, Math.min(first.end, bodyEnd)).trim();
    const apart = withoutEquals(line);
    const fix = {
      label: 'Make it prose',
      span: { start: first.start, end: first.start },
      text: '| ',
    };
    const place = { start: first.start, end: first.end };
    if (apart) {
      const whole = { start: first.start, end: first.start + line.length };
      return unread(source, equalsMissing(whole, ...apart, fix));
    }
    if (/\S\s*\|/u.test(line)) return unread(source, rowAlone(place));
    return unread(source, message('line-unread', place, [], [fix]));
  }
  const nameSpan = trimmed(text, first.start, equals);
  // `x := 3 W` and `x : 3 W`
  const colon = /^(.*\S)\s*:$/u.exec(text.slice(nameSpan.start, nameSpan.end));
  if (colon && isCellName(colon[1] ?? ''))
    return unread(
      source,
      equalsMissing(
        { start: first.start, end: bodyEnd },
        colon[1] ?? '',
        text.slice(equals + 1, bodyEnd).trim(),
      ),
    );
  const wrong = nameMessage(
    text,
    nameSpan.start === nameSpan.end ? { start: equals, end: equals + 1 } : nameSpan,
  );
  if (wrong !== undefined) return unread(source, wrong);
  const name = pieceAt(text, nameSpan, first.start);
  const body = trimmed(text, equals + 1, bodyEnd);
  const firstMark = mark >= 0 && mark < first.end ? mark : -1;
  const firstBody = trimmed(text, equals + 1, firstMark < 0 ? first.end : firstMark);
  if (/^table$/iu.test(text.slice(firstBody.start, firstBody.end))) {
    const note = noteAt(text, firstMark, first.end, first.start);
    const table = readTable(text, source.lines, diagnostics);
    return { kind: 'table', name, ...table, ...base, ...(note === undefined ? {} : { note }) };
  }
  const note = noteAt(text, mark, end, first.start);
  const noted = note === undefined ? base : { ...base, note };
  const open = boundsOpen(text, body);
  if (open < 0) return { kind: 'cell', name, formula: pieceAt(text, body, first.start), ...noted };
  return {
    kind: 'cell',
    name,
    formula: pieceAt(text, trimmed(text, equals + 1, open), first.start),
    bounds: pieceAt(text, trimmed(text, open + 1, body.end - 1), first.start),
    ...noted,
  };
}

/** The first `=` that is not part of `≤`-like spellings and not in a text. */
function equalsSign(text: string, start: number, end: number): number {
  return signOutsideText(text, start, end, '=');
}

/** Where the bounds' bracket opens, when the formula part ends with bounds; else -1. */
function boundsOpen(text: string, body: Span): number {
  if (text.charAt(body.end - 1) !== ']') return -1;
  let open = -1;
  findOutsideText(text, body.start, body.end - 1, (at) => {
    if (text.charAt(at) === '[') open = at;
    return false;
  });
  return open;
}

/** What is wrong with a cell's name, if anything. */
function nameMessage(text: string, place: Span): Diagnostic | undefined {
  const name = text.slice(place.start, place.end);
  if (isPlainName(name)) return undefined;
  if (name === '=') return message('name-missing', place, []);
  const words = wordsOf(name);
  const first = words[0] ?? '';
  if (LINE_WORDS.has(first.toLowerCase())) return message('line-word', place, [first]);
  if (/\S\s*\|/u.test(name)) return rowAlone(place);
  if (TAKEN_WORDS.has(nameKey(name))) return message('name-taken', place, [name]);
  if (isPhrase(name)) return undefined;
  const joining = words.find((word) => JOINING_WORDS.has(word.toLowerCase()));
  const meant = words.join('-');
  if (joining !== undefined && isPhrase(meant)) {
    const fix = { label: `Write "${meant}"`, span: place, text: meant };
    return message('name-joining', place, [joining, `"${meant}"`], [fix]);
  }
  return message('name-wrong', place, [name, whyWrong(name, words, joining)]);
}

/** Whether a name is one beyond doubt, as most are; of the others it is asked what is wrong. */
function isPlainName(name: string): boolean {
  if (nameEnd(name, 0) !== name.length || name === '') return false;
  const first = wordAt(name, 0) as string;
  return !LINE_WORDS.has(first.toLowerCase()) && !TAKEN_WORDS.has(nameKey(name));
}

/** A row of a table that is not indented. */
function rowAlone(place: Span): Diagnostic {
  const start = { start: place.start, end: place.start };
  return message('line-row', place, [], [{ label: 'Indent it', span: start, text: '  ' }]);
}

function unread(source: Source, diagnostic: Diagnostic): Item {
  source.diagnostics.push(diagnostic);
  return { kind: 'unread', ...source.base };
}
