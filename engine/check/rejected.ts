// How the checker leaves a formula at its first fault. One fault gives one message, so the rest of
// the formula is not looked at; `check-node.ts` catches this and keeps the message as a value.

import type { Code } from '../source/catalogue.ts';
import type { Diagnostic, Fix } from '../source/diagnostic.ts';
import type { Span } from '../source/span.ts';

export class Rejected extends Error {
  readonly diagnostic: Diagnostic | undefined;
  /** The formula is sound but needs a cell that has no type yet: it waits for it. */
  readonly waitsFor: number;

  constructor(diagnostic: Diagnostic | undefined, waitsFor = -1) {
    super(diagnostic?.text ?? 'waits');
    this.diagnostic = diagnostic;
    this.waitsFor = waitsFor;
  }
}

export function reject(code: Code, span: Span, text: string, fixes: readonly Fix[] = []): never {
  throw new Rejected({ code, span, text, fixes });
}
