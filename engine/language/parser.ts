// The doors of the parser: a formula, an override's target, a table entry, bounds and a chart line.
// Each takes text and gives a tree (or its pieces) and messages; none ever throws. Spans count from
// the start of the text plus `offset`.

import type { Diagnostic } from '../source/diagnostic.ts';
import { message } from '../source/messages.ts';
import type { Span } from '../source/span.ts';
import type { Node, Override, Target } from './ast.ts';
import { Grammar } from './grammar.ts';
import { readTokens } from './lexer.ts';
import { slipAt, strokedDate } from './slips.ts';
import type { Token, UnitContext } from './token.ts';
import { depthOf, isLiteral } from './walk.ts';

export { nameKey } from '../source/name.ts';
export { tokenize } from './lexer.ts';
export type { ShownToken, ShownTokenKind, UnitContext } from './token.ts';
export { NESTING_LIMIT } from './token-reader.ts';

/** Characters of one formula. */
export const LENGTH_LIMIT = 20_000;
/** How deep a tree may be; long sums lean to the left and count one a term. */
export const DEPTH_LIMIT = 1000;

export interface ParseContext extends UnitContext {
  /** Where the text stands in what spans count from; 0 if not given. */
  readonly offset?: number;
}

export interface ParsedFormula {
  readonly node: Node;
  readonly diagnostics: readonly Diagnostic[];
}

const NO_DIAGNOSTICS: readonly Diagnostic[] = [];

/** A formula, such as stands after `=`; also what stands after `check`, and an answer with its ±. */
export function parseFormula(text: string, context: ParseContext): ParsedFormula {
  return readWith(text, context, mended);
}

/** What the parser said is left as it is where it need only be known whether there is anything. */
function unmended(
  text: string,
  diagnostics: readonly Diagnostic[],
  context: ParseContext,
  start: number,
): readonly Diagnostic[] {
  return diagnostics.length > 0 ? diagnostics : mended(text, diagnostics, context, start);
}

function readWith(text: string, context: ParseContext, mend: typeof mended): ParsedFormula {
  const start = context.offset ?? 0;
  const whole = { start, end: start + text.length };
  if (text.length > LENGTH_LIMIT) {
    const diagnostic = message('formula-long', whole, [String(LENGTH_LIMIT)]);
    return { node: { kind: 'broken', span: whole }, diagnostics: [diagnostic] };
  }
  const tokens = readTokens(text, context, start);
  if (tokens.length <= 1) {
    const diagnostic = message('formula-empty', whole, []);
    return { node: { kind: 'broken', span: whole }, diagnostics: [diagnostic] };
  }
  const grammar = new Grammar(tokens, context);
  const node = grammar.formula();
  grammar.finish();
  const read = { node, diagnostics: mend(text, grammar.diagnostics, context, start) };
  // A tree is never deeper than its formula has tokens.
  return tokens.length > DEPTH_LIMIT ? notTooDeep(read) : read;
}

/** What stopped the parser said as the slip it comes from, if it is one of the usual ones. */
function mended(
  text: string,
  diagnostics: readonly Diagnostic[],
  context: ParseContext,
  start: number,
): readonly Diagnostic[] {
  if (diagnostics.length === 0) {
    const date = strokedDate(text, context, start);
    return date ? [date] : NO_DIAGNOSTICS;
  }
  const [first, ...rest] = diagnostics as readonly [Diagnostic, ...Diagnostic[]];
  const slip = slipAt(text, first.span, context, start);
  return slip ? [slip, ...rest.filter(({ span }) => span.start > slip.span.end)] : diagnostics;
}

export interface ParsedTarget {
  readonly target: Target | undefined;
  readonly diagnostics: readonly Diagnostic[];
}

/** What an override of a scenario names: `tilt`, `weather.high`, `loads.hours("lamp")`. */
export function parseTarget(text: string, context: ParseContext): ParsedTarget {
  if (text.length > LENGTH_LIMIT) return { target: undefined, diagnostics: tooLong(text, context) };
  const grammar = new Grammar(readTokens(text, context, context.offset ?? 0), context);
  const target = grammar.target();
  grammar.finish();
  const { diagnostics } = grammar;
  return { target: diagnostics.length > 0 ? undefined : target, diagnostics };
}

export interface ParsedEntry {
  readonly node: Node;
  readonly diagnostics: readonly Diagnostic[];
  /** The entry is plain words without quotes. */
  readonly words?: boolean;
  /** The entry is a formula after `=`. */
  readonly formula?: boolean;
}

/** A table entry: empty, a literal, `= formula`, or plain words, which are a text. */
export function parseEntry(text: string, context: ParseContext): ParsedEntry {
  const start = context.offset ?? 0;
  const span = { start, end: start + text.length };
  const equals = /^\s*=/u.exec(text);
  if (equals !== null) {
    const offset = start + equals[0].length;
    const rest = parseFormula(text.slice(equals[0].length), { ...unitsOf(context), offset });
    return { ...rest, formula: true };
  }
  const words = text.trim();
  if (words === '') return { node: { kind: 'none', span }, diagnostics: [] };
  // Words are no slip of a formula, and looking for one costs more than reading them.
  const read = readWith(text, context, unmended);
  if (read.diagnostics.length === 0 && isLiteral(read.node)) return read;
  // A slip in a number, date or quote is a slip; anything else is words.
  const slip = readTokens(text, context, start)[0];
  if (slip?.kind === 'bad' && SLIPS.has(slip.diagnostic.code)) {
    return { node: { kind: 'broken', span }, diagnostics: [slip.diagnostic] };
  }
  if (text.length > LENGTH_LIMIT) return read;
  const from = start + text.indexOf(words);
  const place = { start: from, end: from + words.length };
  return { node: { kind: 'text', value: words, span: place }, diagnostics: [], words: true };
}

const SLIPS: ReadonlySet<string> = new Set([
  'text-unclosed',
  'decimal-comma',
  'date-wrong',
  'date-digits',
  'time-wrong',
  'time-seconds',
  'number-huge',
]);

export interface RangeBounds {
  readonly kind: 'range';
  readonly low: Node;
  readonly high: Node;
  readonly step?: Node;
}
export interface ChoiceBounds {
  readonly kind: 'choices';
  readonly choices: readonly Node[];
}
export interface ParsedBounds {
  readonly bounds: RangeBounds | ChoiceBounds | undefined;
  readonly diagnostics: readonly Diagnostic[];
}

/** What stands between the brackets: `10..30 V by 5 V`, or choices with commas between. */
export function parseBounds(text: string, context: ParseContext): ParsedBounds {
  const start = context.offset ?? 0;
  const whole = { start, end: start + text.length };
  if (text.length > LENGTH_LIMIT) return { bounds: undefined, diagnostics: tooLong(text, context) };
  const tokens = readTokens(text, context, start, 'bounds');
  if (tokens.length <= 1) {
    return { bounds: undefined, diagnostics: [message('bounds-empty', whole, [])] };
  }
  const grammar = new Grammar(tokens, context);
  const amount = (): Node => {
    const node = grammar.range();
    if (!isLiteral(node)) grammar.fail('bounds-plain', node.span, []);
    return node;
  };
  const choices: Node[] = [amount()];
  const by = grammar.peek();
  const step = grammar.takeWord('by') ? amount() : undefined;
  while (step === undefined && grammar.takeSign(',')) choices.push(amount());
  grammar.finish();
  const [first] = choices;
  if (choices.length > 1 || first?.kind !== 'range') {
    if (step !== undefined) grammar.fail('bounds-step', by.span, []);
    const { diagnostics } = grammar;
    return {
      bounds: diagnostics.length > 0 ? undefined : { kind: 'choices', choices },
      diagnostics,
    };
  }
  const [low, high, third] = first.parts;
  if (third !== undefined) grammar.fail('bounds-three', third.span, []);
  const { diagnostics } = grammar;
  if (diagnostics.length > 0 || low === undefined || high === undefined) {
    return { bounds: undefined, diagnostics };
  }
  const bounds: RangeBounds = { kind: 'range', low, high, ...(step === undefined ? {} : { step }) };
  return { bounds, diagnostics };
}

/** What a chart is drawn against: another item, or a given with its values. */
export type ChartAgainst =
  | { readonly given: Target; readonly values: Node }
  | { readonly item: Node };

export interface ParsedChart {
  readonly items: readonly Node[];
  readonly against: readonly ChartAgainst[];
  /** The kind named after the last `as`, in lower case. */
  readonly as?: string;
  readonly asSpan?: Span;
  readonly diagnostics: readonly Diagnostic[];
}

/** The body of a chart line: items, what they are drawn against, and the kind of chart. */
export function parseChart(text: string, context: ParseContext): ParsedChart {
  const start = context.offset ?? 0;
  if (text.length > LENGTH_LIMIT) {
    return { items: [], against: [], diagnostics: tooLong(text, context) };
  }
  const all = readTokens(text, context, start);
  if (all.length <= 1) {
    const span = { start, end: start + text.length };
    return { items: [], against: [], diagnostics: [message('chart-empty', span, [])] };
  }
  const split = lastAs(all);
  const tokens = split < 0 ? all : [...all.slice(0, split), ...endAt(all[split])];
  const grammar = new Grammar(tokens, context);
  const items: Node[] = [];
  do items.push(grammar.sum());
  while (grammar.takeSign(','));
  const against = grammar.takeWord('against') ? chartAgainst(grammar, tokens) : [];
  const drawn = [...items, ...against.map((one) => ('item' in one ? one.item : one.values))];
  const deep = tokens.length > DEPTH_LIMIT ? drawn.find(isTooDeep) : undefined;
  if (deep) return { items: [], against: [], diagnostics: [tooDeep(deep.span)] };
  const next = grammar.peek();
  if (next.kind === 'word' && next.word === 'with') grammar.fail('with-chart', next.span, []);
  if (next.kind === 'word' && next.word === 'as') grammar.fail('as-chart', next.span, []);
  grammar.finish();
  const diagnostics: Diagnostic[] = grammar.diagnostics.map((one) =>
    // A cell whose name begins with the word.
    against.length === 0 && text.slice(one.span.start - start, one.span.end - start) === '='
      ? message('line-word', one.span, ['chart'])
      : one,
  );
  if (split < 0) return { items, against, diagnostics };
  const from = (all[split]?.span.end ?? start) - start;
  const kind = text.slice(from).trim().toLowerCase();
  if (kind === '') {
    diagnostics.push(message('chart-kind', { start: from + start, end: text.length + start }, []));
  }
  if (kind === '') return { items, against, diagnostics };
  const end = start + text.trimEnd().length;
  return { items, against, diagnostics, as: kind, asSpan: { start: end - kind.length, end } };
}

function chartAgainst(grammar: Grammar, tokens: readonly Token[]): readonly ChartAgainst[] {
  const from = tokens.indexOf(grammar.peek());
  const sets = outside(tokens.slice(from)).some(
    (token) => token.kind === 'operator' && token.symbol === '=',
  );
  if (!sets) return [{ item: grammar.sum() }];
  return grammar
    .overrides()
    .map(({ target, value }: Override): ChartAgainst => ({ given: target, values: value }));
}

/** Place of the last `as` outside parentheses, or -1. */
function lastAs(tokens: readonly Token[]): number {
  const last = outside(tokens).findLast((token) => token.kind === 'word' && token.word === 'as');
  return last === undefined ? -1 : tokens.indexOf(last);
}

/** The tokens that stand in no parenthesis. */
function outside(tokens: readonly Token[]): readonly Token[] {
  let depth = 0;
  return tokens.filter((token) => {
    if (token.kind === 'punctuation' && token.sign === '(') depth += 1;
    if (token.kind === 'punctuation' && token.sign === ')') depth -= 1;
    return depth === 0;
  });
}

function endAt(token: Token | undefined): readonly Token[] {
  const start = token?.span.start ?? 0;
  return [{ kind: 'end', text: '', span: { start, end: start } }];
}

function notTooDeep(parsed: ParsedFormula): ParsedFormula {
  if (!isTooDeep(parsed.node)) return parsed;
  const { span } = parsed.node;
  return { node: { kind: 'broken', span }, diagnostics: [tooDeep(span)] };
}

function isTooDeep(root: Node): boolean {
  return depthOf(root) > DEPTH_LIMIT;
}

function tooDeep(span: Span): Diagnostic {
  return message('formula-terms', span, [String(DEPTH_LIMIT)]);
}

function tooLong(text: string, context: ParseContext): readonly Diagnostic[] {
  const start = context.offset ?? 0;
  return [message('formula-long', { start, end: start + text.length }, [String(LENGTH_LIMIT)])];
}

function unitsOf(context: UnitContext): UnitContext {
  return {
    isUnit: (text) => context.isUnit(text),
    isPointUnit: (text) => context.isPointUnit(text),
  };
}
