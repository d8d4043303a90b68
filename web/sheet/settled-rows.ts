// A snapshot makes every row anew. Rows that say the same as before are exchanged for the ones
// already drawn, so that an edit redraws only what it changed.

import type { Row, Snapshot } from '../../engine/index.ts';
import { sameValue } from '../parts/same-value.ts';

export class SettledRows {
  #snapshot: Snapshot | undefined;
  #rows: readonly Row[] = [];

  /** The rows of a snapshot, the old object wherever nothing changed. */
  of(snapshot: Snapshot): readonly Row[] {
    if (snapshot === this.#snapshot) return this.#rows;
    this.#rows = snapshot.rows.map((row, index) => {
      const before = this.#rows[index];
      return before !== undefined && sameValue(before, row) ? before : row;
    });
    this.#snapshot = snapshot;
    return this.#rows;
  }
}
