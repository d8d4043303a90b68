// Axes of time and of steps, readings of the clock, sunrise and sunset. A moment is local civil time
// in seconds since 1970-01-01T00:00 on the clock of the notebook's place; UTC is that less the offset.

import { plain, time } from '../dimension/dimension.ts';
import { formatDate } from '../dimension/quantity.ts';
import { sunriseSunset } from '../physics/solar-position.ts';
import { amount, anything, formResult, moment, power, quantityResult } from './parameter.ts';
import type { Apply, LibraryFunction, Parameter } from './signature.ts';

const DAY = 86_400;

/** The years for which the sun's place is known, as local moments. */
export const knownYears: Pick<Parameter, 'range' | 'rangeText'> = {
  range: [-631_152_000, 4_133_980_800],
  rangeText: 'the years 1950 to 2100',
};

const hours: Parameter = {
  name: 'hours',
  kind: 'span',
  meaning: 'a span of times of day, or of moments: 17:00..21:00',
};

const clock: Parameter = moment('at', 'a timeline');

function turnOf(side: 'rise' | 'set'): Apply {
  // Along a timeline the same day is asked for again and again.
  let last = { noon: Number.NaN, latitude: Number.NaN, longitude: Number.NaN };
  let found = sunriseSunset(0, 0, 0);
  return (args, out, context) => {
    const { latitude, longitude } = context;
    const date = Math.floor((args[0] ?? Number.NaN) / DAY);
    const noon = (date + 0.5) * DAY - context.offset;
    if (noon !== last.noon || latitude !== last.latitude || longitude !== last.longitude) {
      found = sunriseSunset(noon, latitude, longitude);
      last = { noon, latitude, longitude };
    }
    out[0] = found[side] + context.offset;
    if (Number.isNaN(out[0])) {
      const why = found.state === 'down all day' ? 'stays below the horizon' : 'stays up';
      context.problem = `The sun does not ${side} on ${formatDate(date)}: it ${why}.`;
    }
  };
}

const limb =
  "upper limb on a level horizon, centre at −0.8333°: Nautical Almanac; the sun's place after Meeus, Astronomical Algorithms, 2nd edition, chapter 25";

export const timeFunctions: readonly LibraryFunction[] = [
  {
    name: 'timeline',
    subject: 'time',
    positional: 2,
    parameters: [
      moment('from', 'a date or a moment'),
      moment('until', 'a date or a moment, later than from'),
      amount('by', time, 'the step; it must divide a day', {
        default: 900,
        range: [60, DAY],
        rangeText: '1 min to 1 d',
      }),
    ],
    result: formResult(
      'the middle of each step, a series of moments; parts: start and end (moments), step (time)',
    ),
    meaning: 'An axis of time in even steps, at most 600 000 of them.',
    source: 'arithmetic',
    example: {
      formula: 'first(timeline(from: 2027-05-14, until: 2027-05-15, by: 1 h))',
      gives: 'Fri 14 May 00:30',
    },
  },
  {
    name: 'steps',
    subject: 'time',
    positional: 99,
    parameters: [
      anything('from', 'the first value; or all values, one after the other'),
      anything('to', 'the last value, when a step falls on it'),
      anything('by', 'the step', { optional: true }),
    ],
    result: formResult('a series along an axis of its own'),
    meaning: 'An axis of values to try: two ends and a step, or the values themselves.',
    source: 'arithmetic',
    example: { formula: 'count(steps(5 m, 50 m, by: 5 m) > 0 m)', gives: '10' },
  },
  {
    name: 'time of day',
    subject: 'time',
    positional: 1,
    parameters: [moment('moment', 'a moment or a timeline')],
    result: { kind: 'time of day' },
    apply: (args, out) => {
      const at = args[0] ?? Number.NaN;
      out[0] = at - DAY * Math.floor(at / DAY);
    },
    meaning: 'What the clock shows at a moment.',
    source: 'arithmetic',
    example: { formula: 'time of day(2027-05-14 06:40)', gives: '06:40' },
  },
  {
    name: 'trip day',
    subject: 'time',
    positional: 1,
    parameters: [moment('moment', 'a moment or a timeline')],
    result: quantityResult(plain),
    meaning: 'The number of the civil day, 1 on the first day of the timeline.',
    source: 'arithmetic',
    example: {
      before: ['clock = timeline(from: 2027-05-14 12:00, until: 2027-05-17 12:00)'],
      formula: 'trip day(2027-05-16 06:40)',
      gives: '3',
    },
  },
  {
    name: 'during',
    subject: 'time',
    positional: 2,
    parameters: [clock, hours],
    result: quantityResult(plain, '%'),
    meaning:
      'How much of each step lies inside the hours, so that energies come out exact whatever the step.',
    source: 'arithmetic',
    example: {
      before: ['clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 1 h)'],
      formula: 'sum(during(clock, 17:30..21:00))',
      gives: '350 %',
    },
  },
  {
    name: 'load profile',
    subject: 'time',
    positional: 0,
    parameters: [
      power('power', 'on the rows of a table'),
      { ...hours, meaning: 'spans of times of day, on the same rows' },
      clock,
    ],
    result: formResult('power on the timeline'),
    meaning: 'Every row at its hours, added up at each step.',
    source: 'arithmetic: Σ power × during',
    example: {
      before: [
        'clock = timeline(from: 2027-05-14, until: 2027-05-15)',
        'loads = table',
        '  item | power | hours',
        '  lamp | 8 W   | 20:30..23:00',
        '  box  | 10 W  | 00:00..24:00',
      ],
      formula: 'highest(load profile(power: loads.power, hours: loads.hours, at: clock))',
      gives: '18 W',
    },
  },
  {
    name: 'sunrise',
    cost: 1000,
    subject: 'time',
    positional: 1,
    needsPlace: true,
    parameters: [moment('on', 'a date', knownYears)],
    result: quantityResult(time, undefined, 'moment'),
    apply: turnOf('rise'),
    meaning: "The moment when the sun's upper edge comes over a level horizon.",
    source: limb,
    example: { formula: 'sunrise(on: 2027-06-21)', gives: 'Mon 21 Jun 05:36' },
    caution: 'Hills and trees make it later: a sky window says by how much.',
  },
  {
    name: 'sunset',
    cost: 1000,
    subject: 'time',
    positional: 1,
    needsPlace: true,
    parameters: [moment('on', 'a date', knownYears)],
    result: quantityResult(time, undefined, 'moment'),
    apply: turnOf('set'),
    meaning: "The moment when the sun's upper edge goes under a level horizon.",
    source: limb,
    example: { formula: 'sunset(on: 2027-06-21)', gives: 'Mon 21 Jun 21:09' },
    caution: 'Hills and trees make it earlier: a sky window says by how much.',
  },
];
