// Chance: uncertain givens, trials, weather drawn day by day, solving.

import { plain } from '../dimension/dimension.ts';
import type { LibraryFunction, Parameter } from './signature.ts';

const any = (name: string, meaning: string): Parameter => ({ name, kind: 'any', meaning });

function form(name: string, parameters: readonly Parameter[], text: string, meaning: string, source: string, formula: string, gives: string, positional: number): LibraryFunction {
  return { name, parameters, result: { kind: 'form', text }, positional, subject: 'chance', meaning, source, example: { formula, gives } };
}

export const chance: readonly LibraryFunction[] = [
  form('between', [any('low', 'the low end'), any('high', 'the high end')], 'an uncertain amount', 'Anywhere between two ends, all equally likely. The plain run uses the middle.', 'uniform distribution', 'between(40 W, 70 W)', '55 W', 2),
  form('usual', [any('low', 'passed downwards once in ten'), any('likely', 'most likely'), any('high', 'passed upwards once in ten')], 'an uncertain amount', 'Triangular, with ends that are passed once in ten each way: what people mean by "from … to".', 'triangular distribution by its tenths', 'usual(40 W, 55 W, 70 W)', '55 W', 3),
  form('chance', [any('truth', 'one question with yes or no')], 'a share', 'In how many of the trials it holds, with its 95 % interval.', 'Wilson, Journal of the American Statistical Association 22 (1927) 209', 'chance(1 < 2)', 'above', 1),
  form('percentile', [any('x', 'an amount or a series'), { name: 'share', kind: 'quantity', dimension: plain, range: [0, 1], rangeText: '0 % to 100 %', meaning: 'the share of trials that lie below' }], 'the same kind', 'The value that this share of the trials stays below.', 'order statistics, straight between neighbours', 'percentile(3 W, 10 %)', '3 W', 2),
  form('drawn sky', [any('at', 'a timeline'), { name: 'wet days', kind: 'any', meaning: 'wet days in a month' }, { name: 'wet spell', kind: 'any', meaning: 'usual run of wet days' }], 'a clear index along the timeline', 'Weather drawn day by day in each trial; wet days keep company. The plain run uses the mean.', 'Gabriel & Neumann, Quarterly Journal of the Royal Meteorological Society 88 (1962) 90; sky classes common practice', 'mean(drawn sky(at: timeline(from: 2027-05-14, until: 2027-05-15), wet days: 0, wet spell: 2)) > 80 %', 'yes', 0),
  form('solve', [any('cell', 'the given to be found'), { name: 'so that', kind: 'truth', meaning: 'one comparison' }, { name: 'over', kind: 'span', meaning: 'the range to look in' }], 'the amount of the cell', 'The value of a given for which a comparison just holds.', 'bracketing and bisection', '1', '1', 1),
];
