// Every message of the catalogue is provoked by its sample: exactly that one, at the words named.
// That no other code can be raised is a matter of types (`Code` is what the catalogue names).

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import { CATALOGUE } from '../../../engine/source/catalogue.ts';
import { MESSAGE_CODES } from '../../../engine/source/messages.ts';
import { notebook } from '../run/evaluated.ts';

const entries = [...CATALOGUE].map(([code, entry]) => ({ code, ...entry }));

describe('the catalogue of messages', () => {
  test.each(entries)('$code is provoked by its sample', ({ code, sample, at, whole }) => {
    const text = whole ? sample : notebook(sample);
    const { messages } = openSession(text).report(0, false);
    expect(messages.map((message) => message.code)).toEqual([code]);
    const lines = text.split('\n').slice(0, (messages[0]?.line ?? 1) - 1);
    const place = lines.join('\n').length + (lines.length > 0 ? 1 : 0) + (messages[0]?.column ?? 0);
    const from = whole ? 0 : text.indexOf(sample);
    expect(place - from - 1).toBe(sample.lastIndexOf(at));
  });

  test.each(entries)('$code says what is wrong and what to do', ({ meaning, remedy }) => {
    for (const sentence of [meaning, remedy]) expect(sentence).toMatch(/^["A-ZΔ°].*[.…]$/u);
  });

  test('holds every sentence of the reader', () => {
    for (const code of MESSAGE_CODES) expect(CATALOGUE.has(code)).toBe(true);
  });
});
