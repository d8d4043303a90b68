// Stepping through what was found: after words led to a row, a bar at the foot says which of how many
// it is and steps to the others, round and round, by button or by key.

import { html, nothing, type TemplateResult } from 'lit';
import type { Row } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { WORDS } from '../parts/place.ts';
import { icon } from '../parts/shapes.ts';
import { answersTo, placesIn } from './go-to.ts';

export class FoundRows {
  readonly #desk: Desk;
  /** Keeps what is being written; false when it does not fit. */
  readonly #settle: () => boolean;
  #query = '';
  #foundIn: readonly Row[] | undefined;
  #found: readonly number[] = [];

  constructor(desk: Desk, settle: () => boolean) {
    this.#desk = desk;
    this.#settle = settle;
  }

  get any(): boolean {
    return this.#query !== '';
  }

  /** The rows by their item, in the order of the notebook as it is now. */
  get #items(): readonly number[] {
    const { rows } = this.#desk;
    if (rows !== this.#foundIn) {
      this.#foundIn = rows;
      this.#found = answersTo(placesIn(this.#desk, this.#settle), this.#query)
        .flatMap(({ item }) => item ?? [])
        .toSorted((a, b) => a - b);
    }
    return this.#found;
  }

  begin(query: string): void {
    this.#query = query;
    this.#foundIn = undefined;
    this.#desk.select(this.#desk.item);
  }

  end(): void {
    this.#query = '';
    this.#settle();
    this.#desk.select(this.#desk.item);
  }

  /** To the next or the one before; from between two of them to the nearer in that direction. */
  step(by: -1 | 1): void {
    if (!this.#settle()) return;
    const items = this.#items;
    const { item } = this.#desk;
    const next =
      by > 0
        ? (items.find((one) => one > item) ?? items[0])
        : (items.findLast((one) => one < item) ?? items.at(-1));
    if (next === undefined) return;
    this.#desk.select(next, WORDS);
  }

  view(): TemplateResult | typeof nothing {
    if (!this.any) return nothing;
    const total = this.#items.length;
    const at = this.#items.indexOf(this.#desk.item);
    const words = at < 0 ? `${total || 'none'} found` : `${at + 1} of ${total}`;
    return html`<section class="found-bar" aria-label="Found">
      <p role="status"><b>${this.#query}</b> ${words}</p>
      <button class="tool" aria-label="The one found before" title="Shift F3" ?disabled=${total < 2 && at >= 0}
        @click=${(): void => this.step(-1)}>${icon('left')}</button>
      <button class="tool" aria-label="The next one found" title="F3" ?disabled=${total < 2 && at >= 0}
        @click=${(): void => this.step(1)}>${icon('right')}</button>
      <button class="tool" aria-label="Leave what was found" @click=${(): void => this.end()}>${icon('close')}</button>
    </section>`;
  }
}
