// Slips in a line of a notebook that is meant to be a cell: no =, another sign for it, a name that
// cannot be one.

import type { Diagnostic, Fix } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';
import { isCellName } from '../source/name.ts';
import type { Span } from '../source/span.ts';

/** A name and a formula with nothing, or a colon, between them. */
export function withoutEquals(line: string): readonly [string, string] | undefined {
  const [, left = '', right = ''] = /^([^:]+?)\s*:\s*(\S.*)$/su.exec(line) ?? [];
  if (isCellName(left) && /^[-−.?"(\d]/u.test(right)) return [left, right];
  const [, name = '', number = '', unit = ''] =
    /^(\D+?)\s+([-−+]?\d+(?:\.\d+)?)\s?([^\s\d]\S*)?$/u.exec(line) ?? [];
  // Longer lines are more likely prose.
  if (!isCellName(name) || name.split(' ').length > 4) return undefined;
  if (unit.length > 8 || /^[ap]m$|[.,;:!?]$/iu.test(unit)) return undefined;
  return [name, `${number}${unit === '' ? '' : ` ${unit}`}`];
}

export function equalsMissing(
  place: Span,
  name: string,
  formula: string,
  ...fixes: readonly Fix[]
): Diagnostic {
  const text = `${name} = ${formula}`;
  return message(
    'equals-missing',
    place,
    [name, formula],
    [{ label: `Write ${text}`, span: place, text }, ...fixes],
  );
}

/** What a name has that it cannot have, in words. */
export function whyWrong(
  name: string,
  words: readonly string[],
  joining: string | undefined,
): string {
  if (joining !== undefined)
    return `"${joining}" joins the parts of a formula. Choose another word.`;
  const figures = words.find((word, i) => /^\d/u.test(word) && (i === 0 || !/^\d+$/u.test(word)));
  if (figures !== undefined)
    return `"${figures}" begins with a figure. Begin each word with a letter; a later word may be a whole number.`;
  const [sign] = /[^\p{L}\p{M}\p{Nd}\s'’ʼ‘_-]/u.exec(name) ?? [];
  if (sign !== undefined)
    return `"${sign}" cannot stand in one. Use letters, figures, ' and - only.`;
  return "Begin each word with a letter and use letters, figures, ' and - only; a later word may be a whole number.";
}
