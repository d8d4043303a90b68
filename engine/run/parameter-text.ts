// What an argument of a function is, in one line: its meaning, what it takes, its bounds, and what
// stands for it when it is left out.

import { describeDimension } from '../check/describe.ts';
import type { Parameter } from '../library/signature.ts';

export function parameterText(p: Parameter): string {
  const kind =
    p.kind === 'quantity' && p.dimension
      ? p.stance === 'temperature'
        ? 'a temperature'
        : p.stance === 'moment'
          ? 'a moment'
          : p.stance === 'level'
            ? 'a level (dBm)'
            : describeDimension(p.dimension)
      : p.kind === 'any' || p.kind === 'quantity'
        ? ''
        : p.kind === 'record'
          ? `a ${p.sort ?? ''} record`
          : `a ${p.kind}`;
  const choices = p.choices ? ` (${p.choices.map((c) => `"${c}"`).join(', ')})` : '';
  const range = p.rangeText ? `, ${p.rangeText}` : '';
  const usual =
    typeof p.default === 'string'
      ? `; "${p.default}" if left out`
      : p.default !== undefined || p.optional
        ? '; may be left out'
        : '';
  return `${p.meaning}${kind === '' ? '' : `: ${kind}`}${choices}${range}${usual}`;
}
