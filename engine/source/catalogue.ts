// The catalogue of every message, gathered: an unknown code does not compile, and a test provokes
// each of them by its sample.

import { CHECK_MESSAGES } from './catalogue-check.ts';
import type { CatalogueEntry } from './catalogue-entry.ts';
import { FORMULA_MESSAGES } from './catalogue-formula.ts';
import { LINE_MESSAGES } from './catalogue-lines.ts';
import { NOTEBOOK_MESSAGES } from './catalogue-notebook.ts';
import { RUN_MESSAGES } from './catalogue-run.ts';

const ALL = {
  ...FORMULA_MESSAGES,
  ...NOTEBOOK_MESSAGES,
  ...CHECK_MESSAGES,
  ...LINE_MESSAGES,
  ...RUN_MESSAGES,
} as const;

/** The name of a message. */
export type Code = keyof typeof ALL;

export const CATALOGUE: ReadonlyMap<string, CatalogueEntry> = new Map(Object.entries(ALL));
