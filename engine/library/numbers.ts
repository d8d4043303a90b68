// Arithmetic that has a name: roots, logarithms, angles, the larger of two, rounding.

import { angle, plain } from '../dimension/dimension.ts';
import { normalShare } from '../physics/weather-chance.ts';
import { angleOf, anything, formResult, number, quantityResult } from './parameter.ts';
import type { Apply, CallContext, LibraryFunction, Parameter } from './signature.ts';

/** A function of one number that may lack a value: then it says why. */
function ofOne(f: (x: number) => number, without: string): Apply {
  return (args, out, context) => {
    const value = f(args[0] ?? Number.NaN);
    out[0] = Number.isFinite(value) ? value : none(context, without);
  };
}

function none(context: CallContext, problem: string): number {
  context.problem = problem;
  return Number.NaN;
}

/** Of an angle, positive anticlockwise; one degree is π/180. */
const anAngle = angleOf('x', 'an angle with its unit, such as 30°');

const minusOneToOne: Parameter = number('x', 'a number from −1 to 1', {
  range: [-1, 1],
  rangeText: '−1 to 1',
});

const aboveZero = number('x', 'a number above 0');

/** Keeps a number that rounding has pushed a little beyond ±1. */
const clamped = (x: number): number => Math.max(-1, Math.min(1, x));

function rounding(
  name: string,
  direction: string,
  example: string,
  gives: string,
): LibraryFunction {
  return {
    name,
    subject: 'numbers',
    positional: 1,
    parameters: [
      anything('x', 'a quantity or a point'),
      anything('to', 'the step, in the dimension of x; 1 for plain numbers', { optional: true }),
    ],
    result: formResult('like x'),
    meaning: `The ${direction} multiple of a step.`,
    source: 'arithmetic',
    example: { formula: example, gives },
  };
}

export const numberFunctions: readonly LibraryFunction[] = [
  {
    name: 'sqrt',
    subject: 'numbers',
    positional: 1,
    parameters: [anything('x', 'a quantity, 0 or more')],
    result: formResult('half the dimension of x: the root of an area is a length'),
    meaning: 'The square root.',
    source: 'arithmetic',
    example: { formula: 'sqrt(9 m²)', gives: '3 m' },
  },
  {
    name: 'abs',
    subject: 'numbers',
    positional: 1,
    parameters: [anything('x', 'a quantity')],
    result: formResult('like x'),
    meaning: 'The size without its sign.',
    source: 'arithmetic',
    example: { formula: 'abs(3 A - 5 A)', gives: '2 A' },
  },
  {
    name: 'exp',
    subject: 'numbers',
    positional: 1,
    parameters: [number('x', 'the exponent')],
    result: quantityResult(plain),
    apply: ofOne(Math.exp, 'exp(…) of more than 709 is too large to compute with.'),
    meaning: 'The number e, 2.718…, raised to a power.',
    source: 'arithmetic',
    example: { formula: 'exp(-1)', gives: '0.368' },
  },
  {
    name: 'ln',
    subject: 'numbers',
    positional: 1,
    parameters: [aboveZero],
    result: quantityResult(plain),
    apply: ofOne(Math.log, 'ln(…) takes a number above 0; here it is not.'),
    meaning: 'The natural logarithm: the power to which e is raised.',
    source: 'arithmetic',
    example: { formula: 'ln(2)', gives: '0.693' },
  },
  {
    name: 'log10',
    subject: 'numbers',
    positional: 1,
    parameters: [aboveZero],
    result: quantityResult(plain),
    apply: ofOne(Math.log10, 'log10(…) takes a number above 0; here it is not.'),
    meaning: 'The common logarithm: the power to which 10 is raised.',
    source: 'arithmetic',
    example: { formula: 'log10(1000)', gives: '3' },
  },
  {
    name: 'sin',
    subject: 'numbers',
    positional: 1,
    parameters: [anAngle],
    result: quantityResult(plain),
    apply: ofOne(Math.sin, 'sin(…) has no value here.'),
    meaning: 'The sine of an angle.',
    source: 'arithmetic',
    example: { formula: 'sin(30°)', gives: '0.5' },
  },
  {
    name: 'cos',
    subject: 'numbers',
    positional: 1,
    parameters: [anAngle],
    result: quantityResult(plain),
    apply: ofOne(Math.cos, 'cos(…) has no value here.'),
    meaning: 'The cosine of an angle.',
    source: 'arithmetic',
    example: { formula: 'cos(60°)', gives: '0.5' },
  },
  {
    name: 'tan',
    subject: 'numbers',
    positional: 1,
    parameters: [anAngle],
    result: quantityResult(plain),
    apply: ofOne(
      (x) => (Math.abs(Math.cos(x)) < 1e-12 ? Number.NaN : Math.tan(x)),
      'tan(…) has no value at 90°, where it grows without bound.',
    ),
    meaning: 'The tangent of an angle: rise over run.',
    source: 'arithmetic',
    example: { formula: 'tan(45°)', gives: '1' },
  },
  {
    name: 'arcsin',
    subject: 'numbers',
    positional: 1,
    parameters: [minusOneToOne],
    result: quantityResult(angle, '°'),
    apply: ofOne((x) => Math.asin(clamped(x)), 'arcsin(…) has no value here.'),
    meaning: 'The angle from −90° to 90° that has this sine.',
    source: 'arithmetic',
    example: { formula: 'arcsin(0.5)', gives: '30°' },
  },
  {
    name: 'arccos',
    subject: 'numbers',
    positional: 1,
    parameters: [minusOneToOne],
    result: quantityResult(angle, '°'),
    apply: ofOne((x) => Math.acos(clamped(x)), 'arccos(…) has no value here.'),
    meaning: 'The angle from 0° to 180° that has this cosine.',
    source: 'arithmetic',
    example: { formula: 'arccos(0.5)', gives: '60°' },
  },
  {
    name: 'arctan',
    subject: 'numbers',
    positional: 1,
    parameters: [number('x', 'a number: rise over run')],
    result: quantityResult(angle, '°'),
    apply: ofOne(Math.atan, 'arctan(…) has no value here.'),
    meaning: 'The angle from −90° to 90° that has this tangent.',
    source: 'arithmetic',
    example: { formula: 'arctan(1)', gives: '45°' },
  },
  {
    name: 'min',
    subject: 'numbers',
    positional: 99,
    parameters: [
      anything('x', 'a quantity, a point or a level'),
      anything('more', 'one or more of the same kind'),
    ],
    result: formResult('like its arguments'),
    meaning: 'The smaller of two or more, place by place. For one series: lowest(…).',
    source: 'arithmetic',
    example: { formula: 'min(320 W, 300 W)', gives: '300 W' },
  },
  {
    name: 'max',
    subject: 'numbers',
    positional: 99,
    parameters: [
      anything('x', 'a quantity, a point or a level'),
      anything('more', 'one or more of the same kind'),
    ],
    result: formResult('like its arguments'),
    meaning: 'The larger of two or more, place by place. For one series: highest(…).',
    source: 'arithmetic',
    example: { formula: 'max(0 W, 20 W - 45 W)', gives: '0 W' },
  },
  rounding('round', 'nearest', 'round(13.4 A, to: 5 A)', '15 A'),
  rounding('round up', 'next higher', 'round up(2.1)', '3'),
  rounding('round down', 'next lower', 'round down(2.9)', '2'),
  {
    name: 'normal share',
    subject: 'numbers',
    positional: 1,
    parameters: [number('z', 'distance from the mean, in standard deviations')],
    result: quantityResult(plain, '%'),
    apply: ofOne(normalShare, 'normal share(…) has no value here.'),
    meaning: 'The share of a normal distribution that lies below z.',
    source:
      'definition of the normal distribution; 97.5 % at 1.96: Abramowitz & Stegun, Handbook of Mathematical Functions, table 26.1',
    example: { formula: 'normal share(1.96)', gives: '97.5 %' },
  },
];
