// Many notebooks in one file: a ZIP archive (the format's own document is APPNOTE.TXT, 4.3 and 4.4).
// Writing packs each text and names it in UTF-8. Reading trusts nothing in the file: the number of
// entries, each size and the sum of all are bounded, names are only names, and every text is held
// against its check sum.

import { decodeText } from '../keep/text-bytes.ts';
import { checkSum, deflated, inflated, joined, PackingFault } from './packing.ts';

export interface ArchiveEntry {
  readonly name: string;
  readonly text: string;
}

export interface ReadArchive {
  readonly entries: readonly ArchiveEntry[];
  /** Files that are in the archive and could not be read, one sentence each. */
  readonly notes: readonly string[];
}

export const ARCHIVE_LIMITS = {
  /** Bytes of the archive itself. */
  packed: 50_000_000,
  entries: 1_000,
  /** Bytes of one notebook, unpacked, and of all together. */
  each: 4_000_000,
  all: 100_000_000,
} as const;

const SIGN = { entry: 0x04034b50, listed: 0x02014b50, end: 0x06054b50 } as const;
const LENGTH = { entry: 30, listed: 46, end: 22 } as const;
/** A comment can stand after the end's own bytes. */
const LONGEST_COMMENT = 65_535;
const UTF8_NAMES = 0x0800;
const ENCRYPTED = 0x0001;
const STORED = 0;
const DEFLATED = 8;
/** 1980-01-01: archives hold no moment, so that the same notebooks give the same file. */
const NO_DATE = 0x0021;

// ── writing ─────────────────────────────────────────────────────────────────────────────────────

/** Writes an archive of texts; names that agree get a number. */
export async function writeArchive(
  entries: readonly ArchiveEntry[],
): Promise<Uint8Array<ArrayBuffer>> {
  const files: Uint8Array[] = [];
  const list: Uint8Array[] = [];
  const taken = new Set<string>();
  let offset = 0;
  for (const entry of entries) {
    const name = new TextEncoder().encode(freshName(entry.name, taken));
    const bytes = new TextEncoder().encode(entry.text);
    const packed = await deflated(bytes);
    const common = headOf(name.length, bytes, packed.length);
    const file = joined([numbers([SIGN.entry, 4], ...common), name, packed]);
    list.push(
      joined([
        numbers([SIGN.listed, 4], [20, 2], ...common, [0, 2], [0, 2], [0, 2], [0, 4], [offset, 4]),
        name,
      ]),
    );
    files.push(file);
    offset += file.length;
  }
  const size = list.reduce((sum, part) => sum + part.length, 0);
  const count = entries.length;
  const end = numbers(
    [SIGN.end, 4],
    [0, 2],
    [0, 2],
    [count, 2],
    [count, 2],
    [size, 4],
    [offset, 4],
    [0, 2],
  );
  return joined([...files, ...list, end]);
}

type Sized = readonly [value: number, bytes: 2 | 4];

/** The fields that a file and its line in the list share. */
function headOf(nameLength: number, bytes: Uint8Array, packed: number): readonly Sized[] {
  return [
    [20, 2],
    [UTF8_NAMES, 2],
    [DEFLATED, 2],
    [0, 2],
    [NO_DATE, 2],
    [checkSum(bytes), 4],
    [packed, 4],
    [bytes.length, 4],
    [nameLength, 2],
    [0, 2],
  ];
}

function numbers(...fields: readonly Sized[]): Uint8Array {
  const bytes = new Uint8Array(fields.reduce((sum, [, length]) => sum + length, 0));
  const view = new DataView(bytes.buffer);
  let at = 0;
  for (const [value, length] of fields) {
    if (length === 2) view.setUint16(at, value, true);
    else view.setUint32(at, value, true);
    at += length;
  }
  return bytes;
}

function freshName(name: string, taken: Set<string>): string {
  const [, stem = name, ending = ''] = /^(.*?)(\.[^.]*)?$/s.exec(name) ?? [];
  let fresh = name;
  for (let n = 2; taken.has(fresh); n++) fresh = `${stem}-${n}${ending}`;
  taken.add(fresh);
  return fresh;
}

// ── reading ─────────────────────────────────────────────────────────────────────────────────────

interface Listed {
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly sum: number;
  readonly packed: number;
  readonly size: number;
  readonly offset: number;
}

/** Whether bytes begin as an archive does. */
export function isArchive(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5);
}

/** Reads the notebooks of an archive, or says in one sentence why it cannot. */
export async function readArchive(
  bytes: Uint8Array<ArrayBuffer>,
): Promise<ReadArchive | { readonly fault: string }> {
  if (bytes.length > ARCHIVE_LIMITS.packed) return { fault: 'This archive is too large.' };
  const listed = readList(bytes);
  if ('fault' in listed) return listed;
  const entries: ArchiveEntry[] = [];
  const notes: string[] = [];
  let left: number = ARCHIVE_LIMITS.all;
  for (const one of listed.list) {
    if (one.name.endsWith('/') || !/\.(?:dapple|txt)$/i.test(one.name)) continue;
    const name = plainName(one.name);
    const read = await readEntry(bytes, one, Math.min(left, ARCHIVE_LIMITS.each));
    if ('fault' in read) notes.push(`“${name}” ${read.fault}`);
    else {
      left -= read.size;
      entries.push({ name, text: read.text });
    }
  }
  if (entries.length === 0 && notes.length === 0) {
    return { fault: 'There is no notebook in this archive.' };
  }
  return { entries, notes };
}

function readList(
  bytes: Uint8Array<ArrayBuffer>,
): { readonly list: readonly Listed[] } | { readonly fault: string } {
  const damaged = { fault: 'This archive is damaged: its list of files cannot be read.' };
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endOf(view);
  if (end < 0) return damaged;
  const count = view.getUint16(end + 10, true);
  if (count > ARCHIVE_LIMITS.entries) {
    return { fault: `This archive holds more than ${ARCHIVE_LIMITS.entries} files.` };
  }
  const list: Listed[] = [];
  let at = view.getUint32(end + 16, true);
  for (let n = 0; n < count; n++) {
    if (at + LENGTH.listed > end || view.getUint32(at, true) !== SIGN.listed) return damaged;
    const nameLength = view.getUint16(at + 28, true);
    const next =
      at +
      LENGTH.listed +
      nameLength +
      view.getUint16(at + 30, true) +
      view.getUint16(at + 32, true);
    if (next > end) return damaged;
    const name = bytes.subarray(at + LENGTH.listed, at + LENGTH.listed + nameLength);
    list.push({
      name: new TextDecoder().decode(name),
      flags: view.getUint16(at + 8, true),
      method: view.getUint16(at + 10, true),
      sum: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
    });
    at = next;
  }
  return { list };
}

/** Where the end's own bytes begin, or −1. */
function endOf(view: DataView): number {
  const last = view.byteLength - LENGTH.end;
  for (let at = last; at >= Math.max(0, last - LONGEST_COMMENT); at--) {
    if (
      view.getUint32(at, true) === SIGN.end &&
      at + LENGTH.end + view.getUint16(at + 20, true) === view.byteLength
    )
      return at;
  }
  return -1;
}

async function readEntry(
  bytes: Uint8Array<ArrayBuffer>,
  listed: Listed,
  most: number,
): Promise<{ readonly text: string; readonly size: number } | { readonly fault: string }> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { offset, packed, method } = listed;
  if (listed.flags & ENCRYPTED) return { fault: 'is locked with a password.' };
  if (method !== STORED && method !== DEFLATED)
    return { fault: 'is packed in a way this page does not know.' };
  if (listed.size > most) return { fault: 'is too large to be a notebook.' };
  if (offset + LENGTH.entry > bytes.length || view.getUint32(offset, true) !== SIGN.entry) {
    return { fault: 'is damaged.' };
  }
  const start =
    offset + LENGTH.entry + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  if (start + packed > bytes.length) return { fault: 'is damaged.' };
  const inside = bytes.slice(start, start + packed);
  try {
    const whole = method === STORED ? inside : await inflated(inside, most);
    if (whole.length > most) return { fault: 'is too large to be a notebook.' };
    if (checkSum(whole) !== listed.sum) return { fault: 'is damaged.' };
    const decoded = decodeText(whole);
    return 'fault' in decoded ? decoded : { text: decoded.text, size: whole.length };
  } catch (reason) {
    const large = reason instanceof PackingFault && reason.why === 'too large';
    return { fault: large ? 'is too large to be a notebook.' : 'is damaged.' };
  }
}

/** The last part of a path, without signs that cannot be seen. */
function plainName(path: string): string {
  const last = path.split(/[/\\]/).at(-1) ?? '';
  return (
    last
      .replace(/[\p{C}\p{Zl}\p{Zp}]+/gu, ' ')
      .trim()
      .slice(0, 120) || 'notebook.dapple'
  );
}
