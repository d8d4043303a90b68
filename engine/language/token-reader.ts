// Walking along the tokens of a formula: looking at the next one, taking it if it is the one wanted, and
// failing with a message. The grammar builds on it. After the first failure only the end is left, so
// that every loop stops and no echo of the first mistake is heard.

import type { Diagnostic, Fix } from '../source/diagnostic.ts';
import { type MessageCode, message } from '../source/messages.ts';
import type { Span } from '../source/span.ts';
import type { BrokenNode } from './ast.ts';
import type { PunctuationSign, Token, UnitContext } from './token.ts';

/** How deep parentheses, calls, signs and conditions may be nested. */
export const NESTING_LIMIT = 200;

export class TokenReader {
  readonly diagnostics: Diagnostic[] = [];
  protected readonly tokens: readonly Token[];
  protected readonly context: UnitContext;
  protected position = 0;
  protected depth = 0;
  protected failed = false;
  readonly #end: Token;
  #present: Token;

  /** The tokens must end with an `end` token. */
  constructor(tokens: readonly Token[], context: UnitContext) {
    this.tokens = tokens;
    this.context = context;
    this.#end = tokens.at(-1) ?? { kind: 'end', text: '', span: { start: 0, end: 0 } };
    this.#present = tokens[0] ?? this.#end;
  }

  /** The present token; the end once something has failed. */
  peek(): Token {
    return this.#present;
  }

  next(): Token {
    const token = this.#present;
    this.position += 1;
    if (!this.failed) this.#present = this.tokens[this.position] ?? this.#end;
    return token;
  }

  takeWord(word: string): boolean {
    const token = this.peek();
    if (token.kind !== 'word' || token.word !== word) return false;
    this.next();
    return true;
  }

  takeSign(sign: PunctuationSign): boolean {
    const token = this.peek();
    if (token.kind !== 'punctuation' || token.sign !== sign) return false;
    this.next();
    return true;
  }

  takeOperator(symbol: string): boolean {
    if (!isOperator(this.peek(), symbol)) return false;
    this.next();
    return true;
  }

  fail<Code extends MessageCode>(
    code: Code,
    span: Span,
    parts: Parameters<typeof message<Code>>[2],
    fixes: readonly Fix[] = [],
  ): BrokenNode {
    return this.failWith(message(code, span, parts, fixes));
  }

  /** The token before the present one. */
  before(): Token {
    return this.tokens[Math.min(this.position, this.tokens.length) - 1] ?? this.peek();
  }

  protected failWith(diagnostic: Diagnostic): BrokenNode {
    if (!this.failed) this.diagnostics.push(diagnostic);
    this.failed = true;
    this.#present = this.#end;
    return broken(diagnostic.span);
  }

  protected missing(
    code: 'then-missing' | 'else-missing' | 'parenthesis-missing',
    insert?: string,
  ): void {
    const { span } = this.peek();
    const at = { start: span.start, end: span.start };
    const fixes =
      insert === undefined ? [] : [{ label: `Write ${insert}`, span: at, text: insert }];
    this.fail(code, at, [], fixes);
  }

  protected isCallHere(): boolean {
    const token = this.peek();
    return isPunctuation(token, '(') && token.span.start === this.before().span.end;
  }

  protected deeper(span: Span): boolean {
    this.depth += 1;
    if (this.depth <= NESTING_LIMIT) return true;
    this.fail('formula-deep', span, [String(NESTING_LIMIT)]);
    return false;
  }
}

export function broken(span: Span): BrokenNode {
  return { kind: 'broken', span };
}

export function symbolOf(token: Token): string {
  if (token.kind === 'operator') return token.symbol;
  return token.kind === 'word' ? token.word : '';
}

export function isOperator(token: Token, symbol: string): boolean {
  return token.kind === 'operator' && token.symbol === symbol;
}

export function isPunctuation(token: Token, sign: PunctuationSign): boolean {
  return token.kind === 'punctuation' && token.sign === sign;
}
