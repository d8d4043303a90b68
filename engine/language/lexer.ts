// From text to tokens. Names are settled here (the longest run of words), and so is what of the text
// after a number is its unit. The lexer never stops: what has no meaning becomes a `bad` token that
// carries its message, and the parser decides whether the reader sees it.

import { message } from '../source/messages.ts';
import {
  BOUNDS_WORDS,
  isJoining,
  isSign,
  JOINING_WORDS,
  nameEndAfter,
  wordEnd,
} from '../source/name.ts';
import { isQuote, textEnd } from '../source/quote.ts';
import type { Span } from '../source/span.ts';
import { daysFromDate } from './calendar.ts';
import { operatorAt } from './operators.ts';
import type {
  BadToken,
  PunctuationSign,
  ShownToken,
  ShownTokenKind,
  Token,
  UnitContext,
  UnitToken,
} from './token.ts';
import { unitAt } from './unit-text.ts';

const NUMBER = /(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?/uy;
const DATE =
  /([0-9]{4})-([0-9]{2})-([0-9]{2})(?![0-9])(?:[ \u00a0T]([0-9]{1,2}):([0-9]{2})(?![0-9]))?/uy;
const LOOSE_DATE = /[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}(?![0-9.])/uy;
const TIME = /([0-9]{1,2}):([0-9]{2})(?![0-9])/uy;
const SECONDS = /:[0-9]{2}/uy;
const GAUGE = /([1-9])\/0(?=[ \u00a0\u202f]*AWG(?![\p{L}\p{Nd}]))/uy;
const DECIMAL_COMMA = /,[0-9]+/uy;
/** Letters, figures and signs of a label, with single spaces between. */
const PLAIN_LABEL = /[A-Za-z0-9'_-]+(?:[ \u00a0][A-Za-z0-9'_-]+)*/y;
const LABEL = /[\p{L}\p{Nd}'’ʼ_-]+(?:[ \u00a0][\p{L}\p{Nd}'’ʼ_-]+)*(?=\s*:(?![0-9]))/uy;
const SPACES = /[ \t\u00a0\u202f]*/uy;
const BLANK = /\s+/uy;
const UNIT_LIKE = /[^\s()[\],"]+/uy;
const INVISIBLE = /[\p{Cc}\p{Cf}\u2028\u2029]/u;
const SIGNS: readonly PunctuationSign[] = ['(', ')', ',', '.', ':', '?', '[', ']'];
/** By the code of the character. */
const PUNCTUATION: readonly (PunctuationSign | undefined)[] = Array.from(
  { length: 0x80 },
  (_, code) => SIGNS.find((sign) => sign.charCodeAt(0) === code),
);
const POINT = 0x2e;
const BEYOND_ASCII = 0x80;

/** Tokens of a text, ending with an `end` token. In bounds, `by` is a joining word too. */
export function readTokens(
  text: string,
  context: UnitContext,
  offset = 0,
  place: 'formula' | 'bounds' = 'formula',
): readonly Token[] {
  const joining = place === 'bounds' ? BOUNDS_WORDS : JOINING_WORDS;
  const tokens: Token[] = [];
  let at = blankEnd(text, 0);
  let previous: Token | undefined;
  while (at < text.length) {
    const token =
      unitToken(text, at, previous, context, joining, offset) ??
      tokenAt(text, at, previous, joining, offset);
    tokens.push(token);
    at = blankEnd(text, token.span.end - offset);
    previous = token;
  }
  const span = { start: text.length + offset, end: text.length + offset };
  tokens.push({ kind: 'end', text: '', span });
  return tokens;
}

/** Tokens for colouring a formula while it is typed; spans count from the start of the text. */
export function tokenize(text: string, context: UnitContext): readonly ShownToken[] {
  const shown: ShownToken[] = [];
  for (const token of readTokens(text, context)) {
    if (token.kind !== 'end') shown.push({ kind: shownKind(token), span: token.span });
  }
  return shown;
}

function shownKind(token: Exclude<Token, { readonly kind: 'end' }>): ShownTokenKind {
  if (token.kind === 'label') return 'name';
  if (token.kind === 'time') return 'moment';
  if (token.kind === 'unit' && !token.known) return 'bad';
  return token.kind;
}

/** Whether a unit may follow the token. */
function unitPlace(previous: Token | undefined): 'number' | 'as' | undefined {
  if (previous?.kind === 'number') return 'number';
  if (previous?.kind === 'punctuation' && previous.sign === '?') return 'number';
  if (previous?.kind === 'word' && previous.word === 'as') return 'as';
  return undefined;
}

/** What stands for a unit where one may follow; after `as` that is anything at all. */
function unitToken(
  text: string,
  at: number,
  previous: Token | undefined,
  context: UnitContext,
  joining: ReadonlySet<string>,
  offset: number,
): UnitToken | undefined {
  const after = unitPlace(previous);
  if (after === undefined) return undefined;
  const start = isSolid(text.charCodeAt(at)) ? at : skipped(SPACES, text, at);
  const unit = unitAt(text, start, after, context, joining);
  if (unit !== undefined) return unitOf(text, start, unit.end, unit.known, offset);
  const end = after === 'as' ? skipped(UNIT_LIKE, text, at) : at;
  return end > at ? unitOf(text, at, end, false, offset) : undefined;
}

function unitOf(
  text: string,
  start: number,
  end: number,
  known: boolean,
  offset: number,
): UnitToken {
  const span = { start: start + offset, end: end + offset };
  return { kind: 'unit', text: text.slice(start, end), span, known };
}

function tokenAt(
  text: string,
  at: number,
  previous: Token | undefined,
  joining: ReadonlySet<string>,
  offset: number,
): Token {
  const code = text.charCodeAt(at);
  if (isQuote(code)) return textToken(text, at, offset);
  if (isFigure(code) || (code === POINT && isFigure(text.charCodeAt(at + 1)))) {
    return figuresToken(text, at, offset);
  }
  const end = wordEnd(text, at);
  if (previous?.kind === 'punctuation' && (previous.sign === '(' || previous.sign === ',')) {
    const label = end > at ? labelEnd(text, at) : at;
    if (label > at) {
      const span = { start: at + offset, end: label + offset };
      return { kind: 'label', text: text.slice(at, label), span };
    }
  }
  if (end > at) return wordToken(text, at, end, joining, offset);
  if (code === POINT && text.startsWith('...', at) && !isFigure(text.charCodeAt(at + 3))) {
    const span = { start: at + offset, end: at + 3 + offset };
    const fixes = [{ label: 'Write ..', span, text: '..' }];
    return { kind: 'bad', text: '...', span, diagnostic: message('range-dots', span, [], fixes) };
  }
  const operator = operatorAt(text, at);
  if (operator !== undefined) {
    const span = { start: at + offset, end: at + operator.text.length + offset };
    return { kind: 'operator', text: operator.text, span, symbol: operator.symbol };
  }
  const sign = PUNCTUATION[code];
  if (sign !== undefined) {
    const span = { start: at + offset, end: at + offset + 1 };
    return { kind: 'punctuation', text: sign, span, sign };
  }
  return badToken(text, at, String.fromCodePoint(text.codePointAt(at) ?? 0), offset);
}

/** Where the label of an argument ends whose colon follows; the position itself when none is there. */
function labelEnd(text: string, at: number): number {
  if (!text.includes(':', at)) return at;
  const end = skipped(PLAIN_LABEL, text, at);
  const code = text.charCodeAt(end);
  const next = code === 0x20 || code === 0xa0 ? text.charCodeAt(end + 1) : code;
  if (next >= BEYOND_ASCII && !isSign(next)) return skipped(LABEL, text, at);
  const colon = blankEnd(text, end);
  return text.charAt(colon) === ':' && !isFigure(text.charCodeAt(colon + 1)) ? end : at;
}

function isFigure(code: number): boolean {
  return code >= 0x30 && code <= 0x39;
}

function wordToken(
  text: string,
  at: number,
  wordEnds: number,
  joining: ReadonlySet<string>,
  offset: number,
): Token {
  if (isJoining(text, at, wordEnds, joining)) {
    const word = text.slice(at, wordEnds);
    const span = { start: at + offset, end: wordEnds + offset };
    return { kind: 'word', text: word, span, word: word.toLowerCase() };
  }
  const end = nameEndAfter(text, wordEnds, joining);
  const name = text.slice(at, end);
  const span = { start: at + offset, end: end + offset };
  if (name.length === 4 && name.toLowerCase() === 'none')
    return { kind: 'word', text: name, span, word: 'none' };
  return { kind: 'name', text: name, span };
}

function textToken(text: string, at: number, offset: number): Token {
  const end = textEnd(text, at);
  if (end < 0) {
    const line = /[\r\n]/u.exec(text.slice(at));
    const place = placed(text, at, line === null ? text.length : at + line.index, offset);
    return { kind: 'bad', ...place, diagnostic: message('text-unclosed', place.span, []) };
  }
  return { kind: 'text', value: text.slice(at + 1, end - 1), ...placed(text, at, end, offset) };
}

/** A number, a date, a moment or a time of day: what follows the figures tells which it may be. */
function figuresToken(text: string, at: number, offset: number): Token {
  let end = at;
  while (isFigure(text.charCodeAt(end))) end++;
  const next = text.charAt(end);
  const other =
    next === '-' && end === at + 4
      ? momentToken(text, at, offset)
      : next === ':' && end <= at + 2
        ? timeToken(text, at, offset)
        : next === '/' && end === at + 1
          ? gaugeToken(text, at, offset)
          : undefined;
  return other ?? numberToken(text, at, numberEnd(text, at, end), offset);
}

function momentToken(text: string, at: number, offset: number): Token | undefined {
  DATE.lastIndex = at;
  const date = DATE.exec(text);
  if (date === null) {
    const end = skipped(LOOSE_DATE, text, at);
    if (end === at) return undefined;
    const place = placed(text, at, end, offset);
    return { kind: 'bad', ...place, diagnostic: message('date-digits', place.span, [place.text]) };
  }
  const [all, year, month, day, hours, minutes] = date;
  const place = placed(text, at, at + all.length, offset);
  const days = daysFromDate(Number(year), Number(month), Number(day));
  if (days === undefined) {
    const written = all.slice(0, 10);
    return { kind: 'bad', ...place, diagnostic: message('date-wrong', place.span, [written]) };
  }
  if (hours === undefined) return { kind: 'moment', days, ...place };
  const time = minutesOfDay(hours, minutes);
  if (time === undefined) {
    const written = all.slice(11);
    return { kind: 'bad', ...place, diagnostic: message('time-wrong', place.span, [written]) };
  }
  return secondsAfter(text, at, place, offset) ?? { kind: 'moment', days, minutes: time, ...place };
}

function timeToken(text: string, at: number, offset: number): Token | undefined {
  TIME.lastIndex = at;
  const time = TIME.exec(text);
  if (time === null) return undefined;
  const place = placed(text, at, at + time[0].length, offset);
  const minutes = minutesOfDay(time[1], time[2]);
  if (minutes === undefined) {
    return { kind: 'bad', ...place, diagnostic: message('time-wrong', place.span, [place.text]) };
  }
  return secondsAfter(text, at, place, offset) ?? { kind: 'time', minutes, ...place };
}

function secondsAfter(
  text: string,
  at: number,
  place: { readonly text: string },
  offset: number,
): Token | undefined {
  const end = skipped(SECONDS, text, at + place.text.length);
  if (end === at + place.text.length) return undefined;
  const whole = placed(text, at, end, offset);
  return { kind: 'bad', ...whole, diagnostic: message('time-seconds', whole.span, [whole.text]) };
}

function minutesOfDay(hours: string | undefined, minutes: string | undefined): number | undefined {
  const total = Number(hours) * 60 + Number(minutes);
  return Number(minutes) < 60 && total <= 1440 ? total : undefined;
}

function gaugeToken(text: string, at: number, offset: number): Token | undefined {
  GAUGE.lastIndex = at;
  const gauge = GAUGE.exec(text);
  if (gauge === null) return undefined;
  const place = placed(text, at, at + gauge[0].length, offset);
  return { kind: 'number', value: 0, gauge: 1 - Number(gauge[1]), ...place };
}

function numberToken(text: string, at: number, end: number, offset: number): Token {
  const comma = text.charAt(end) === ',' ? decimalComma(text, at, end, offset) : undefined;
  if (comma !== undefined) return comma;
  const written = text.slice(at, end);
  const span = { start: at + offset, end: end + offset };
  const value = Number(written);
  if (!Number.isFinite(value)) {
    return {
      kind: 'bad',
      text: written,
      span,
      diagnostic: message('number-huge', span, [written]),
    };
  }
  return { kind: 'number', text: written, span, value };
}

/** `1,5`, where a point or a space is missing. */
function decimalComma(text: string, at: number, end: number, offset: number): BadToken | undefined {
  const commaEnd = skipped(DECIMAL_COMMA, text, end);
  if (commaEnd === end) return undefined;
  const written = text.slice(at, commaEnd);
  const meant = written.replace(',', '.');
  const apart = written.replace(',', ', ');
  const whole = { start: at + offset, end: commaEnd + offset };
  const fixes = [
    { label: `Write ${meant}`, span: whole, text: meant },
    { label: `Write ${apart}`, span: whole, text: apart },
  ];
  const span = { start: end + offset, end: commaEnd + offset };
  const diagnostic = message('decimal-comma', span, [written, meant, apart], fixes);
  return { kind: 'bad', ...placed(text, at, commaEnd, offset), diagnostic };
}

/** Where a number ends whose first figures do at `figures`; only with an exponent it takes the pattern. */
function numberEnd(text: string, at: number, figures: number): number {
  let end = figures;
  if (end > at && text.charCodeAt(end) === POINT && isFigure(text.charCodeAt(end + 1))) {
    end++;
    while (isFigure(text.charCodeAt(end))) end++;
  }
  const next = text.charAt(end);
  return end === at || next === 'e' || next === 'E'
    ? Math.max(at + 1, skipped(NUMBER, text, at))
    : end;
}

function badToken(text: string, at: number, character: string, offset: number): Token {
  const place = placed(text, at, at + character.length, offset);
  const { span } = place;
  const removal = [{ label: 'Delete it', span, text: '' }];
  if (INVISIBLE.test(character)) {
    const code = `U+${(text.codePointAt(at) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
    return {
      kind: 'bad',
      ...place,
      diagnostic: message('character-invisible', span, [code], removal),
    };
  }
  if (/[–—]/u.test(character)) {
    return { kind: 'bad', ...place, diagnostic: message('dash-long', span, []) };
  }
  return {
    kind: 'bad',
    ...place,
    diagnostic: message('character-unknown', span, [character], removal),
  };
}

function placed(
  text: string,
  start: number,
  end: number,
  offset: number,
): { readonly text: string; readonly span: Span } {
  return { text: text.slice(start, end), span: { start: start + offset, end: end + offset } };
}

/** Whether a character is certainly no white space: most of ASCII, letters and signs beyond it. */
function isSolid(code: number): boolean {
  return (
    (code > 0x20 && code < 0x7f) ||
    (code > 0xa0 && code < 0x1680) ||
    (code > 0x205f && code < 0x3000)
  );
}

/** Where white space ends. */
function blankEnd(text: string, position: number): number {
  const code = text.charCodeAt(position);
  if (isSolid(code)) return position;
  if (code === 0x20 && isSolid(text.charCodeAt(position + 1))) return position + 1;
  return skipped(BLANK, text, position);
}

/** Where a sticky pattern ends, or the position itself when it does not match there. */
function skipped(pattern: RegExp, text: string, position: number): number {
  if (position >= text.length) return position;
  pattern.lastIndex = position;
  return position + (pattern.exec(text)?.[0].length ?? 0);
}
