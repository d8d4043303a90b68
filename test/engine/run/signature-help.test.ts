// Which argument of a call is being written, from the formula's text up to the caret.

import { expect, test } from 'vitest';
import { openSession, tidyFormula } from '../../../engine/index.ts';

const session = openSession('dapple 1\n\ncable length = 15 m\nlowest = 3 V\n');

/** The caret stands at the bar. */
function at(formula: string): { readonly name: string; readonly argument: string } | undefined {
  const position = formula.indexOf('|');
  const found = session.signature(formula.replace('|', ''), position);
  return found && { name: found.name, argument: found.parameters[found.active]?.name ?? '' };
}

test('a label says which argument it is, wherever it stands', () => {
  expect(at('resistance(of: |')).toEqual({ name: 'resistance', argument: 'of' });
  expect(at('resistance(length: 2 × cable length, of: 10 AWG|')).toEqual({
    name: 'resistance',
    argument: 'of',
  });
  expect(at('resistance(of: 10 AWG, |')).toEqual({ name: 'resistance', argument: '' });
});

test('the first arguments go by their place', () => {
  expect(at('sqrt(|')?.argument).toBe(session.signature('sqrt(', 5)?.parameters[0]?.name);
  expect(at('sqrt(|')?.argument).not.toBe('');
  expect(at('1 + sqrt(9) + |')).toBeUndefined();
});

test('parentheses inside, texts and other calls do not mislead', () => {
  expect(at('resistance(of: (10 AWG|), length: 3 m)')).toBeUndefined();
  expect(at('resistance(of: 10 AWG, length: sqrt(9 m²)|')?.argument).toBe('length:');
  expect(at('resistance(of: 10 AWG, length: sqrt(|9 m²)')?.name).toBe('sqrt');
  expect(at('(2 + |')).toBeUndefined();
});

test('a cell that has the name of a function is not explained as the function', () => {
  expect(at('lowest(|')).toBeUndefined();
});

test('each argument says what it means, of what dimension, and its range', () => {
  const found = session.signature('resistance(length: ', 19);
  const length = found?.parameters.find(({ name }) => name === 'length:');
  expect(length?.text).toMatch(/length/);
});

test('a formula is tidied with its meaning kept; one with a mistake stays', () => {
  expect(tidyFormula('a*b/c<=3 ohm')).toBe('a × b / c ≤ 3 Ω');
  expect(tidyFormula('a*(b')).toBe('a*(b');
});
