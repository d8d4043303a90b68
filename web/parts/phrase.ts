// A formula at rest: a phrase in the reading face, a dotted line under every cell it names, and a
// wavy one under the exact characters a message is about.

import { html, nothing, type TemplateResult } from 'lit';
import type { FormulaPart, Message } from '../../engine/index.ts';

const CLASS: Readonly<Record<FormulaPart['kind'], string>> = {
  plain: '',
  cell: 'ref',
  function: 'fn',
  number: 'num',
  unit: 'num',
  word: 'kw',
  operator: 'op',
  text: 'num',
};

const SIGNS: Readonly<Record<string, string>> = {
  '-': '−',
  '*': '×',
  '<=': '≤',
  '>=': '≥',
  '!=': '≠',
};

/** An operator as it is read; what was typed on a plain keyboard stays in the file. */
function shown(part: FormulaPart): string {
  if (part.kind !== 'operator') return part.text;
  return part.text.replace(/[<>!]=|[-*]/g, (sign) => SIGNS[sign] ?? sign);
}

export interface Mark {
  readonly start: number;
  readonly end: number;
}

/** Parts cut where a mark begins or ends, so that each piece is either marked or not. */
export function cutAtMarks(
  parts: readonly FormulaPart[],
  marks: readonly Mark[],
): readonly { readonly part: FormulaPart; readonly marked: boolean }[] {
  const pieces: { part: FormulaPart; marked: boolean }[] = [];
  let from = 0;
  for (const part of parts) {
    const end = from + part.text.length;
    const cuts = new Set([from, end]);
    for (const mark of marks) {
      if (mark.start > from && mark.start < end) cuts.add(mark.start);
      if (mark.end > from && mark.end < end) cuts.add(mark.end);
    }
    const places = [...cuts].sort((a, b) => a - b);
    places.slice(0, -1).forEach((start, index) => {
      const stop = places[index + 1] ?? end;
      const marked = marks.some((mark) => mark.start <= start && mark.end >= stop);
      pieces.push({ part: { ...part, text: part.text.slice(start - from, stop - from) }, marked });
    });
    from = end;
  }
  return pieces;
}

/**
 * A formula as a phrase.
 *
 * @param source   the item's own text, which the messages' spans count in
 * @param formula  the formula as written in it
 */
export function phrase(
  parts: readonly FormulaPart[],
  formula: string,
  source: string,
  messages: readonly Message[],
): TemplateResult[] | typeof nothing {
  if (parts.length === 0 && formula === '') return nothing;
  const offset = Math.max(0, source.indexOf(formula, Math.max(0, source.indexOf('=') + 1)));
  const marks = messages.map(({ span }) => ({
    start: span.start - offset,
    end: Math.max(span.end - offset, span.start - offset + 1),
  }));
  const joined = parts.map((part) => part.text).join('');
  const exact = marks.length === 0 || joined === formula;
  const pieces: readonly FormulaPart[] = exact ? parts : [{ text: formula, kind: 'plain' }];
  return cutAtMarks(pieces, marks).map(({ part, marked }) => {
    const names = `${CLASS[part.kind]}${marked ? ' bad' : ''}`.trim();
    if (names === '') return html`${part.text}`;
    return html`<span class=${names} data-key=${part.key ?? nothing}>${shown(part)}</span>`;
  });
}

/** A formula's parts without messages, as in the bench. */
export function plainPhrase(parts: readonly FormulaPart[]): TemplateResult[] {
  return parts.map((part) =>
    CLASS[part.kind] === ''
      ? html`${part.text}`
      : html`<span class=${CLASS[part.kind]} data-key=${part.key ?? nothing}>${shown(part)}</span>`,
  );
}
