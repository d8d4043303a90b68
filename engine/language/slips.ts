// Slips of the pen that make a formula unreadable, or readable as something else, and what was most
// likely meant. They are looked for only where the parser has stopped, so that what can be read is
// always read as it is written; dates with strokes alone would be read as divisions.

import type { Diagnostic } from '../source/diagnostic.ts';
import { type MessageCode, message } from '../source/messages.ts';
import type { Span } from '../source/span.ts';
import { daysFromDate } from './calendar.ts';
import type { UnitContext } from './token.ts';

interface Found {
  readonly code: MessageCode;
  /** Words for the sentence. */
  readonly parts: readonly string[];
  /** What to put in place of the whole match, when there is one answer. */
  readonly fix?: string;
  /** How far into the match the message stands. */
  readonly into?: number;
}

interface Slip {
  readonly pattern: RegExp;
  readonly read: (match: RegExpExecArray, context: UnitContext) => Found | undefined;
}

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const MONTH = `(?:${MONTHS.join('|')})[a-z]{0,6}\\.?`;

function isoDate(year: number, month: number, day: number): string | undefined {
  if (daysFromDate(year, month, day) === undefined) return undefined;
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
}

function monthOf(word: string): number {
  return MONTHS.indexOf(word.slice(0, 3).toLowerCase()) + 1;
}

/** A date in one or two readings. */
function dateFound(written: string, ...dates: readonly (string | undefined)[]): Found | undefined {
  const [first, ...more] = [...new Set(dates.filter((date) => date !== undefined))];
  if (first === undefined) return undefined;
  const meant = [first, ...more].join(' or ');
  return {
    code: 'date-order',
    parts: [written, meant],
    ...(more.length > 0 ? {} : { fix: first }),
  };
}

/** Fractions with a sign of their own. */
const FRACTIONS: Readonly<Record<string, number>> = { '½': 0.5, '¼': 0.25, '¾': 0.75 };

/** 3 for ³, -2 for ⁻². */
function lowered(raised: string): string {
  return [...raised]
    .map((sign) => '⁻⁰¹²³⁴⁵⁶⁷⁸⁹'.indexOf(sign) - 1)
    .join('')
    .replaceAll('-1', '-');
}

/** Dates written with strokes: these alone are looked for in what could be read. */
const STROKES: readonly Slip[] = [
  {
    pattern: /(?<![\p{L}\d./])(\d{1,2})\/(\d{1,2})\/(\d{4})(?![\p{L}\d./])/gu,
    read: ([all, a, b, year]) =>
      dateFound(
        all,
        isoDate(Number(year), Number(b), Number(a)),
        isoDate(Number(year), Number(a), Number(b)),
      ),
  },
  {
    pattern: /(?<![\p{L}\d./])(\d{4})\/(\d{1,2})\/(\d{1,2})(?![\p{L}\d./])/gu,
    read: ([all, year, month, day]) =>
      dateFound(all, isoDate(Number(year), Number(month), Number(day))),
  },
];

/** A tolerance typed as two signs that touch: it would add a negative. */
const TWO_SIGNS: Slip = {
  pattern: /(?<=[^\s+(,=] ?)\+-(?=\s?[\d.])/gu,
  read: ([all]) => ({
    code: 'sign-meant',
    parts: [all, '± for a tolerance, or + and - apart to add a negative'],
  }),
};

const meant =
  (code: MessageCode, to: string) =>
  ([all]: RegExpExecArray): Found => ({ code, parts: [all.trim(), to.trim()], fix: to });

const SLIPS: readonly Slip[] = [
  ...STROKES,
  {
    pattern: new RegExp(`\\b(${MONTH}) (\\d{1,2}),? (\\d{4})\\b`, 'giu'),
    read: ([all, month = '', day, year]) =>
      dateFound(all, isoDate(Number(year), monthOf(month), Number(day))),
  },
  {
    pattern: /(?<![\d.])(\d+) ?['′’] ?(\d+(?:\.\d+)?) ?["″”]/gu,
    read: ([all, feet, inches]) => {
      const sum = `(${feet} ft + ${inches} in)`;
      return { code: 'time-parts', parts: [all, sum], fix: sum };
    },
  },
  {
    pattern: /^\s*#\s?(\d{1,2})\b/gu,
    read: ([all, gauge = '']) => ({
      code: 'sign-meant',
      parts: [all.trim(), `${gauge} AWG`],
      fix: ` ${gauge} AWG`,
    }),
  },
  {
    pattern: /√ ?(\d+(?:\.\d+)?)?/gu,
    read: ([, number]) =>
      number === undefined
        ? { code: 'sign-meant', parts: ['√', 'sqrt(…)'], fix: 'sqrt' }
        : { code: 'sign-meant', parts: ['√', `sqrt(${number})`], fix: `sqrt(${number})` },
  },
  {
    pattern: /\|([^|]+)\|/gu,
    read: ([all, inner = '']) => ({
      code: 'sign-meant',
      parts: [all, `abs(${inner.trim()})`],
      fix: `abs(${inner.trim()})`,
    }),
  },
  {
    pattern: /(?:(?<!\d)(\d+))? ?([½¼¾])/gu,
    read: ([all, whole = '0', sign = '']) => {
      const number = String(Number(whole) + (FRACTIONS[sign] ?? 0));
      return { code: 'sign-meant', parts: [all, number], fix: number };
    },
  },
  {
    pattern:
      /(?<![\d.])(\d+(?:\.\d+)?) ?[·×*x] ?10(?:\^(-?\d+)|([⁻]?[⁰¹²³⁴⁵⁶⁷⁸⁹]+))(?: (?=\p{L})|(?!\d))/gu,
    read: ([all, digits, typed, raised = '']) => {
      const number = `${digits}e${typed ?? lowered(raised)}`;
      return {
        code: 'sign-meant',
        parts: [all.trim(), number],
        fix: all.endsWith(' ') ? `${number} ` : number,
      };
    },
  },
  {
    pattern:
      /((?<![\d.:])[\d.:]*\d(?: ?[\p{L}°µΩ%]+)?)[–—](\d[^\s)]*(?: (?!--)[\p{L}°µΩ%/·²³]+)?)/gu,
    read: ([all, low, high]) => ({
      code: 'range-word',
      parts: [/[–—]/u.exec(all)?.[0] ?? '–', `${low}..${high}, or - for minus`],
    }),
  },
  {
    pattern: /\bif ?\([^()]*,[^()]*/giu,
    read: () => ({ code: 'sign-meant', parts: ['if(…, …, …)', 'if … then … else …'] }),
  },
  {
    pattern:
      /\b(sqrt|abs|exp|ln|log10|sin|cos|tan|arcsin|arccos|arctan) (\d+(?:\.\d+)?(?: ?(?:°|deg\b|rad\b))?)/gu,
    read: ([all, name = '', amount = '']) => {
      const call = `${name}(${amount})`;
      return {
        code: 'call-missing',
        parts: [name, call],
        fix: call,
        into: all.length - amount.length,
      };
    },
  },
  {
    pattern: /\b(\d{1,2})\.(\d{1,2})\.(\d{4})\b/gu,
    read: ([all, day, month, year]) =>
      dateFound(all, isoDate(Number(year), Number(month), Number(day))),
  },
  {
    pattern: new RegExp(`\\b(\\d{1,2})\\.? (${MONTH}),? (\\d{4})\\b`, 'giu'),
    read: ([all, day, month = '', year]) =>
      dateFound(all, isoDate(Number(year), monthOf(month), Number(day))),
  },
  {
    pattern: /(?<![\d:.])(\d{1,2})(?:[:.](\d{2}))? ?([ap])\.?m\b(?:\.(?!\.))?/giu,
    read: ([all, hour, minute = '00', half = '']) => {
      const h = Number(hour);
      if (h < 1 || h > 12 || Number(minute) > 59) return undefined;
      const shown = (h % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
      const time = `${String(shown).padStart(2, '0')}:${minute}`;
      return { code: 'clock-halves', parts: [all, time], fix: time };
    },
  },
  {
    // 1.234,5 and 1,234.5 can only be one number; 1,234 may be two kinds.
    pattern: /(?<![\d.,])\d{1,3}(?:([.,'’])\d{3})(?:\1\d{3})*(?:[.,]\d+)?(?![\d.,'’])/gu,
    read: ([all, mark = '']) => {
      const groups = all.split(mark);
      const last = groups[groups.length - 1] ?? '';
      const isPlain = /^\d+$/u.test(last);
      if (mark === '.' && isPlain && groups.length === 2) return undefined;
      const number = groups.join('').replace(',', '.');
      return mark === ',' && isPlain && groups.length === 2
        ? {
            code: 'thousands',
            parts: [all, `${number}, or ${all.replace(',', '.')} for a decimal`],
          }
        : { code: 'thousands', parts: [all, number], fix: number };
    },
  },
  {
    pattern: /\b(\d+(?:\.\d+)?) ?h ?(\d{1,2})(?: ?(?:min|m))?\b/gu,
    read: ([all, hours, minutes]) => {
      const sum = `(${hours} h + ${minutes} min)`;
      return { code: 'time-parts', parts: [all, sum], fix: sum };
    },
  },
  {
    pattern: /\b(\d{1,3}):(\d{2}) ?h(?:ours?|rs?)?\b/gu,
    read: ([all, hours, minutes]) => {
      const sum = `(${hours} h + ${minutes} min)`;
      return { code: 'time-parts', parts: [all, sum], fix: sum };
    },
  },
  {
    pattern:
      /\b(\d+(?:\.\d+)?) ?(?:°|º|deg) ?(\d{1,2}(?:\.\d+)?) ?['′’](?: ?(\d+(?:\.\d+)?) ?["″”])?/gu,
    read: ([all, degrees, minutes, seconds = '0']) => {
      const angle = Number(degrees) + Number(minutes) / 60 + Number(seconds) / 3600;
      const written = `${Number(angle.toFixed(6))}°`;
      return { code: 'angle-parts', parts: [all, written], fix: written };
    },
  },
  {
    pattern:
      /((?<![\p{L}\d.])-?\d[\d.:]*(?: ?[\p{L}°µΩ%][\p{L}°µΩ%/·²³]*)?|(?<!\S)\S+) (to|until|till) ([\d.]\S*(?: (?!--)[\p{L}°µΩ%/·²³]+)?)/giu,
    read: ([, low, word = '', high]) => ({
      code: 'range-word',
      parts: [word, `${low}..${high}`],
      fix: `${low}..${high}`,
    }),
  },
  {
    pattern: /(?:->|=>|→|\b(?:in|to|into)\b) ?([\p{L}°µΩ%·/²³]+) ?$/giu,
    read: ([all, unit = ''], context) =>
      context.isUnit(unit)
        ? { code: 'sign-meant', parts: [all.trim(), `as ${unit}`], fix: `as ${unit}` }
        : undefined,
  },
  { pattern: /^ *==?(?!=)/gu, read: () => ({ code: 'sign-meant', parts: ['==', '='], fix: '' }) },
  { pattern: /===?/gu, read: meant('sign-meant', '=') },
  { pattern: /=>/gu, read: meant('sign-meant', '≥') },
  { pattern: /=</gu, read: meant('sign-meant', '≤') },
  { pattern: /<>/gu, read: meant('sign-meant', '≠') },
  { pattern: /\*\*/gu, read: meant('sign-meant', '^') },
  { pattern: /&&?/gu, read: meant('sign-meant', 'and') },
  { pattern: /\|\|/gu, read: meant('sign-meant', 'or') },
  { pattern: /!(?!=)/gu, read: meant('sign-meant', 'not ') },
  { pattern: /(?<=\s)(?:#|\/\/|\/\*)/gu, read: meant('note-mark', '--') },
  { pattern: /(?<=[\d\s])[xX](?=\s+[\p{L}\d(])/gu, read: meant('times-letter', ' × ') },
  { pattern: /(?<=\d)[xX](?=\d)/gu, read: meant('times-letter', ' × ') },
  { pattern: /(?<=[\d\p{L})%²³] ): (?=[\d(])/gu, read: meant('sign-meant', '/ ') },
  { pattern: /(?<=%\s*)\bof\b/gu, read: meant('share-of', '×') },
  {
    pattern: /(?<!\d)(\d+)\.(?=\s|$)/gu,
    read: ([all, number = '']) => ({ code: 'number-dot', parts: [all, number], fix: number }),
  },
  {
    pattern: /\?(?=[^?]*:)/gu,
    read: () => ({ code: 'sign-meant', parts: ['? :', 'if … then … else …'] }),
  },
  {
    pattern: /(?<=\d ?)["″'′’](?= |$)/gu,
    read: ([all]) => {
      const unit = /["″]/u.test(all) ? 'in' : 'ft';
      return { code: 'unit-hint', parts: [all, `Write ${unit}.`], fix: ` ${unit}` };
    },
  },
  {
    pattern: /(?<!\d)(\d+(?:\.\d+)? ?[\p{L}°µΩ%/·²³]+)\. ?$/gu,
    read: ([all, amount = '']) => ({ code: 'number-dot', parts: [all, amount], fix: amount }),
  },
  {
    pattern: /(?<=\d ?)(?:deg(?:rees?)?|°|º) ?([CF])\b/giu,
    read: ([all, scale = '']) => {
      const unit = `°${scale.toUpperCase()}`;
      return { code: 'unit-hint', parts: [all, `Write ${unit}.`], fix: unit };
    },
  },
  {
    pattern: /(?<=\d ?)[\p{L}Ω°µ%]+ per \p{L}+/giu,
    read: ([all], context) => {
      const hint = context.unitHint?.(all);
      return hint === undefined ? undefined : { code: 'unit-hint', parts: [all, hint] };
    },
  },
  {
    // A unit in two parts, or with a word behind it.
    pattern: /(?<=\d\s*)([\p{L}Ω°µ%]+) ([\p{L}]+)\b/gu,
    read: ([all, first = '', second = ''], context) => {
      if (!context.isUnit(first)) return undefined;
      if (/^(?:dc|ac)$/iu.test(second))
        return { code: 'unit-two', parts: [all, first], fix: first, into: first.length + 1 };
      if (!context.isUnit(second)) return undefined;
      const joined = context.isUnit(first + second) ? first + second : `${first}·${second}`;
      return { code: 'unit-two', parts: [all, joined], fix: joined, into: first.length + 1 };
    },
  },
];

/**
 * How far from there a slip may begin or end: a few of the patterns try every stretch of a text, and
 * thousands of figures in a row would keep them for hours.
 */
const REACH = 300;

/**
 * The slip at the place where the parser stopped, as a message of its own.
 *
 * @param offset  where the text stands in what spans count from
 */
export function slipAt(
  text: string,
  stopped: Span,
  context: UnitContext,
  offset: number,
): Diagnostic | undefined {
  const from = stopped.start - offset;
  const to = Math.min(stopped.end - offset, from + REACH);
  const near = { start: Math.max(0, from - REACH), end: Math.min(text.length, to + REACH) };
  return firstOf(SLIPS, text, near, context, offset, (start, end) => start <= to && end >= from);
}

/** A date with strokes, which is read as a division, and a tolerance that is read as a sum. */
export function strokedDate(
  text: string,
  context: UnitContext,
  offset: number,
): Diagnostic | undefined {
  const whole = { start: 0, end: text.length };
  if (text.includes('+-')) {
    const signs = firstOf([TWO_SIGNS], text, whole, context, offset, () => true);
    if (signs) return signs;
  }
  // Most strokes divide: the patterns for dates are dear to make ready.
  return text.includes('/') && /\d\/\d/.test(text)
    ? firstOf(STROKES, text, whole, context, offset, () => true)
    : undefined;
}

/** The first slip that lies within the stretch and is here. What a cut end might have made is none. */
function firstOf(
  slips: readonly Slip[],
  text: string,
  stretch: Span,
  context: UnitContext,
  offset: number,
  isHere: (start: number, end: number) => boolean,
): Diagnostic | undefined {
  const near = text.slice(stretch.start, stretch.end);
  for (const { pattern, read } of slips)
    for (const match of near.matchAll(pattern)) {
      const start = stretch.start + match.index;
      const end = start + match[0].length;
      if (start === stretch.start && start > 0) continue;
      if (end === stretch.end && end < text.length) continue;
      if (!isHere(start, end) || isQuoted(text, start)) continue;
      const found = read(match as RegExpExecArray, context);
      if (!found) continue;
      const { code, parts, fix, into = 0 } = found;
      const span = { start: start + offset, end: end + offset };
      const told = { start: span.start + into, end: span.end };
      const fixes = fix === undefined ? [] : [{ label: `Write ${fix.trim()}`, span, text: fix }];
      return message(code, told, parts as [string, string], fixes);
    }
  return undefined;
}

/** Whether a place stands inside a text. */
function isQuoted(text: string, at: number): boolean {
  return (text.slice(0, at).split(/["“”]/u).length - 1) % 2 === 1;
}
