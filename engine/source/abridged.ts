// What a message quotes, no longer than a message bears.

const LONGEST = 160;
const BEGINNING = 100;
const END = 40;

/** The words, or the beginning and the end of very long ones. No sign is cut in two. */
export function abridged(words: string): string {
  if (words.length <= LONGEST) return words;
  const beginning = words.slice(0, BEGINNING).replace(/[\ud800-\udbff]$/u, '');
  const end = words.slice(-END).replace(/^[\udc00-\udfff]/u, '');
  return `${beginning} … ${end}`;
}
