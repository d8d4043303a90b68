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
/** A text that is its own key: small letters, figures, single spaces. */
const PLAIN_KEY = /^[a-z0-9'_-]+(?: [a-z0-9'_-]+)*$/;
const HYPHEN = 0x2d;
const BEYOND_ASCII = 0x80;

function isSingleSpace(code: number): boolean {
  return code === 0x20 || code === 0xa0 || code === 0x202f;
}

function isFigure(code: number): boolean {
  return code >= 0x30 && code <= 0x39;
}

function isLetter(code: number): boolean {
  return (code >= 0x61 && code <= 0x7a) || (code >= 0x41 && code <= 0x5a);
}

/** A letter, a figure, an apostrophe or a low line. */
function continuesWord(code: number): boolean {
  return isLetter(code) || isFigure(code) || code === 0x27 || code === 0x5f;
}

/** The word that begins at a position, or nothing. Words of plain letters are read without the pattern. */
export function wordAt(text: string, position: number): string | undefined {
  const first = text.charCodeAt(position);
  if (first < BEYOND_ASCII && !isLetter(first)) return undefined;
  let at = position;
  let code = first;
  while (continuesWord(code)) {
    at++;
    code = text.charCodeAt(at);
    if (code === HYPHEN) {
      const next = text.charCodeAt(at + 1);
      if (next >= BEYOND_ASCII) break;
      if (continuesWord(next)) {
        at++;
        code = next;
      }
    }
  }
  if (code === HYPHEN ? !(text.charCodeAt(at + 1) >= BEYOND_ASCII) : !(code >= BEYOND_ASCII))
    return at > position ? text.slice(position, at) : undefined;
  WORD.lastIndex = position;
  return WORD.exec(text)?.[0];
}

/** A later word of a name: a word, or a whole number. */
export function laterWordAt(text: string, position: number): string | undefined {
  if (!isFigure(text.charCodeAt(position))) return wordAt(text, position);
  WHOLE_NUMBER.lastIndex = position;
  return WHOLE_NUMBER.exec(text)?.[0];
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
  const first = wordAt(text, start);
  if (first === undefined || joining.has(first.toLowerCase())) return start;
  let end = start + first.length;
  while (end < text.length && isSingleSpace(text.charCodeAt(end))) {
    const word = laterWordAt(text, end + 1);
    if (word === undefined || joining.has(word.toLowerCase())) break;
    end += 1 + word.length;
  }
  return end;
}

/** The form of a name for matching: lower case, one apostrophe and hyphen form, single spaces. */
export function nameKey(text: string): string {
  if (PLAIN_KEY.test(text)) return text;
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
