// All functions that a formula may call, found by their lower-case name.

import { batteryFunctions } from './battery.ts';
import { cableFunctions } from './cable.ts';
import { chanceFunctions } from './chance.ts';
import { numberFunctions } from './numbers.ts';
import { radioFunctions } from './radio.ts';
import { seriesFunctions } from './series.ts';
import type { LibraryFunction } from './signature.ts';
import { sunAndSkyFunctions } from './sun-and-sky.ts';
import { timeFunctions } from './time.ts';

const all: readonly LibraryFunction[] = [
  ...numberFunctions,
  ...seriesFunctions,
  ...timeFunctions,
  ...chanceFunctions,
  ...sunAndSkyFunctions,
  ...cableFunctions,
  ...batteryFunctions,
  ...radioFunctions,
];

export const libraryFunctions: ReadonlyMap<string, LibraryFunction> = new Map(
  all.map((each) => [each.name.toLowerCase(), each]),
);
