// The picture of a link is read back by a decoder that knows nothing of the encoder.

import decodeQR from 'qr/decode.js';
import { expect, test } from 'vitest';
import { LONGEST_PICTURE, linkPicture } from '../../web/exchange/link-picture.ts';

/** Paints the path of horizontal bars that the page draws, some pixels a square. */
function painted(
  path: string,
  size: number,
  scale: number,
): { width: number; height: number; data: Uint8Array } {
  const side = size * scale;
  const data = new Uint8Array(side * side * 4).fill(255);
  for (const [, x = '', y = '', length = ''] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
    for (let row = Number(y) * scale; row < (Number(y) + 1) * scale; row++) {
      const from = (row * side + Number(x) * scale) * 4;
      for (let at = from; at < from + Number(length) * scale * 4; at++)
        if (at % 4 !== 3) data[at] = 0;
    }
  }
  return { width: side, height: side, data };
}

test.each([30, 400, 1_000, 2_000, 2_900])('a link of %i letters is read back', (length) => {
  const page = 'https://camp.example/#/carried/';
  const letters = 'Ab9-_xYz';
  const link =
    page +
    letters.repeat(Math.ceil(length / letters.length)).slice(0, Math.max(0, length - page.length));
  const picture = linkPicture(link);
  expect(picture).toBeDefined();
  if (!picture) return;
  expect(decodeQR(painted(picture.path, picture.size, 4))).toBe(link);
});

test('what does not fit has no picture', () => {
  expect(linkPicture('x'.repeat(LONGEST_PICTURE))).toBeDefined();
  expect(linkPicture('x'.repeat(LONGEST_PICTURE + 1))).toBeUndefined();
});
