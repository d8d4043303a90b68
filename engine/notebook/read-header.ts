// The first lines of a notebook: the format's version, then `key: text` up to a blank line. A header
// with mistakes still gives one, with the usual values and messages about the lines.

import type { Diagnostic } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';
import type { Line } from './lines.ts';
import { trimmed } from './lines.ts';
import type { Header, Place } from './notebook.ts';

/** The version of the format that this program writes. */
export const FORMAT_VERSION = 1;
export const USUAL_TRIALS = 500;
export const MOST_TRIALS = 10_000;
export const USUAL_SEED = 1;
const MOST_SEED = 4_294_967_295;
const KEYS: ReadonlySet<string> = new Set(['title', 'place', 'units', 'trials', 'seed']);
const FIRST_LINE = /^\ufeff?\s*dapple[ \t\u00a0]+([0-9]{1,9})\s*$/iu;
const KEY_LINE = /^([\p{L}_-]+)\s*:(.*)$/u;

export interface ReadHeader {
  readonly header: Header;
  /** How many lines belong to it, the blank one after it included. */
  readonly lines: number;
  readonly diagnostics: readonly Diagnostic[];
}

export function readHeader(text: string, lines: readonly Line[]): ReadHeader {
  const diagnostics: Diagnostic[] = [];
  const first = lines[0];
  const opening = first === undefined ? null : FIRST_LINE.exec(text.slice(first.start, first.end));
  const plain: Header = {
    version: FORMAT_VERSION,
    units: [],
    unitSpans: [],
    trials: USUAL_TRIALS,
    seed: USUAL_SEED,
  };
  if (first === undefined || opening === null) {
    const span = { start: 0, end: first?.end ?? 0 };
    const start = text.startsWith('\ufeff') ? 1 : 0;
    const fix = {
      label: 'Write "dapple 1"',
      span: { start, end: start },
      text: `dapple ${FORMAT_VERSION}\n\n`,
    };
    return { header: plain, lines: 0, diagnostics: [message('header-missing', span, [], [fix])] };
  }
  const version = Number(opening[1]);
  if (version > FORMAT_VERSION) {
    diagnostics.push(message('version-newer', first, [String(version)]));
  }
  const values = new Map<string, { readonly text: string; readonly start: number }>();
  let count = 1;
  for (; count < lines.length; count += 1) {
    const line = lines[count];
    if (line === undefined) break;
    const source = text.slice(line.start, line.end);
    if (source.trim() === '') {
      count += 1;
      break;
    }
    const found = KEY_LINE.exec(source);
    if (found === null) {
      if (!/^\s/u.test(source)) break;
      diagnostics.push(message('header-line', line, []));
      continue;
    }
    const key = (found[1] ?? '').toLowerCase();
    const span = { start: line.start, end: line.start + (found[1]?.length ?? 0) };
    if (!KEYS.has(key)) diagnostics.push(message('header-unknown', span, [found[1] ?? '']));
    else if (values.has(key)) diagnostics.push(message('header-twice', span, [key]));
    else {
      const place = trimmed(text, line.end - (found[2]?.length ?? 0), line.end);
      values.set(key, { text: text.slice(place.start, place.end), start: place.start });
    }
  }
  const title = values.get('title')?.text;
  const placeText = values.get('place');
  const place =
    placeText === undefined ? undefined : readPlace(placeText.text, placeText.start, diagnostics);
  const header: Header = {
    version,
    ...(title === undefined ? {} : { title }),
    ...(place === undefined ? {} : { place }),
    ...unitWords(values.get('units')),
    trials: wholeNumber(
      values.get('trials'),
      1,
      MOST_TRIALS,
      USUAL_TRIALS,
      'trials-wrong',
      diagnostics,
    ),
    seed: wholeNumber(values.get('seed'), 0, MOST_SEED, USUAL_SEED, 'seed-wrong', diagnostics),
  };
  return { header, lines: count, diagnostics };
}

/** Preferred units with commas between. */
function unitWords(
  written: { readonly text: string; readonly start: number } | undefined,
): Pick<Header, 'units' | 'unitSpans'> {
  const found = [...(written?.text ?? '').matchAll(/[^\s,](?:[^,]*[^\s,])?/gu)];
  return {
    units: found.map(([word]) => word),
    unitSpans: found.map(({ 0: word, index }) => {
      const start = (written?.start ?? 0) + index;
      return { start, end: start + word.length };
    }),
  };
}

function wholeNumber(
  written: { readonly text: string; readonly start: number } | undefined,
  least: number,
  most: number,
  usual: number,
  code: 'trials-wrong' | 'seed-wrong',
  diagnostics: Diagnostic[],
): number {
  if (written === undefined) return usual;
  const value = /^[0-9]+$/u.test(written.text) ? Number(written.text) : Number.NaN;
  if (value >= least && value <= most) return value;
  const span = { start: written.start, end: written.start + written.text.length };
  diagnostics.push(message(code, span, [written.text]));
  return usual;
}

const ANGLE = /^([+-]?[0-9]+(?:\.[0-9]+)?)\s*(?:°|deg)?\s*([NSEW])$/iu;
const HEIGHT = /^([+-]?[0-9]+(?:\.[0-9]+)?)\s*(m|km|ft)$/u;
const OFFSET = /^(?:UTC|GMT)(?:([+-])([0-9]{1,2})(?::?([0-9]{2}))?)?$/iu;
const METRES: Readonly<Record<string, number>> = { m: 1, km: 1000, ft: 0.3048 };

/**
 * `44.5 °N, 110.2 °W, 2100 m, UTC-6` in any order. Undefined, with a message, when latitude or
 * longitude is missing or a part cannot be read; a missing height or offset is said and taken as 0.
 */
function readPlace(text: string, start: number, diagnostics: Diagnostic[]): Place | undefined {
  const found = new Map<'latitude' | 'longitude' | 'altitude' | 'offset', number>();
  let readable = true;
  let at = start;
  for (const written of text.split(',')) {
    const place = trimmed(written, 0, written.length);
    const part = written.trim();
    const span = { start: at + place.start, end: at + place.end };
    at += written.length + 1;
    const value = readPlacePart(part.replace('−', '-'));
    if (value === undefined || found.has(value.key)) {
      diagnostics.push(message('place-wrong', span, [part]));
      readable = false;
    } else if (value.number < value.least || value.number > value.most) {
      diagnostics.push(message('place-range', span, [part]));
      readable = false;
    } else {
      found.set(value.key, value.number);
    }
  }
  if (!readable) return undefined;
  const whole = { start, end: start + text.length };
  const latitude = found.get('latitude');
  const longitude = found.get('longitude');
  if (latitude === undefined || longitude === undefined) {
    diagnostics.push(message('place-incomplete', whole, []));
    return undefined;
  }
  if (!found.has('altitude')) diagnostics.push(message('place-height', whole, []));
  if (!found.has('offset')) diagnostics.push(message('place-offset', whole, []));
  return {
    latitude: (latitude * Math.PI) / 180,
    longitude: (longitude * Math.PI) / 180,
    altitude: found.get('altitude') ?? 0,
    offset: found.get('offset') ?? 0,
  };
}

interface PlacePart {
  readonly key: 'latitude' | 'longitude' | 'altitude' | 'offset';
  readonly number: number;
  readonly least: number;
  readonly most: number;
}

function readPlacePart(part: string): PlacePart | undefined {
  const angle = ANGLE.exec(part);
  if (angle !== null) {
    const letter = (angle[2] ?? '').toUpperCase();
    const number = Number(angle[1]) * (letter === 'S' || letter === 'W' ? -1 : 1);
    if (letter === 'N' || letter === 'S') return { key: 'latitude', number, least: -90, most: 90 };
    return { key: 'longitude', number, least: -180, most: 180 };
  }
  const height = HEIGHT.exec(part);
  if (height !== null) {
    const number = Number(height[1]) * (METRES[height[2] ?? 'm'] ?? 1);
    return { key: 'altitude', number, least: -430, most: 9000 };
  }
  const offset = OFFSET.exec(part);
  if (offset === null) return undefined;
  const minutes = Number(offset[3] ?? 0);
  if (minutes > 59) return undefined;
  const seconds = (Number(offset[2] ?? 0) * 60 + minutes) * 60;
  const number = offset[1] === '-' && seconds !== 0 ? -seconds : seconds;
  return { key: 'offset', number, least: -12 * 3600, most: 14 * 3600 };
}
