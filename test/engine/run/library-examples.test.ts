// Every function's example in the library evaluates to what the library says it gives.

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import { libraryFunctions } from '../../../engine/library/library.ts';
import { notebook, PLACE } from './evaluated.ts';

describe('the example of', () => {
  test.each([...libraryFunctions.values()])(
    '$name: $example.formula gives $example.gives',
    (fn) => {
      const { before = [], formula, gives } = fn.example;
      expect(gives).not.toBe('');
      expect([...before, formula].join('\n')).toContain(fn.name);
      const session = openSession(notebook([...before, `result = ${formula}`].join('\n'), PLACE));
      const { cells, messages } = session.report(0, false);
      expect(messages).toEqual([]);
      const plain = (text: string): string => text.replace(/\u00a0/gu, ' ');
      expect(plain(cells.result?.text ?? '').slice(0, gives.length)).toBe(plain(gives));
    },
  );
});
