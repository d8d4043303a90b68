// What a session shows: plain data for the page and the command line, in display units, made anew
// after every edit. Column 0 of every `values` is the plan; the scenarios follow in file order.
// Nothing here computes; the page draws it as it stands.

import type { Fix } from '../source/diagnostic.ts';
import type { Span } from '../source/span.ts';

/** One message, at its place. `span` counts from the start of the item's own text. */
export interface Message {
  readonly code: string;
  readonly text: string;
  /** From 1, in the whole file. */
  readonly line: number;
  readonly column: number;
  /** Index of the item in the notebook. */
  readonly item: number;
  /** Offsets in the item's source. */
  readonly span: Span;
  readonly fixes: readonly Fix[];
}

/** A figure and its unit apart, so that figures can be aligned: `34.5` and `Wh/d`. */
export interface Figure {
  readonly figure: string;
  readonly unit: string;
}

export type ValueState = 'value' | 'error' | 'waits' | 'pending' | 'blank';

/** A value in one column. */
export interface ShownValue {
  readonly state: ValueState;
  /** For a value: the figure; for an error or a wait: empty. Series show their range, tables their size. */
  readonly shown: Figure;
  /** Whole text: `34.5 Wh`, `lowest 20 %, highest 100 %`, the message, or `waits for panel current`. */
  readonly text: string;
  /** A scalar's number in `unit`; NaN otherwise. */
  readonly number: number;
  /** The scenario puts this value in. */
  readonly overridden: boolean;
  /** Against the plan (scenario columns): undefined when equal or when it makes no sense. */
  readonly difference?: Figure;
  readonly changed: boolean;
  /** A result that trials move: twenty of its values in rising order, in `unit`, from the 2.5 % to the 97.5 % quantile. */
  readonly spread?: readonly number[];
  /** A small series for a spark line, at most 64 numbers; absent for scalars. */
  readonly spark?: readonly number[];
}

/** Bounds of a given, in its display unit. */
export interface ShownBounds {
  readonly kind: 'range' | 'choices';
  readonly low: number;
  readonly high: number;
  /** 0 when the notebook names none; a sensible one is then `defaultStep`. */
  readonly step: number;
  readonly defaultStep: number;
  readonly unit: string;
  /** Literal texts to write into the formula. */
  readonly choices: readonly string[];
  readonly text: string;
}

export type CellRole = 'given' | 'uncertain' | 'blank' | 'derived';

/** A stretch of a formula for display: names are linked to their cells. */
export interface FormulaPart {
  readonly text: string;
  readonly kind: 'plain' | 'cell' | 'function' | 'number' | 'unit' | 'word' | 'operator' | 'text';
  /** Key of the cell, when kind is cell. */
  readonly key?: string;
}

interface RowBase {
  /** Index of the item in the notebook; rows keep file order. */
  readonly item: number;
  /** Line from 1. */
  readonly line: number;
  readonly messages: readonly Message[];
}

export interface HeadingRow extends RowBase {
  readonly kind: 'heading';
  readonly text: string;
}
/** Adjacent prose lines are joined to one row; `item` is the first, `items` all. */
export interface ProseRow extends RowBase {
  readonly kind: 'prose';
  readonly text: string;
  readonly items: readonly number[];
}
export interface SafetyRow extends RowBase {
  readonly kind: 'safety';
  readonly text: string;
}
export interface RemarkRow extends RowBase {
  readonly kind: 'remark';
  readonly text: string;
}
export interface CellRow extends RowBase {
  readonly kind: 'cell';
  readonly key: string;
  readonly name: string;
  readonly role: CellRole;
  readonly formula: string;
  readonly parts: readonly FormulaPart[];
  readonly note: string;
  /** `a power, along clock`. */
  readonly description: string;
  readonly bounds?: ShownBounds;
  readonly values: readonly ShownValue[];
  readonly drawsOn: readonly string[];
  readonly drawnOnBy: readonly string[];
  readonly shape: 'scalar' | 'series' | 'record' | 'table';
  /** For a blank with an answer. */
  readonly answer?: ShownAnswer;
}
export interface ShownAnswer {
  readonly state: 'empty' | 'right' | 'wrong' | 'cannot tell';
  /** How far off, in words; never the solution. */
  readonly text: string;
  /** A hint, for an answer that is wrong. */
  readonly note: string;
}
/** What a blank's answer is, for one who asks. */
export interface ShownSolution {
  /** As written, its tolerance with it. */
  readonly formula: string;
  /** What it comes to; empty while something it needs is missing. */
  readonly text: string;
}
export interface ShownColumn {
  readonly key: string;
  readonly name: string;
  readonly formula: string;
  readonly given: boolean;
  /** Made elsewhere in the notebook on this table's rows. */
  readonly added: boolean;
  readonly unit: string;
  readonly numeric: boolean;
}
export interface ShownEntry {
  readonly text: string;
  /** As written in the file; empty for a formula column. */
  readonly written: string;
  readonly state: ValueState;
  readonly overridden: boolean;
}
export interface TableRowShown extends RowBase {
  readonly kind: 'table';
  readonly key: string;
  readonly name: string;
  readonly note: string;
  readonly columns: readonly ShownColumn[];
  /** entries[row][column] of the plan. */
  readonly entries: readonly (readonly ShownEntry[])[];
  /** Overridden entries of scenarios: `[column of values][row][column]` texts where they differ. */
  readonly overrides: readonly {
    readonly scenario: number;
    readonly row: number;
    readonly column: number;
    readonly text: string;
  }[];
  readonly drawsOn: readonly string[];
  readonly drawnOnBy: readonly string[];
}
export interface ShownCheck {
  readonly state: 'holds' | 'fails' | 'waits' | 'pending' | 'error';
  /** `lowest charge 34 %, limit 20 %` and where. */
  readonly text: string;
  /** (value − limit) / |limit| in the safe direction, clipped at ±1; NaN when not a comparison of numbers. */
  readonly relative: number;
  /** Margin in the unit shown; positive holds. */
  readonly margin: number;
  /** The margin in words, `0.3 V to spare`, `12 Wh short`, `2 points over`; empty when there is none to tell. */
  readonly marginText: string;
  /** Trials in which it holds, when trials move it. */
  readonly trials?: { readonly holding: number; readonly total: number };
}
export interface CheckRow extends RowBase {
  readonly kind: 'check';
  readonly must: boolean;
  readonly formula: string;
  readonly parts: readonly FormulaPart[];
  readonly note: string;
  readonly values: readonly ShownCheck[];
  readonly drawsOn: readonly string[];
}
export interface ChartRow extends RowBase {
  readonly kind: 'chart';
  readonly title: string;
  readonly note: string;
  /** Ask `session.chart(item)` for the data. */
  readonly drawsOn: readonly string[];
}
export interface ScenarioRow extends RowBase {
  readonly kind: 'scenario';
  readonly name: string;
  readonly prose: string;
  /** Column in `values`. */
  readonly column: number;
  readonly overrides: readonly {
    readonly target: string;
    readonly value: string;
    readonly note: string;
  }[];
}
export interface UnreadRow extends RowBase {
  readonly kind: 'unread';
  readonly text: string;
}
export type Row =
  | HeadingRow
  | ProseRow
  | SafetyRow
  | RemarkRow
  | CellRow
  | TableRowShown
  | CheckRow
  | ChartRow
  | ScenarioRow
  | UnreadRow;

/** The verdict of one column. */
export interface Verdict {
  readonly name: string;
  readonly prose: string;
  readonly state: 'holds' | 'tight' | 'fails' | 'do not' | 'waits' | 'none';
  /** When givens are uncertain and trials were run: in how many every check holds. */
  readonly trials?: { readonly holding: number; readonly total: number };
  /** `The plan holds`, `Do not: coldest voltage …`, `Nothing to check yet`. */
  readonly headline: string;
  /** The tightest check in words: `Lowest charge 34 %, Wed 06:40; reserve 20 %; 14 points to spare`. */
  readonly tightest: string;
  readonly holding: number;
  readonly total: number;
  /** One mark a check, for the margin line. */
  readonly marks: readonly {
    readonly item: number;
    readonly relative: number;
    readonly state: ShownCheck['state'];
    readonly must: boolean;
  }[];
}

export interface Snapshot {
  readonly title: string;
  /** `44.5 °N, 110.2 °W, 2100 m`. */
  readonly place: string;
  /** `14–20 May 2027`, empty without a timeline. */
  readonly dates: string;
  readonly trials: number;
  readonly verdicts: readonly Verdict[];
  readonly rows: readonly Row[];
  readonly messages: readonly Message[];
  /** Not empty: why the notebook may only be read (a newer format). */
  readonly readOnly: string;
  /** Cells whose work is put off (trials, solving, sweeps) and not done yet. */
  readonly pending: number;
}

// ── charts ──────────────────────────────────────────────────────────────────────────────────────

export interface ChartAxis {
  /** time: civil seconds since 1970-01-01, days: civil day starts, rows and texts: labels, number: in `unit`. */
  readonly kind: 'time' | 'days' | 'labels' | 'number';
  readonly name: string;
  readonly unit: string;
  readonly values: readonly number[];
  readonly labels: readonly string[];
}
export interface ChartSeries {
  readonly name: string;
  readonly key: string;
  readonly unit: string;
  /** Column: 0 the plan, then scenarios. */
  readonly column: number;
  /** One a place of the axis, in `unit`; NaN where absent. A timeline's rates hold through their step, states stand at its end. */
  readonly values: readonly number[];
  readonly flow: 'rate' | 'state' | 'other';
}
/** A check's limit that belongs to one of the series drawn. */
export interface ChartLimit {
  readonly name: string;
  readonly key: string;
  readonly unit: string;
  readonly value: number;
  /** How a value that keeps to it stands to it. */
  readonly relation: '<' | '≤' | '=' | '≥' | '>' | '≠';
  readonly text: string;
}
/** Where a swept series begins to keep to a limit, or ceases to. */
export interface ChartCrossing {
  readonly key: string;
  readonly limit: number;
  /** One or two places on the axis, in its unit. */
  readonly places: readonly number[];
  /** `holds from about 74 W` */
  readonly words: string;
}
export interface SkyTrack {
  readonly label: string;
  /** rad; only where the sun is up. */
  readonly azimuth: readonly number[];
  readonly elevation: readonly number[];
  /** Civil hours of the day, same length. */
  readonly hour: readonly number[];
}
export interface ChartData {
  readonly kind:
    | 'line'
    | 'bars'
    | 'stack'
    | 'list'
    | 'dots'
    | 'map'
    | 'bands'
    | 'spread'
    | 'influence'
    | 'sky';
  readonly title: string;
  readonly note: string;
  readonly state: 'ready' | 'waits' | 'pending' | 'error';
  /** Why it cannot be drawn. */
  readonly text: string;
  readonly axis: ChartAxis;
  /** Second axis of a map. */
  readonly second?: ChartAxis;
  readonly series: readonly ChartSeries[];
  readonly limits: readonly ChartLimit[];
  /** Sweeps: where the limits are crossed. */
  readonly crossings?: readonly ChartCrossing[];
  /** [from, to] civil seconds between sunset and sunrise. */
  readonly nights: readonly (readonly [number, number])[];
  /** Timeline step in seconds, for drawing rates. */
  readonly step: number;
  /** bands: quantiles a series; each as long as the axis. */
  readonly bands?: {
    readonly low: readonly number[];
    readonly quarter: readonly number[];
    readonly middle: readonly number[];
    readonly threeQuarter: readonly number[];
    readonly high: readonly number[];
    readonly unit: string;
  };
  /** spread: the trials' values. */
  readonly spread?: readonly number[];
  /** influence: givens ranked. */
  readonly influence?: readonly {
    readonly name: string;
    readonly low: number;
    readonly high: number;
    readonly rank: number;
    readonly unit: string;
    readonly lowText: string;
    readonly highText: string;
  }[];
  readonly sky?: {
    /** The outline table that can be drawn on: its key and columns, when there is one. */
    readonly table: string;
    readonly azimuth: readonly number[];
    readonly height: readonly number[];
    readonly through: readonly number[];
    readonly tracks: readonly SkyTrack[];
    readonly openShare: number;
  };
  /** What a screen reader says. */
  readonly spoken: string;
}

// ── editing ─────────────────────────────────────────────────────────────────────────────────────

/** Rows that stand together, named by their first item and the item of the next row (−1: the end). */
export interface RowBlock {
  readonly first: number;
  readonly next: number;
}

/** One deliberate change. `item` is an index into the notebook's items. Texts are as a person writes them. */
export type Command =
  | { readonly do: 'formula'; readonly cell: string; readonly text: string }
  | { readonly do: 'bounds'; readonly cell: string; readonly text: string }
  | { readonly do: 'note'; readonly item: number; readonly text: string }
  | { readonly do: 'check'; readonly item: number; readonly text: string }
  | {
      readonly do: 'entry';
      readonly table: string;
      readonly row: number;
      readonly column: number;
      readonly text: string;
    }
  /** Entries of several rows at once, from `row` on; undefined keeps what stands there. */
  | {
      readonly do: 'rows';
      readonly table: string;
      readonly row: number;
      readonly entries: readonly (readonly (string | undefined)[])[];
    }
  /** All rows of a table anew; a row may keep the note of one that stood there. */
  | {
      readonly do: 'all rows';
      readonly table: string;
      readonly rows: readonly {
        readonly entries: readonly string[];
        readonly noteOf?: number;
      }[];
    }
  | {
      readonly do: 'override';
      readonly scenario: string;
      readonly target: string;
      readonly text: string;
    }
  | { readonly do: 'put back'; readonly scenario: string; readonly target: string }
  | { readonly do: 'add scenario'; readonly name: string; readonly copyOf?: string }
  | { readonly do: 'remove scenario'; readonly name: string }
  | { readonly do: 'name scenario'; readonly scenario: string; readonly name: string }
  | { readonly do: 'describe scenario'; readonly scenario: string; readonly text: string }
  | { readonly do: 'rename'; readonly cell: string; readonly name: string }
  | { readonly do: 'insert'; readonly item: number; readonly text: string }
  /** Lines that were copied: names that are taken get fresh ones. */
  | { readonly do: 'paste'; readonly item: number; readonly text: string }
  | { readonly do: 'replace'; readonly item: number; readonly text: string }
  | { readonly do: 'remove'; readonly item: number }
  | { readonly do: 'move'; readonly item: number; readonly to: number }
  /** Rows that stand together, to the other side of rows above or below them. */
  | { readonly do: 'move rows'; readonly rows: RowBlock; readonly past: RowBlock }
  | { readonly do: 'title'; readonly text: string }
  /** Formulas in symbols, signs and bars in line; false when there is nothing to do. */
  | { readonly do: 'tidy' }
  | { readonly do: 'text'; readonly text: string };

/** What the editor shows while a formula is being typed; spans count from the start of the formula. */
export interface Preview {
  readonly messages: readonly {
    readonly code: string;
    readonly text: string;
    readonly span: Span;
    readonly fixes: readonly Fix[];
  }[];
  readonly tokens: readonly {
    readonly span: Span;
    readonly kind:
      | 'name'
      | 'cell'
      | 'function'
      | 'number'
      | 'unit'
      | 'text'
      | 'operator'
      | 'word'
      | 'punctuation'
      | 'moment'
      | 'bad';
  }[];
  readonly value: ShownValue;
  readonly description: string;
}
/** The call that is being written, and which of its arguments. */
export interface ShownSignature {
  readonly name: string;
  readonly meaning: string;
  readonly parameters: readonly { readonly name: string; readonly text: string }[];
  /** Place among `parameters`, −1 when none is meant yet. */
  readonly active: number;
}
export interface Completion {
  readonly label: string;
  readonly kind: 'cell' | 'column' | 'function' | 'unit' | 'word';
  /** One line of meaning. */
  readonly meaning: string;
  /** Value now, or the result's unit. */
  readonly detail: string;
  /** Text to put in; `from` counts from the start of the formula. */
  readonly insert: string;
  readonly from: number;
  /** A unit of the kind that is wanted where the caret is; told where not every unit will do. */
  readonly wanted?: true;
}
/** One uncertain given and how far it moves a result alone, in the result's unit. */
export interface ShownInfluence {
  readonly name: string;
  readonly low: number;
  readonly high: number;
  readonly rank: number;
  readonly unit: string;
  /** The given's own 10 % and 90 % values. */
  readonly lowText: string;
  readonly highText: string;
}
/** The worked line of the bench: each line follows the `=` under the last. */
export interface Worked {
  readonly lines: readonly (readonly FormulaPart[])[];
  readonly result: string;
  readonly functions: readonly {
    readonly name: string;
    readonly meaning: string;
    readonly source: string;
    /** What to mind where it is used; empty when there is nothing. */
    readonly caution: string;
  }[];
}
