// The battery, step by step. Typed and run by the checker and the machine; described here.

import { divide, energy, plain, temperature, time, wattage } from '../dimension/dimension.ts';
import type { LibraryFunction, Parameter } from './signature.ts';

const share = (name: string, value: number, meaning: string): Parameter => ({ name, kind: 'quantity', dimension: plain, default: value, range: [0, 1], rangeText: '0 % to 100 %', meaning });

export const battery: readonly LibraryFunction[] = [
  {
    name: 'battery run',
    parameters: [
      { name: 'charging', kind: 'quantity', dimension: wattage, meaning: 'power offered, along a timeline' },
      { name: 'load', kind: 'quantity', dimension: wattage, meaning: 'power drawn, along the same timeline' },
      { name: 'capacity', kind: 'quantity', dimension: energy, meaning: 'energy of the full battery' },
      share('start', 1, 'charge at the beginning'),
      share('floor', 0, 'charge at which it stops giving'),
      { ...share('round trip', 0.9, 'energy out over energy in; a root of it is lost each way'), range: [0.5, 1], rangeText: '50 % to 100 %' },
      { name: 'charge limit', kind: 'quantity', dimension: wattage, default: Number.MAX_VALUE, meaning: 'most power it takes' },
      share('taper from', 0.95, 'from this charge on it takes less and less'),
      { name: 'tail', kind: 'quantity', dimension: time, default: 3600, meaning: 'time constant of the last of the charge' },
      { name: 'idle', kind: 'quantity', dimension: wattage, default: 0, meaning: 'what its own electronics draw' },
      { name: 'self-loss', kind: 'quantity', dimension: divide(plain, time), default: 0, meaning: 'self-discharge, such as 0.1 %/d' },
      { name: 'cell', kind: 'quantity', dimension: temperature, stance: 'temperature', default: 25, meaning: 'temperature of the cells; below 0 °C it takes no charge' },
      { name: 'readings', kind: 'quantity', dimension: plain, optional: true, meaning: 'charges read from the display, a column of a log' },
      { name: 'read at', kind: 'quantity', dimension: time, stance: 'moment', optional: true, meaning: 'their moments, of the same log' },
    ],
    result: { kind: 'form', text: 'a record with charge, energy, stored, spilled and unserved along the timeline' },
    positional: 0, subject: 'battery', meaning: 'A battery between a harvest and a load, step by step, with what it cannot take and cannot give.',
    source: 'energy balance at the bus; no charge below 0 °C: IEC 62133-2 and makers’ practice for lithium cells',
    example: { formula: 'last(battery run(charging: 0 W × during(timeline(from: 2027-05-14, until: 2027-05-15, by: 1 h), 00:00..24:00), load: 10 W, capacity: 1000 Wh, round trip: 100 %).energy)', gives: '760 Wh' },
    caution: 'No lithium charge below 0 °C. Fuse at the battery, every branch, rated for direct current. The makers’ instructions come first.',
  },
];
