// Where a unit after a number ends. A unit is written without spaces; each further part must be a
// unit and must not begin a longer phrase, so that `400 W/panel voltage` and `12 V/A rating` divide
// by cells while `400 W/h` is a unit.

import { isJoining, laterWordAt, wordAt } from '../source/name.ts';
import type { UnitContext } from './token.ts';

const PART =
  /(?:Δ?°[CFNSEW]?|%|[\p{L}]+)(?:⁻?[¹²³⁰⁴-⁹]+|\^-?[0-9]+|[0-9]+)?(?![\p{L}\p{M}\p{Nd}_'’])/uy;
const POWER = /(?:⁻?[¹²³⁰⁴-⁹]+|\^-?[0-9]+)$/u;

/** Words that are units only where one must stand. */
const ALWAYS: ReadonlySet<string> = new Set(['AWG']);

export interface FoundUnit {
  readonly end: number;
  readonly known: boolean;
}

/** The unit that begins at a position, if one does. `after` tells what stands before it. */
export function unitAt(
  text: string,
  start: number,
  after: 'number' | 'as',
  context: UnitContext,
  joining: ReadonlySet<string>,
): FoundUnit | undefined {
  if (text.charCodeAt(start) === 0x31) return inverseAt(text, start, context, joining);
  const first = partAt(text, start);
  if (first === undefined || isJoining(first, 0, first.length, joining)) return undefined;
  const isUnit = (part: string): boolean =>
    part === 'times' ? after === 'as' : ALWAYS.has(part) || context.isUnit(part);
  let end = start + first.length;
  if (!isUnit(first)) {
    // A power belongs to the unit, so a unit that cannot be raised is not quietly left bare.
    const bare = first.replace(POWER, '');
    return bare !== first && isUnit(bare) ? { end, known: false } : undefined;
  }
  if (
    after === 'number' &&
    isHyphen(text.charCodeAt(end)) &&
    /^\p{L}/u.test(text.slice(end + 1, end + 3))
  ) {
    return { end: start + (wordAt(text, start) ?? first).length, known: false };
  }
  end = furtherEnd(text, start, end, isUnit, joining);
  return { end, known: true };
}

/** Where a unit ends that reaches `end` at least. */
function furtherEnd(
  text: string,
  start: number,
  end: number,
  isUnit: (part: string) => boolean,
  joining: ReadonlySet<string>,
): number {
  while (isSeparator(text.charCodeAt(end))) {
    const part = partAt(text, end + 1);
    if (part === undefined || !isUnit(part) || beginsPhrase(text, end + 1, part, joining)) break;
    const next = end + 1 + part.length;
    if (!isUnit(text.slice(start, next))) break;
    end = next;
  }
  return end;
}

/** `1/K`, `1/m/s`: what is counted a kelvin. */
function inverseAt(
  text: string,
  start: number,
  { isUnit }: UnitContext,
  joining: ReadonlySet<string>,
): FoundUnit | undefined {
  if (text.charCodeAt(start + 1) !== 0x2f) return undefined;
  const end = furtherEnd(text, start, start + 1, (part) => isUnit(part), joining);
  return end > start + 1 ? { end, known: true } : undefined;
}

function isHyphen(code: number): boolean {
  return code === 0x2d || code === 0x2010 || code === 0x2011;
}

/** `/`, `·` and `⋅`. */
function isSeparator(code: number): boolean {
  return code === 0x2f || code === 0xb7 || code === 0x22c5;
}

function partAt(text: string, position: number): string | undefined {
  // A sign, or the end: no unit begins with it.
  const code = text.charCodeAt(position);
  if (!(code >= 0x41) && code !== 0x25) return undefined;
  if (code === 0xd7) return undefined;
  const end = plainPartEnd(text, position);
  if (end > position) return text.slice(position, end);
  PART.lastIndex = position;
  return PART.exec(text)?.[0];
}

/**
 * Where `%`, `°C` or plain letters end, with ² or ³ behind them, when what follows is no part of them;
 * the position itself in every other case, which the pattern knows.
 */
function plainPartEnd(text: string, position: number): number {
  const first = text.charCodeAt(position);
  let end = position;
  if (first === 0x25) end++;
  else if (first === 0xb0) end += 'CFNSEW'.includes(text.charAt(position + 1) || ' ') ? 2 : 1;
  else while (isLetter(text.charCodeAt(end))) end++;
  if (end === position) return position;
  const power = text.charCodeAt(end);
  if (power === 0xb2 || power === 0xb3) end++;
  const next = text.charCodeAt(end);
  const isOver =
    Number.isNaN(next) ||
    next === 0x20 ||
    (next > 0x27 && next < 0x30) ||
    next === 0x3a ||
    next === 0x5d ||
    isSeparator(next);
  return isOver ? end : position;
}

/** A letter of ASCII, µ and Ω. */
function isLetter(code: number): boolean {
  if (code >= 0x80) return code === 0xb5 || code === 0x3bc || code === 0x3a9 || code === 0x2126;
  return (code >= 0x61 && code <= 0x7a) || (code >= 0x41 && code <= 0x5a);
}

function beginsPhrase(
  text: string,
  start: number,
  part: string,
  joining: ReadonlySet<string>,
): boolean {
  const word = wordAt(text, start);
  if (word === undefined || word.length < part.length) return false;
  if (word.length > part.length) return true;
  const end = start + part.length;
  const next = text.charAt(end);
  if (next === '(') return true;
  if (next === '.') return wordAt(text, end + 1) !== undefined;
  if (next !== ' ' && next !== '\u00a0' && next !== '\u202f') return false;
  const later = laterWordAt(text, end + 1);
  return later !== undefined && !isJoining(later, 0, later.length, joining);
}
