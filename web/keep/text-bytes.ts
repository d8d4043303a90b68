// From bytes to the text of a notebook. A notebook is UTF-8; anything else is named for what it is,
// and no byte is ever replaced, so that a file that is opened and saved is the same file.

/** A predicate without its subject, so that it can be said of a file: `is no text …`. */
export type DecodedText = { readonly text: string } | { readonly fault: string };

export function decodeText(bytes: Uint8Array): DecodedText {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return wide('UTF-16');
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return wide('UTF-16');
  const zero = bytes.indexOf(0);
  if (zero >= 0)
    return looksWide(bytes)
      ? wide('UTF-16')
      : { fault: 'is no text: it may be a picture, a program or an archive.' };
  try {
    return { text: new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes) };
  } catch {
    const { line, byte } = firstWrong(bytes);
    return {
      fault: `is not written in UTF-8: on line ${line} stands the byte ${byte}, which UTF-8 does not have there. Save it as UTF-8 in the program it comes from, then open it again.`,
    };
  }
}

function wide(name: string): DecodedText {
  return {
    fault: `is written in ${name}, and a notebook is UTF-8. Save it as UTF-8 in the program it comes from, then open it again.`,
  };
}

/** Every second byte of plain letters is zero in UTF-16. */
function looksWide(bytes: Uint8Array): boolean {
  const seen = Math.min(bytes.length, 4000);
  let even = 0;
  let odd = 0;
  for (let at = 0; at < seen; at++) {
    if (bytes[at] !== 0) continue;
    if (at % 2 === 0) even++;
    else odd++;
  }
  const most = Math.max(even, odd);
  return most > seen * 0.3 && Math.min(even, odd) < seen * 0.02 + 1;
}

/** Where the first byte stands that cannot be read, by halving: what stands before it can. */
function firstWrong(bytes: Uint8Array): { readonly line: number; readonly byte: string } {
  let right = 0;
  let wrong = bytes.length;
  while (right < wrong) {
    const middle = (right + wrong) >> 1;
    // As a stream, since a letter may be cut at the middle.
    const decoder = new TextDecoder('utf-8', { fatal: true });
    try {
      decoder.decode(bytes.subarray(0, middle + 1), { stream: true });
      right = middle + 1;
    } catch {
      wrong = middle;
    }
  }
  const at = Math.min(right, bytes.length - 1);
  let line = 1;
  for (let i = 0; i < at; i++) if (bytes[i] === 0x0a) line++;
  return { line, byte: `0x${(bytes[at] ?? 0).toString(16).toUpperCase().padStart(2, '0')}` };
}
