// The open notebook as the page works on it: the session, what is selected, what is being edited,
// and keeping on the device. It holds state and tells its listener when that changed; it draws
// nothing and computes nothing of the domain.

import {
  type CellRow,
  type Command,
  openSession,
  type Row,
  type ScenarioRow,
  type Session,
  type Snapshot,
  type TableRowShown,
} from '../../engine/index.ts';
import type { Kept, Storage } from '../keep/storage.ts';
import {
  type Column,
  type Editing,
  type EditPlace,
  editedInStrip,
  NAME,
  rowName,
  WORDS,
} from '../parts/place.ts';
import { type BenchInfluence, PutOffWork, type WorkState } from './put-off-work.ts';
import { puttingBack, typedStep } from './typed-step.ts';
import { UndoHistory } from './undo-history.ts';

/** A moving slider's text is kept within this, ms. */
const SOON = 300;

export class Desk {
  readonly id: string;
  readonly #session: Session;
  readonly #storage: Storage;
  readonly #changed: () => void;
  readonly #work: PutOffWork;
  readonly #history = new UndoHistory();
  #sliding: { readonly before: string; readonly label: string } | undefined;
  #keeping: ReturnType<typeof setTimeout> | undefined;
  #byKey: ReadonlyMap<string, CellRow | TableRowShown> | undefined;
  #byKeyOf: Snapshot | undefined;

  /** The item whose row is selected; −1 when none is. */
  item = -1;
  column: Column = WORDS;
  /** The other end of a block of rows, when several are in hand. */
  anchor: number | undefined;
  /** Whether the bench is open for the selected row. */
  benchOpen = false;
  editing: Editing | undefined;
  /** The scenario shown on a narrow page, and the first one shown beside the plan on a wide one. */
  scenario = 0;
  firstScenario = 1;
  /** Another tab writes this notebook; here it is followed and not changed. */
  following = false;
  /** The moment of the newest text shown here, ms since 1970. */
  #when = 0;
  /** Whose entries are changed in tables: a scenario's, or with 0 the plan's. */
  entriesOf = 0;
  /** When the edit that is being shown began, for measuring. */
  editBegan = 0;

  constructor(id: string, text: string, storage: Storage, changed: () => void) {
    this.id = id;
    this.#session = openSession(text);
    this.#storage = storage;
    this.#changed = changed;
    this.#work = new PutOffWork(this.#session, changed);
    this.item = this.rows.find((row) => row.kind === 'cell')?.item ?? -1;
    storage.opened(this.toKeep());
  }

  /** Begins the work that was put off, unless an edit began it. The screen asks when it is seen. */
  beginWork(): void {
    this.#work.beginOnce();
  }

  get session(): Session {
    return this.#session;
  }
  get snapshot(): Snapshot {
    return this.#session.snapshot();
  }
  get rows(): readonly Row[] {
    return this.snapshot.rows;
  }
  get text(): string {
    return this.#session.text;
  }

  /** The rows that are cells or tables, by key. */
  get cells(): ReadonlyMap<string, CellRow | TableRowShown> {
    const snapshot = this.snapshot;
    if (this.#byKeyOf !== snapshot || !this.#byKey) {
      const map = new Map<string, CellRow | TableRowShown>();
      for (const row of snapshot.rows) {
        if (row.kind === 'cell' || row.kind === 'table') map.set(row.key, row);
      }
      this.#byKey = map;
      this.#byKeyOf = snapshot;
    }
    return this.#byKey;
  }

  /** The row of a cell, a table, or a table's column (`loads.power`). */
  rowOf(key: string): CellRow | TableRowShown | undefined {
    return this.cells.get(key) ?? this.cells.get(key.split('.')[0] ?? key);
  }

  get selected(): Row | undefined {
    return this.rows.find((row) => row.item === this.item);
  }

  /** Takes a place in hand. `extend` keeps the rows from where the hand was before as a block. */
  select(item: number, column: Column = this.column, extend = false): void {
    this.anchor = extend ? (this.anchor ?? this.item) : undefined;
    this.item = item;
    this.column = column;
    if (column > 0) this.showScenario(column);
    this.#changed();
  }

  /** Brings a scenario's strip into view. */
  showScenario(column: number): void {
    this.scenario = column;
    this.#changed();
  }

  // ── a block of rows ─────────────────────────────────────────────────────────────────────────

  /** The rows in hand, in order: the selected one, or all from the anchor to it. */
  get block(): readonly Row[] {
    const { rows } = this;
    const at = rows.findIndex((row) => row.item === this.item);
    const from = this.anchor === undefined ? at : rows.findIndex((r) => r.item === this.anchor);
    if (at < 0) return [];
    if (from < 0) return rows.slice(at, at + 1);
    return rows.slice(Math.min(at, from), Math.max(at, from) + 1);
  }

  /** The lines of the rows in hand, as they stand in the file. */
  #blockLines(): { readonly first: number; readonly count: number; readonly text: string } {
    const [top] = this.block;
    const bottom = this.block.at(-1);
    if (!top || !bottom) return { first: 0, count: 0, text: '' };
    const end = this.linesOf(bottom);
    const { first } = this.linesOf(top);
    const count = end.first + end.count - first;
    const lines = this.#session.text.split('\n').slice(first, first + count);
    return { first, count, text: lines.join('\n') };
  }

  get blockText(): string {
    const { text } = this.#blockLines();
    return text === '' ? '' : `${text}\n`;
  }

  #blockName(): string {
    const { block } = this;
    const [only] = block;
    return block.length === 1 && only ? rowName(only) : `${block.length} rows`;
  }

  /** Takes the rows in hand away, as one step. */
  removeBlock(): boolean {
    const { first, count } = this.#blockLines();
    if (count === 0) return false;
    const lines = this.#session.text.split('\n');
    lines.splice(first, count);
    this.anchor = undefined;
    return this.run({ do: 'text', text: lines.join('\n') }, `take away ${this.#blockName()}`);
  }

  /** Puts lines in below the rows in hand; the first of them is then in hand. */
  paste(text: string, label = 'paste'): boolean {
    const bottom = this.block.at(-1);
    const below = this.rows.find((row) => bottom !== undefined && row.line > bottom.line);
    const item = below?.item ?? (bottom?.item ?? -1) + 1;
    if (!this.run({ do: 'paste', item, text }, label)) return false;
    this.select(this.rows.find((row) => row.item >= item)?.item ?? this.item, WORDS);
    return true;
  }

  /** The same rows once more, below, with names of their own. */
  duplicateBlock(): boolean {
    return this.paste(this.blockText, `the same as ${this.#blockName()}`);
  }

  openBench(open: boolean): void {
    this.benchOpen = open;
    this.#changed();
  }

  // ── changing ────────────────────────────────────────────────────────────────────────────────

  /** Carries out a command as one undoable step. False when it does not fit. */
  run(command: Command, label: string): boolean {
    return this.runAll([command], label);
  }

  /** Several commands as one step; what was done before a misfit is taken back. */
  runAll(commands: readonly Command[], label: string): boolean {
    // Lines of a newer format may mean what is not known here.
    if (this.following || this.snapshot.readOnly !== '') return false;
    this.editBegan = performance.now();
    const before = this.#session.text;
    for (const command of commands) {
      if (this.#carryOut(command)) continue;
      this.#session.do({ do: 'text', text: before });
      return false;
    }
    this.#history.record(before, this.#session.text, label);
    this.#after();
    return true;
  }

  /** A mistake of ours in carrying out a command is told, and the command counts as not fitting. */
  #carryOut(command: Command): boolean {
    try {
      return this.#session.do(command);
    } catch (reason) {
      reportError(reason);
      return false;
    }
  }

  #after(): void {
    // First of all kept: what comes after may go wrong.
    if (this.#sliding) this.#keepSoon();
    else this.keepOnDevice();
    const rows = this.rows;
    if (this.item >= 0 && !rows.some((row) => row.item === this.item)) {
      this.item = rows.findLast((row) => row.item < this.item)?.item ?? -1;
    }
    this.#changed();
    this.#work.begin();
  }

  /** One movement of a slider: recalculates, but the whole slide is one step. */
  slide(command: Command | readonly Command[], label: string): void {
    if (this.following) return;
    this.editBegan = performance.now();
    this.#sliding ??= { before: this.#session.text, label };
    const commands: readonly Command[] = 'do' in command ? [command] : command;
    const done = commands.map((one) => this.#carryOut(one));
    if (done.includes(true)) this.#after();
  }

  endSlide(): void {
    const sliding = this.#sliding;
    this.#sliding = undefined;
    if (!sliding) return;
    this.#history.record(sliding.before, this.#session.text, sliding.label);
    this.keepOnDevice();
    this.#changed();
  }

  get undoLabel(): string {
    return this.#history.undoLabel;
  }
  get redoLabel(): string {
    return this.#history.redoLabel;
  }

  undo(): void {
    if (!this.following) this.#show(this.#history.undo());
  }

  redo(): void {
    if (!this.following) this.#show(this.#history.redo());
  }

  #show(text: string | undefined): void {
    if (text === undefined) return;
    this.editBegan = performance.now();
    this.editing = undefined;
    this.#session.do({ do: 'text', text });
    this.#after();
  }

  /** While a slider moves, the text is kept a few times a second and when it is let go. */
  #keepSoon(): void {
    this.#keeping ??= setTimeout(() => this.keepOnDevice(), SOON);
  }

  /** What is kept of the notebook. Its text is kept even where its values cannot be worked out. */
  toKeep(): Kept {
    const { id } = this;
    const { text } = this.#session;
    const when = Date.now();
    try {
      const { title, verdicts } = this.snapshot;
      return { id, title, text, headline: verdicts[0]?.headline ?? '', when };
    } catch {
      return { id, title: id, text, headline: '', when };
    }
  }

  keepOnDevice(): void {
    clearTimeout(this.#keeping);
    this.#keeping = undefined;
    if (this.following) return;
    this.#when = this.#storage.keep(this.toKeep()).when;
  }

  /** Keeps what a slide has moved and was not kept yet. */
  keepPending(): void {
    if (this.hasUnkept) this.keepOnDevice();
  }

  /** Whether a slide has moved on since it was last kept. */
  get hasUnkept(): boolean {
    return this.#keeping !== undefined;
  }

  /** Shows the text that another tab kept, unless a newer one is shown. */
  follow(entry: Kept): void {
    if (entry.when <= this.#when) return;
    this.#when = entry.when;
    if (entry.text === this.#session.text) return;
    // What was done here before the other tab's changes can no longer be taken back one by one.
    this.#history.clear();
    this.#session.do({ do: 'text', text: entry.text });
    const { rows } = this;
    if (!rows.some((row) => row.item === this.item)) this.item = rows[0]?.item ?? -1;
    this.#changed();
    this.#work.begin();
  }

  // ── editing ─────────────────────────────────────────────────────────────────────────────────

  edit(place: EditPlace, text: string, caret: 'all' | 'end' = 'all', original = text): void {
    if (this.following) return;
    const cell =
      place.kind === 'formula' || place.kind === 'value' || place.kind === 'name' ? place.cell : '';
    this.editing = { place, text, original, caret, cell };
    this.item = place.item;
    this.#changed();
  }

  drop(): void {
    if (!this.editing) return;
    this.editing = undefined;
    this.#changed();
  }

  /** The lines of the file that an item with this row takes, without the empty ones below it. */
  linesOf(row: Row): { readonly first: number; readonly count: number; readonly text: string } {
    const lines = this.#session.text.split('\n');
    const next = this.rows.find((other) => other.line > row.line);
    let end = (next?.line ?? lines.length + 1) - 1;
    while (end > row.line && (lines[end - 1] ?? '').trim() === '') end--;
    const text = lines.slice(row.line - 1, end).join('\n');
    return { first: row.line - 1, count: end - row.line + 1, text };
  }

  /** Keeps what was typed. False, and the editor stays, when it does not fit. */
  keep(typed: string): boolean {
    const editing = this.editing;
    if (!editing) return true;
    const row = this.selected;
    const label = row ? rowName(row) : 'new row';
    this.editing = undefined;
    if (typed === editing.original && editing.place.kind !== 'new') {
      this.#changed();
      return true;
    }
    const kept = this.#keepAt(editing.place, typed, label);
    if (!kept) this.editing = editing;
    this.#changed();
    return kept;
  }

  #keepAt(place: EditPlace, typed: string, label: string): boolean {
    if (place.kind === 'new' && typed.trim() === '') return true;
    const step = typedStep(this, place, typed, label);
    if (!step || !this.run(step.command, step.label)) return false;
    if (place.kind === 'new') {
      this.item = place.item + 1;
      // The hand is on what was written: a plain number stands in its strip.
      this.column = this.selected && editedInStrip(this.selected) ? 0 : WORDS;
    }
    return true;
  }

  /** Adds a row below the others of a table; one text for each column written in the file. */
  addRow(table: TableRowShown, written: readonly string[]): boolean {
    const { first, count } = this.linesOf(table);
    const lines = this.#session.text.split('\n');
    const filled = table.columns.filter(({ added }) => !added).map((_, i) => written[i] ?? '');
    lines.splice(first + count, 0, `  ${filled.join(' | ')}`.replace(/\s+$/, ' |'));
    return this.run({ do: 'text', text: lines.join('\n') }, `row of ${table.name}`);
  }

  /** Lets a scenario stand before the one before it, or after the one after it. */
  moveScenario(row: ScenarioRow, by: -1 | 1): boolean {
    const all = this.rows.filter((one) => one.kind === 'scenario');
    const other = all[all.findIndex((one) => one.item === row.item) + by];
    if (!other) return false;
    const moved = this.run({ do: 'move', item: row.item, to: other.item }, `move ${row.name}`);
    if (moved) this.select(other.item, WORDS);
    return moved;
  }

  putBack(scenario: string, target: string): boolean {
    const { command, label } = puttingBack(scenario, target);
    return this.run(command, label);
  }

  // ── put-off work ────────────────────────────────────────────────────────────────────────────

  /** Whether trials and what else was put off are being worked out. */
  get work(): WorkState {
    return this.#work.state;
  }

  /** Leaves trials and put-off work where they are; the next edit begins them anew. */
  stopWork(): void {
    this.#work.stop();
  }

  goOn(): void {
    this.#work.begin();
    this.#changed();
  }

  /** What moves a result most, as far as it is known. */
  influence(cell: string, column: number): BenchInfluence {
    return this.#work.influence(cell, column);
  }

  close(): void {
    this.keepPending();
    this.#work.end();
  }

  /** Adds a scenario that is still like the plan, or like another one, and shows its strip. */
  addScenario(copyOf?: string): void {
    const names = new Set(this.snapshot.verdicts.map((verdict) => verdict.name));
    const stem = copyOf ?? 'Otherwise';
    let number = copyOf === undefined ? 1 : 2;
    while (names.has(`${stem} ${number}`)) number++;
    const name = `${stem} ${number}`;
    const command = { do: 'add scenario', name } as const;
    this.run(copyOf === undefined ? command : { ...command, copyOf }, 'a scenario');
    const last = this.rows.findLast((row) => row.kind === 'scenario');
    // What it is called comes first: a letter typed now begins its name.
    if (last) this.select(last.item, NAME);
    this.showScenario(this.snapshot.verdicts.length - 1);
  }
}
