// The catalogue's entries for lines that can be read but cannot do what they are for: charts, checks,
// answers, bounds, scenarios.

import { entry } from './catalogue-entry.ts';

const CLOCK = 'clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)';

export const LINE_MESSAGES = {
  'units-wrong': entry(
    'A word of the header line "units:" is no unit.',
    'Write metric, imperial, or units with commas between.',
    'dapple 1\nunits: metric, watts\n\na = 3 W\n',
    'watts',
    true,
  ),
  'check-question': entry(
    'A check is an amount, not a question with yes or no.',
    'Write what must hold, such as lowest charge ≥ 20 %.',
    'a = 5 W\ncheck 2 × a',
    '2 × a',
  ),
  'answer-cell': entry(
    'An answer names a blank that the notebook does not have.',
    'Use the name that is offered, or give the blank a line of its own.',
    'lamp current = ? A\nanswer lamp curent = 5 W / 12.5 V ± 2 %',
    'lamp curent',
  ),
  'answer-kind': entry(
    'An answer is of another kind than its blank.',
    'Write both in one kind, such as two currents.',
    'lamp current = ? A\nanswer lamp current = 5 W × 12.5 V',
    '5 W',
  ),
  'answer-twice': entry(
    'A blank has two answers; the first one counts.',
    'Delete one.',
    'lamp current = ? A\nanswer lamp current = 0.4 A\nanswer lamp current = 0.5 A',
    'lamp current',
  ),
  'bounds-kind': entry(
    'A bound, a step or a choice is of another kind than its cell.',
    'Write it in the kind of the cell, with the unit.',
    'a = 5 W [1 V..20 V]',
    '1 V',
  ),
  'scenario-taken': entry(
    'Two scenarios have the same name.',
    'Give one of them another name.',
    'a = 5 W\nscenario Hot week\n  a = 6 W\nscenario hot week\n  a = 7 W',
    'hot week',
  ),
  'chart-kind-unknown': entry(
    'A chart is asked for as a kind that does not exist.',
    'Write one of the kinds that the message lists, or leave it out.',
    `${CLOCK}\np = 10 W × during(clock, 06:00..18:00)\nchart p as pie`,
    'pie',
  ),
  'chart-item': entry(
    'A chart names something that is no amount, such as a whole table or a text.',
    'Name amounts, columns or parts.',
    `${CLOCK}\nsun = sun position(clock)\nchart sun`,
    'sun',
  ),
  'chart-fit': entry(
    'What a chart names cannot be drawn together, or not as the kind that is asked for.',
    'Give an item a chart line of its own, or ask for another kind.',
    `${CLOCK}\np = 10 W × during(clock, 06:00..18:00)\nday = daily energy(p)\nchart p, day`,
    'day',
  ),
} as const;
