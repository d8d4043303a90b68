// The editor's text without a language is indented as the whole package would indent it.

import { getIndentUnit, indentUnit } from '@codemirror/language';
import { EditorState } from '@codemirror/state';
import { expect, test } from 'vitest';
import * as plain from '../../../web/host/plain-text.mjs';

test.each([undefined, '  ', '    '])(
  'a line is indented as far as with the package: %j',
  (unit) => {
    const own = unit === undefined ? [] : [plain.indentUnit.of(unit)];
    const whole = unit === undefined ? [] : [indentUnit.of(unit)];
    const text = { doc: '  1 + 2' };
    expect(plain.getIndentUnit(EditorState.create({ ...text, extensions: own }))).toBe(
      getIndentUnit(EditorState.create({ ...text, extensions: whole })),
    );
  },
);

test('what needs a tree says so', () => {
  for (const asked of [plain.syntaxTree, plain.getIndentation, plain.matchBrackets]) {
    expect(asked).toThrow('no tree');
  }
});
