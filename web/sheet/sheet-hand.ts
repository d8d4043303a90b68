// The hand on the sheet: what a click or a key on a row does, and where the focus goes afterwards.

import type { Row } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import type { FormulaEditor } from '../editor/formula-editor.ts';
import { NARROW, WITH_BENCH } from '../parts/page-widths.ts';
import { type EditPlace, NAME, WORDS } from '../parts/place.ts';
import { beginEdit, sheetKey, tableKey } from './sheet-keys.ts';

/** For so many drawings after the hand went somewhere its row is kept in sight. */
const ARRIVING = 12;

export interface SheetHandContext {
  readonly root: HTMLElement;
  readonly desk: Desk;
  readonly editor: () => FormulaEditor | undefined;
  readonly columns: () => readonly number[];
  readonly draw: () => void;
  readonly drawn: () => Promise<unknown>;
}

export class SheetHand {
  readonly #context: SheetHandContext;
  #focusWanted = false;
  /** Where something was being written when last drawn. */
  #written: EditPlace | undefined;
  /** What of the sheet was focused last. */
  #focused: Element | undefined;
  /** Drawings for which the row that the hand went to is still kept in sight. */
  #arriving = 0;

  constructor(context: SheetHandContext) {
    this.#context = context;
    const leave = (): void => {
      this.#arriving = 0;
    };
    context.root.addEventListener('focusin', ({ target }) => {
      this.#focused = target instanceof Element && target.closest('.sheet') ? target : undefined;
    });
    for (const kind of ['wheel', 'touchmove', 'pointerdown'])
      context.root.addEventListener(kind, leave, { passive: true });
  }

  /** The next drawing puts the focus on the selected place. */
  settle(): void {
    this.#focusWanted = true;
  }

  /** Puts the focus where the hand is, when the sheet had it. */
  restoreFocus(): void {
    const { desk, root } = this.#context;
    if (desk.editing) {
      this.#written = desk.editing.place;
      return;
    }
    const written = this.#written;
    this.#written = undefined;
    const active = document.activeElement;
    // Rows that come or go may take away what had the focus: a chart's reader, a button.
    const isLost = active === document.body && this.#focused?.isConnected === false;
    const inSheet = isLost || (active !== null && active.closest('.sheet') !== null);
    if (!this.#focusWanted && !inSheet) return;
    if (!this.#focusWanted && active instanceof HTMLElement && active.dataset.entry) return;
    if (!this.#focusWanted && active instanceof HTMLInputElement) return;
    if (!this.#focusWanted && active instanceof HTMLButtonElement) return;
    // A chart's reader and the points of an outline keep what they have.
    if (!this.#focusWanted && active?.closest('dapple-chart')) return;
    const row = root.querySelector(`.sheet [data-item="${desk.item}"]`);
    const target = row?.querySelector<HTMLElement>(`[data-col="${desk.column}"]`);
    // An entry that was just written in keeps the hand.
    const entry =
      written?.kind === 'entry' && written.item === desk.item
        ? row?.querySelector<HTMLElement>(`[data-entry="${written.row},${written.column}"]`)
        : undefined;
    const cell = entry ?? target ?? row?.querySelector<HTMLElement>('[data-col]');
    if (this.#focusWanted) this.#arriving = ARRIVING;
    // Only what the hand did moves the page: trials that arrive or another light do not.
    if (cell && cell !== active) cell.focus({ preventScroll: !this.#focusWanted });
    if (this.#focusWanted) this.clearOfBench();
    this.#focusWanted = false;
  }

  /** A bench from below must not hide the row it is about. */
  clearOfBench(): void {
    const { desk, root } = this.#context;
    if (WITH_BENCH.matches || !desk.benchOpen) return;
    root.querySelector(`.sheet [data-item="${desk.item}"]`)?.scrollIntoView({ block: 'start' });
  }

  /** Rows drawn on the way to where the hand went push it away; this brings it back. */
  stayInSight(): void {
    const { activeElement } = document;
    if (this.#arriving === 0 || !activeElement?.closest('.sheet')) return;
    this.#arriving--;
    activeElement.scrollIntoView({ block: 'nearest' });
  }

  key(event: KeyboardEvent): void {
    const { desk, root } = this.#context;
    if (desk.editing || event.defaultPrevented) return;
    if (!(event.target instanceof HTMLElement)) return;
    const control = event.ctrlKey || event.metaKey;
    // A row below is asked for with the same keys everywhere in the sheet.
    const rowBelow = control && event.key === 'Enter';
    if (event.target.dataset.entry && !rowBelow) {
      if (tableKey(event, event.target)) event.preventDefault();
      return;
    }
    if (event.target instanceof HTMLInputElement || event.target instanceof HTMLButtonElement)
      return;
    if (event.target instanceof HTMLAnchorElement) return;
    if (event.key === ' ') {
      desk.openBench(true);
      event.preventDefault();
      void this.#context
        .drawn()
        .then(() => root.querySelector<HTMLElement>('#bench-slider, .bench .chip')?.focus());
      return;
    }
    if (event.key === 'Enter' && !rowBelow && event.target.classList.contains('tbl')) {
      event.target.querySelector<HTMLElement>('[data-entry]')?.focus();
      event.preventDefault();
      return;
    }
    if (control && event.key === '.') {
      event.target.closest('.row')?.querySelector<HTMLElement>('.act .btn2')?.click();
      event.preventDefault();
      return;
    }
    if (sheetKey(desk, this.#context.columns(), event)) {
      event.preventDefault();
      this.settle();
      this.#context.draw();
    }
  }

  click(event: MouseEvent): void {
    const { desk } = this.#context;
    const editor = this.#context.editor();
    if (!(event.target instanceof Element)) return;
    const fix = event.target.closest<HTMLElement>('[data-fix]');
    if (fix) {
      editor?.fix(Number(fix.dataset.fix));
      return;
    }
    if (event.target.closest('a, button, input, dapple-editor, dapple-chart, td')) return;
    const line = event.target.closest<HTMLElement>('.row');
    if (!line) return;
    const item = Number(line.dataset.item);
    const row = desk.rows.find((other) => other.item === item);
    if (!row) return;
    const reference = event.target.closest<HTMLElement>('[data-key]')?.dataset.key;
    if (desk.editing) {
      const named = row.kind === 'cell' && event.ctrlKey ? row.name : undefined;
      if (named !== undefined) {
        editor?.insert(named);
        return;
      }
      if (editor && !desk.keep(editor.value)) return;
    }
    if (event.ctrlKey && reference !== undefined) {
      const target = desk.rowOf(reference);
      if (target) desk.select(target.item, WORDS);
      return;
    }
    const place = event.target.closest<HTMLElement>('[data-col]');
    const column = place ? Number(place.dataset.col) : WORDS;
    if (event.shiftKey) getSelection()?.removeAllRanges();
    this.#place(row, column, event.detail, event.shiftKey);
  }

  /** A click on a place: the first takes it in hand, on an editable one it opens the editor. */
  #place(row: Row, column: number, clicks: number, shift: boolean): void {
    const { desk } = this.#context;
    const already = desk.item === row.item && desk.column === column;
    const narrow = NARROW.matches;
    const formula =
      !narrow &&
      (row.kind === 'cell' || row.kind === 'check') &&
      (column === WORDS || column === 0);
    const derivedStrip = row.kind === 'cell' && row.role === 'derived' && column === 0;
    const checkStrip = row.kind === 'check' && column !== WORDS;
    const direct = formula && !derivedStrip && !checkStrip;
    // A narrow page shows one strip: what is taken in hand there is that scenario's.
    const inStrip = narrow && desk.scenario > 0 && column <= 0 && row.kind === 'cell';
    desk.select(row.item, inStrip && row.role !== 'derived' ? desk.scenario : column, shift);
    this.settle();
    // A block is being made: no editor.
    if (shift) return;
    if (WITH_BENCH.matches || (narrow && row.kind === 'cell')) desk.openBench(true);
    const wordsAgain =
      already && (clicks > 1 || column !== NAME) && !derivedStrip && row.kind !== 'chart';
    if (direct || (wordsAgain && !checkStrip && !narrow) || (narrow && already)) {
      beginEdit(desk, row, column);
    }
  }
}
