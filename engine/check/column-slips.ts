// Entries of a table that read as words and were meant as amounts: `20 watts`, `5,5 W`, `17:00-21:00`,
// or a dash for nothing.

import type { Node } from '../language/ast.ts';
import { parseFormula } from '../language/parser.ts';
import { isLiteral, walk } from '../language/walk.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import type { Place } from './checker.ts';
import { type ParsedEntry, parseContext } from './scope.ts';

/** Messages that are only raised where an amount was begun. */
const OF_AMOUNTS: ReadonlySet<string> = new Set([
  'unit-meant',
  'unit-hint',
  'unit-two',
  'decimal-comma',
  'thousands',
  'number-space',
  'range-word',
  'time-parts',
  'clock-halves',
  'date-order',
  'angle-parts',
]);

/** What is amiss with an entry that reads as words, when it looks like an amount. */
export function entrySlip(entry: ParsedEntry | undefined, place: Place): Diagnostic | undefined {
  if (!entry || entry.formula || entry.node.kind !== 'text') return undefined;
  const { span } = entry.node;
  const text = place.source.slice(span.start, span.end);
  if (/^(?:[-–—/?]+|n\/?a|nil)$/iu.test(text))
    return {
      code: 'column-kind',
      span,
      text: `"${text}" is read as a word. Leave the entry empty when there is nothing.`,
    };
  if (!/^[-−+.]?\d/u.test(text)) return undefined;
  const { node, diagnostics } = parseFormula(text, { ...parseContext, offset: span.start });
  const [first] = diagnostics;
  if (first) return OF_AMOUNTS.has(first.code) ? first : undefined;
  if (isLiteral(node) || hasName(node)) return undefined;
  const hours = /^(\d\d?:\d\d) ?[-−] ?(\d\d?:\d\d)$/u.exec(text);
  const remedy = hours
    ? `Write ${hours[1]}..${hours[2]} for a span.`
    : 'Begin it with = to make it a formula.';
  return {
    code: 'column-kind',
    span,
    text: `"${text}" is no plain value and is read as words. ${remedy}`,
  };
}

/** The first slip of a column in which every entry looks like an amount and none is one. */
export function columnSlip(
  entries: readonly (ParsedEntry | undefined)[],
  place: Place,
): Diagnostic | undefined {
  const written = entries.filter((entry) => entry !== undefined);
  const slips = written.map((entry) => entrySlip(entry, place));
  return slips.every((slip) => slip !== undefined) ? slips[0] : undefined;
}

function hasName(tree: Node): boolean {
  let found = false;
  walk(tree, ({ kind }) => {
    found ||= kind === 'name' || kind === 'call';
  });
  return found;
}
