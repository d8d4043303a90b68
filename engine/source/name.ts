// What a name is, letter by letter. The reader of notebooks splits lines at names and the lexer
// reads names inside formulas; both must agree, so the rule stands here, below both of them.

/** Words that end a name wherever they stand in it. */
export const JOINING_WORDS: ReadonlySet<string> = new Set([
  'as',
  'with',
  'within',
  'if',
  'then',
  'else',
  'and',
  'or',
  'not',
  'against',
]);

/** Words that end a name in bounds. */
export const BOUNDS_WORDS: ReadonlySet<string> = new Set([...JOINING_WORDS, 'by']);

/** Words that begin a line of their own kind and so cannot begin a name. */
export const LINE_WORDS: ReadonlySet<string> = new Set([
  'check',
  'must',
  'chart',
  'scenario',
  'answer',
]);

/** Names that already mean something and cannot be given to a cell. */
export const TAKEN_WORDS: ReadonlySet<string> = new Set(['none', 'pi', 'π']);

const WORD_PATTERN =
  "\\p{L}[\\p{L}\\p{M}\\p{Nd}'’ʼ‘_]*(?:[-\\u2010\\u2011][\\p{L}\\p{M}\\p{Nd}'’ʼ‘_]+)*";
const WHOLE_NUMBER_PATTERN =
  "[0-9]+(?![\\p{L}\\p{M}\\p{Nd}'’_%°])(?!\\.[0-9])(?!:[0-9])(?!-[0-9]{1,2}-[0-9])";
const WORD = new RegExp(WORD_PATTERN, 'uy');
const WHOLE_NUMBER = new RegExp(WHOLE_NUMBER_PATTERN, 'uy');
const HYPHEN = 0x2d;
const BEYOND_ASCII = 0x80;

// Tables by the code of a character of ASCII, since every letter is looked up.

const LETTER = 1;
/** A figure, an apostrophe or a low line: they only continue a word. */
const INSIDE = 2;
const SORT = Uint8Array.from({ length: BEYOND_ASCII }, (_, code) => {
  const character = String.fromCharCode(code);
  return /[a-z]/i.test(character) ? LETTER : /[0-9'_]/.test(character) ? INSIDE : 0;
});
/** Whether it is the same in a key: small letters, what continues a word, the hyphen. */
const IN_KEY = Uint8Array.from({ length: BEYOND_ASCII }, (_, code) =>
  /[a-z0-9'_-]/.test(String.fromCharCode(code)) ? 1 : 0,
);
/** Letters with which a joining word may begin, small or large. */
const JOINING_FIRST = Uint8Array.from({ length: BEYOND_ASCII }, (_, code) => {
  const letter = String.fromCharCode(code).toLowerCase();
  return [...BOUNDS_WORDS].some((word) => word.startsWith(letter)) ? 1 : 0;
});

function isSingleSpace(code: number): boolean {
  return code === 0x20 || code === 0xa0 || code === 0x202f;
}

function isFigure(code: number): boolean {
  return code >= 0x30 && code <= 0x39;
}

/**
 * Whether a character beyond ASCII is certainly none of a word: × and ÷, the signs below them, dashes
 * and quotes but for ‘ and ’, arrows and the signs of mathematics. Of the others the patterns know, which
 * are dear to make ready.
 */
export function isSign(code: number): boolean {
  if (code < 0x2012) {
    if (code < 0xc0) return code >= BEYOND_ASCII && code !== 0xaa && code !== 0xb5 && code !== 0xba;
    return code === 0xd7 || code === 0xf7;
  }
  return (
    (code <= 0x2070 && code !== 0x2018 && code !== 0x2019) || (code >= 0x2190 && code < 0x2c00)
  );
}

/** The word that begins at a position, or nothing. */
export function wordAt(text: string, position: number): string | undefined {
  const end = wordEnd(text, position);
  return end > position ? text.slice(position, end) : undefined;
}

/** Where the word that begins at a position ends; the position when none does. Words of plain letters are read without the pattern. */
export function wordEnd(text: string, position: number): number {
  const first = text.charCodeAt(position);
  if (first < BEYOND_ASCII ? SORT[first] !== LETTER : isSign(first)) return position;
  let at = position;
  let code = first;
  while (code < BEYOND_ASCII) {
    if (SORT[code] === 0) {
      if (code !== HYPHEN) return at;
      const next = text.charCodeAt(at + 1);
      if (next >= BEYOND_ASCII && !isSign(next)) return patternEnd(WORD, text, position);
      if (!((SORT[next] as number) > 0)) return at;
    }
    at++;
    code = text.charCodeAt(at);
  }
  return code >= BEYOND_ASCII && !isSign(code) ? patternEnd(WORD, text, position) : at;
}

function patternEnd(pattern: RegExp, text: string, position: number): number {
  pattern.lastIndex = position;
  return pattern.test(text) ? pattern.lastIndex : position;
}

/** A later word of a name: a word, or a whole number. */
export function laterWordAt(text: string, position: number): string | undefined {
  const end = laterWordEnd(text, position);
  return end > position ? text.slice(position, end) : undefined;
}

/** Signs after which figures are a whole number, whatever else follows: a space and most of ASCII. */
function endsFigures(code: number): boolean {
  return (
    code === 0x20 ||
    (code > 0x25 && code < 0x2d && code !== 0x27) ||
    code === 0x2f ||
    (code > 0x3a && code < 0x41) ||
    Number.isNaN(code)
  );
}

function laterWordEnd(text: string, position: number): number {
  if (!isFigure(text.charCodeAt(position))) return wordEnd(text, position);
  let at = position + 1;
  while (isFigure(text.charCodeAt(at))) at++;
  return endsFigures(text.charCodeAt(at)) ? at : patternEnd(WHOLE_NUMBER, text, position);
}

/** Letters of the longest joining word. */
export const LONGEST_JOINING = Math.max(...[...JOINING_WORDS].map((word) => word.length));

/** Whether the word between two places is a joining word, in any case of letters. */
export function isJoining(
  text: string,
  start: number,
  end: number,
  joining: ReadonlySet<string>,
): boolean {
  const length = end - start;
  if (length < 2 || length > LONGEST_JOINING) return false;
  return (
    JOINING_FIRST[text.charCodeAt(start)] === 1 && joining.has(text.slice(start, end).toLowerCase())
  );
}

/**
 * Where the name that begins at a position ends: the longest run of words with single spaces
 * between, none of them a joining word. The position itself when no name begins there.
 */
export function nameEnd(
  text: string,
  start: number,
  joining: ReadonlySet<string> = JOINING_WORDS,
): number {
  const first = wordEnd(text, start);
  if (first === start || isJoining(text, start, first, joining)) return start;
  return nameEndAfter(text, first, joining);
}

/** Where a name ends whose first word ends at a position. */
export function nameEndAfter(text: string, first: number, joining: ReadonlySet<string>): number {
  let end = first;
  while (end < text.length && isSingleSpace(text.charCodeAt(end))) {
    const next = laterWordEnd(text, end + 1);
    if (next === end + 1 || isJoining(text, end + 1, next, joining)) break;
    end = next;
  }
  return end;
}

/** Whether a text is its own key: small letters, figures, single spaces. */
function isOwnKey(text: string): boolean {
  let before = 0x20;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (IN_KEY[code] !== 1 && !(code === 0x20 && before !== 0x20)) return false;
    before = code;
  }
  return before !== 0x20;
}

/** The form of a name for matching: lower case, one apostrophe and hyphen form, single spaces. */
export function nameKey(text: string): string {
  if (isOwnKey(text)) return text;
  return text
    .normalize('NFC')
    .toLowerCase()
    .replace(/[’ʼ‘]/gu, "'")
    .replace(/[\u2010\u2011]/gu, '-')
    .replace(/\s+/gu, ' ')
    .trim();
}

/** The words of a text that stand between spaces, in order. */
export function wordsOf(text: string): readonly string[] {
  return text.split(/\s+/u).filter((word) => word !== '');
}

/** Whether the whole text can be the name of a column: words with spaces, no joining word. */
export function isPhrase(text: string): boolean {
  const single = text.trim().replace(/\s+/gu, ' ');
  return single !== '' && nameEnd(single, 0) === single.length;
}

/** Whether the whole text can be the name of a cell. */
export function isCellName(text: string): boolean {
  const first = wordsOf(text)[0]?.toLowerCase() ?? '';
  return isPhrase(text) && !LINE_WORDS.has(first) && !TAKEN_WORDS.has(nameKey(text));
}
