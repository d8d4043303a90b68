// A snapshot makes every row anew. Rows that say the same as before are exchanged for the ones
// already drawn, so that an edit redraws only what it changed.

import type { Row, Snapshot } from '../engine/index.ts';

export class SettledRows {
  #snapshot: Snapshot | undefined;
  #rows: readonly Row[] = [];
  #texts: readonly string[] = [];

  /** The rows of a snapshot, the old object wherever nothing changed. */
  of(snapshot: Snapshot): readonly Row[] {
    if (snapshot === this.#snapshot) return this.#rows;
    const texts = snapshot.rows.map((row) => JSON.stringify(row));
    this.#rows = snapshot.rows.map((row, index) => {
      const before = this.#rows[index];
      return before !== undefined && texts[index] === this.#texts[index] ? before : row;
    });
    this.#texts = texts;
    this.#snapshot = snapshot;
    return this.#rows;
  }
}
