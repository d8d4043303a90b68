// Where in the sheet the hand is, and what is being edited there. A place is an item of the
// notebook and a column: the name, the formula, or one of the value strips.

import type { Row } from '../../engine/index.ts';

/** −2 the name, −1 the formula or the words, 0 the plan's strip, then the scenarios'. */
export type Column = number;
export const NAME: Column = -2;
export const WORDS: Column = -1;

export type EditPlace =
  | { readonly kind: 'formula'; readonly item: number; readonly cell: string }
  | { readonly kind: 'check'; readonly item: number }
  | { readonly kind: 'name'; readonly item: number; readonly cell: string }
  | {
      readonly kind: 'value';
      readonly item: number;
      readonly cell: string;
      readonly column: number;
    }
  | {
      readonly kind: 'entry';
      readonly item: number;
      readonly table: string;
      readonly row: number;
      readonly column: number;
      /** The scenario that is changed; 0 is the plan, whose table it is. */
      readonly into: number;
    }
  /** A scenario's own name or words. */
  | {
      readonly kind: 'scenario';
      readonly item: number;
      readonly name: string;
      readonly part: 'name' | 'words';
    }
  /** Whole lines of the file, as they stand: words, headings, charts, scenarios, unread lines. */
  | {
      readonly kind: 'lines';
      readonly item: number;
      readonly first: number;
      readonly count: number;
    }
  /** A line that does not exist yet, below an item (−1: at the top). */
  | { readonly kind: 'new'; readonly item: number };

export interface Editing {
  readonly place: EditPlace;
  /** What the editor starts with. */
  readonly text: string;
  /** What stands in the file; keeping it changes nothing. */
  readonly original: string;
  /** Where the caret starts: everything selected, or at the end of what was typed. */
  readonly caret: 'all' | 'end';
  /** The cell whose kind the formula must have, for previews; empty for lines. */
  readonly cell: string;
}

/** Whether a plain number stands for the whole formula, so that it is edited in its strip. */
export function editedInStrip(row: Row): boolean {
  if (row.kind !== 'cell') return false;
  if (row.role === 'blank') return true;
  return row.role === 'given' && row.shape === 'scalar' && !row.formula.startsWith('if ');
}

/** Comparisons as they are read; what was typed on a plain keyboard stays in the file. */
function withSigns(formula: string): string {
  return formula.replaceAll('>=', '≥').replaceAll('<=', '≤').replaceAll('!=', '≠');
}

/** What a row is called when it is spoken of. */
export function rowName(row: Row): string {
  switch (row.kind) {
    case 'cell':
    case 'table':
    case 'scenario':
      return row.name;
    case 'check':
      return `${row.must ? 'must' : 'check'} ${withSigns(row.formula)}`;
    case 'chart':
      return row.title;
    case 'heading':
      return row.text;
    case 'unread':
      return `line ${row.line}`;
    default:
      return row.kind;
  }
}
