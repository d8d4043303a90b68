// A very long notebook is drawn in blocks of rows. A block far from the window is one empty element
// as tall as its rows were, or as they will about be, so that rows out of sight cost nothing.

import type { Row } from '../../engine/index.ts';

/** Shorter notebooks are drawn whole: the browser leaves out what is not seen by itself. */
const MANY = 3000;
const BLOCK = 50;
/** Blocks within this of the window are drawn, px. */
const AHEAD = 1200;
/** A row, before any was drawn, px. */
const USUAL = 36;

export interface RowBlock {
  readonly index: number;
  /** Rows from this one up to before that one. */
  readonly from: number;
  readonly to: number;
  readonly drawn: boolean;
  /** What it takes in place of its rows, px. */
  readonly height: number;
}

export class FarRows {
  readonly #near = new Set([0, 1]);
  readonly #heights = new Map<number, number>();
  readonly #observer: IntersectionObserver;
  readonly #watched = new WeakSet<Element>();
  #usual = USUAL;
  #many = false;

  constructor(changed: () => void) {
    this.#observer = new IntersectionObserver(
      (entries) => {
        for (const { target, isIntersecting, boundingClientRect } of entries) {
          if (!(target instanceof HTMLElement)) continue;
          const index = Number(target.dataset.block);
          // As tall as those that were drawn are those that were not, about.
          if (target.childElementCount > 0)
            this.#usual = boundingClientRect.height / target.childElementCount;
          if (isIntersecting) this.#near.add(index);
          else if (this.#near.delete(index)) this.#heights.set(index, boundingClientRect.height);
        }
        changed();
      },
      { rootMargin: `${AHEAD}px 0px` },
    );
  }

  /** The blocks of these rows; those that hold one of `needed` are drawn wherever they stand. */
  blocks(rows: readonly Row[], needed: readonly number[]): readonly RowBlock[] | undefined {
    this.#many = rows.length > MANY;
    if (!this.#many) return undefined;
    return Array.from({ length: Math.ceil(rows.length / BLOCK) }, (_, index): RowBlock => {
      const from = index * BLOCK;
      const to = Math.min(rows.length, from + BLOCK);
      const [first, last] = [rows[from]?.item ?? 0, rows[to - 1]?.item ?? 0];
      const drawn = this.#near.has(index) || needed.some((item) => item >= first && item <= last);
      return {
        index,
        from,
        to,
        drawn,
        height: this.#heights.get(index) ?? (to - from) * this.#usual,
      };
    });
  }

  /** Whether rows out of sight are left out, so that what is drawn later may push rows away. */
  get leavesOut(): boolean {
    return this.#many;
  }

  /** Watches the blocks that are in the page now. */
  watch(root: ParentNode): void {
    for (const block of root.querySelectorAll('.rows-block')) {
      if (this.#watched.has(block)) continue;
      this.#watched.add(block);
      this.#observer.observe(block);
    }
  }

  end(): void {
    this.#observer.disconnect();
  }
}
