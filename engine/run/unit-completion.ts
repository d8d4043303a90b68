// The units that may stand after a number or after `as`, those first that make a formula which can be
// worked: each is put in where the caret is, and the formulas are checked in a notebook of their own
// text. So whatever asks for a dimension there, a sum, an argument, a limit, the cell's own kind, is
// asked the same way.

import { checkNotebook } from '../check/check.ts';
import type { GraphNode } from '../check/scope.ts';
import { findUnit, unitsOf } from '../dimension/unit.ts';
import { nameKey } from '../language/parser.ts';
import { insertItems } from '../notebook/edit-notebook.ts';
import type { Evaluation } from './evaluation.ts';
import { unitFor } from './show-value.ts';
import type { Completion } from './snapshot.ts';

/** In the order in which they are offered when nothing tells which are wanted. */
const USUAL =
  'W Wh V A Ah Ω m mm² AWG h min d % °C K ° W/m² kg dB dBm kW kWh mW mA mV kV mΩ Ω/km km cm mm m² Wh/d Wh/m² %/K W/K L g MHz m/s °F'.split(
    ' ',
  );

/** Characters of a formula in which units are tried: in a longer one it would be waited for. */
const LONGEST_TRIED = 2000;
const TRIED = 'unit tried here';

interface Place {
  readonly cell: string;
  readonly before: string;
  readonly after: string;
}

/** Calls that are still open are closed, so that one may be asked before it is finished. */
function closed(formula: string): string {
  const open = formula.split('(').length - formula.split(')').length;
  return formula + ')'.repeat(Math.max(0, open));
}

function sameKind(own: GraphNode | undefined, tried: GraphNode | undefined): boolean {
  if (tried?.problem || tried?.type === undefined) return false;
  if (own?.type?.kind !== 'quantity' || own.role === 'blank') return true;
  return tried.type.kind === 'quantity' && tried.type.dimension === own.type.dimension;
}

/** Which of the units make a formula without a fault, and of the cell's own kind where that is known. */
function fitting(
  evaluation: Evaluation,
  place: Place,
  symbols: readonly string[],
): ReadonlySet<string> {
  const { scope } = evaluation.checked;
  if (place.before.length + place.after.length > LONGEST_TRIED) return new Set();
  const lines = symbols.map(
    (symbol, i) => `${TRIED} ${i} = ${closed(place.before + symbol + place.after)}`,
  );
  const all = scope.notebook.items.length;
  const edited = insertItems(scope.notebook, all, lines.join('\n'));
  if (!edited) return new Set();
  const { scope: tried } = checkNotebook(edited.notebook);
  const node = (name: string): GraphNode | undefined =>
    tried.nodes[tried.cells.get(nameKey(name)) ?? -1];
  const own = node(place.cell);
  return new Set(symbols.filter((_, i) => sameKind(own, node(`${TRIED} ${i}`))));
}

/**
 * What has been typed of a unit, and the units that begin so; undefined where no unit may stand. The
 * cell's present unit is first, then those of its kind, then others that can be worked, then the rest.
 */
export function unitCompletions(
  evaluation: Evaluation,
  cell: string,
  formula: string,
  position: number,
): { readonly typed: string; readonly found: readonly Completion[] } | undefined {
  const unit = /(?:\d\s*|\bas\s+)([^\s\d()+\-×*,]*)$/u.exec(formula.slice(0, position));
  if (!unit) return undefined;
  const typed = unit[1] ?? '';
  const from = position - typed.length;
  const id = evaluation.checked.scope.cells.get(nameKey(cell));
  const type = id === undefined ? undefined : evaluation.program.nodes[id]?.type;
  const own =
    type?.kind === 'quantity'
      ? [unitFor(evaluation, type, id).symbol, ...unitsOf(type.dimension).map((u) => u.symbol)]
      : [];
  const begins = (symbol: string): boolean =>
    symbol !== '' && symbol.toLowerCase().startsWith(typed.toLowerCase());
  const listed = [...new Set([...own, ...USUAL])].filter((one) => begins(one) && findUnit(one));
  if (listed.length === 0) return { typed, found: [] };
  const place = { cell, before: formula.slice(0, from), after: formula.slice(position) };
  const fits = fitting(evaluation, place, listed);
  // When nearly every unit will do, as in a product, nothing is known of what is wanted.
  const told = fits.size > 0 && 2 * fits.size < listed.length;
  const rank = (symbol: string): number =>
    told && fits.has(symbol) ? 0 : own.includes(symbol) ? 1 : 2;
  const meaning = ['fits here', 'a unit of this cell', 'a unit'];
  const found = listed
    .map((symbol) => ({ symbol, rank: rank(symbol) }))
    .sort((a, b) => a.rank - b.rank)
    .map(({ symbol, rank: at }): Completion => {
      const words = own.includes(symbol) && at === 0 ? meaning[1] : meaning[at];
      const entry = { label: symbol, insert: symbol, from, detail: words ?? '', meaning: '' };
      return { ...entry, kind: 'unit', ...(at === 0 ? { wanted: true } : {}) };
    });
  return { typed, found };
}
