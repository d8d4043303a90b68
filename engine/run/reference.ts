// The reference: every function, unit and joining word, described once beside its definition and
// handed out here for the page and the command line.

import { describeDimension } from '../check/describe.ts';
import { dimensionName } from '../dimension/dimension.ts';
import { findUnit, type Unit } from '../dimension/unit.ts';
import { unitRows } from '../dimension/unit-table.ts';
import { libraryFunctions } from '../library/library.ts';
import type { LibraryFunction } from '../library/signature.ts';
import { CATALOGUE } from '../source/catalogue.ts';
import type { CatalogueEntry } from '../source/catalogue-entry.ts';
import { nameKey } from '../source/name.ts';
import { parameterText } from './parameter-text.ts';

export interface ReferenceEntry {
  readonly name: string;
  readonly kind: 'function' | 'unit' | 'word' | 'message';
  readonly subject: string;
  /** How it is written: `resistance(of:, length:, at:)`. */
  readonly written: string;
  readonly meaning: string;
  readonly arguments: readonly { readonly name: string; readonly text: string }[];
  readonly result: string;
  readonly source: string;
  readonly example: string;
  readonly caution: string;
}

/** Joining words and what they do. */
export const WORDS: readonly (readonly [word: string, meaning: string, example: string])[] = [
  [
    'as',
    'Shows a value in another unit; area as AWG, power as dBm, a ratio as dB, dB as times.',
    '1500 m as km',
  ],
  [
    'with',
    'The same formula as if some cells were different; several changes go by commas.',
    'drop share with cable length = 20 m',
  ],
  [
    'within',
    'Lies inside a span, or within a tolerance; a moment lies within hours by its clock reading.',
    'x within 10..30 V',
  ],
  ['if', 'One value or another: if … then … else ….', 'if 2 > 1 then 5 W else 0 W'],
  ['and', 'Both hold.', '1 < 2 and 2 < 3'],
  ['or', 'At least one holds.', '1 > 2 or 2 < 3'],
  ['not', 'Does not hold.', 'not 1 > 2'],
  [
    'against',
    'In a chart line: the given that is swept, or the item on the other axis.',
    'chart drop share against cable length = 5 m..50 m',
  ],
];

/** All functions, in the order of the library. */
export function referenceFunctions(): readonly ReferenceEntry[] {
  return [...libraryFunctions.values()].map(functionEntry);
}

/** The joining words. */
export function referenceWords(): readonly ReferenceEntry[] {
  return WORDS.map(wordEntry);
}

/** Units by the dimension they measure; one entry a dimension, all its symbols in it. */
export function referenceUnits(): readonly ReferenceEntry[] {
  const byDimension = new Map<string, string[]>();
  for (const { symbol, dimension } of unitRows) {
    const name = dimensionName(dimension);
    byDimension.set(name, [...(byDimension.get(name) ?? []), symbol]);
  }
  return [...byDimension].map(([name, symbols]) => ({
    name,
    kind: 'unit',
    subject: 'units',
    written: symbols.join('  '),
    meaning: name,
    arguments: [],
    result: '',
    source: 'SI Brochure, 9th ed.; NIST SP 811 (2008), App. B; ASTM B258 for AWG',
    example: '',
    caution: '',
  }));
}

/** All messages, in the order of the catalogue. */
export function referenceMessages(): readonly ReferenceEntry[] {
  return [...CATALOGUE].map(([code, entry]) => messageEntry(code, entry));
}

/** What is known by this name: a function, a unit, a joining word, a message. */
export function referenceOf(name: string): ReferenceEntry | undefined {
  const key = nameKey(name.trim());
  const fn = libraryFunctions.get(key);
  if (fn) return functionEntry(fn);
  const word = WORDS.find(([w]) => w === key);
  if (word) return wordEntry(word);
  const unit = findUnit(name.trim());
  if (unit) return unitEntry(unit);
  const message = CATALOGUE.get(key);
  return message ? messageEntry(key, message) : undefined;
}

/** Longer samples show their beginning. */
const SAMPLE_SHOWN = 300;

function messageEntry(code: string, entry: CatalogueEntry): ReferenceEntry {
  const { sample } = entry;
  return {
    name: code,
    kind: 'message',
    subject: 'messages',
    written: code,
    meaning: `${entry.meaning} ${entry.remedy}`,
    arguments: [],
    result: '',
    source: '',
    example: sample.length > SAMPLE_SHOWN ? `${sample.slice(0, SAMPLE_SHOWN)} …` : sample,
    caution: '',
  };
}

function functionEntry(fn: LibraryFunction): ReferenceEntry {
  const written = fn.parameters
    .map((p, i) => (i < fn.positional ? p.name : `${p.name}:`))
    .join(', ');
  return {
    name: fn.name,
    kind: 'function',
    subject: fn.subject,
    written: `${fn.name}(${written})`,
    meaning: fn.meaning,
    arguments: fn.parameters.map((p) => ({ name: p.name, text: parameterText(p) })),
    result: resultText(fn),
    source: fn.source,
    example: [...(fn.example.before ?? []), `${fn.example.formula}  →  ${fn.example.gives}`].join(
      '\n',
    ),
    caution: fn.caution ?? '',
  };
}

function resultText(fn: LibraryFunction): string {
  const { result } = fn;
  switch (result.kind) {
    case 'quantity':
      return result.stance === 'moment'
        ? 'a moment'
        : result.stance === 'level'
          ? 'a level (dBm)'
          : describeDimension(result.dimension, result.unit);
    case 'record':
      return `a record (${result.sort})${result.fields.length > 0 ? `: ${result.fields.map((f) => f.name).join(', ')}` : ''}`;
    case 'form':
      return result.text;
    case 'truth':
      return 'yes or no';
    default:
      return `a ${result.kind}`;
  }
}

function wordEntry([word, meaning, example]: (typeof WORDS)[number]): ReferenceEntry {
  return {
    name: word,
    kind: 'word',
    subject: 'words',
    written: word,
    meaning,
    arguments: [],
    result: '',
    source: '',
    example,
    caution: '',
  };
}

function unitEntry(unit: Unit): ReferenceEntry {
  const size =
    unit.isPoint || unit.scale ? '' : ` One ${unit.symbol} is ${unit.factor} in basic SI units.`;
  return {
    name: unit.symbol,
    kind: 'unit',
    subject: dimensionName(unit.dimension),
    written: unit.symbol,
    meaning: unit.isPoint
      ? `A point on the scale of ${unit.symbol}.`
      : `A unit of ${dimensionName(unit.dimension)}.${size}`,
    arguments: [],
    result: '',
    source: 'SI Brochure, 9th ed.; NIST SP 811 (2008), App. B; ASTM B258 for AWG',
    example: '',
    caution: '',
  };
}
