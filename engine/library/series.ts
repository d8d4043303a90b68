// What a series is reduced to, and what is made of one along the same axis or day by day.

import { plain, time } from '../dimension/dimension.ts';
import { anything, formResult, quantityResult, where } from './parameter.ts';
import type { LibraryFunction, Parameter } from './signature.ts';

/** The lines before those examples that need a timeline. */
const clock = ['clock = timeline(from: 2027-05-14, until: 2027-05-16)'];

const series: Parameter = anything('x', 'a series');

const question: Parameter = {
  name: 'x',
  kind: 'truth',
  meaning: 'a question along an axis, such as charge < 20 %',
};

const onTimeline: Parameter = anything('x', 'a series on a timeline');

const otherwise: Parameter = anything('otherwise', 'the value when there is none to take', {
  optional: true,
});

const absent = 'Absent entries are left out.';

export const seriesFunctions: readonly LibraryFunction[] = [
  {
    name: 'sum',
    subject: 'series',
    positional: 1,
    parameters: [series, where],
    result: formResult('like x; points and levels cannot be summed'),
    meaning: `All values added up. ${absent}`,
    source: 'arithmetic',
    example: { formula: 'sum(steps(10 Wh, 20 Wh, 60 Wh))', gives: '90 Wh' },
  },
  {
    name: 'mean',
    subject: 'series',
    positional: 1,
    parameters: [series, where],
    result: formResult('like x'),
    meaning: `The average of all values. ${absent}`,
    source: 'arithmetic',
    example: { formula: 'mean(steps(10 W, 20 W, 60 W))', gives: '30 W' },
  },
  {
    name: 'lowest',
    subject: 'series',
    positional: 1,
    parameters: [series, where],
    result: formResult('like x'),
    meaning: `The lowest value of a series. ${absent}`,
    source: 'arithmetic',
    example: { formula: 'lowest(steps(30 %, 20 %, 60 %))', gives: '20 %' },
  },
  {
    name: 'highest',
    subject: 'series',
    positional: 1,
    parameters: [series, where],
    result: formResult('like x'),
    meaning: `The highest value of a series. ${absent}`,
    source: 'arithmetic',
    example: { formula: 'highest(steps(30 %, 20 %, 60 %))', gives: '60 %' },
  },
  {
    name: 'at lowest',
    subject: 'series',
    positional: 1,
    parameters: [series, where],
    result: formResult("a place of the axis: a moment, a date, a row's name, a step's value"),
    meaning: 'Where a series is lowest; of equal places the earliest.',
    source: 'arithmetic',
    example: {
      before: ['loads = table', '  item | power', '  box  | 45 W', '  lamp | 8 W'],
      formula: 'at lowest(loads.power)',
      gives: 'lamp',
    },
  },
  {
    name: 'at highest',
    subject: 'series',
    positional: 1,
    parameters: [series, where],
    result: formResult("a place of the axis: a moment, a date, a row's name, a step's value"),
    meaning: 'Where a series is highest; of equal places the earliest.',
    source: 'arithmetic',
    example: {
      before: ['loads = table', '  item | power', '  box  | 45 W', '  lamp | 8 W'],
      formula: 'at highest(loads.power)',
      gives: 'box',
    },
  },
  {
    name: 'first',
    subject: 'series',
    positional: 1,
    parameters: [series, otherwise, where],
    result: formResult('like x'),
    meaning: `The first value in the order of the axis. ${absent}`,
    source: 'arithmetic',
    example: { formula: 'first(steps(5 m, 10 m, 20 m))', gives: '5 m' },
  },
  {
    name: 'last',
    subject: 'series',
    positional: 1,
    parameters: [series, otherwise, where],
    result: formResult('like x'),
    meaning: `The last value in the order of the axis. ${absent}`,
    source: 'arithmetic',
    example: { formula: 'last(steps(5 m, 10 m, 20 m))', gives: '20 m' },
  },
  {
    name: 'count',
    subject: 'series',
    positional: 1,
    parameters: [question, where],
    result: quantityResult(plain),
    meaning: 'At how many places it holds.',
    source: 'arithmetic',
    example: { formula: 'count(steps(5 m, 10 m, 20 m) > 8 m)', gives: '2' },
  },
  {
    name: 'energy',
    subject: 'series',
    positional: 1,
    parameters: [anything('x', 'a power, or light in W/m², on a timeline'), where],
    result: formResult('x times time: W gives Wh, W/m² gives Wh/m²'),
    meaning: 'Every value times the length of its step, added up.',
    source: 'arithmetic: Σ x Δt',
    example: {
      before: clock,
      formula: 'energy(10 W × during(clock, 17:00..21:00)) as Wh',
      gives: '80 Wh',
    },
  },
  {
    name: 'time while',
    subject: 'series',
    positional: 1,
    parameters: [{ ...question, meaning: 'a question along a timeline' }, where],
    result: quantityResult(time, 'h'),
    meaning: 'How long it holds: the steps where it does, added up.',
    source: 'arithmetic: Σ Δt where it holds',
    example: { before: clock, formula: 'time while(clock within 17:00..21:00)', gives: '8 h' },
  },
  {
    name: 'first moment',
    subject: 'series',
    positional: 1,
    parameters: [
      { ...question, meaning: 'a question along a timeline' },
      { ...otherwise, meaning: 'the moment when it never holds' },
      where,
    ],
    result: quantityResult(time, undefined, 'moment'),
    meaning: 'The first step in which it holds: its start, or its end for a state such as charge.',
    source: 'arithmetic',
    example: {
      before: clock,
      formula: 'first moment(clock within 17:00..21:00)',
      gives: 'Fri 14 May 17:00',
    },
  },
  {
    name: 'daily energy',
    subject: 'series',
    positional: 1,
    parameters: [anything('x', 'a power, or light in W/m², on a timeline')],
    result: formResult('x times time, along the days of the timeline'),
    meaning: 'The energy of each civil day; a part of a day counts what it has.',
    source: 'arithmetic: Σ x Δt over a day',
    example: {
      before: clock,
      formula: 'highest(daily energy(10 W × during(clock, 17:00..21:00))) as Wh',
      gives: '40 Wh',
    },
  },
  {
    name: 'daily lowest',
    subject: 'series',
    positional: 1,
    parameters: [onTimeline],
    result: formResult('like x, along the days of the timeline'),
    meaning: 'The lowest value of each civil day.',
    source: 'arithmetic',
    example: {
      before: clock,
      formula: 'highest(daily lowest(during(clock, 17:00..21:00)))',
      gives: '0 %',
    },
  },
  {
    name: 'daily highest',
    subject: 'series',
    positional: 1,
    parameters: [onTimeline],
    result: formResult('like x, along the days of the timeline'),
    meaning: 'The highest value of each civil day.',
    source: 'arithmetic',
    example: {
      before: clock,
      formula: 'lowest(daily highest(during(clock, 17:00..21:00)))',
      gives: '100 %',
    },
  },
  {
    name: 'daily mean',
    subject: 'series',
    positional: 1,
    parameters: [onTimeline],
    result: formResult('like x, along the days of the timeline'),
    meaning: 'The average of each civil day, every step weighted by its length.',
    source: 'arithmetic',
    example: {
      before: clock,
      formula: 'first(daily mean(10 W × during(clock, 12:00..24:00)))',
      gives: '5 W',
    },
  },
  {
    name: 'running total',
    subject: 'series',
    positional: 1,
    parameters: [
      anything('change', 'what each place adds; on a timeline also a rate, counted by its step'),
      anything('start', 'the total before the first place; 0 when left out', { optional: true }),
      anything('least', 'the total never falls below it', { optional: true }),
      anything('most', 'the total never rises above it', { optional: true }),
    ],
    result: formResult('the dimension of start, on the axis of change'),
    meaning: 'The total so far, held between least and most at every place.',
    source: 'arithmetic: s = clamp(s + change)',
    example: { formula: 'last(running total(steps(1 L, 2 L, 3 L)))', gives: '6 L' },
  },
  {
    name: 'previous',
    subject: 'series',
    positional: 1,
    parameters: [series, anything('first', 'the value at the first place, of the same kind as x')],
    result: formResult('like x'),
    meaning: 'The value one place earlier. The only function through which a circle may run.',
    source: 'arithmetic',
    example: {
      before: ['days = table', '  day | need', '  1   | 430 Wh', '  2   | 510 Wh'],
      formula: 'last(previous(days.need, first: 0 Wh))',
      gives: '430 Wh',
    },
  },
];
