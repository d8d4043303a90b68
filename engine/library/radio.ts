// Noise at a receiver.

import { frequency, level } from '../dimension/dimension.ts';
import { type Environment, externalNoise } from '../physics/radio-noise.ts';
import type { LibraryFunction } from './signature.ts';

export const radio: readonly LibraryFunction[] = [
  {
    name: 'noise level',
    parameters: [
      { name: 'environment', kind: 'text', choices: ['city', 'residential', 'rural', 'quiet rural', 'galactic'], meaning: 'what lies around the antenna' },
      { name: 'frequency', kind: 'quantity', dimension: frequency, range: [0.3e6, 250e6], rangeText: '0.3 MHz to 250 MHz', meaning: 'received' },
      { name: 'bandwidth', kind: 'quantity', dimension: frequency, default: 2400, range: [1, 1e9], rangeText: '1 Hz or more', meaning: 'of the receiver' },
    ],
    result: { kind: 'quantity', dimension: level, stance: 'level', unit: 'dBm' },
    apply: (args, out, context) => {
      out[0] = externalNoise(context.textOf(args[0] as number) as Environment, args[1] as number, args[2] as number);
      if (Number.isNaN(out[0])) context.problem = 'The law for this environment does not hold at this frequency: quiet rural to 30 MHz, galactic from 10 to 100 MHz.';
    },
    positional: 1, subject: 'radio', meaning: 'Median noise from outside in a short lossless antenna. At night below 10 MHz thunderstorms govern, 10 to 30 dB above quiet rural.',
    source: 'Recommendation ITU-R P.372 (from memory)', example: { formula: 'noise level("quiet rural", frequency: 7.1 MHz)', gives: '−110.9 dBm' },
  },
];
