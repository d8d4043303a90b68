// A function that works a whole row at once must give, place by place, the very numbers that it gives
// when asked for each place: a series, a scenario and a trial agree to the bit. The truth here is the
// function's own way with one place, which the physics tests hold against the outside.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { libraryFunctions } from '../../../engine/library/library.ts';
import type { ArgumentRow, CallContext } from '../../../engine/library/signature.ts';

const context: CallContext = {
  latitude: 0.74,
  longitude: -2.12,
  altitude: 1450,
  offset: -25_200,
  textOf: () => '',
  problem: '',
  code: 'out-of-range',
};

const angle = fc.double({ min: 0, max: 6.28, noNaN: true });
const elevation = fc.oneof(
  fc.double({ min: -1.5, max: 1.5, noNaN: true }),
  fc.constantFrom(0, 1e-9, -1e-9, 0.0047),
);
const light = fc.oneof(fc.constant(0), fc.double({ min: 0, max: 1100, noNaN: true }));
/** In the order of each function's arguments: fields of records one by one, a window not among them. */
const ARGUMENTS: Readonly<Record<string, readonly fc.Arbitrary<number>[]>> = {
  'clear sky': [
    elevation,
    angle,
    fc.double({ min: 0.96, max: 1.04, noNaN: true }),
    fc.double({ min: 1, max: 10, noNaN: true }),
  ],
  'clouded sky': [
    light,
    light,
    light,
    fc.constant(1361),
    fc.double({ min: 0, max: 1.1, noNaN: true }),
  ],
  'plane light': [
    light,
    light,
    light,
    fc.constant(1361),
    elevation,
    angle,
    fc.constant(1),
    fc.double({ min: 0, max: 1.5, noNaN: true }),
    angle,
    fc.double({ min: 0, max: 1, noNaN: true }),
  ],
};
/** Arguments that are one number for the whole row; the others may be either. */
const SINGLE: Readonly<Record<string, readonly number[]>> = {
  'clear sky': [3],
  'clouded sky': [],
  'plane light': [7, 8],
};

/** Packed as the engine hands it over: count, azimuths, heights, light through. */
const outline = fc
  .array(
    fc.tuple(
      angle,
      fc.double({ min: 0, max: 1.5, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
    ),
    { minLength: 3, maxLength: 8 },
  )
  .map((rows) => {
    const sorted = rows.toSorted((a, b) => a[0] - b[0]);
    return Float64Array.from([
      sorted.length,
      ...sorted.map((r) => r[0]),
      ...sorted.map((r) => r[1]),
      ...sorted.map((r) => r[2]),
    ]);
  });

test('every function with a way for rows is tried here', () => {
  const named = [...libraryFunctions.values()].filter((fn) => fn.rows).map((fn) => fn.name);
  expect(named.toSorted()).toEqual(Object.keys(ARGUMENTS).toSorted());
});

test.each(Object.keys(ARGUMENTS))(
  '%s along a row is the same to the bit as place by place',
  (name) => {
    const fn = libraryFunctions.get(name);
    const kinds = ARGUMENTS[name] ?? [];
    if (!fn?.rows || !fn.apply) throw new RangeError(name);
    const { apply } = fn;
    // One memory through all cases, as in a notebook that runs many times.
    const rows = fn.rows();
    const results = fn.result.kind === 'record' ? fn.result.fields.length : 1;
    const columns = fc.tuple(
      ...kinds.map((kind, j) =>
        (SINGLE[name] ?? []).includes(j)
          ? kind.map((number) => [number])
          : fc.oneof(
              kind.map((number) => [number]),
              fc.array(kind, { minLength: 6, maxLength: 6 }),
            ),
      ),
    );
    fc.assert(
      fc.property(fc.array(columns, { minLength: 1, maxLength: 3 }), outline, (several, window) => {
        // Each twice, so that what was remembered is used as well.
        for (const given of [...several, ...several]) {
          const args: ArgumentRow[] = given.map((numbers) => ({
            array: Float64Array.from(numbers),
            begin: 0,
            stride: numbers.length === 1 ? 0 : 1,
          }));
          const out = Array.from({ length: results }, () => new Float64Array(6));
          expect(rows(6, args, out, context, [window])).toBe(true);
          for (let i = 0; i < 6; i++) {
            const one = new Float64Array(results);
            const values = Float64Array.from(given, (numbers) => numbers[i] ?? numbers[0] ?? 0);
            apply(values, one, context, [window]);
            for (const [j, row] of out.entries()) expect(row[i]).toBe(one[j]);
          }
        }
      }),
      { numRuns: 300 },
    );
  },
);
