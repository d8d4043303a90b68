// Which argument of which function stands where the caret is, for one who is writing a call. It reads
// the formula's tokens alone, so that it works while the call is not finished.

import type { Scope } from '../check/scope.ts';
import { readTokens } from '../language/lexer.ts';
import { nameKey } from '../language/parser.ts';
import { libraryFunctions } from '../library/library.ts';
import type { LibraryFunction } from '../library/signature.ts';
import { unitContext } from './formula-parts.ts';
import { parameterText } from './parameter-text.ts';
import type { ShownSignature } from './snapshot.ts';

interface OpenCall {
  /** As written; empty for a parenthesis that calls nothing. */
  readonly name: string;
  place: number;
  label: string;
}

/** The innermost call that is open before a position. */
function openCall(formula: string, position: number): OpenCall | undefined {
  const open: OpenCall[] = [];
  let before: { readonly text: string; readonly end: number } | undefined;
  for (const token of readTokens(formula, unitContext)) {
    if (token.kind === 'end' || token.span.start >= position) break;
    const top = open.at(-1);
    if (token.kind === 'label' && top) top.label = token.text;
    if (token.kind === 'punctuation') {
      if (token.sign === '(') {
        const name = before?.end === token.span.start ? before.text : '';
        open.push({ name, place: 0, label: '' });
      } else if (token.sign === ')') open.pop();
      else if (token.sign === ',' && top) {
        top.place++;
        top.label = '';
      }
    }
    before = token.kind === 'name' ? { text: token.text, end: token.span.end } : undefined;
  }
  return open.at(-1);
}

/** Place of the parameter that is being written, −1 when none of the function's is meant. */
function activeOf(fn: LibraryFunction, call: OpenCall): number {
  if (call.label !== '')
    return fn.parameters.findIndex(({ name }) => nameKey(name) === nameKey(call.label));
  return call.place < fn.positional ? call.place : -1;
}

export function signatureAt(
  scope: Scope,
  formula: string,
  position: number,
): ShownSignature | undefined {
  const call = openCall(formula, position);
  if (!call || call.name === '' || scope.cells.has(nameKey(call.name))) return undefined;
  const fn = libraryFunctions.get(nameKey(call.name));
  if (!fn) return undefined;
  return {
    name: fn.name,
    meaning: fn.meaning,
    active: activeOf(fn, call),
    parameters: fn.parameters.map((parameter, index) => ({
      name: index < fn.positional ? parameter.name : `${parameter.name}:`,
      text: parameterText(parameter),
    })),
  };
}
