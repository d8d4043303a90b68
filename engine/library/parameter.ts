// Short ways to write down the parameters and results that many functions share: an amount of a
// dimension, a point on a scale, a series with the places that count.

import {
  angle,
  type Dimension,
  plain,
  temperature,
  time,
  wattage,
} from '../dimension/dimension.ts';
import type { Parameter, Result, Stance } from './signature.ts';

type More = Omit<Partial<Parameter>, 'name' | 'kind' | 'dimension' | 'meaning'>;

/** An amount of one dimension. */
export function amount(
  name: string,
  dimension: Dimension,
  meaning: string,
  more: More = {},
): Parameter {
  return { name, kind: 'quantity', dimension, meaning, ...more };
}

/** A plain number or a share. */
export function number(name: string, meaning: string, more: More = {}): Parameter {
  return amount(name, plain, meaning, more);
}

export function angleOf(name: string, meaning: string, more: More = {}): Parameter {
  return amount(name, angle, meaning, more);
}

export function power(name: string, meaning: string, more: More = {}): Parameter {
  return amount(name, wattage, meaning, more);
}

/** A reading of a thermometer, °C. */
export function thermometer(name: string, meaning: string, more: More = {}): Parameter {
  return amount(name, temperature, meaning, { stance: 'temperature', ...more });
}

/** A date, a moment or a timeline. */
export function moment(name: string, meaning: string, more: More = {}): Parameter {
  return amount(name, time, meaning, { stance: 'moment', ...more });
}

export function words(
  name: string,
  choices: readonly string[],
  meaning: string,
  more: More = {},
): Parameter {
  return { name, kind: 'text', choices, meaning, ...more };
}

/** What only a form can take: any kind, any dimension. */
export function anything(name: string, meaning: string, more: More = {}): Parameter {
  return { name, kind: 'any', meaning, ...more };
}

/** What every reduction of a series may be given besides the series. */
export const where: Parameter = {
  name: 'where',
  kind: 'truth',
  optional: true,
  meaning: 'the places that count; all of them when left out',
};

export const steepness: Parameter = angleOf('tilt', 'of the plane: 0° lies flat, 90° is upright', {
  range: [0, Math.PI],
  rangeText: '0° to 180°',
});

export const facing: Parameter = angleOf(
  'facing',
  'where the plane looks, clockwise from true north',
  { range: [-2 * Math.PI, 4 * Math.PI], rangeText: '−360° to 720°' },
);

export const sunRecord: Parameter = {
  name: 'sun',
  kind: 'record',
  sort: 'sun',
  meaning: 'what sun position(…) gives',
};

export const skyRecord: Parameter = {
  name: 'sky',
  kind: 'record',
  sort: 'sky',
  meaning: 'what clear sky(…) or clouded sky(…) gives',
};

export const outline: Parameter = {
  name: 'window',
  kind: 'window',
  meaning: 'what sky window(…) or open sky() gives',
};

export function quantityResult(
  dimension: Dimension,
  unit?: string,
  stance: Stance = 'plain',
): Result {
  return { kind: 'quantity', dimension, stance, ...(unit === undefined ? {} : { unit }) };
}

/** A result that the checker works out from the arguments, in words. */
export function formResult(text: string): Result {
  return { kind: 'form', text };
}
