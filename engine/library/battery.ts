// The battery, stepped along a timeline.

import { divide, energy, plain, time } from '../dimension/dimension.ts';
import { amount, anything, moment, number, power, thermometer } from './parameter.ts';
import { recordResult } from './records.ts';
import type { LibraryFunction, Parameter } from './signature.ts';

const share: Pick<Parameter, 'range' | 'rangeText'> = { range: [0, 1], rangeText: '0 % to 100 %' };
const positive: Pick<Parameter, 'range' | 'rangeText'> = {
  range: [0, 1e9],
  rangeText: '0 W to 1 GW',
};

export const batteryFunctions: readonly LibraryFunction[] = [
  {
    name: 'battery run',
    subject: 'battery',
    positional: 0,
    parameters: [
      power('charging', 'what the charger offers, on a timeline', positive),
      power('load', 'what is drawn, on the same timeline', positive),
      amount('capacity', energy, 'energy of the full battery that can be used, above 0', {
        range: [3.6, 3.6e12],
        rangeText: '1 mWh to 1 GWh',
      }),
      number('start', 'charge at the beginning', { default: 1, ...share }),
      number('floor', 'charge at which discharge stops', { default: 0, ...share }),
      number('round trip', 'energy out over energy in', {
        default: 0.9,
        range: [0.5, 1],
        rangeText: '50 % to 100 %',
      }),
      power('charge limit', 'the most that may flow in; none when left out', {
        optional: true,
        ...positive,
      }),
      number('taper from', 'charge from which it takes less and less', { default: 0.95, ...share }),
      amount('tail', time, 'time constant of the last of the charge', {
        default: 3600,
        range: [0, 864_000],
        rangeText: '0 h to 10 d',
      }),
      power('idle', "what the battery's own electronics draw", { default: 0, ...positive }),
      amount('self-loss', divide(plain, time), 'share of the charge lost in a time', {
        default: 0,
        range: [0, 1 / 3600],
        rangeText: '0 %/h to 100 %/h',
      }),
      thermometer('cell', 'temperature of the cells: below 0 °C they take no charge', {
        default: 25,
        range: [-60, 100],
        rangeText: '−60 °C to 100 °C',
      }),
      anything('readings', 'charges that were read, on the rows of a log', { optional: true }),
      moment('read at', 'when, on the same rows', { optional: true }),
    ],
    result: recordResult('store'),
    meaning:
      'The battery step by step: charge and energy at the end of each step; power stored, spilled because it was full or limited, and unserved because it was empty. A reading replaces the charge.',
    source:
      'balance of energy, a root of the round trip lost each way; taper: exponential decay of the charging current',
    example: {
      before: ['clock = timeline(from: 2027-05-14, until: 2027-05-15)'],
      formula:
        'last(battery run(charging: 0 W, load: 10 W × during(clock, 00:00..24:00), capacity: 480 Wh, round trip: 100 %).charge)',
      gives: '50 %',
    },
    caution:
      'Do not charge a lithium battery below 0 °C. Fuse at the battery, one for every branch.',
  },
];
