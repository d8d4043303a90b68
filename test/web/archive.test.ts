// An archive of notebooks: other programs read ours and we read theirs; a hostile one is left alone.

import fc from 'fast-check';
import { unzipSync, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import {
  ARCHIVE_LIMITS,
  type ArchiveEntry,
  isArchive,
  readArchive,
  writeArchive,
} from '../../web/exchange/archive.ts';
import { testCases } from '../tools/test-cases.ts';

const encode = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);
const own = (bytes: Uint8Array): Uint8Array<ArrayBuffer> => new Uint8Array(bytes);

const entry = fc.record({
  name: fc.stringMatching(/^[a-z0-9-]{1,12}\.dapple$/),
  text: fc.string({ unit: 'grapheme', maxLength: 200 }),
});

test('another program reads what is written, names and texts', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.uniqueArray(entry, { selector: (one) => one.name, maxLength: 6 }),
      async (entries) => {
        const files = unzipSync(await writeArchive(entries));
        const texts = Object.entries(files).map(([name, bytes]) => ({
          name,
          text: new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes),
        }));
        expect(texts.toSorted((a, b) => (a.name < b.name ? -1 : 1))).toEqual(
          entries.toSorted((a, b) => (a.name < b.name ? -1 : 1)),
        );
      },
    ),
    { numRuns: testCases(100) },
  );
});

test('what another program wrote is read, packed or not', async () => {
  for (const level of [0, 9] as const) {
    const zip = own(
      zipSync(
        {
          'a.dapple': encode('dapple 1\nx = 1\n'),
          'deep/er/b.dapple': encode('ü'),
          'c.png': encode('no'),
        },
        { level },
      ),
    );
    expect(isArchive(zip)).toBe(true);
    expect(await readArchive(zip)).toEqual({
      entries: [
        { name: 'a.dapple', text: 'dapple 1\nx = 1\n' },
        { name: 'b.dapple', text: 'ü' },
      ],
      notes: [],
    });
  }
});

test('two notebooks of one title are both there', async () => {
  const twice = await writeArchive([
    { name: 'a.dapple', text: '1' },
    { name: 'a.dapple', text: '2' },
  ]);
  expect(await readArchive(twice)).toEqual({
    entries: [
      { name: 'a.dapple', text: '1' },
      { name: 'a-2.dapple', text: '2' },
    ],
    notes: [],
  });
});

describe('names are only names', () => {
  test.each([
    ['../../etc/x.dapple', 'x.dapple'],
    ['C:\\users\\x.dapple', 'x.dapple'],
    ['a\u0000b\u202ec.dapple', 'a b c.dapple'],
    ['__proto__.dapple', '__proto__.dapple'],
    ['<img src=x onerror=1>.dapple', '<img src=x onerror=1>.dapple'],
    [`${'n'.repeat(500)}.dapple`, 'n'.repeat(120)],
  ])('%s', async (name, plain) => {
    const read = await readArchive(await writeArchive([{ name, text: 'x' }]));
    expect(read).toEqual({ entries: [{ name: plain, text: 'x' }], notes: [] });
  });
});

describe('a hostile archive', () => {
  const archive = (entries: readonly ArchiveEntry[]): Promise<Uint8Array<ArrayBuffer>> =>
    writeArchive(entries);
  const notesOf = async (bytes: Uint8Array<ArrayBuffer>): Promise<readonly string[]> => {
    const read = await readArchive(bytes);
    return 'fault' in read ? [read.fault] : read.notes;
  };
  /** The archive with one number of its list changed; the list begins after the only file. */
  const changed = (
    bytes: Uint8Array<ArrayBuffer>,
    offset: number,
    value: number,
  ): Uint8Array<ArrayBuffer> => {
    const copy = bytes.slice();
    const view = new DataView(copy.buffer);
    const list = view.getUint32(copy.length - 6, true);
    view.setUint32(list + offset, value, true);
    return copy;
  };

  test('that unpacks to very much is left', async () => {
    const zip = own(zipSync({ 'a.dapple': new Uint8Array(300_000_000) }, { level: 9 }));
    expect(zip.length).toBeLessThan(400_000);
    expect(await notesOf(zip)).toEqual(['“a.dapple” is too large to be a notebook.']);
    // The same with a size that lies.
    expect(await notesOf(changed(zip, 24, 10))).toEqual([
      '“a.dapple” is too large to be a notebook.',
    ]);
  });
  test('whose parts are too much together', async () => {
    const big = 'x'.repeat(ARCHIVE_LIMITS.each);
    const many = Array.from({ length: 27 }, (_, n) => ({ name: `${n}.dapple`, text: big }));
    const read = await readArchive(await archive(many));
    if ('fault' in read) throw new Error(read.fault);
    expect(read.entries).toHaveLength(ARCHIVE_LIMITS.all / ARCHIVE_LIMITS.each);
    expect(read.notes).toHaveLength(2);
  });
  test('with too many files', async () => {
    const many = Array.from({ length: ARCHIVE_LIMITS.entries + 1 }, (_, n) => ({
      name: `${n}.dapple`,
      text: '',
    }));
    expect(await notesOf(await archive(many))).toEqual([
      'This archive holds more than 1000 files.',
    ]);
  });
  test('with a place outside of it, a wrong sum, a lock, an unknown packing', async () => {
    const one = await archive([{ name: 'a.dapple', text: 'dapple 1\n'.repeat(9) }]);
    expect(await notesOf(changed(one, 42, 0xfffffff0))).toEqual(['“a.dapple” is damaged.']);
    expect(await notesOf(changed(one, 20, 0xfffffff0))).toEqual(['“a.dapple” is damaged.']);
    expect(await notesOf(changed(one, 16, 1))).toEqual(['“a.dapple” is damaged.']);
    expect(await notesOf(changed(one, 8, 0x00080001))).toEqual([expect.stringMatching(/password/)]);
    expect(await notesOf(changed(one, 8, 0x00630800))).toEqual([
      expect.stringMatching(/does not know/),
    ]);
  });
  test('with UTF-16 inside says which file', async () => {
    const zip = own(zipSync({ 'a.dapple': own(Buffer.from('\ufeffdapple 1\n', 'utf16le')) }));
    expect(await notesOf(zip)).toEqual([expect.stringMatching(/^“a.dapple” is written in UTF-16/)]);
  });
  test('cut off is told, at any length', async () => {
    const one = await archive([{ name: 'a.dapple', text: 'dapple 1\n' }]);
    for (let length = 0; length < one.length; length++) {
      expect(await readArchive(one.slice(0, length))).toEqual({
        fault: expect.stringMatching(/damaged/),
      });
    }
  });
  test('of any bytes is answered, and never with another text', async () => {
    const text = 'dapple 1\npanel = 120 W\n';
    const good = await archive([
      { name: 'a.dapple', text },
      { name: 'b.dapple', text },
    ]);
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { minLength: 1, maxLength: 6 }),
        async (changes) => {
          const bytes = good.slice();
          for (const [at, byte] of changes) bytes[at] = byte;
          const read = await readArchive(bytes);
          if ('fault' in read) expect(read.fault).toMatch(/\.$/);
          else for (const one of read.entries) expect(one.text).toBe(text);
        },
      ),
      { numRuns: testCases(500) },
    );
  });
});
