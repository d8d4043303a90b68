// Texts between quotes, straight or curly. A note, a column border and a bracket inside a text are
// no note, border or bracket, so the reader of notebooks and the lexer share this.

const STRAIGHT = '"';

/** Whether a text between quotes may begin with this character: `"`, or one of “ ” „ ‟. */
export function opensText(character: string): boolean {
  return isQuote(character.charCodeAt(0));
}

/** The same of the code of a character. */
export function isQuote(code: number): boolean {
  return code === 0x22 || (code >= 0x201c && code <= 0x201f);
}

/**
 * Where the text that opens at a position ends (after its closing quote), or -1 when the line has
 * no closing quote. A text closes with the kind of quote it opened with; failing that with the
 * other kind, since phones mix them.
 */
export function textEnd(text: string, open: number): number {
  const straight = text.charAt(open) === STRAIGHT;
  let other = -1;
  for (let at = open + 1; at < text.length; at += 1) {
    const character = text.charAt(at);
    if (character === '\n' || character === '\r') break;
    if (!opensText(character)) continue;
    if ((character === STRAIGHT) === straight) return at + 1;
    if (other < 0) other = at + 1;
  }
  return other;
}

/** The first position from `start` to `end` outside a text where the test holds, or -1. */
export function findOutsideText(
  text: string,
  start: number,
  end: number,
  test: (position: number) => boolean,
): number {
  let at = start;
  while (at < end) {
    if (test(at)) return at;
    const close = opensText(text.charAt(at)) ? textEnd(text, at) : -1;
    at = close > 0 && close <= end ? close : at + 1;
  }
  return -1;
}

const ANY_QUOTE = /["\u201c-\u201f]/;

/** The first place of a sign from `start` to `end` outside a text, or -1. */
export function signOutsideText(text: string, start: number, end: number, sign: string): number {
  const stretch = text.slice(start, end);
  const at = stretch.indexOf(sign);
  if (at < 0 || !ANY_QUOTE.test(stretch.slice(0, at))) return at < 0 ? at : start + at;
  return findOutsideText(text, start, end, (place) => text.charAt(place) === sign);
}
