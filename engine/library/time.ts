// Axes and time: timelines, steps, the clock reading of a moment, sunrise and sunset.

import { time } from '../dimension/dimension.ts';
import { sunriseSunset } from '../physics/solar-position.ts';
import type { Apply, LibraryFunction, Parameter } from './signature.ts';

const DAY = 86_400;
const moment = (name: string, meaning: string): Parameter => ({ name, kind: 'quantity', dimension: time, stance: 'moment', meaning });

function form(name: string, parameters: readonly Parameter[], text: string, meaning: string, formula: string, gives: string, positional: number): LibraryFunction {
  return { name, parameters, result: { kind: 'form', text }, positional, subject: 'time', meaning, source: 'arithmetic', example: { formula, gives } };
}

function edge(which: 'rise' | 'set'): Apply {
  return (args, out, context) => {
    // The civil day is built from its noon outward, so that it is the local one everywhere.
    const noon = Math.floor((args[0] as number) / DAY) * DAY + DAY / 2;
    const day = sunriseSunset(noon - context.offset, context.latitude, context.longitude);
    if (day.state !== 'usual') {
      context.problem = `The sun does not ${which} on that day: it is ${day.state === 'up all day' ? 'up' : 'down'} all day.`;
      out[0] = Number.NaN;
      return;
    }
    out[0] = day[which] + context.offset;
  };
}

const SOURCE = 'limb and refraction at −0.8333°, the convention of the Astronomical Almanac; Meeus, Astronomical Algorithms, 2nd ed., ch. 25';

function sunTime(name: string, which: 'rise' | 'set', meaning: string, gives: string): LibraryFunction {
  return {
    name, parameters: [moment('on', 'a date')], result: { kind: 'quantity', dimension: time, stance: 'moment' }, apply: edge(which),
    needsPlace: true, positional: 1, subject: 'time', meaning, source: SOURCE, example: { formula: `${name}(on: 2027-03-20) within 2027-03-20..2027-03-21`, gives },
  };
}

export const timeFunctions: readonly LibraryFunction[] = [
  form('timeline', [moment('from', 'the first moment'), moment('until', 'the last moment'), { name: 'by', kind: 'quantity', dimension: time, default: 900, range: [60, DAY], rangeText: '1 min to 1 d', meaning: 'the step, which divides a day evenly' }], 'moments, the middle of each step; parts start, end, step', 'Time in even steps; what a trip is worked along.', 'count(timeline(from: 2027-05-14, until: 2027-05-15, by: 1 h) > 2027-05-14 12:00)', '12', 0),
  form('steps', [{ name: 'values', kind: 'any', meaning: 'two ends, or two or more values' }, { name: 'by', kind: 'any', optional: true, meaning: 'the step between the two ends' }], 'an axis of its own', 'Values to try one after the other.', 'sum(steps(5 m, 15 m, by: 5 m))', '30 m', 99),
  {
    name: 'time of day', parameters: [moment('moment', 'a moment or a timeline')], result: { kind: 'time of day' },
    apply: (args, out) => {
      const t = args[0] as number;
      out[0] = t - DAY * Math.floor(t / DAY);
    },
    positional: 1, subject: 'time', meaning: 'The clock reading of a moment.', source: 'arithmetic', example: { formula: 'time of day(2027-05-14 06:30)', gives: '06:30' },
  },
  form('trip day', [moment('moment', 'a moment or a timeline')], 'a plain number, 1 on the first civil day', 'Which day of the trip it is.', 'highest(trip day(timeline(from: 2027-05-14, until: 2027-05-16)))', '2', 1),
  sunTime('sunrise', 'rise', 'When the sun rises on a date, upper limb on a level horizon.', 'yes'),
  sunTime('sunset', 'set', 'When the sun sets on a date, upper limb on a level horizon.', 'yes'),
];
