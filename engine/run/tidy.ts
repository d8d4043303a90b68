// A formula as the notebook would write it: symbols for their ASCII spellings, spaces round operators.

import { formatFormula } from '../language/formatter.ts';
import { unitContext } from './formula-parts.ts';

/** The same text when there is nothing to do, or when it cannot be read. */
export function tidyFormula(text: string): string {
  return formatFormula(text, unitContext);
}
