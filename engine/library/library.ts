// All that a formula may call, by lower-case name.

import { battery } from './battery.ts';
import { cable } from './cable.ts';
import { chance } from './chance.ts';
import { numbers } from './numbers.ts';
import { radio } from './radio.ts';
import { series } from './series.ts';
import type { LibraryFunction } from './signature.ts';
import { sunAndSky } from './sun-and-sky.ts';
import { timeFunctions } from './time.ts';

export const libraryFunctions: ReadonlyMap<string, LibraryFunction> = new Map(
  [...numbers, ...series, ...timeFunctions, ...chance, ...sunAndSky, ...cable, ...battery, ...radio].map((fn) => [fn.name.toLowerCase(), fn]),
);
