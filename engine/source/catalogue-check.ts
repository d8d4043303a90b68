// The catalogue's entries for formulas that can be read but do not fit together: names, kinds,
// dimensions, axes, calls; and for values that cannot be worked out.

import { entry } from './catalogue-entry.ts';

const CLOCK = 'clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)';
const TABLE = 't = table\n  k | n\n  x | 1\n  y | 2';
const NAMES = {
  'unit-alone': entry(
    'A unit stands without a number, or in a spelling of its own.',
    'Write the number first, and the unit as it is known here.',
    'x = 3 h × V',
    'V',
  ),
  'times-missing': entry(
    'A number stands behind the name of a cell without an operator between.',
    'Write the operator.',
    'x = 3 W\na = x 2',
    'x 2',
  ),
  'truth-word': entry(
    'A word for a truth stands where a value is due.',
    'Write a comparison, or a text in quotes.',
    'a = true',
    'true',
  ),
  'unknown-name': entry(
    'A formula names a cell that does not exist.',
    'Use the name that is offered, or give it a line of its own.',
    'panel voltage = 18 V\na = 2 × panel volts',
    'panel volts',
  ),
  'unknown-function': entry(
    'A formula calls a function that does not exist.',
    'Use the name that is offered.',
    'a = sqrtt(4)',
    'sqrtt',
  ),
  'unknown-column': entry(
    'A table has no column of that name.',
    'Use one of the columns it has.',
    `${TABLE}\na = sum(t.power)`,
    'power',
  ),
  'unknown-row': entry(
    'A table has no row of that name.',
    'Use one of the rows it has.',
    `${TABLE}\na = t.n("z")`,
    '"z"',
  ),
  'unknown-part': entry(
    'A value has no part of that name.',
    'Use one of the parts it has.',
    's = 1..2\na = s.middle',
    'middle',
  ),
  'unknown-argument': entry(
    'A function has no argument of that name.',
    'Use one of those it has.',
    'a = round(3.2, too: 1)',
    'too',
  ),
  'unknown-choice': entry(
    'An argument is a word that the function does not know.',
    'Use one of the words it knows.',
    'a = resistance(of: 4 mm², length: 3 m, metal: "tin")',
    '"tin"',
  ),
  'function-alone': entry(
    'A function is named without parentheses.',
    'Write what it works on in parentheses.',
    'a = sqrt + 1',
    'sqrt',
  ),
  'no-parts': entry(
    'A value has no parts.',
    'Take the value itself, or a part of what has them.',
    'x = 3 W\na = x.start',
    'start',
  ),
  'table-alone': entry(
    'A cell is a whole table.',
    'Name one of its columns.',
    `${TABLE}\na = t`,
    't',
  ),
  'target-table': entry(
    'A change replaces a whole table.',
    'Name one of its columns.',
    `${TABLE}\na = sum(t.n) with t = 3`,
    't',
  ),
  'no-entry': entry(
    'A change replaces an entry of what is no column.',
    'Replace the whole cell.',
    'x = 3\na = x with x(2) = 4',
    '2) = 4',
  ),
} as const;

const KINDS = {
  'dimensions-differ': entry(
    'A sum or difference has two kinds of amount, such as W and Wh.',
    'Multiply or divide one by a time, a length or a voltage first.',
    'harvest = 3 W\nusable = 4 Wh\na = harvest + usable',
    'harvest + usable',
  ),
  'kinds-differ': entry(
    'Two values are of different kinds where they must be alike.',
    'Bring both to the same kind: W with W, Wh with Wh, °C with °C.',
    'a = 3 W > 4 Wh',
    '3 W > 4 Wh',
  ),
  'points-added': entry(
    'Two temperatures, two levels or two moments are added.',
    'Add a difference: K to °C, dB to dBm, a time to a moment.',
    'air = 20 °C\na = air + 5 °C',
    'air + 5 °C',
  ),
  'point-subtracted': entry(
    'A temperature, level or moment is subtracted from a difference.',
    'Turn the two round.',
    'a = 5 K - 20 °C',
    '5 K - 20 °C',
  ),
  'point-multiplied': entry(
    'A temperature, level or moment is multiplied or divided.',
    'Take a difference first, such as air - 0 °C.',
    'air = 20 °C\na = 2 × air',
    'air',
  ),
  'point-summed': entry(
    'Temperatures, levels or moments are summed.',
    'Use mean(…), lowest(…) or highest(…).',
    't = table\n  k | high\n  x | 20 °C\na = sum(t.high)',
    't.high',
  ),
  negated: entry(
    'A minus stands before something that has no opposite.',
    'Negate an amount or a difference.',
    'air = 20 °C\na = -air',
    '-air',
  ),
  'power-dimension': entry(
    'The power has a unit.',
    'A power is a plain number.',
    'a = 3^(2 V)',
    '(2 V)',
  ),
  'power-open': entry(
    'The unit of a power cannot be known before it is worked.',
    'Write a number such as 2, 3 or 0.5.',
    'n = 2\na = (3 m)^n',
    'n',
  ),
  'as-dimension': entry(
    'A value is shown in a unit of another kind.',
    'Use a unit of its own kind, or work it out in that kind first.',
    'x = 3 W\na = x as Wh',
    'x as Wh',
  ),
  'as-kelvin': entry(
    'A temperature is shown as a difference, or a difference as a temperature.',
    'Show a temperature as °C or °F, a difference as K.',
    'air = 20 °C\na = air as K',
    'air as K',
  ),
  'as-unit': entry(
    'A moment is shown in a unit.',
    'Leave out "as".',
    'day = 2027-05-14\na = day as h',
    'h',
  ),
  'not-a-quantity': entry(
    'Something that is no amount is used as one.',
    'Use a number with its unit.',
    'a = "x" + 3',
    '"x"',
  ),
  'not-truth': entry(
    'A question with yes or no is due, and an amount stands there.',
    'Compare it: x > 3 W.',
    'x = 3 W\na = not x',
    'x',
  ),
  'not-a-span': entry(
    '"within" is not followed by a span.',
    'Write 10..30 V, 17:00..21:00, or a value ± a tolerance.',
    'a = 3 V within 5 V',
    '5 V',
  ),
  'not-comparable': entry(
    'Two things are compared that have no order and no likeness.',
    'Compare one of their parts.',
    's = 1..2\nr = 1..2\na = s = r',
    's = r',
  ),
  'text-order': entry(
    'Two texts are compared by size.',
    'Texts can be equal (=) or different (≠).',
    'a = "x" < "y"',
    '"x" < "y"',
  ),
  'if-kind': entry(
    '"if" chooses between things that cannot be chosen from.',
    'Choose between their numbers.',
    'w = open sky()\na = if 1 > 2 then w else w',
    'if 1 > 2',
  ),
  'with-kind': entry(
    '"with" works on something that is no value.',
    'Name a cell or one of its parts.',
    `${TABLE}\nx = 3\na = t with x = 4`,
    't with',
  ),
  'span-kind': entry(
    'A span runs between things that have no order.',
    'Use amounts, times of day or moments.',
    'a = "x".."y"',
    '"x".."y"',
  ),
  'span-order': entry(
    'A span runs from a high end to a low one, so nothing lies in it.',
    'Turn the ends round; only a span of times of day may pass midnight.',
    'a = 5 within 10..1',
    '10..1',
  ),
  'look-back-kind': entry(
    '"first:" is of another kind than what previous(…) looks back at.',
    'Give "first:" the same kind of value.',
    `${CLOCK}\np = 3 W × during(clock, 06:00..18:00)\na = previous(p, first: 3 V)`,
    'previous(p',
  ),
  'nothing-used': entry(
    '"none" is used in a formula.',
    'It stands only in a table or as a replacement.',
    'a = if 1 > 2 then none else 1',
    'if 1 > 2',
  ),
  'blank-inside': entry(
    'A blank stands inside a formula.',
    'Give it a cell of its own.',
    'a = ? + 1',
    '?',
  ),
  'uncertain-inside': entry(
    'An uncertain amount stands inside a formula.',
    'Give it a cell of its own, so that it can be ranked.',
    'a = 1 + (320 W ± 5 %)',
    '(320 W',
  ),
  'uncertain-literal': entry(
    'An uncertain amount is not written with plain numbers.',
    'Write it such as 40..55..70 W or 320 W ± 5 %.',
    'x = 3 W\na = x..4 W..5 W',
    'x..4',
  ),
  'uncertain-order': entry(
    'The parts of an uncertain amount do not rise, or its spread is negative.',
    'Write low..likely..high.',
    'a = 3..2..1 W',
    '3..2..1 W',
  ),
  'tolerance-dimension': entry(
    'A tolerance is of another kind than its value.',
    'Write it in the same kind, or as a share in %.',
    'x = 3 W\na = x within 3 W ± 2 V',
    '2 V',
  ),
  'tolerance-point': entry(
    'A tolerance is a temperature, a level or a moment.',
    'Write it as a difference: K, dB or a time.',
    'air = 20 °C\nx = 3 °C\na = air within 20 °C ± x',
    'x',
  ),
} as const;

const AXES = {
  'axes-differ': entry(
    'Two series run along different axes.',
    'Sum one of the two first, or call it at the places of the other.',
    `${CLOCK}\np = 3 W × during(clock, 06:00..18:00)\n${TABLE}\na = p × t.n`,
    'p × t.n',
  ),
  'two-axes': entry(
    'A series runs along two axes where one is due.',
    'Reduce it first.',
    `${CLOCK}\nx = 3 W\np = x × during(clock, 06:00..18:00)\nm = p with x = steps(1 W, 2 W)\na = daily energy(m)`,
    'm)',
  ),
  'needs-series': entry(
    'A function that works along an axis is given one value.',
    'Give it a series: along a timeline, a table or steps.',
    'x = 3 W\na = mean(x)',
    'x',
  ),
  'needs-timeline': entry(
    'A function that works along a timeline is given something else.',
    'Give it a series along a timeline.',
    `${TABLE}\na = energy(t.n × 1 W)`,
    't.n × 1 W',
  ),
  'series-inside': entry(
    'A series stands where one value is due.',
    'Reduce it first, such as lowest(charge).',
    `${TABLE}\nx = 3\na = solve(x, so that: t.n = x, over: 1..5)`,
    't.n = x',
  ),
  'override-axes': entry(
    'A cell is replaced by a series that does not fit it.',
    'Replace it by one value, or by steps(…).',
    `x = 3\n${TABLE}\na = x with x = t.n`,
    't.n',
  ),
  'override-kind': entry(
    'A cell is replaced by another kind of value.',
    'Give the replacement the same kind.',
    'x = 3 W\na = x with x = 3 V',
    '3 V',
  ),
  'column-kind': entry(
    'An entry is of another kind than its column.',
    'All entries of a column are of one kind.',
    't = table\n  k | n\n  x | 1 W\n  y | 2 V',
    '2 V',
  ),
  'row-unnamed': entry(
    'A row has no plain value in the first column.',
    'Write one: the first column names the rows.',
    't = table\n  k | n\n  x | 1\n    | 2',
    't =',
  ),
  'rows-order': entry(
    'Two rows have one name, or the first column does not rise.',
    'Give texts that differ, or numbers and times that rise.',
    't = table\n  k | n\n  x | 1\n  x | 2',
    'x',
  ),
  'rows-kind': entry(
    'The first column holds something that cannot name rows.',
    'Write texts, amounts or times.',
    't = table\n  k | n\n  1..2 W | 1',
    '1..2 W',
  ),
  circle: entry(
    'A cell draws on itself.',
    'A step may look back with previous(…).',
    'a = b + 1\nb = a + 1',
    'a',
  ),
} as const;

const CALLS = {
  'missing-argument': entry(
    'A function lacks something it needs.',
    'Write it by its name.',
    'a = resistance(of: 4 mm²)',
    'resistance',
  ),
  'too-many-arguments': entry(
    'A function is given too much.',
    'Delete the rest.',
    'a = sqrt(4, 9)',
    '9',
  ),
  'argument-twice': entry(
    'An argument is given twice.',
    'Delete one.',
    'a = round(3.2, to: 1, to: 2)',
    'to',
  ),
  'argument-range': entry(
    'An argument lies outside what the function takes.',
    'Write an amount inside the range.',
    'a = resistance(of: 4 mm², length: 3 m, at: 400 °C)',
    '400 °C',
  ),
  'wrong-argument': entry(
    'An argument is of another kind than the function takes.',
    'Write the kind that is named.',
    'a = sin(30)',
    '30',
  ),
  'one-value': entry(
    'The function min(…) or max(…) is given one value.',
    'Use lowest(…) or highest(…) for one series.',
    'x = 3\na = min(x)',
    'min',
  ),
  'one-place': entry(
    'A series is called with more or less than one place.',
    'Write one place in the parentheses.',
    `${TABLE}\na = t.n("x", "y")`,
    't.n',
  ),
  'wrong-place': entry(
    'A series is called at a place of another kind than its axis.',
    'Write a place of its axis.',
    `${TABLE}\na = t.n(3 W)`,
    '3 W',
  ),
  'not-callable': entry(
    'A cell is called that is no series.',
    'Write × before the parenthesis, or call the cell something else.',
    'x = 3 W\na = x(2)',
    'x(2)',
  ),
  'chance-inside': entry(
    'Trials are run inside trials.',
    'Give the inner one a cell of its own.',
    'x = 1..2..3\na = chance(percentile(x, 10 %) > 1)',
    'percentile(x, 10 %) > 1',
  ),
  'no-place': entry(
    'A function needs the place of the camp, and the header has none.',
    'Add a line such as "place: 44.5 °N, 110.2 °W, 2100 m, UTC-6".',
    'dapple 1\n\na = sunrise(on: 2027-05-14)\n',
    'sunrise',
    true,
  ),
} as const;

export const CHECK_MESSAGES = { ...NAMES, ...KINDS, ...AXES, ...CALLS } as const;
