// Room kept for what comes later. Trials and put-off work arrive while somebody reads; a row that grew
// then would move all below it under a finger. So rows keep the room of what is on its way: the
// twenty dots of a result that an uncertain given moves, the difference of a value worked out later.

import type { CellRow, Row, TableRowShown } from '../../engine/index.ts';

const NO_KEYS: ReadonlySet<string> = new Set();
/** A low, likely and high figure: `40..46..55 W`. */
const SPREAD = /\d\s*\.\.\s*[-+\d.]+\s*\.\.\s*[-+\d]/u;

export interface RoomWanted {
  /** Cells that will show twenty dots. */
  readonly swayed: ReadonlySet<string>;
  /** Cells that were put off once, and may show a difference later. */
  readonly putOff: ReadonlySet<string>;
  /** Whether trials will say in how many all checks hold. */
  readonly chance: boolean;
}

/** Whether trials draw this given anew: an uncertain one, or the weather itself. */
function isDrawn(row: CellRow | TableRowShown): boolean {
  if (row.kind === 'cell') return row.role === 'uncertain' || row.formula.includes('drawn sky');
  return row.entries.some((entries) => entries.some(({ written }) => SPREAD.test(written)));
}

export class KeptRoom {
  readonly #putOff = new Set<string>();
  #rows: readonly Row[] | undefined;
  #wanted: RoomWanted = { swayed: NO_KEYS, putOff: NO_KEYS, chance: false };

  /** What rows keep room for. */
  of(rows: readonly Row[]): RoomWanted {
    if (rows === this.#rows) return this.#wanted;
    this.#rows = rows;
    const origins: string[] = [];
    for (const row of rows) {
      if (row.kind !== 'cell' && row.kind !== 'table') continue;
      if (row.kind === 'cell' && row.values.some(({ state }) => state === 'pending'))
        this.#putOff.add(row.key);
      if (isDrawn(row)) origins.push(row.key);
    }
    const swayed = origins.length > 0 ? this.#reached(rows, origins) : NO_KEYS;
    const chance = rows.some(
      (row) => row.kind === 'check' && row.drawsOn.some((key) => isAmong(swayed, key)),
    );
    this.#wanted = { swayed, putOff: this.#putOff, chance };
    return this.#wanted;
  }

  /** All that draws on these, near or far. What is put off runs trials of its own and ends the way. */
  #reached(rows: readonly Row[], origins: readonly string[]): ReadonlySet<string> {
    const users = new Map<string, readonly string[]>();
    for (const row of rows)
      if (row.kind === 'cell' || row.kind === 'table') users.set(row.key, row.drawnOnBy);
    const reached = new Set(origins);
    for (const key of reached) {
      for (const user of users.get(tableOf(key)) ?? users.get(key) ?? [])
        if (!this.#putOff.has(user)) reached.add(user);
    }
    return reached;
  }
}

/** A table's column stands for its table: `loads.power` for `loads`. */
function tableOf(key: string): string {
  return key.split('.')[0] ?? key;
}

function isAmong(keys: ReadonlySet<string>, key: string): boolean {
  return keys.has(key) || keys.has(tableOf(key));
}
