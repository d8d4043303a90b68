// Functions of numbers: roots, logarithms, angles, rounding.

import { angle, plain } from '../dimension/dimension.ts';
import { normalShare } from '../physics/weather-chance.ts';
import type { LibraryFunction, Parameter } from './signature.ts';

const ARITHMETIC = 'arithmetic';
const any = (name: string, meaning: string): Parameter => ({ name, kind: 'any', meaning });

/** A function of one plain number or angle. */
function ofOne(
  name: string,
  f: (x: number) => number,
  takes: Parameter,
  gives: 'number' | 'angle' | 'share',
  meaning: string,
  example: LibraryFunction['example'],
  source = ARITHMETIC,
): LibraryFunction {
  return {
    name,
    parameters: [takes],
    result: { kind: 'quantity', dimension: gives === 'angle' ? angle : plain, stance: 'plain', ...(gives === 'angle' ? { unit: '°' } : gives === 'share' ? { unit: '%' } : {}) },
    apply: (args, out) => {
      out[0] = f(args[0] as number);
    },
    positional: 1,
    subject: 'numbers',
    meaning,
    source,
    example,
  };
}

const number = (meaning: string, range?: readonly [number, number], rangeText?: string): Parameter => ({
  name: 'x', kind: 'quantity', dimension: plain, meaning, ...(range ? { range } : {}), ...(rangeText ? { rangeText } : {}),
});
const turned: Parameter = { name: 'x', kind: 'quantity', dimension: angle, meaning: 'an angle, such as 30°' };
const positive: readonly [number, number] = [Number.MIN_VALUE, Number.MAX_VALUE];

function form(name: string, parameters: readonly Parameter[], text: string, meaning: string, example: LibraryFunction['example'], positional = 1): LibraryFunction {
  return { name, parameters, result: { kind: 'form', text }, positional, subject: 'numbers', meaning, source: ARITHMETIC, example };
}

const rounding: readonly Parameter[] = [any('x', 'an amount'), { name: 'to', kind: 'any', optional: true, meaning: 'the step to round to; 1 for plain numbers' }];

export const numbers: readonly LibraryFunction[] = [
  form('sqrt', [any('x', 'an amount')], 'the root, of half the dimension', 'Square root.', { formula: 'sqrt(9 m²)', gives: '3 m' }),
  form('abs', [any('x', 'an amount')], 'the same kind', 'Size without the sign.', { formula: 'abs(-3 W)', gives: '3 W' }),
  ofOne('exp', Math.exp, number('a plain number'), 'number', 'e to a power.', { formula: 'exp(0)', gives: '1' }),
  ofOne('ln', Math.log, number('a plain number above 0', positive, 'above 0'), 'number', 'Natural logarithm.', { formula: 'ln(1)', gives: '0' }),
  ofOne('log10', Math.log10, number('a plain number above 0', positive, 'above 0'), 'number', 'Logarithm to the base of ten.', { formula: 'log10(1000)', gives: '3' }),
  ofOne('sin', Math.sin, turned, 'number', 'Sine of an angle.', { formula: 'sin(30°)', gives: '0.5' }),
  ofOne('cos', Math.cos, turned, 'number', 'Cosine of an angle.', { formula: 'cos(60°)', gives: '0.5' }),
  ofOne('tan', Math.tan, turned, 'number', 'Tangent of an angle.', { formula: 'tan(45°)', gives: '1' }),
  ofOne('arcsin', Math.asin, number('from −1 to 1', [-1, 1], '−1 to 1'), 'angle', 'Angle of a sine.', { formula: 'arcsin(0.5)', gives: '30°' }),
  ofOne('arccos', Math.acos, number('from −1 to 1', [-1, 1], '−1 to 1'), 'angle', 'Angle of a cosine.', { formula: 'arccos(0.5)', gives: '60°' }),
  ofOne('arctan', Math.atan, number('a plain number'), 'angle', 'Angle of a tangent.', { formula: 'arctan(1)', gives: '45°' }),
  form('min', [any('values', 'two or more values of one kind')], 'the same kind', 'The smaller of two or more values, place by place.', { formula: 'min(3 W, 5 W)', gives: '3 W' }, 99),
  form('max', [any('values', 'two or more values of one kind')], 'the same kind', 'The larger of two or more values, place by place.', { formula: 'max(3 W, 5 W)', gives: '5 W' }, 99),
  form('round', rounding, 'the same kind', 'To the nearest step, halves away from zero.', { formula: 'round(2.6)', gives: '3' }),
  form('round up', rounding, 'the same kind', 'To the next step up.', { formula: 'round up(12.1 W, to: 5 W)', gives: '15 W' }),
  form('round down', rounding, 'the same kind', 'To the next step down.', { formula: 'round down(12.1 W, to: 5 W)', gives: '10 W' }),
  ofOne('normal share', normalShare, number('how many spreads above the middle'), 'share', 'Share of a normal distribution below a value.', { formula: 'normal share(0)', gives: '50 %' }, 'Abramowitz & Stegun, Handbook of Mathematical Functions (1964), 26.2'),
];
