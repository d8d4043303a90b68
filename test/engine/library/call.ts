// Calls a library function the way a notebook does: arguments by name, defaults for the rest, ranges
// held, a record as its fields, a text by a number that the context can turn back.

import { libraryFunctions } from '../../../engine/library/library.ts';
import { recordFields } from '../../../engine/library/records.ts';
import type { CallContext, LibraryFunction, Parameter } from '../../../engine/library/signature.ts';

/** A number, a text, the fields of a record in order, or a packed outline. */
export type Given = number | string | readonly number[] | Float64Array;

export interface Answer {
  /** One number a component of the result. */
  readonly values: readonly number[];
  readonly problem: string;
}

export interface Place {
  /** Degrees. */
  readonly latitude: number;
  readonly longitude: number;
  /** m. */
  readonly altitude?: number;
  /** s. */
  readonly offset?: number;
}

const DEGREE = Math.PI / 180;

/** The packed outline of an open sky. */
export const OPEN = Float64Array.of(0);

/** A packed outline from rows of azimuth, height (degrees) and the share of light that passes. */
export function outline(...rows: readonly (readonly [number, number, number])[]): Float64Array {
  return Float64Array.of(
    rows.length,
    ...rows.map(([azimuth]) => azimuth * DEGREE),
    ...rows.map(([, height]) => height * DEGREE),
    ...rows.map(([, , through]) => through),
  );
}

export function functionCalled(name: string): LibraryFunction {
  const found = libraryFunctions.get(name);
  if (found === undefined) throw new RangeError(`no function ${name}`);
  return found;
}

/** What the function answers; `place` is needed only by those that need one. */
export function call(name: string, given: Readonly<Record<string, Given>>, place?: Place): Answer {
  const { parameters, result, apply } = functionCalled(name);
  if (apply === undefined) throw new TypeError(`${name} is a form`);
  const unknown = Object.keys(given).filter((key) => !parameters.some((each) => each.name === key));
  if (unknown.length > 0) throw new TypeError(`${name} has no argument ${unknown.join(', ')}`);

  const texts: string[] = [];
  const numbers: number[] = [];
  const windows: Float64Array[] = [];
  for (const parameter of parameters) {
    const value = given[parameter.name] ?? parameter.default;
    if (value === undefined) throw new TypeError(`${name} must be given ${parameter.name}`);
    if (value instanceof Float64Array) windows.push(value);
    else if (typeof value === 'string') numbers.push(texts.push(value) - 1);
    else if (typeof value === 'number') numbers.push(held(parameter, value));
    else numbers.push(...value);
  }
  const context: CallContext = {
    latitude: (place?.latitude ?? Number.NaN) * DEGREE,
    longitude: (place?.longitude ?? Number.NaN) * DEGREE,
    altitude: place?.altitude ?? (place === undefined ? Number.NaN : 0),
    offset: place?.offset ?? (place === undefined ? Number.NaN : 0),
    textOf: (id) => texts[id] ?? '',
    problem: '',
    code: 'out-of-range',
  };
  const out = new Float64Array(result.kind === 'record' ? recordFields(result.sort).length : 1);
  apply(Float64Array.from(numbers), out, context, windows);
  return { values: [...out], problem: context.problem };
}

/** The first number of an answer. */
export function valueFrom(
  name: string,
  given: Readonly<Record<string, Given>>,
  place?: Place,
): number {
  return call(name, given, place).values[0] ?? Number.NaN;
}

function held(parameter: Parameter, value: number): number {
  const [low, high] = parameter.range ?? [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  if (value < low || value > high) throw new RangeError(`${parameter.name} ${value} is outside`);
  return value;
}
