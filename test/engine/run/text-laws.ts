// What must hold of any text as text, before anything is worked: it is written back to the byte, also
// after a change; and a formula that can be read is printed as one that reads and prints the same.

import { isPointUnit, isUnit } from '../../../engine/dimension/unit.ts';
import { parseFormula } from '../../../engine/language/parser.ts';
import { printFormula } from '../../../engine/language/printer.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { rereadNotebook } from '../../../engine/notebook/reread-notebook.ts';
import { writeNotebook } from '../../../engine/notebook/write-notebook.ts';
import type { Law } from './shown-law.ts';
import { PIECES } from './spliced-notebook.ts';

const units = { isUnit, isPointUnit };

/** No byte is lost in reading, nor in reading again after a stretch was replaced. */
export const bytes: Law = (text, hand) => {
  const notebook = readNotebook(text);
  const wrong = writeNotebook(notebook) === text ? [] : ['written otherwise'];
  const start = hand.whole(text.length + 1);
  const end = Math.min(text.length, start + hand.whole(40));
  const after = text.slice(0, start) + hand.pick(PIECES) + text.slice(end);
  const again = rereadNotebook(notebook, after, { start, end });
  if (writeNotebook(again) !== after)
    wrong.push(`changed from ${start} to ${end}: written otherwise`);
  if (JSON.stringify(again) !== JSON.stringify(readNotebook(after)))
    wrong.push(`changed from ${start} to ${end}: read otherwise than afresh`);
  return wrong;
};

/** Every formula printed, read and printed again. */
export const printed: Law = (text) =>
  readNotebook(text).items.flatMap((item) => {
    if (!('formula' in item) || item.formula === undefined) return [];
    const formula = item.formula.text;
    const { node, diagnostics } = parseFormula(formula, units);
    if (diagnostics.length > 0) return [];
    const once = printFormula(node, units);
    const again = parseFormula(once, units);
    // Hundreds of signs in a row are printed with parentheses, deeper than these may stand.
    if (again.diagnostics.some(({ code }) => code === 'formula-deep')) return [];
    if (again.diagnostics.length > 0)
      return [`${formula} is printed as ${once}: ${again.diagnostics[0]?.code}`];
    const twice = printFormula(again.node, units);
    return twice === once ? [] : [`${formula} is printed as ${once}, and that as ${twice}`];
  });
