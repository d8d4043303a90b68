// What the formatter offers for a formula: every ASCII spelling becomes its symbol, and division (like
// every operator that is written with spaces) gets them. Line breaks and alignment stay. A formula
// with a mistake is left as it is, and so is one that would read differently afterwards.

import type { Span } from '../source/span.ts';
import { readTokens } from './lexer.ts';
import { OPERATORS } from './operators.ts';
import { parseFormula } from './parser.ts';
import { printFormula } from './printer.ts';
import type { Token, UnitContext } from './token.ts';

export interface TextEdit {
  readonly span: Span;
  readonly text: string;
}

const SPACED: ReadonlySet<string> = new Set(
  OPERATORS.filter(({ spaced }) => spaced).map(({ symbol }) => symbol),
);

/** The formula in symbols; the same text when there is nothing to do or it cannot be read. */
export function formatFormula(text: string, context: UnitContext): string {
  const before = parseFormula(text, context);
  if (before.diagnostics.length > 0) return text;
  const formatted = applied(text, formatEdits(text, context));
  const after = parseFormula(formatted, context);
  const same =
    after.diagnostics.length === 0 &&
    inSymbols(printFormula(before.node, context), context) ===
      inSymbols(printFormula(after.node, context), context);
  return same ? formatted : text;
}

/** The single changes, in order and apart from each other. */
export function formatEdits(text: string, context: UnitContext): readonly TextEdit[] {
  const tokens = readTokens(text, context);
  const edits: TextEdit[] = [];
  tokens.forEach((token, index) => {
    const previous = tokens[index - 1];
    const symbol = symbolText(token, previous, context);
    const spaced =
      token.kind === 'operator' && SPACED.has(token.symbol) && !isSign(token, previous);
    const next = tokens[index + 1];
    const spaceBefore = spaced && previous !== undefined && previous.span.end === token.span.start;
    const spaceAfter =
      spaced && next !== undefined && next.kind !== 'end' && next.span.start === token.span.end;
    const replacement = `${spaceBefore ? ' ' : ''}${symbol}${spaceAfter ? ' ' : ''}`;
    if (replacement !== token.text) edits.push({ span: token.span, text: replacement });
  });
  return edits;
}

/** A minus where an operand is due is a sign and touches its number. */
function isSign(token: Token, previous: Token | undefined): boolean {
  if (token.kind !== 'operator' || token.symbol !== '-') return false;
  if (previous === undefined || previous.kind === 'operator') {
    return previous?.text !== '²' && previous?.text !== '³';
  }
  if (previous.kind === 'word') return previous.word !== 'none';
  return previous.kind === 'punctuation' && previous.sign !== ')' && previous.sign !== '?';
}

function symbolText(token: Token, previous: Token | undefined, context: UnitContext): string {
  if (token.kind === 'operator') return token.symbol;
  if (token.kind === 'unit' && token.known) return unitInSymbols(token.text, context);
  // A column may have the name: `t.pi` is no number.
  const isPart = previous?.kind === 'punctuation' && previous.sign === '.';
  if (token.kind === 'name' && !isPart && token.text.toLowerCase() === 'pi') return 'π';
  return token.text;
}

/** `degC` → `°C`, `ohm` → `Ω`, `um` → `µm`, `m^2` and `m2` → `m²`, as far as the result is a unit. */
export function unitInSymbols(unit: string, context: UnitContext): string {
  const parts = unit.split(/([/·⋅])/u).map((part) => {
    const symbol = part
      .replace(/^ddegF/u, 'Δ°F')
      .replace(/^deg(?=[CFNSEW]?$)/u, '°')
      .replace(/ohm/u, 'Ω')
      .replace(/^u(?=\p{L})/u, 'µ')
      .replace(/\^?2$/u, '²')
      .replace(/\^?3$/u, '³')
      .replace('⋅', '·');
    return symbol === '·' || context.isUnit(symbol) ? symbol : part;
  });
  const whole = parts.join('');
  return context.isUnit(whole) ? whole : unit;
}

/** A printed formula with its units in symbols, for comparing. */
function inSymbols(text: string, context: UnitContext): string {
  return applied(text, formatEdits(text, context));
}

function applied(text: string, edits: readonly TextEdit[]): string {
  let result = '';
  let at = 0;
  for (const edit of edits) {
    result += text.slice(at, edit.span.start) + edit.text;
    at = edit.span.end;
  }
  return result + text.slice(at);
}
