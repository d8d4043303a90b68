// The records that functions return: their fields, in the order of their components.

import { angle, energy, irradiance, plain, wattage } from '../dimension/dimension.ts';
import type { ResultField } from './signature.ts';

const RECORDS: Readonly<Record<string, readonly ResultField[]>> = {
  sun: [
    { name: 'elevation', dimension: angle, stance: 'plain' },
    { name: 'azimuth', dimension: angle, stance: 'plain' },
    { name: 'distance factor', dimension: plain, stance: 'plain' },
  ],
  sky: [
    { name: 'beam', dimension: irradiance, stance: 'plain' },
    { name: 'diffuse', dimension: irradiance, stance: 'plain' },
    { name: 'global', dimension: irradiance, stance: 'plain' },
    { name: 'beam outside', dimension: irradiance, stance: 'plain' },
  ],
  store: [
    { name: 'charge', dimension: plain, stance: 'plain' },
    { name: 'energy', dimension: energy, stance: 'plain' },
    { name: 'stored', dimension: wattage, stance: 'plain' },
    { name: 'spilled', dimension: wattage, stance: 'plain' },
    { name: 'unserved', dimension: wattage, stance: 'plain' },
  ],
};

/** Fields of a sort of record; empty for an unknown one. */
export function recordFields(sort: string): readonly ResultField[] {
  return RECORDS[sort] ?? [];
}
