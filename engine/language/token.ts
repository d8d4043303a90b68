// The smallest pieces of a formula, as the lexer hands them to the parser and the editor.

import type { Diagnostic } from '../source/diagnostic.ts';
import type { Span } from '../source/span.ts';
import type { OperatorSymbol } from './operators.ts';

/** What the language must know of units: only which texts are some. */
export interface UnitContext {
  /** Whether a text is a unit: a single one, or a whole compound as written. */
  isUnit(text: string): boolean;
  /** Whether a unit is a point scale, such as °C or dBm. */
  isPointUnit(text: string): boolean;
  /** What to write instead of a spelling that is no unit, in whole sentences. */
  unitHint?(text: string): string | undefined;
}

export type PunctuationSign = '(' | ')' | ',' | '.' | ':' | '?' | '[' | ']';

interface Placed {
  readonly span: Span;
  /** Exactly as written. */
  readonly text: string;
}
export interface NameToken extends Placed {
  readonly kind: 'name';
}
/** The label of an argument, without its colon. */
export interface LabelToken extends Placed {
  readonly kind: 'label';
}
export interface NumberToken extends Placed {
  readonly kind: 'number';
  readonly value: number;
  /** For `4/0 AWG`: the gauge, -3. */
  readonly gauge?: number;
}
export interface UnitToken extends Placed {
  readonly kind: 'unit';
  readonly known: boolean;
}
export interface TextToken extends Placed {
  readonly kind: 'text';
  readonly value: string;
}
export interface OperatorToken extends Placed {
  readonly kind: 'operator';
  readonly symbol: OperatorSymbol;
}
/** A joining word, `none` or `by`, in lower case. */
export interface WordToken extends Placed {
  readonly kind: 'word';
  readonly word: string;
}
export interface PunctuationToken extends Placed {
  readonly kind: 'punctuation';
  readonly sign: PunctuationSign;
}
export interface MomentToken extends Placed {
  readonly kind: 'moment';
  readonly days: number;
  readonly minutes?: number;
}
export interface TimeToken extends Placed {
  readonly kind: 'time';
  readonly minutes: number;
}
/** Characters without a meaning here, with the message about them. */
export interface BadToken extends Placed {
  readonly kind: 'bad';
  readonly diagnostic: Diagnostic;
}
export interface EndToken extends Placed {
  readonly kind: 'end';
}

export type Token =
  | NameToken
  | LabelToken
  | NumberToken
  | UnitToken
  | TextToken
  | OperatorToken
  | WordToken
  | PunctuationToken
  | MomentToken
  | TimeToken
  | BadToken
  | EndToken;

/** What an editor colours. */
export type ShownTokenKind =
  | 'name'
  | 'number'
  | 'unit'
  | 'text'
  | 'operator'
  | 'word'
  | 'punctuation'
  | 'moment'
  | 'bad';

export interface ShownToken {
  readonly kind: ShownTokenKind;
  readonly span: Span;
}
