// Bytes become text only when they are UTF-8; anything else is named.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { decodeText } from '../../web/keep/text-bytes.ts';
import { testCases } from '../tools/test-cases.ts';

test('UTF-8 comes back byte for byte, its mark and its line ends too', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      const bytes = new TextEncoder().encode(`\ufeff${text}\r\n`);
      const read = decodeText(bytes);
      if (text.includes('\0')) expect(read).toHaveProperty('fault');
      else expect('text' in read ? new TextEncoder().encode(read.text) : read).toEqual(bytes);
    }),
    { numRuns: testCases(500) },
  );
});

test.each<[string, Uint8Array, RegExp]>([
  ['UTF-16 with its mark', Buffer.from('\ufeffdapple 1', 'utf16le'), /^is written in UTF-16/],
  ['UTF-16 without', Buffer.from('dapple 1\ntitle: Owls\n', 'utf16le'), /^is written in UTF-16/],
  [
    'UTF-16, the other way round',
    Buffer.from('\ufeffdapple 1', 'utf16le').swap16(),
    /^is written in UTF-16/,
  ],
  [
    'a picture',
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d]),
    /^is no text/,
  ],
  // Latin-1: ° is the byte 0xB0, which UTF-8 has only inside a letter.
  [
    'Latin-1',
    Buffer.from('dapple 1\nx = 1\naim = 30\u00b0\n', 'latin1'),
    /on line 3 stands the byte 0xB0/,
  ],
  ['a letter cut at the end', Buffer.from([0x61, 0xe2, 0x89]), /not written in UTF-8/],
])('%s is named', (_, bytes, why) => {
  expect(decodeText(bytes)).toEqual({ fault: expect.stringMatching(why) });
});

test('the wrong byte is the first wrong one', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), fc.nat(5), (text, lines) => {
      fc.pre(!/[\0\n]/.test(text));
      const before = Buffer.from(`${'a\n'.repeat(lines)}${text}`);
      const read = decodeText(Buffer.concat([before, Buffer.from([0xff]), before]));
      expect(read).toEqual({
        fault: expect.stringContaining(`on line ${lines + 1} stands the byte 0xFF`),
      });
    }),
    { numRuns: testCases(300) },
  );
});
