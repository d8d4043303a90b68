// A notebook that is open: text in, snapshots out. It has a life, so it is a class: it keeps the
// present text, its evaluation, and what was asked of it since the last change.

import { checkNotebook } from '../check/check.ts';
import type { LineProblem } from '../check/check-lines.ts';
import { literalAmount, parseContextAt, type TreeCache } from '../check/scope.ts';
import { fromStored, type Unit, unitsOf } from '../dimension/unit.ts';
import { nameKey, parseFormula } from '../language/parser.ts';
import { moveBlock } from '../notebook/edit-block.ts';
import {
  type Edited,
  insertItems,
  moveItem,
  removeItem,
  replaceItem,
  setBody,
  setBounds,
  setFormula,
  setNote,
  setTitle,
} from '../notebook/edit-notebook.ts';
import { setRows } from '../notebook/edit-rows.ts';
import {
  addScenario,
  removeOverride,
  removeScenario,
  setOverride,
} from '../notebook/edit-scenario.ts';
import { describeScenario, nameScenario } from '../notebook/edit-scenario-words.ts';
import { setEntry } from '../notebook/edit-table.ts';
import type { CellItem, Item, Notebook } from '../notebook/notebook.ts';
import { FORMAT_VERSION } from '../notebook/read-header.ts';
import { readNotebook } from '../notebook/read-notebook.ts';
import { replaceRows } from '../notebook/replace-rows.ts';
import { rereadNotebook } from '../notebook/reread-notebook.ts';
import { keepWritten, writeNotebook } from '../notebook/write-notebook.ts';
import { solutionOf } from './answers.ts';
import { buildSnapshot } from './build-snapshot.ts';
import { chartOf } from './chart-data.ts';
import { completionsFor } from './completion.ts';
import { Evaluation, type SlowResults } from './evaluation.ts';
import { pasteItems } from './paste.ts';
import { previewFormula } from './preview.ts';
import { renameCell } from './rename.ts';
import { type Report, reportOf } from './report.ts';
import { largestOf } from './show-value.ts';
import { ShownBefore } from './shown-before.ts';
import { signatureAt } from './signature-help.ts';
import type {
  ChartData,
  Command,
  Completion,
  Preview,
  ShownSignature,
  ShownSolution,
  Snapshot,
  Worked,
} from './snapshot.ts';
import type { StudyResults } from './study-results.ts';
import { tidyNotebook } from './tidy.ts';
import { workedOf } from './worked.ts';

export interface Session {
  /** The whole notebook as it would be written to a file now. */
  readonly text: string;
  /** The current values; the same object until something changes. */
  snapshot(): Snapshot;
  /** Data of the chart that stands at this item, made when asked for and kept until something changes. */
  chart(item: number): ChartData;
  /** Changes the notebook and re-evaluates what depends on it. Returns false and changes nothing when the command does not fit. Undo is `{ do: 'text', text: before }`. */
  do(command: Command): boolean;
  /** Evaluates a formula typed for this cell (or for a new cell) without keeping it. */
  preview(cell: string, formula: string): Preview;
  completions(cell: string, formula: string, position: number): readonly Completion[];
  /** The call that stands open where the caret is. */
  signature(formula: string, position: number): ShownSignature | undefined;
  /** How a cell's value comes about, in the given column. */
  worked(cell: string, column: number): Worked;
  /** The answer of a blank: formula and value. Shown only to one who is right or asks. */
  solution(cell: string): ShownSolution | undefined;
  /** Units in which this cell may be shown. */
  unitChoices(cell: string): readonly string[];
  /** Works on what was put off, in these columns or in all, for about this long; true while some is left. */
  continue(milliseconds: number, now: () => number, columns?: ReadonlySet<number>): boolean;
  /** Values of the put-off work, for another session that has the same text. */
  slowResults(columns?: ReadonlySet<number>): SlowResults;
  /** Takes over put-off values that another session worked out for the same text. */
  adopt(results: SlowResults): void;
  /** Takes over what trials told, here or in another session of the same text. */
  adoptStudies(results: StudyResults): void;
  /** The values themselves, for studies. */
  readonly evaluation: Evaluation;
  /** The column of a scenario by its name; 0 is the plan, −1 when there is none of that name. */
  columnOf(scenario: string): number;
  /** Everything as plain data, in one column; `full` lists whole series. Puts nothing off. */
  report(column: number, full: boolean): Report;
}

/** Figures that a choice of units stays within. */
const LEAST_FIGURE = 1e-4;
const MOST_FIGURE = 1e7;

class OpenNotebook implements Session {
  #notebook: Notebook;
  #evaluation: Evaluation;
  #snapshot: Snapshot | undefined;
  readonly #shown = new ShownBefore();
  readonly #charts = new Map<number, ChartData>();
  readonly #trees: TreeCache = new WeakMap();

  constructor(text: string) {
    this.#notebook = keepWritten(readNotebook(text), text);
    this.#evaluation = this.#evaluate();
  }

  get text(): string {
    return writeNotebook(this.#notebook);
  }

  get evaluation(): Evaluation {
    return this.#evaluation;
  }

  adoptStudies(results: StudyResults): void {
    this.#evaluation.studies = results;
    this.#forget();
  }

  columnOf(scenario: string): number {
    const key = nameKey(scenario);
    return this.#evaluation.columns.findIndex((column, index) =>
      index === 0
        ? key === 'plan' &&
          !this.#evaluation.columns.some((c, i) => i > 0 && nameKey(c.name) === 'plan')
        : nameKey(column.name) === key,
    );
  }

  report(column: number, full: boolean): Report {
    // All columns, whichever is asked for: the messages are those of the whole notebook.
    this.#evaluation.continue(() => false);
    this.#forget();
    return reportOf(this.#evaluation, column, full, this.snapshot().messages);
  }

  #evaluate(): Evaluation {
    const evaluation = new Evaluation(checkNotebook(this.#notebook, this.#trees));
    evaluation.run(false);
    return evaluation;
  }

  #forget(): void {
    this.#snapshot = undefined;
    // To clear a map that is empty takes longer than to ask.
    if (this.#charts.size > 0) this.#charts.clear();
  }

  snapshot(): Snapshot {
    this.#snapshot ??= buildSnapshot(this.#evaluation, () => this.text, this.#shown);
    return this.#snapshot;
  }

  chart(item: number): ChartData {
    const known = this.#charts.get(item);
    if (known) return known;
    const made = chartOf(this.#evaluation, item);
    this.#charts.set(item, made);
    return made;
  }

  do(command: Command): boolean {
    if (this.#notebook.header.version > FORMAT_VERSION && command.do !== 'text') return false;
    if (command.do === 'text') {
      if (command.text !== this.text) this.#readAgain(command.text);
      return true;
    }
    if (command.do === 'tidy') {
      const tidied = tidyNotebook(this.text);
      if (tidied === this.text) return false;
      this.#become(readNotebook(tidied));
      return true;
    }
    const edited = this.#edit(command);
    if (!edited) return false;
    const { notebook } = edited;
    // An edit of a formula leaves all other lines as they are.
    const item = command.do === 'formula' ? notebook.items[this.#itemOf(command.cell)] : undefined;
    this.#turnInto(notebook, item ?? changedFormula(this.#notebook, notebook));
    return true;
  }

  #itemOf(cell: string): number {
    const { cells, nodes } = this.#evaluation.checked.scope;
    return nodes[cells.get(nameKey(cell)) ?? -1]?.item ?? -1;
  }

  /** Another text, of which only the lines round what differs are read. */
  #readAgain(text: string): void {
    const before = this.text;
    const most = Math.min(before.length, text.length);
    let start = 0;
    while (start < most && before.charCodeAt(start) === text.charCodeAt(start)) start++;
    let tail = 0;
    while (
      tail < most - start &&
      before.charCodeAt(before.length - 1 - tail) === text.charCodeAt(text.length - 1 - tail)
    )
      tail++;
    // A change in the header changes what every line is read with.
    const notebook =
      start <= this.#notebook.headerSource.length
        ? readNotebook(text)
        : rereadNotebook(this.#notebook, text, { start, end: before.length - tail });
    this.#turnInto(notebook, changedFormula(this.#notebook, notebook));
  }

  /** The notebook becomes another one, by the quickest way that serves. */
  #turnInto(notebook: Notebook, item: Item | undefined): void {
    if (
      item?.kind !== 'cell' ||
      !(this.#moveGiven(item, notebook) || this.#changeFormula(item, notebook))
    )
      this.#become(notebook);
  }

  /** A formula that gives the same kind of value as before is put in where it stands. */
  #changeFormula(item: CellItem, notebook: Notebook): boolean {
    const { scope } = this.#evaluation.checked;
    const id = scope.cells.get(nameKey(item.name.text));
    const node = id === undefined ? undefined : scope.nodes[id];
    if (!node || notebook.items[node.item] !== item) return false;
    if (this.#isToldBehind(item, node.item)) return false;
    const { node: tree, diagnostics } = parseFormula(
      item.formula.text,
      parseContextAt(item.formula.span.start),
    );
    if (diagnostics.length > 0) return false;
    const redrawn = this.#evaluation.changeFormula(node.id, tree, notebook);
    if (!redrawn) return false;
    for (const on of redrawn) this.#shown.forgetRow(scope.nodes[on]?.item ?? -1);
    this.#notebook = notebook;
    this.#forget();
    return true;
  }

  /** Whether there is a message of a place behind the name: after a change of the formula it stands elsewhere. */
  #isToldBehind({ name }: CellItem, index: number): boolean {
    const { scope, lines } = this.#evaluation.checked;
    const isBehind = ({ item, diagnostic }: LineProblem): boolean =>
      item === index && diagnostic.span.start >= name.span.end;
    return scope.problems.some(isBehind) || lines.some(isBehind);
  }

  #become(notebook: Notebook): void {
    this.#notebook = notebook;
    this.#evaluation = this.#evaluate();
    this.#forget();
  }

  #edit(command: Exclude<Command, { do: 'text' | 'tidy' }>): Edited | undefined {
    const n = this.#notebook;
    switch (command.do) {
      case 'formula':
        return setFormula(n, command.cell, command.text, this.#itemOf(command.cell));
      case 'bounds':
        return setBounds(n, command.cell, command.text);
      case 'note':
        return setNote(n, command.item, command.text);
      case 'check':
        return setBody(n, command.item, command.text);
      case 'entry':
        return setEntry(n, command.table, command.row, command.column, command.text);
      case 'rows':
        return setRows(n, command.table, command.row, command.entries);
      case 'all rows':
        return replaceRows(n, command.table, command.rows);
      case 'override':
        return setOverride(n, command.scenario, command.target, command.text);
      case 'put back':
        return removeOverride(n, command.scenario, command.target);
      case 'add scenario':
        return addScenario(n, command.name, command.copyOf);
      case 'remove scenario':
        return removeScenario(n, command.name);
      case 'name scenario':
        return nameScenario(n, command.scenario, command.name);
      case 'describe scenario':
        return describeScenario(n, command.scenario, command.text);
      case 'rename':
        return renameCell(n, command.cell, command.name);
      case 'insert':
        return insertItems(n, command.item, command.text);
      case 'paste':
        return pasteItems(n, command.item, command.text);
      case 'replace':
        return replaceItem(n, command.item, command.text);
      case 'remove':
        return removeItem(n, command.item);
      case 'move':
        return moveItem(n, command.item, command.to);
      case 'move rows':
        return moveBlock(n, command.rows, command.past);
      case 'title':
        return setTitle(n, command.text);
    }
  }

  /**
   * The quick way for a slider: a plain number takes the place of another of the same unit. Nothing
   * is checked or compiled again; the cell's cone is worked.
   */
  #moveGiven(item: CellItem, notebook: Notebook): boolean {
    const id = this.#evaluation.checked.scope.cells.get(nameKey(item.name.text));
    const node = id === undefined ? undefined : this.#evaluation.program.nodes[id];
    if (
      !node ||
      notebook.items[node.item] !== item ||
      node.tree?.kind !== 'number' ||
      node.problem ||
      node.type?.kind !== 'quantity' ||
      node.type.axes.length > 0 ||
      this.#isToldBehind(item, node.item)
    )
      return false;
    const { node: tree, diagnostics } = parseFormula(
      item.formula.text,
      parseContextAt(item.formula.span.start),
    );
    if (
      diagnostics.length > 0 ||
      tree.kind !== 'number' ||
      tree.unit?.text !== node.tree.unit?.text
    )
      return false;
    const value = literalAmount(tree);
    // What is no number has a message, before or after, which only working the cell itself gives or takes away.
    if (value === undefined || !Number.isFinite(value) || this.#evaluation.plan.faults[node.id])
      return false;
    this.#notebook = notebook;
    this.#evaluation.moveGiven(node.id, value, tree, notebook);
    this.#forget();
    return true;
  }

  preview(cell: string, formula: string): Preview {
    return previewFormula(this.#notebook, this.#evaluation, cell, formula);
  }

  completions(cell: string, formula: string, position: number): readonly Completion[] {
    return completionsFor(this.#evaluation, cell, formula, position);
  }

  signature(formula: string, position: number): ShownSignature | undefined {
    return signatureAt(this.#evaluation.checked.scope, formula, position);
  }

  worked(cell: string, column: number): Worked {
    return workedOf(this.#evaluation, cell, column);
  }

  solution(cell: string): ShownSolution | undefined {
    return solutionOf(this.#evaluation, nameKey(cell));
  }

  unitChoices(cell: string): readonly string[] {
    const id = this.#evaluation.checked.scope.cells.get(nameKey(cell));
    const type = id === undefined ? undefined : this.#evaluation.program.nodes[id]?.type;
    if (type?.kind !== 'quantity' || type.stance === 'moment') return [];
    const point = type.stance !== 'plain';
    const size = point ? undefined : largestOf(this.#evaluation, id as number);
    const symbols = unitsOf(type.dimension, point)
      .filter((unit) => unit.isPoint === point && isHandy(unit, size))
      .map((unit) => unit.symbol)
      .filter(canBeWritten);
    return type.unit && canBeWritten(type.unit.symbol) && !symbols.includes(type.unit.symbol)
      ? [type.unit.symbol, ...symbols]
      : symbols;
  }

  continue(milliseconds: number, now: () => number, columns?: ReadonlySet<number>): boolean {
    const end = now() + milliseconds;
    const before = this.#evaluation.pending;
    const more = this.#evaluation.continue(() => now() >= end, columns);
    if (this.#evaluation.pending !== before) this.#forget();
    return more;
  }

  slowResults(columns?: ReadonlySet<number>): SlowResults {
    return this.#evaluation.slowResults(columns);
  }

  adopt(results: SlowResults): void {
    this.#evaluation.adopt(results);
    this.#forget();
  }
}

/** Whether an amount of this size has a figure in the unit that can be read: 7.1 MHz are no 6e13 %/d. */
function isHandy(unit: Unit, size: number | undefined): boolean {
  if (size === undefined || unit.scale) return true;
  const figure = Math.abs(fromStored(size, unit));
  return figure >= LEAST_FIGURE && figure <= MOST_FIGURE;
}

/** Whether a formula can say the unit: rad^0.5 is only shown. */
function canBeWritten(symbol: string): boolean {
  return (
    symbol !== '' && parseFormula(`x as ${symbol}`, parseContextAt(0)).diagnostics.length === 0
  );
}

/** The cell whose formula alone differs between two notebooks, as it is in the second. */
function changedFormula(before: Notebook, now: Notebook): CellItem | undefined {
  if (before.headerSource !== now.headerSource || before.items.length !== now.items.length)
    return undefined;
  let found = -1;
  for (let i = 0; i < now.items.length; i++) {
    if (before.items[i]?.source === now.items[i]?.source) continue;
    if (found >= 0) return undefined;
    found = i;
  }
  const [old, item] = [before.items[found], now.items[found]];
  return old?.kind === 'cell' &&
    item?.kind === 'cell' &&
    old.name.text === item.name.text &&
    old.bounds?.text === item.bounds?.text &&
    old.note?.text === item.note?.text
    ? item
    : undefined;
}

export function openSession(text: string): Session {
  return new OpenNotebook(text);
}
