// Functions of whole series: one value out, or another series. Their typing is in the checker.

import type { LibraryFunction, Parameter } from './signature.ts';

const x: Parameter = { name: 'x', kind: 'any', meaning: 'a series' };
const where: Parameter = { name: 'where', kind: 'truth', optional: true, meaning: 'only the places where this holds' };
const otherwise: Parameter = { name: 'otherwise', kind: 'any', optional: true, meaning: 'the value when there is none' };
const question: Parameter = { name: 'x', kind: 'truth', meaning: 'a question along an axis' };

function form(name: string, parameters: readonly Parameter[], text: string, meaning: string, formula: string, gives: string, positional = 1): LibraryFunction {
  return { name, parameters, result: { kind: 'form', text }, positional, subject: 'series', meaning, source: 'arithmetic', example: { formula, gives } };
}

const DAY = 'timeline(from: 2027-05-14, until: 2027-05-15, by: 1 h)';
const SHARE = `during(${DAY}, 06:00..12:00)`;
const POWER = `(10 W × ${SHARE})`;

export const series: readonly LibraryFunction[] = [
  form('sum', [x, where], 'the same dimension', 'All values added. Absent entries are left out.', 'sum(steps(1, 4, by: 1))', '10'),
  form('mean', [x, where], 'the same kind', 'The average of all values.', 'mean(steps(1, 4, by: 1))', '2.5'),
  form('lowest', [x, where], 'the same kind', 'The smallest value.', 'lowest(steps(3, 1, 2))', '1'),
  form('highest', [x, where], 'the same kind', 'The largest value.', 'highest(steps(3, 1, 2))', '3'),
  form('at lowest', [x, where], 'the place: a moment, a name, a step', 'Where the smallest value is; the first of equals.', 'at lowest(steps(3, 1, 2))', '1'),
  form('at highest', [x, where], 'the place: a moment, a name, a step', 'Where the largest value is; the first of equals.', 'at highest(steps(3, 1, 2))', '3'),
  form('first', [x, where, otherwise], 'the same kind', 'The first value that is not absent.', 'first(steps(3, 1, 2))', '3'),
  form('last', [x, where, otherwise], 'the same kind', 'The last value that is not absent.', 'last(steps(3, 1, 2))', '2'),
  form('count', [question, where], 'a plain number', 'At how many places it holds.', 'count(steps(1, 4, by: 1) > 2)', '2'),
  form('energy', [{ ...x, meaning: 'a power or light along a timeline' }, where], 'power × time', 'A power summed over time.', `energy(${POWER})`, '60 Wh'),
  form('time while', [question, where], 'a time', 'How long it holds.', `time while(${SHARE} > 0)`, '6 h'),
  form('first moment', [question, where, otherwise], 'a moment', 'When it holds for the first time.', `time of day(first moment(${SHARE} > 0))`, '06:00'),
  form('daily energy', [x], 'energy on the days', 'A power summed for each civil day.', `sum(daily energy(${POWER}))`, '60 Wh'),
  form('daily lowest', [x], 'the same kind on the days', 'The smallest value of each civil day.', `lowest(daily lowest(${POWER}))`, '0 W'),
  form('daily highest', [x], 'the same kind on the days', 'The largest value of each civil day.', `highest(daily highest(${POWER}))`, '10 W'),
  form('daily mean', [x], 'the same kind on the days', 'The average of each civil day.', `mean(daily mean(${POWER}))`, '2.5 W'),
  form(
    'running total',
    [
      { name: 'change', kind: 'quantity', meaning: 'what is added at each place; a rate on a timeline is multiplied by the step' },
      { name: 'start', kind: 'quantity', optional: true, meaning: 'the total before the first place (0)' },
      { name: 'least', kind: 'quantity', optional: true, meaning: 'the total never goes below this' },
      { name: 'most', kind: 'quantity', optional: true, meaning: 'the total never goes above this' },
    ],
    'a state along the same axis', 'The total so far, kept between limits.', 'last(running total(steps(1, 4, by: 1)))', '10',
  ),
  form('previous', [x, { name: 'first', kind: 'any', meaning: 'the value before the first place' }], 'the same kind', 'The value one place earlier; the only function through which a circle may run.', 'last(previous(steps(3, 1, 2), first: 0))', '1'),
  form('during', [{ name: 'at', kind: 'any', meaning: 'a timeline' }, { name: 'hours', kind: 'span', meaning: 'a span of times of day or of moments' }], 'a share along the timeline', 'How much of each step lies inside the hours.', `highest(${SHARE})`, '100 %', 2),
  form('load profile', [{ name: 'power', kind: 'quantity', meaning: 'powers on the rows of a table' }, { name: 'hours', kind: 'span', meaning: 'their hours, on the same rows' }, { name: 'at', kind: 'any', meaning: 'a timeline' }], 'power along the timeline', 'What the rows of a table draw together, step by step.', `highest(${POWER})`, '10 W', 0),
];
