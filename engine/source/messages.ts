// The sentences a reader sees when a formula or a line of a notebook cannot be read: for each code
// what is wrong, then what to do. The sentences of the checker stand in check-messages.ts.

import { abridged } from './abridged.ts';
import type { Diagnostic, Fix } from './diagnostic.ts';
import type { Span } from './span.ts';

const MESSAGES = {
  // Signs and words of a formula.
  'character-unknown': (sign: string) => `"${sign}" has no meaning in a formula. Delete it.`,
  'character-invisible': (code: string) =>
    `An invisible character (${code}) stands here. Delete it.`,
  'dash-long': () =>
    'A long dash has no meaning here. Write - for minus, .. for a span, or -- before a note.',
  'text-unclosed': () => 'This text has no closing quote. Put " at its end.',
  'number-huge': (number: string) =>
    `${number} is larger than any number that can be worked with. Write a smaller one, or another unit.`,
  'decimal-comma': (written: string, meant: string, apart: string) =>
    `"${written}" has a comma between its figures. Write ${meant} for a decimal number, or ${apart} for two.`,
  'number-space': (meant: string) =>
    `A number is written without spaces inside. Write ${meant}, or put an operator between the two.`,
  'time-wrong': (written: string) =>
    `"${written}" is no time of day. Hours run from 00 to 24 and minutes from 00 to 59, such as 06:30.`,
  'time-seconds': (written: string) =>
    `"${written}" has seconds. Write hours and minutes only, such as 06:30.`,
  'date-digits': (written: string) =>
    `"${written}" looks like a date but is not written as one. Write month and day with two figures, such as 2027-05-04, or put spaces round a minus.`,
  'date-wrong': (written: string) =>
    `"${written}" is no day of the calendar. Write year, month and day, such as 2027-05-14.`,
  'unit-unknown': (unit: string) =>
    `"${unit}" is no unit. Write × between a number and a cell, or a known unit after the number.`,
  'unit-meant': (unit: string, meant: string) =>
    `"${unit}" is no unit. Write ${meant}, or × between a number and a cell.`,
  'unit-hint': (unit: string, hint: string) => `"${unit}" is no unit. ${hint}`,
  'unit-two': (written: string, meant: string) =>
    `"${written}" is no unit: a number has one unit, without spaces. Write ${meant}.`,
  'date-order': (written: string, meant: string) =>
    `"${written}" looks like a date. Dates are written year, month, day: ${meant}.`,
  'clock-halves': (written: string, meant: string) =>
    `"${written}" is a time of a clock with two halves. The clock here has 24 hours: ${meant}.`,
  thousands: (written: string, meant: string) =>
    `"${written}" has a mark between its thousands. Write ${meant}.`,
  'time-parts': (written: string, meant: string) =>
    `"${written}" has two parts. Add them: ${meant}.`,
  'angle-parts': (written: string, meant: string) =>
    `"${written}" has degrees and minutes. Write the degrees as a decimal: ${meant}.`,
  'range-word': (word: string, meant: string) =>
    `"${word}" does not make a span. Write two points between its ends: ${meant}.`,
  'sign-meant': (written: string, meant: string) =>
    `"${written}" has no meaning in a formula. Write ${meant}.`,
  'call-missing': (name: string, meant: string) =>
    `What ${name} works on stands in parentheses. Write ${meant}.`,
  'note-mark': (written: string, meant: string) =>
    `"${written}" does not begin a note. Write ${meant} before it.`,
  'times-letter': (letter: string, meant: string) =>
    `The letter ${letter} does not multiply. Write ${meant} or * instead.`,
  'share-of': (_: string, meant: string) =>
    `"of" has no meaning in a formula. A share of an amount is a product: write ${meant}.`,
  'number-dot': (written: string, meant: string) =>
    `"${written}" ends with a point. Write ${meant}, or a figure after the point.`,
  'equals-missing': (name: string, formula: string) =>
    `"=" is missing between the name and the formula. Write ${name} = ${formula}.`,
  'unit-hyphen': (unit: string, product: string, difference: string) =>
    `"${unit}" is no unit. Write ${product} for a product of units, or ${difference} to subtract.`,
  'as-unit-missing': () => 'The unit is missing after "as". Write one, such as "as Wh".',
  'as-unit-unknown': (unit: string) => `"${unit}" is no unit. Write a unit after "as", such as Wh.`,
  'as-unit-meant': (unit: string, meant: string) =>
    `"${unit}" is no unit. Write ${meant} after "as".`,

  // The shape of a formula.
  'formula-empty': () =>
    'The formula is empty. Write a number with its unit, or ? to leave it open.',
  'formula-long': (limit: string) =>
    `This formula is longer than ${limit} characters. Give parts of it cells of their own.`,
  'formula-deep': (limit: string) =>
    `This formula is nested more than ${limit} deep. Give the inner parts cells of their own.`,
  'formula-terms': (limit: string) =>
    `This formula strings more than ${limit} parts together. Give some of them cells of their own.`,
  'stops-early': () => 'The formula stops too early. Write what follows the last sign.',
  'missing-before': (what: string) =>
    `Something is missing before "${what}". Write a number, a cell or an operator there.`,
  'missing-between': (what: string) =>
    `Something is missing before "${what}". Write an operator such as × or + between the two.`,
  'name-spaces': (meant: string) =>
    `Two names stand side by side. Write "${meant}" with one space if it is one name, or an operator between two.`,
  'cannot-stand': (sign: string) =>
    `"${sign}" cannot stand here. Delete it, or write what belongs before it.`,
  'parenthesis-extra': () => '")" cannot stand here, for no parenthesis is open. Delete it.',
  'parenthesis-missing': () => '")" is missing here. Close the parenthesis.',
  'call-space': () =>
    'A space stands before the parenthesis. Write × between the two, or leave out the space to call.',
  'call-times': () => 'This cannot be called. Write × before the parenthesis.',
  'part-of': () =>
    'Only a name, a part, a call or a parenthesis has parts. Put what stands before the point in parentheses.',
  'part-missing': () =>
    'The name of a part is missing after the point. Write it, such as clock.start.',
  'range-dots': () => 'A span is written with two points. Write a..b.',
  'range-many': () => 'A span has at most three parts, low..likely..high. Leave out the rest.',
  'range-mixed': () => '".." and "±" do not go together. Write low..high or value ± spread.',
  'compare-chain': () =>
    'Only <, ≤, =, >, ≥ can be chained. Put one comparison in parentheses, or join two by "and".',
  'power-space': () => '"²" and "³" must touch what they raise. Leave out the space.',
  'begins-inside': (word: string) => `Put the part that begins with "${word}" in parentheses.`,
  'with-inside': () => 'Put the whole "… with …" in parentheses inside an argument list.',
  'with-ends': (what: string) => `Put the "… with …" in parentheses before "${what}".`,
  'with-chart': () => 'Put the "… with …" in parentheses in a chart line.',
  'as-ends': () => 'Put the part with "as" in parentheses before going on.',
  'as-chart': () => 'Put the part with "as" in parentheses in a chart line.',
  'then-missing': () => '"then" is missing here. Write if … then … else ….',
  'else-missing': () => '"else" is missing here. Write if … then … else ….',
  'target-missing': () =>
    'The name of what is changed is missing. Write a cell, a column such as weather.high, or an entry such as loads.hours("lamp").',
  'target-equals': () => '"=" is missing after what is changed. Write name = value.',
  'target-entry': () =>
    'An entry is named by one plain value in parentheses, such as loads.hours("lamp"). Write a text, a number or a date.',
  'label-place': (label: string) =>
    `"${label}:" can only stand in the argument list of a call. Delete the colon, or name what is called.`,
  'bounds-place': () =>
    'Bounds stand at the end of the formula, between [ and ]. Close the bracket, or move it to the end.',
  'bounds-empty': () =>
    'The bounds are empty. Write [low..high], [low..high by step] or a list of choices.',
  'bounds-plain': () =>
    'Bounds hold plain amounts only. Write numbers with their units, times, dates or texts.',
  'bounds-three': () => 'Bounds have two ends. Write [low..high] or [low..high by step].',
  'bounds-step': () => 'A step needs a low and a high end before it. Write [low..high by step].',
  'bounds-reversed': (lower: string, higher: string) =>
    `The bounds run from the higher end to the lower. Write the lower one first: [${lower}..${higher}].`,
  'chart-empty': () => 'The chart names nothing to draw. Write a cell after "chart".',
  'chart-kind': () => 'The kind of chart is missing after "as". Write one, such as "as bars".',

  // Lines of a notebook.
  'header-missing': () =>
    'The first line does not say that this is a notebook. Write "dapple 1" on a line of its own at the top.',
  'version-newer': (version: string) =>
    `This notebook was written for version ${version} of the format, which is newer than this program. It can be read, not changed; open it with a newer program.`,
  'header-unknown': (key: string) =>
    `"${key}" is no key of the header. Use title, place, units, trials or seed, or leave a blank line before the first cell.`,
  'header-twice': (key: string) =>
    `"${key}" stands in the header twice; the first one counts. Delete one.`,
  'header-line': () =>
    'A header line is a key, a colon and a text. Write it so, or leave a blank line before the first cell.',
  'trials-wrong': (written: string) =>
    `"${written}" is no number of trials; 500 are used. Write a whole number from 1 to 10000.`,
  'seed-wrong': (written: string) =>
    `"${written}" is no seed; 1 is used. Write a whole number from 0 to 4294967295.`,
  'place-wrong': (written: string) =>
    `"${written}" cannot be read as part of a place. Write it like 44.5 °N, 110.2 °W, 2100 m, UTC-6.`,
  'place-range': (written: string) =>
    `"${written}" is no place on the ground. Latitude goes to 90°, longitude to 180°, height from -430 m to 9000 m, UTC from -12 to +14.`,
  'place-incomplete': () =>
    'The place has no latitude or no longitude. Write both, like 44.5 °N, 110.2 °W.',
  'place-height': () =>
    'The place has no height; sea level is used. Write it after the longitude, such as 2100 m.',
  'place-offset': () =>
    'The place has no time offset; UTC is used. Write the offset of its clocks, such as UTC-6.',
  'line-unread': () =>
    'This line cannot be read. Write name = formula for a cell, or begin the line with | for prose.',
  'line-alone': () =>
    'A line that begins with a space belongs to the line above, and that one takes no more lines. Begin it without a space.',
  'line-word': (word: string) =>
    `"${word}" begins a line of its own kind and cannot be the first word of a name. Choose another first word.`,
  'lines-many': (limit: string) =>
    `A notebook has at most ${limit} lines; the lines from here on are kept but not read. Split it in two.`,
  'name-joining': (word: string, meant: string) =>
    `"${word}" joins formulas and ends a name. Write ${meant} with hyphens, or choose another word.`,
  'name-taken': (word: string) => `"${word}" has a meaning of its own. Choose another name.`,
  'name-wrong': (name: string, why: string) => `"${name}" cannot be a name: ${why}`,
  'name-missing': () => 'A name is missing before "=". Write one.',
  'check-empty': (word: string) =>
    `Nothing stands after "${word}". Write what must hold, such as a ≥ b.`,
  'answer-shape': () => 'An answer names its cell and a formula. Write answer NAME = FORMULA.',
  'scenario-name': () => 'The scenario has no name. Write one after "scenario".',
  'scenario-line': () =>
    'A line of a scenario changes one thing. Write name = value, or begin it with | for prose.',
  'table-empty': () =>
    'The table has no columns. Write their names on the next line, indented, with | between.',
  'column-name': () => 'A column has no name. Write one between the two |.',
  'bars-outside': () =>
    'A | stands only between two columns. Leave out the one at the beginning and the end of each line.',
  'line-row': () =>
    'A row of a table begins with a space: that is how it belongs to the line above. Begin it with two.',
  'row-long': (columns: string) =>
    `This row has more entries than the table has columns (${columns}). Delete the rest, or add a column.`,
} as const satisfies Readonly<Record<string, (...parts: string[]) => string>>;

export type MessageCode = keyof typeof MESSAGES;

/** Every code of this catalogue. */
export const MESSAGE_CODES: readonly string[] = Object.keys(MESSAGES);

/** A message at a place, with the words that belong into its sentence. */
export function message<Code extends MessageCode>(
  code: Code,
  span: Span,
  parts: Parameters<(typeof MESSAGES)[Code]>,
  fixes: readonly Fix[] = [],
): Diagnostic {
  const sentence: (...parts: string[]) => string = MESSAGES[code];
  const text = sentence(...parts.map(abridged));
  // A line or another thing with a place may be given; only its place is kept.
  const place = { start: span.start, end: span.end };
  return fixes.length > 0 ? { code, span: place, text, fixes } : { code, span: place, text };
}
