// What a name that no cell has was most likely meant to be, when it is no slip in the spelling of a
// cell: a unit without a number, a function without parentheses, a product written with an x.

import { isUnit, unitHint } from '../dimension/unit.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Code } from '../source/catalogue.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import { nameKey } from '../source/name.ts';
import type { Span } from '../source/span.ts';

const TRUTHS: ReadonlySet<string> = new Set(['yes', 'no', 'true', 'false']);
const MONTH =
  /^(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6} (?:[1-9]|[12]\d|3[01])(?: \d{4})?$/iu;

export function meantByName(
  text: string,
  span: Span,
  isKnown: (name: string) => boolean,
): Diagnostic | undefined {
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
  const gauge = /^awg (\d+)$/iu.exec(text);
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
