// What the editor asks of a text's language, for a text that has none: how far a line is indented. The
// language itself, with its trees and indentation, is for programs; a formula's is the engine's.

import { Facet } from '@codemirror/state';

export const indentUnit = Facet.define({
  combine: (/** @type {readonly string[]} */ units) => units[0] ?? '  ',
});

/** @param {import('@codemirror/state').EditorState} state */
export function getIndentUnit(state) {
  return state.facet(indentUnit).length;
}

/** @returns {never} */
function none() {
  throw new RangeError('a formula has no tree in the editor');
}

export const syntaxTree = none;
export const indentString = none;
export const getIndentation = none;
export const matchBrackets = none;
export class IndentContext {}
