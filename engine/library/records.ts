// The sorts of record that functions give, and their fields in the order in which a machine keeps
// their numbers.

import { angle, energy, irradiance, plain, wattage } from '../dimension/dimension.ts';
import { RECORD_SORTS, type Result, type ResultField } from './signature.ts';

export type RecordSort = (typeof RECORD_SORTS)[number];

const field = (name: string, dimension: ResultField['dimension']): ResultField => ({
  name,
  dimension,
  stance: 'plain',
});

const fields: Readonly<Record<RecordSort, readonly ResultField[]>> = {
  sun: [
    field('elevation', angle),
    field('azimuth', angle),
    // Light above the air over its yearly mean, from the distance of the sun: 0.967 to 1.034.
    field('distance factor', plain),
  ],
  sky: [
    field('beam', irradiance),
    field('diffuse', irradiance),
    field('global', irradiance),
    field('beam outside', irradiance),
  ],
  store: [
    field('charge', plain),
    field('energy', energy),
    field('stored', wattage),
    field('spilled', wattage),
    field('unserved', wattage),
  ],
};

function isSort(sort: string): sort is RecordSort {
  return RECORD_SORTS.some((known) => known === sort);
}

/** The fields of a sort of record; a RangeError for a sort that no function gives. */
export function recordFields(sort: string): readonly ResultField[] {
  if (!isSort(sort)) throw new RangeError(`no record of the sort "${sort}"`);
  return fields[sort];
}

/** A function's result that is a record. */
export function recordResult(sort: RecordSort): Result {
  return { kind: 'record', sort, fields: fields[sort] };
}
