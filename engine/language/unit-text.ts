// Where a unit after a number ends. A unit is written without spaces; each further part must be a
// unit and must not begin a longer phrase, so that `400 W/panel voltage` and `12 V/A rating` divide
// by cells while `400 W/h` is a unit.

import { laterWordAt, wordAt } from '../source/name.ts';
import type { UnitContext } from './token.ts';

const PART =
  /(?:Δ?°[CFNSEW]?|%|[\p{L}]+)(?:⁻?[¹²³⁰⁴-⁹]+|\^-?[0-9]+|[0-9]+)?(?![\p{L}\p{M}\p{Nd}_'’])/uy;
const SEPARATOR = /[/·⋅]/u;
const POWER = /(?:⁻?[¹²³⁰⁴-⁹]+|\^-?[0-9]+)$/u;
const SPACE = /[ \u00a0\u202f]/u;

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
  const first = partAt(text, start);
  if (first === undefined || joining.has(first.toLowerCase())) return undefined;
  const isUnit = (part: string): boolean =>
    part === 'times' ? after === 'as' : ALWAYS.has(part) || context.isUnit(part);
  let end = start + first.length;
  if (!isUnit(first)) {
    // A power belongs to the unit, so a unit that cannot be raised is not quietly left bare.
    const bare = first.replace(POWER, '');
    return bare !== first && isUnit(bare) ? { end, known: false } : undefined;
  }
  if (after === 'number' && /^[-\u2010\u2011]\p{L}/u.test(text.slice(end, end + 3))) {
    return { end: start + (wordAt(text, start) ?? first).length, known: false };
  }
  while (SEPARATOR.test(text.charAt(end))) {
    const part = partAt(text, end + 1);
    if (part === undefined || !isUnit(part) || beginsPhrase(text, end + 1, part, joining)) break;
    const next = end + 1 + part.length;
    if (!isUnit(text.slice(start, next))) break;
    end = next;
  }
  return { end, known: true };
}

function partAt(text: string, position: number): string | undefined {
  // A sign, or the end: no unit begins with it.
  const code = text.charCodeAt(position);
  if (!(code >= 0x41) && code !== 0x25) return undefined;
  if (code === 0xd7) return undefined;
  PART.lastIndex = position;
  return PART.exec(text)?.[0];
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
  if (!SPACE.test(next)) return false;
  const later = laterWordAt(text, end + 1);
  return later !== undefined && !joining.has(later.toLowerCase());
}
