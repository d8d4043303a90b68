// Every function's example in the library evaluates to what the library says it gives.

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import { libraryFunctions } from '../../../engine/library/library.ts';
import { notebook } from './evaluated.ts';

const _HOST =
  'panel rating = 100 W\nday energy = panel rating × 5 h as Wh\nobstacles = table\n  azimuth | height\n  90° | 30°\n  180° | 10°\n  270° | 30°';

describe('the example of', () => {
  test.each([...libraryFunctions.values()])(
    '$name: $example.formula gives $example.gives',
    (fn) => {
      const { before = [], formula, gives } = fn.example;
      expect(gives).not.toBe('');
      expect([...before, formula].join('\n')).toContain(fn.name);
      const session = openSession(notebook([...before, `result = ${formula}`].join('\n')));
      const { cells, messages } = session.report(0, false);
      expect(messages).toEqual([]);
      const plain = (text: string): string => text.replace(/\u00a0/gu, ' ');
      expect(plain(cells.result?.text ?? '').startsWith(plain(gives))).toBe(true);
    },
  );

  test('every function stands under its own name', () => {
    for (const [key, fn] of libraryFunctions) expect(fn.name.toLowerCase()).toBe(key);
    expect(libraryFunctions.size).toBeGreaterThan(50);
  });
});
