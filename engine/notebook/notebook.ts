// A notebook as read: its lines, unchanged, grouped into items. Every item keeps the exact text of
// its lines (with line ends), so that writing is joining and nothing that was not edited changes.
// Formulas stay text here; the places say where in the item's text each stands, so that a message
// about a formula can be shown at its line and column.

import type { Diagnostic } from '../source/diagnostic.ts';
import type { Span } from '../source/span.ts';

/** A piece of an item's text: `source.slice(span.start, span.end) === text`. */
export interface Piece {
  readonly text: string;
  readonly span: Span;
}

interface ItemBase {
  /** Exact text of all its lines, line ends included. */
  readonly source: string;
  /** Line of its first character, from 1. */
  readonly line: number;
  /** Offset of its first character in the whole text. */
  readonly offset: number;
}

export interface BlankItem extends ItemBase {
  readonly kind: 'blank';
}
export interface HeadingItem extends ItemBase {
  readonly kind: 'heading';
  readonly text: Piece;
}
export interface ProseItem extends ItemBase {
  readonly kind: 'prose';
  readonly text: Piece;
}
export interface SafetyItem extends ItemBase {
  readonly kind: 'safety';
  readonly text: Piece;
}
/** A line of its own that begins with `--`. */
export interface RemarkItem extends ItemBase {
  readonly kind: 'remark';
  readonly text: Piece;
}
/** `name = formula [bounds] -- note`; continuation lines are part of the formula piece (newlines kept). */
export interface CellItem extends ItemBase {
  readonly kind: 'cell';
  readonly name: Piece;
  readonly formula: Piece;
  /** What stands between the brackets, without them. */
  readonly bounds?: Piece;
  readonly note?: Piece;
}
export interface TableColumn {
  readonly name: Piece;
  readonly formula?: Piece;
}
export interface TableRow {
  /** One an entry, in column order; an empty entry has empty text. Missing entries at the end are absent. */
  readonly entries: readonly Piece[];
  readonly note?: Piece;
}
export interface TableItem extends ItemBase {
  readonly kind: 'table';
  readonly name: Piece;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly TableRow[];
  readonly note?: Piece;
}
export interface CheckItem extends ItemBase {
  readonly kind: 'check';
  readonly must: boolean;
  readonly formula: Piece;
  readonly note?: Piece;
}
export interface AnswerItem extends ItemBase {
  readonly kind: 'answer';
  readonly name: Piece;
  /** Formula with its `± tolerance`, as the language reads it. */
  readonly formula: Piece;
  readonly note?: Piece;
}
/** The whole of a chart line after the word `chart`, without the note. */
export interface ChartItem extends ItemBase {
  readonly kind: 'chart';
  readonly body: Piece;
  readonly note?: Piece;
}
export interface ScenarioItem extends ItemBase {
  readonly kind: 'scenario';
  readonly name: Piece;
  readonly prose: readonly Piece[];
  /** `target = value` each, with its note. */
  readonly overrides: readonly {
    readonly target: Piece;
    readonly value: Piece;
    readonly note?: Piece;
  }[];
}
/** A line that could not be read; kept as it stands, with its message. */
export interface UnreadItem extends ItemBase {
  readonly kind: 'unread';
}

export type Item =
  | BlankItem
  | HeadingItem
  | ProseItem
  | SafetyItem
  | RemarkItem
  | CellItem
  | TableItem
  | CheckItem
  | AnswerItem
  | ChartItem
  | ScenarioItem
  | UnreadItem;

export interface Place {
  /** rad, north positive. */
  readonly latitude: number;
  /** rad, east positive. */
  readonly longitude: number;
  /** m. */
  readonly altitude: number;
  /** s, east of Greenwich positive: civil time = UTC + offset. */
  readonly offset: number;
}

export interface Header {
  readonly version: number;
  readonly title?: string;
  readonly place?: Place;
  /** Preferred units, as written and split at commas: `metric`, `Wh`, `°C`. */
  readonly units: readonly string[];
  /** Where each of them stands in the file. */
  readonly unitSpans: readonly Span[];
  readonly trials: number;
  readonly seed: number;
}

export interface Notebook {
  /** Exact text of the header lines and the blank line after them. */
  readonly headerSource: string;
  readonly header: Header;
  readonly items: readonly Item[];
  /** Messages about lines; spans are offsets in the whole text. */
  readonly diagnostics: readonly Diagnostic[];
}
