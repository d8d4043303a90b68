// Amounts that are not known for sure, and what the trials say about the results.

import { plain } from '../dimension/dimension.ts';
import { amount, anything, formResult, moment, number, quantityResult } from './parameter.ts';
import type { LibraryFunction } from './signature.ts';

const alone =
  'It must be the whole formula of a given, a table entry or the right side of a change.';

export const chanceFunctions: readonly LibraryFunction[] = [
  {
    name: 'between',
    subject: 'chance',
    positional: 2,
    parameters: [
      anything('low', 'the lowest value there can be'),
      anything('high', 'the highest, of the same kind'),
    ],
    result: formResult('like its arguments, uncertain; the plan counts with the middle'),
    meaning: 'Anything from low to high, all equally likely.',
    source: 'uniform distribution',
    example: {
      before: ['draw = between(40 W, 70 W)'],
      formula: 'draw',
      gives: '55 W',
    },
    caution: alone,
  },
  {
    name: 'usual',
    subject: 'chance',
    positional: 3,
    parameters: [
      anything('low', 'lower only once in ten'),
      anything('likely', 'the most likely value'),
      anything('high', 'higher only once in ten'),
    ],
    result: formResult('like its arguments, uncertain; the plan counts with the likely value'),
    meaning: 'A guess as people make it: outside low to high twice in ten, once each way.',
    source: 'triangular distribution; its ends from the definition of the two tenths',
    example: {
      before: ['draw = usual(40 W, 55 W, 70 W)'],
      formula: 'draw',
      gives: '55 W',
    },
    caution: alone,
  },
  {
    name: 'chance',
    subject: 'chance',
    positional: 1,
    parameters: [{ name: 'truth', kind: 'truth', meaning: 'one question with yes or no' }],
    result: quantityResult(plain, '%'),
    meaning: 'In what share of the trials it holds, with the interval that so many trials allow.',
    source:
      'counting; interval: Wilson, Journal of the American Statistical Association 22 (1927) 209',
    example: {
      before: ['draw = between(40 W, 70 W)'],
      formula: 'chance(draw ≥ 40 W) ≥ 99 %',
      gives: 'yes',
    },
  },
  {
    name: 'percentile',
    subject: 'chance',
    positional: 2,
    parameters: [
      anything('x', 'a quantity, a point or a series'),
      number('share', 'the share of the trials that lie below', {
        range: [0, 1],
        rangeText: '0 % to 100 %',
      }),
    ],
    result: formResult('like x; a series gives a series'),
    meaning: 'The value below which a share of the trials lies.',
    source: 'order statistics of the trials',
    example: {
      before: ['draw = between(40 W, 70 W)'],
      formula: 'round(percentile(draw, 50 %), to: 1 W)',
      gives: '55 W',
    },
  },
  {
    name: 'drawn sky',
    subject: 'chance',
    positional: 1,
    parameters: [
      moment('at', 'a timeline'),
      number('wet days', 'how many in a month of 30 days', {
        range: [0, 30],
        rangeText: '0 to 30',
      }),
      amount('wet spell', plain, 'how many wet days come in a row, on average', {
        range: [1, 30],
        rangeText: '1 to 30',
      }),
      number('dry day', 'clear index of every dry day; drawn from its shares when left out', {
        optional: true,
        range: [0, 1.1],
        rangeText: '0 % to 110 %',
      }),
      number('wet day', 'clear index of every wet day; drawn from its shares when left out', {
        optional: true,
        range: [0, 1.1],
        rangeText: '0 % to 110 %',
      }),
    ],
    result: formResult('clear index on the timeline, constant over a civil day'),
    meaning:
      'Wet and dry days drawn anew in every trial; the plan counts with their mean. A dry day is clear 60 %, mixed 35 %, grey 5 %; a wet one mixed 30 %, grey 70 %.',
    source:
      'two-state chain: Gabriel & Neumann, Quarterly Journal of the Royal Meteorological Society 88 (1962) 90; shares of dry and wet days: common practice',
    example: {
      before: ['clock = timeline(from: 2027-05-14, until: 2027-05-16)'],
      formula: 'mean(drawn sky(at: clock, wet days: 0, wet spell: 2))',
      gives: '81 %',
    },
  },
  {
    name: 'solve',
    subject: 'chance',
    positional: 1,
    parameters: [
      anything('cell', 'the given whose value is looked for'),
      { name: 'so that', kind: 'truth', meaning: 'one comparison: lowest charge ≥ 20 %' },
      { name: 'over', kind: 'span', meaning: 'where to look: 50 W..800 W' },
    ],
    result: formResult('like the cell'),
    meaning:
      'With = the value at which both sides are equal; with ≥ or ≤ the smallest value from which on it holds to the end of the range, or the largest if it holds only below.',
    source: 'bisection between bracketing places',
    example: {
      before: ['rating = 100 W'],
      formula: 'solve(rating, so that: rating × 4 h = 600 Wh, over: 0 W..800 W)',
      gives: '150 W',
    },
  },
];
