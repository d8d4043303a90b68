// A whole notebook in the part of an address after `#`, which no browser sends to a server. The text
// is packed and written in letters that survive being mailed; its check sum tells a link that was cut
// off or changed on the way from a whole one.
//
//   #/carried/ + base64url( form · check sum (4 bytes) · deflate(text) )

import { CARRIED } from './link-word.ts';
import { checkSum, deflated, inflated, joined, PackingFault } from './packing.ts';

/** The largest text a link may unpack to, bytes. */
export const LARGEST_CARRIED = 2_000_000;
/** Longer than this no link is read, letters: such a text would not pack so badly. */
const LONGEST_LINK = 4_000_000;

/** UTF-8, and the rare text that UTF-8 cannot hold, with half a letter in it. */
const FORM = { utf8: 1, units: 2 } as const;
const HEAD_LENGTH = 5;

export type CarriedNotebook = { readonly text: string } | { readonly fault: string };

const FAULTS = {
  damaged:
    'This link is not whole: a part was lost or changed on the way. Ask for it again, or for the file.',
  large: 'This link unpacks to more than a notebook can hold, and was left closed.',
  newer:
    'This link was made by a newer version of this page. Load the page again, then open the link.',
} as const;

/** The address of a notebook's text on this page. */
export async function linkOf(page: string, text: string): Promise<string> {
  const whole = !/\p{Surrogate}/u.test(text);
  const bytes = whole ? new TextEncoder().encode(text) : unitsOf(text);
  const head = new Uint8Array(HEAD_LENGTH);
  head[0] = whole ? FORM.utf8 : FORM.units;
  new DataView(head.buffer).setUint32(1, checkSum(bytes));
  const packed = joined([head, await deflated(bytes)]);
  return `${page.replace(/#.*$/s, '')}#/${CARRIED}${lettersOf(packed)}`;
}

/** Reads what follows `#/carried/`. Never throws: a link that cannot be read has its reason in words. */
export async function readCarried(letters: string): Promise<CarriedNotebook> {
  if (letters.length > LONGEST_LINK) return { fault: FAULTS.large };
  const packed = bytesOf(letters);
  if (packed === undefined || packed.length <= HEAD_LENGTH) return { fault: FAULTS.damaged };
  const form = packed[0];
  const sum = new DataView(packed.buffer).getUint32(1);
  try {
    const bytes = await inflated(packed.slice(HEAD_LENGTH), LARGEST_CARRIED);
    if (checkSum(bytes) !== sum) return { fault: FAULTS.damaged };
    if (form === FORM.utf8) {
      return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
    }
    if (form === FORM.units && bytes.length % 2 === 0) return { text: textOfUnits(bytes) };
    return { fault: FAULTS.newer };
  } catch (reason) {
    const large = reason instanceof PackingFault && reason.why === 'too large';
    return { fault: large ? FAULTS.large : FAULTS.damaged };
  }
}

function unitsOf(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(text.length * 2);
  const view = new DataView(bytes.buffer);
  for (let at = 0; at < text.length; at++) view.setUint16(at * 2, text.charCodeAt(at));
  return bytes;
}

function textOfUnits(bytes: Uint8Array<ArrayBuffer>): string {
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  let text = '';
  for (let at = 0; at < bytes.length; at += 2) text += String.fromCharCode(view.getUint16(at));
  return text;
}

function lettersOf(bytes: Uint8Array): string {
  let binary = '';
  for (const byte of bytes) binary += String.fromCharCode(byte);
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

/**
 * The bytes of a link's letters. Signs that no link has, but that mail and chat put in or at the end
 * (spaces, line ends, a bracket, a full stop), are left out; the check sum tells the rest.
 */
function bytesOf(letters: string): Uint8Array<ArrayBuffer> | undefined {
  const kept = letters.replace(/%[0-9a-f]{2}/gi, '').replace(/[^\w-]+/g, '');
  try {
    const binary = atob(kept.replaceAll('-', '+').replaceAll('_', '/'));
    return Uint8Array.from(binary, (sign) => sign.charCodeAt(0));
  } catch {
    return undefined;
  }
}
