// A message to the reader: where, what is wrong, what to do. Stages return these as values; only
// mistakes of our own are exceptions.

import type { Code } from './catalogue.ts';
import type { Span } from './span.ts';

export interface Fix {
  /** What the button says, such as `Use "panel voltage"`. */
  readonly label: string;
  /** The characters that are replaced, in the same text as the message's span. */
  readonly span: Span;
  readonly text: string;
}

export interface Diagnostic {
  /** A stable name from the catalogue. */
  readonly code: Code;
  readonly span: Span;
  /** Whole sentences: what is wrong, then what to do. */
  readonly text: string;
  readonly fixes?: readonly Fix[];
}
