// Radio noise of the surroundings.

import { frequency, level } from '../dimension/dimension.ts';
import { type Environment, EXTERNAL_NOISE, externalNoise } from '../physics/radio-noise.ts';
import { amount, quantityResult, words } from './parameter.ts';
import type { Apply, LibraryFunction } from './signature.ts';

const ENVIRONMENTS: readonly Environment[] = [
  'city',
  'residential',
  'rural',
  'quiet rural',
  'galactic',
];

const noiseLevel: Apply = (args, out, context) => {
  const text = context.textOf(args[0] ?? Number.NaN);
  const environment = ENVIRONMENTS.find((each) => each === text);
  out[0] = Number.NaN;
  if (environment === undefined) {
    context.problem = `noise level(…) does not know "${text}".`;
    return;
  }
  out[0] = externalNoise(environment, args[1] ?? Number.NaN, args[2] ?? Number.NaN);
  if (Number.isNaN(out[0])) {
    const { from, until } = EXTERNAL_NOISE[environment];
    context.problem = `Noise of a ${environment} place is known from ${from / 1e6} MHz to ${until / 1e6} MHz; here the frequency is outside.`;
  }
};

export const radioFunctions: readonly LibraryFunction[] = [
  {
    name: 'noise level',
    cost: 500,
    subject: 'radio',
    positional: 1,
    parameters: [
      words('environment', ENVIRONMENTS, 'where the antenna stands'),
      amount('frequency', frequency, 'quiet rural to 30 MHz, galactic 10 to 100 MHz', {
        range: [0.3e6, 250e6],
        rangeText: '0.3 MHz to 250 MHz',
      }),
      amount('bandwidth', frequency, 'of the receiver', {
        default: 2400,
        range: [1, 10e6],
        rangeText: '1 Hz to 10 MHz',
      }),
    ],
    result: quantityResult(level, 'dBm', 'level'),
    apply: noiseLevel,
    meaning:
      'The median noise that a short lossless antenna picks up. A quarter of the time it is 6 to 11 dB worse.',
    source: 'Recommendation ITU-R P.372, man-made and galactic noise (from memory)',
    example: { formula: 'noise level("rural", frequency: 7.1 MHz)', gives: '−96.6 dBm' },
    caution:
      'At night below 10 MHz thunderstorms govern, 10 to 30 dB above quiet rural. Above 15 MHz add quiet rural and galactic as powers.',
  },
];
