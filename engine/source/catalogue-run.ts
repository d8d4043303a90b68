// The catalogue of messages, third part: what is found out only when a notebook is worked, with the
// numbers at hand.

import { entry } from './catalogue-entry.ts';

const STAY = 'clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)';

export const RUN_MESSAGES = {
  'outside-bounds': entry(
    'A value lies outside the bounds of its cell, or is none of its choices. It is used all the same.',
    'Change the value or the bounds.',
    'a = 25 W [0 W..20 W]',
    '0 W..20 W',
  ),
  'divided-by-zero': entry(
    'Something is divided by zero.',
    'Give the divisor another value, or ask first: if x ≠ 0 then … else ….',
    'x = 0\na = 3 / x',
    'x',
  ),
  'root-negative': entry(
    'A root, or a broken power, is taken of something below zero.',
    'Only 0 and what is above it have one; max(0, …) keeps it there.',
    'x = 2\na = sqrt(x - 3)',
    'x - 3',
  ),
  'too-large': entry(
    'A value becomes larger than any number that can be kept, about 10³⁰⁸.',
    'Look for a power, or a unit, that is out of measure.',
    'x = 10\na = x^400',
    'x^400',
  ),
  'out-of-range': entry(
    'A function is given an amount outside what it takes; the message names the limits.',
    'Change the amount that leads outside.',
    'x = 3\na = arcsin(x - 1)',
    'arcsin(x - 1)',
  ),
  'no-level': entry(
    'A power of zero or less has no level in dBm, and a share of zero or less none in dB.',
    'Give a power or a share above zero.',
    'x = 0 W\na = x as dBm',
    'x as dBm',
  ),
  'no-number': entry(
    'A value comes out as no number, and which part of the formula is to blame cannot be told.',
    'Give parts of the formula cells of their own, to see which of them has none.',
    't = table\n  k | n\n  x | 1e308\n  y | 1e308\na = running total(t.n)',
    'running',
  ),
  'outside-axis': entry(
    'A series is asked for a moment or a day that lies outside its timeline.',
    'Ask for one within it, or make the timeline longer.',
    `${STAY}\np = 10 W × during(clock, 06:00..18:00)\na = p(2027-05-20 12:00)`,
    'p(2027',
  ),
  'outside-rows': entry(
    'A table is asked for a value before its first row or after its last; beyond the ends nothing is known.',
    'Add a row, or ask for a value between the rows.',
    't = table\n  k | n\n  1 | 10 W\n  2 | 20 W\na = t.n(3)',
    't.n(3)',
  ),
  'no-such-row': entry(
    'A table is asked for a row that it does not have.',
    'Ask for one of its rows, spelt as in the table.',
    't = table\n  k | n | more\n  lamp | 1 W | fan\na = sum(t.n(t.more))',
    'sum(',
  ),
  'nothing-left': entry(
    'There is nothing to take the mean, the lowest or the first of: every entry is absent or left out.',
    'Loosen "where:", fill in an entry, or say "otherwise:".',
    't = table\n  k | n\n  x | 1 W\na = mean(t.n, where: t.n > 5 W)',
    'mean',
  ),
  'nothing-put': entry(
    'What is put in place of a cell has no value, such as an entry of a table that is not there.',
    'Put in an amount, or fill in the entry.',
    't = table\n  k | n\n  x | 1 W\n  y |\nb = 3 W\na = b × 2 with b = t.n("y")',
    'b × 2 with',
  ),
  'no-solution': entry(
    'No value in the range makes the condition of solve(…) hold.',
    'Widen the range; the message says what is reached at its ends.',
    'x = 3\ny = 2 × x\na = solve(x, so that: y ≥ 100, over: 1..10)',
    'solve',
  ),
  'timeline-order': entry(
    'A timeline ends before it starts.',
    'Give it a later end.',
    'd = 2027-05-14\na = timeline(from: d, until: 2027-05-13)',
    'timeline',
  ),
  'timeline-step': entry(
    'The step of a timeline is shorter than 1 min, longer than 1 d, or does not divide a day evenly.',
    'Take 5, 10, 15 or 30 min, or whole hours that divide 24.',
    'a = timeline(from: 2027-05-14, until: 2027-05-15, by: 7 min)',
    'timeline',
  ),
  'timeline-years': entry(
    'A timeline begins or ends outside the years 0 to 9999.',
    'Check its ends, and what was added to them.',
    'd = 2027-05-14\na = timeline(from: d, until: d + 1e9 d)',
    'timeline',
  ),
  'timeline-part': entry(
    'The stay of a timeline is no whole number of steps: it ends at the nearest full one. The rest works.',
    'Choose an end that is a whole number of steps after the start, or a shorter step.',
    'a = timeline(from: 2027-05-14 06:00, until: 2027-05-14 18:20, by: 1 h)',
    'timeline',
  ),
  'timeline-long': entry(
    'A timeline has more than 600,000 steps.',
    'Make the step longer or the stay shorter.',
    'a = timeline(from: 2027-05-14, until: 2037-05-14, by: 1 min)',
    'timeline',
  ),
  'steps-direction': entry(
    'The step of steps(…) leads away from its end, or is zero.',
    'Give it the sign that leads from the first value to the last.',
    'x = 1\na = lowest((x with x = steps(1, 5, by: -1)))',
    'lowest',
  ),
  'steps-many': entry(
    'One steps(…) has more than 10,000 values.',
    'Take a longer step.',
    'x = 1\na = lowest((x with x = steps(1, 1e6, by: 1)))',
    'lowest',
  ),
  'outline-order': entry(
    'An outline of the sky has fewer than three sightings, or their azimuths do not rise.',
    'Put the sightings in the order of their azimuths, three at least.',
    't = table\n  k | azimuth | height\n  1 | 100° | 5°\n  2 | 90° | 5°\n  3 | 200° | 5°\na = sky window(azimuth: t.azimuth, height: t.height)',
    'sky window',
  ),
  'axis-moved': entry(
    'What "with" changes lays the axis out anew along which the result still runs.',
    'Reduce the result to one value first, such as lowest(…).',
    'd = 2027-05-15\nclock = timeline(from: 2027-05-14, until: d, by: 6 h)\np = 1 W × during(clock, 06:00..18:00)\na = p with d = 2027-05-16',
    'p with',
  ),
  'circle-steps': entry(
    'A circle looks back with previous(…), but a part of it needs a whole series at once.',
    'Let only arithmetic, if, previous, running total and battery run stand in a circle.',
    `${STAY}\ns = 10 Wh × during(clock, 00:00..24:00) + highest(r) - previous(s, first: 5 Wh)\nr = previous(s, first: 1 Wh) + 1 Wh`,
    'previous(s, first: 1',
  ),
  'trials-long': entry(
    'Too long a series is ranked by percentile(…) over too many trials.',
    'Use fewer trials or a shorter timeline, or rank one value of the series.',
    'dapple 1\ntrials: 10000\n\nx = 1..2..3 W\nclock = timeline(from: 2027-05-14, until: 2027-05-18, by: 1 min)\na = percentile(x × during(clock, 06:00..18:00), 10 %)\n',
    'percentile',
    true,
  ),
  'work-much': entry(
    'A cell runs the notebook again too many times.',
    'Take fewer steps or trials, or a coarser timeline.',
    'x = 1\ny = 2\nz = x + y\na = lowest((z with x = steps(1, 10000, by: 1), y = steps(1, 10000, by: 1)))',
    'lowest',
  ),
} as const;
