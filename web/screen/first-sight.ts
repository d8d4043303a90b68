// What a notebook shows first: the rows that fill the window. All others, and the work that was put
// off, come once those are seen.

import { afterPaint } from '../parts/after-paint.ts';

/** No row is lower than this, px: so many fill a window at most. */
export const LOWEST_ROW = 24;

export class FirstSight {
  #state: 'nothing' | 'window' | 'whole' = 'nothing';

  /** How many rows are drawn, from the top. */
  get rows(): number {
    return this.#state === 'whole' ? Number.POSITIVE_INFINITY : Math.ceil(innerHeight / LOWEST_ROW);
  }

  /** After a drawing: after the first one, `drawRest` is called when it is seen, and then `beginWork`. */
  drawn(drawRest: () => void, beginWork: () => void): void {
    if (this.#state !== 'nothing') return;
    this.#state = 'window';
    afterPaint(() => {
      this.#state = 'whole';
      drawRest();
      // The rest is drawn in a task of its own.
      afterPaint(beginWork);
    });
  }
}
