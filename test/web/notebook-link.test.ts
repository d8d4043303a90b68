// A link carries a notebook exactly, says when it was damaged, and cannot be used to fill the memory.

import { deflateRawSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CARRIED } from '../../web/exchange/link-word.ts';
import { LARGEST_CARRIED, linkOf, readCarried } from '../../web/exchange/notebook-link.ts';
import { checkSum } from '../../web/exchange/packing.ts';
import { testCases } from '../tools/test-cases.ts';

const PAGE = 'https://camp.example/dapple/';

function lettersOf(link: string): string {
  const [page, letters = ''] = link.split(`#/${CARRIED}`);
  expect(page).toBe(PAGE);
  return letters;
}

async function carried(text: string): Promise<string> {
  return lettersOf(await linkOf(`${PAGE}#/somewhere`, text));
}

/** A link made without the page's code: form 1, the sum, and Node's own deflate. */
function madeOutside(bytes: Uint8Array, sum = checkSum(bytes), form = 1): string {
  const head = Buffer.alloc(5);
  head.writeUInt8(form);
  head.writeUInt32BE(sum, 1);
  return Buffer.concat([head, deflateRawSync(bytes, { level: 9 })]).toString('base64url');
}

test('the check sum is that of the standard', () => {
  // The check value of CRC-32/ISO-HDLC.
  expect(checkSum(new TextEncoder().encode('123456789'))).toBe(0xcbf43926);
});

describe('a text comes back as it was', () => {
  const unit = fc.oneof(
    fc.constantFrom('grapheme' as const, 'binary' as const),
    fc.constant('grapheme-ascii' as const),
  );
  test('letter for letter, whatever the letters', async () => {
    await fc.assert(
      fc.asyncProperty(
        unit.chain((one) => fc.string({ unit: one, maxLength: 300 })),
        async (text) => {
          const letters = await carried(text);
          expect(letters).toMatch(/^[\w-]+$/);
          expect(await readCarried(letters)).toEqual({ text });
        },
      ),
      { numRuns: testCases(300) },
    );
  });
  test.each([
    ['a byte order mark', '\ufeffdapple 1\n'],
    ['half a letter', 'a\ud800b'],
    ['letters of many scripts', 'Größe = 12 Ω · 日本 ≤ 🌲🏽\r\n\u202e'],
    ['nothing', ''],
  ])('%s', async (_, text) => {
    expect(await readCarried(await carried(text))).toEqual({ text });
  });
  test('one that was packed by another program', async () => {
    expect(await readCarried(madeOutside(Buffer.from('dapple 1\n')))).toEqual({
      text: 'dapple 1\n',
    });
  });
});

describe('a link that is not whole', () => {
  const text =
    'dapple 1\ntitle: Owls\n\npanel = 120 W\nsun = 4 h\nday = panel × sun as Wh\n'.repeat(4);
  test('cut off anywhere is told', async () => {
    const letters = await carried(text);
    for (let length = 0; length < letters.length; length++) {
      const read = await readCarried(letters.slice(0, length));
      // Base64 can end in bits that say nothing: then the text is whole all the same.
      if ('text' in read) expect(read.text).toBe(text);
      else expect(read.fault).toMatch(/not whole/);
    }
    expect(await readCarried(letters.slice(0, -4))).toEqual({
      fault: expect.stringMatching(/not whole/),
    });
  });
  test('with a letter changed never opens as another text', async () => {
    const letters = await carried(text);
    await fc.assert(
      fc.asyncProperty(
        fc.nat(letters.length - 1),
        fc.constantFrom(...'abXY09-_'),
        async (at, letter) => {
          const read = await readCarried(letters.slice(0, at) + letter + letters.slice(at + 1));
          if ('text' in read) expect(read.text).toBe(text);
          else expect(read.fault).toMatch(/^This link /);
        },
      ),
      { numRuns: testCases(300) },
    );
  });
  test('is read all the same with what mail and chat put in', async () => {
    const letters = await carried(text);
    const mailed = `${letters.slice(0, 60)}\r\n ${letters.slice(60, 90)}%20${letters.slice(90)}).`;
    expect(await readCarried(mailed)).toEqual({ text });
  });
  test('of a form to come is told apart', async () => {
    expect(await readCarried(madeOutside(Buffer.from('x'), undefined, 9))).toEqual({
      fault: expect.stringMatching(/newer version/),
    });
  });
  test('with bytes that are no UTF-8 is damaged', async () => {
    expect(await readCarried(madeOutside(Buffer.from([0x64, 0xff])))).toEqual({
      fault: expect.stringMatching(/not whole/),
    });
  });
});

test('a small link that unpacks to very much is left as soon as it passes the bound', async () => {
  const bomb = madeOutside(Buffer.alloc(400_000_000), 0);
  expect(bomb.length).toBeLessThan(600_000);
  const before = process.memoryUsage().arrayBuffers;
  expect(await readCarried(bomb)).toEqual({ fault: expect.stringMatching(/more than a notebook/) });
  expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(60_000_000);
}, 120_000);

test('the largest that is allowed opens, one byte more does not', async () => {
  const whole = Buffer.alloc(LARGEST_CARRIED, 'a');
  expect(await readCarried(madeOutside(whole))).toEqual({ text: 'a'.repeat(LARGEST_CARRIED) });
  expect(await readCarried(madeOutside(Buffer.alloc(LARGEST_CARRIED + 1, 'a')))).toHaveProperty(
    'fault',
  );
});

test('any letters at all are answered', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.oneof(
        fc.string({ unit: 'binary', maxLength: 80 }),
        fc.base64String(),
        fc
          .uint8Array({ maxLength: 60 })
          .map((bytes) => Buffer.from([1, ...bytes]).toString('base64url')),
      ),
      async (letters) => {
        const read = await readCarried(letters);
        expect('fault' in read ? read.fault : '').toMatch(/^This link /);
      },
    ),
    { numRuns: testCases(1000) },
  );
});
