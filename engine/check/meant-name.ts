// What a name that no cell has was most likely meant to be, when it is no slip in the spelling of a
// cell: a unit without a number, a function without parentheses, a product written with an x.

import { isUnit, unitHint } from '../dimension/unit.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Code } from '../source/catalogue.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import { nameKey } from '../source/name.ts';
import type { Span } from '../source/span.ts';

/** Characters of the longest phrase that may be a slip: trying every part of a longer one takes seconds. */
const LONGEST_PHRASE = 300;
const TRUTHS: ReadonlySet<string> = new Set(['yes', 'no', 'true', 'false']);
const MONTH =
  /^(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6} (?:[1-9]|[12]\d|3[01])(?: \d{4})?$/iu;

const COMPARED: readonly (readonly [words: RegExp, sign: string])[] = [
  [/ (?:is |must be )?(?:less than|below|under|smaller than) /iu, '<'],
  [/ (?:is |must be )?(?:at most|no more than) /iu, '≤'],
  [/ (?:is |must be )?(?:more than|greater than|larger than|above|over) /iu, '>'],
  [/ (?:is |must be )?(?:at least|no less than) /iu, '≥'],
  [/ (?:is |must be )?(?:equal to|equals) /iu, '='],
];

/** `charge is at least 20 %` as `charge ≥ 20 %`. */
function comparison(text: string, isKnown: (name: string) => boolean): string | undefined {
  for (const [words, sign] of COMPARED) {
    const [left = '', right = ''] = text.split(words);
    if (right !== '' && isKnown(left)) return `${left} ${sign} ${right}`;
  }
  const [left = '', low = ''] = text.split(/ (?:is |lies )?between /iu);
  return low !== '' && isKnown(left) ? `${left} within ${low}..…` : undefined;
}

export function meantByName(
  text: string,
  span: Span,
  isKnown: (name: string) => boolean,
): Diagnostic | undefined {
  if (text.length > LONGEST_PHRASE) return undefined;
  const say = (code: Code, sentence: string, instead?: string): Diagnostic => ({
    code,
    span,
    text: sentence,
    ...(instead === undefined
      ? {}
      : { fixes: [{ label: `Write ${instead}`, span, text: instead }] }),
  });
  const factors = text.split(/ [xX] /u);
  if (factors.length > 1 && factors.every((word) => isKnown(word) || /^\d+$/u.test(word))) {
    const product = factors.join(' × ');
    return say('times-letter', `The letter x does not multiply. Write ${product}.`, product);
  }
  const shown = /^(.+) (?:in|to|into) (\S+)$/iu.exec(text);
  if (shown && isKnown(shown[1] ?? '') && isUnit(shown[2] ?? '')) {
    const written = `${shown[1]} as ${shown[2]}`;
    return say(
      'sign-meant',
      `A result is shown in another unit by "as". Write ${written}.`,
      written,
    );
  }
  const compared = comparison(text, isKnown);
  if (compared)
    return say(
      'sign-meant',
      `What is compared is written with signs. Write ${compared}.`,
      compared,
    );
  const tried = /^(.+?) from (\S.*?) (?:to|until) (\S.*?)(?: by (\S.*))?$/iu.exec(text);
  if (tried && isKnown(tried[1] ?? '')) {
    const [, given = '', from = '', to = '', by] = tried;
    const written = `${given} = ${by ? `steps(${from}, ${to}, by: ${by})` : `${from}..${to}`}`;
    return say(
      'sign-meant',
      `Values to try follow a = sign, after "against" or "with". Write ${written}.`,
      written,
    );
  }
  const between = /^between (\S.*)$/iu.exec(text);
  if (between)
    return say(
      'sign-meant',
      `Both ends stand in parentheses, with a comma between. Write between(${between[1]}, …).`,
    );
  const times = /^(.+) (\d+)$/u.exec(text);
  if (times && isKnown(times[1] ?? ''))
    return say(
      'times-missing',
      `No cell is called "${text}". Write an operator between "${times[1]}" and ${times[2]}, such as ${times[1]} × ${times[2]}.`,
      `${times[1]} × ${times[2]}`,
    );
  const gauge = /^awg ?(\d+)$/iu.exec(text);
  if (gauge) {
    const written = `${gauge[1]} AWG`;
    return say('unit-alone', `A unit stands after its number. Write ${written}.`, written);
  }
  const words = text.split(' ');
  for (let count = words.length - 1; count > 0; count--) {
    const fn = libraryFunctions.get(nameKey(words.slice(0, count).join(' ')));
    const rest = words.slice(count).join(' ');
    if (!fn || !(isKnown(rest) || /^\d+$/u.test(rest))) continue;
    const call = `${fn.name}(${rest})`;
    return say(
      'function-alone',
      `"${fn.name}" is a function. Write what it works on in parentheses: ${call}.`,
      call,
    );
  }
  if (TRUTHS.has(text.toLowerCase()))
    return say(
      'truth-word',
      `"${text}" is no value of its own. Write a comparison, such as 2 > 1, or a text in quotes: "${text}".`,
    );
  if (MONTH.test(text))
    return say(
      'date-order',
      `"${text}" looks like a date. Dates are written year, month, day, such as 2027-05-14.`,
    );
  if (isUnit(text))
    return say(
      'unit-alone',
      `"${text}" is a unit and needs a number before it, such as 1 ${text}. A product of units is written with ·, such as V·A.`,
    );
  const hint = text.includes(' ') ? undefined : unitHint(text);
  if (hint === undefined) return undefined;
  return say('unit-alone', `No cell is called "${text}". If a unit is meant: ${hint}`);
}
