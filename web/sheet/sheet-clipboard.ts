// The clipboard on the sheet: whole rows as the text of their lines, entries of a table as a table's.

import type { Desk } from '../desk/desk.ts';
import { copiedFromTable, pasteIntoTable } from './table-paste.ts';

/** A notebook itself may be longer, pasted lines may not. */
const MOST_PASTED = 1_000_000;

interface Told {
  /** The next drawing puts the focus on the selected place. */
  readonly settle: () => void;
  readonly tell: (words: string) => void;
  readonly draw: () => void;
}

export class SheetClipboard {
  readonly #desk: Desk;
  readonly #told: Told;

  constructor(desk: Desk, told: Told) {
    this.#desk = desk;
    this.#told = told;
  }

  paste(event: ClipboardEvent): void {
    const text = event.clipboardData?.getData('text/plain') ?? '';
    const words = pasteIntoTable(this.#desk, event.target, text);
    if (words === undefined && !this.#isOnRow(event)) return;
    event.preventDefault();
    if (words !== undefined) {
      if (words !== '') this.#told.tell(words);
      return;
    }
    this.#told.settle();
    if (text.length > MOST_PASTED) this.#told.tell('That is too long to be lines of a notebook.');
    else if (this.#desk.paste(text)) this.#told.draw();
  }

  cut(event: ClipboardEvent): void {
    if (getSelection()?.isCollapsed === false || !this.#isOnRow(event)) return;
    const text = this.#desk.blockText;
    if (text === '' || copiedFromTable(this.#desk, event.target) !== undefined) return;
    event.preventDefault();
    event.clipboardData?.setData('text/plain', text);
    this.#told.settle();
    this.#desk.removeBlock();
  }

  copy(event: ClipboardEvent): void {
    if (getSelection()?.isCollapsed === false) return;
    const own = this.#isOnRow(event) ? this.#desk.blockText : '';
    const text = copiedFromTable(this.#desk, event.target) ?? own;
    if (text === '') return;
    event.preventDefault();
    event.clipboardData?.setData('text/plain', text);
  }

  /** Whether the hand is on a row and not in a field that has a clipboard of its own. */
  #isOnRow(event: ClipboardEvent): boolean {
    if (this.#desk.editing || this.#desk.following) return false;
    const { target } = event;
    return target instanceof HTMLElement && !target.closest('input, textarea, [contenteditable]');
  }
}
