// What the editor is asked to do at the place being edited: how its text is looked at while it is
// typed, what can be completed, and where it goes when it is kept.

import { type Preview, type ShownSignature, tidyFormula } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { rowName } from '../parts/place.ts';
import type { EditorTask } from './formula-editor.ts';

interface Told {
  /** The edit is over, kept or dropped. */
  readonly settled: () => void;
  readonly signed: (signature: ShownSignature | undefined) => void;
  readonly previewed: (preview: Preview | undefined) => void;
}

/** The part of a text that is a formula, and the cell it would belong to. */
interface FormulaPart {
  readonly key: string;
  readonly formula: string;
  readonly offset: number;
}

/** A line `name = formula`; undefined for every other kind of line. */
export function formulaOfLine(line: string): FormulaPart | undefined {
  const found = line.match(/^([\p{L}][^=|#!]*?)\s*=\s*/u);
  if (!found || line.includes('\n')) return undefined;
  const offset = found[0].length;
  return { key: found[1] ?? '', formula: line.slice(offset), offset };
}

/** Moves everything a preview points at by some characters. */
export function shifted(preview: Preview, by: number): Preview {
  if (by === 0) return preview;
  const move = (span: { readonly start: number; readonly end: number }) => ({
    start: span.start + by,
    end: span.end + by,
  });
  return {
    ...preview,
    tokens: preview.tokens.map((token) => ({ ...token, span: move(token.span) })),
    messages: preview.messages.map((message) => ({
      ...message,
      span: move(message.span),
      fixes: message.fixes.map((fix) => ({ ...fix, span: move(fix.span) })),
    })),
  };
}

export function editorTask(desk: Desk, told: Told): EditorTask | undefined {
  const editing = desk.editing;
  if (!editing) return undefined;
  const { place, cell } = editing;
  const row = desk.selected;
  const isFormula = place.kind === 'formula' || place.kind === 'value' || place.kind === 'check';
  const part = (text: string): FormulaPart | undefined => {
    if (isFormula) return { key: cell, formula: text, offset: 0 };
    return place.kind === 'new' ? formulaOfLine(text) : undefined;
  };
  return {
    text: editing.text,
    caret: editing.caret,
    label: row && place.kind !== 'new' ? `${rowName(row)}, ${place.kind}` : 'new row',
    placeholder: place.kind === 'new' ? 'panel rating = 320 W' : '',
    manyLines:
      place.kind === 'lines' ||
      place.kind === 'new' ||
      (place.kind === 'scenario' && place.part === 'words'),
    preview: (text) => {
      const found = part(text);
      if (!found || found.formula.trim() === '') return undefined;
      return shifted(desk.session.preview(found.key, found.formula), found.offset);
    },
    completions: (text, position) => {
      const found = part(text);
      if (!found || position < found.offset) return [];
      return desk.session
        .completions(found.key, found.formula, position - found.offset)
        .map((entry) => ({ ...entry, from: entry.from + found.offset }));
    },
    caretAt: (text, position) => {
      const found = part(text);
      const inside = found !== undefined && position >= found.offset;
      told.signed(
        inside ? desk.session.signature(found.formula, position - found.offset) : undefined,
      );
    },
    tidy: (text) => {
      const found = part(text);
      return found ? text.slice(0, found.offset) + tidyFormula(found.formula) : text;
    },
    keep: (text) => {
      told.settled();
      return desk.keep(text);
    },
    drop: () => {
      told.settled();
      desk.drop();
    },
    previewed: told.previewed,
  };
}
