// Threads of the selected row: a solid one up and down its left side to what it draws on, a dashed
// one on its right to what draws on it. Each row draws its own piece, so nothing lies over the page.

import type { Row } from '../../engine/index.ts';

export type Piece = '' | 'from' | 'into' | 'pass' | 'join';

export interface Threads {
  readonly left: readonly Piece[];
  readonly right: readonly Piece[];
}

/** The pieces that join row `home` with the rows of `ends`, for `count` rows. */
export function pieces(count: number, home: number, ends: ReadonlySet<number>): readonly Piece[] {
  const all: Piece[] = new Array<Piece>(count).fill('');
  const others = [...ends].filter((index) => index !== home);
  if (home < 0 || others.length === 0) return all;
  const low = Math.min(home, ...others);
  const high = Math.max(home, ...others);
  for (let index = low; index <= high; index++) {
    if (index === low) all[index] = 'from';
    else if (index === high) all[index] = 'into';
    else all[index] = index === home || ends.has(index) ? 'join' : 'pass';
  }
  return all;
}

function keysOf(row: Row): { readonly on: readonly string[]; readonly by: readonly string[] } {
  switch (row.kind) {
    case 'cell':
    case 'table':
      return { on: row.drawsOn, by: row.drawnOnBy };
    case 'check':
    case 'chart':
      return { on: row.drawsOn, by: [] };
    default:
      return { on: [], by: [] };
  }
}

/** What the row at `home` draws on and what draws on it, as pieces a row. */
export function threadsOf(rows: readonly Row[], home: number): Threads {
  const selected = rows[home];
  const { on, by } = selected ? keysOf(selected) : { on: [], by: [] };
  const first = (key: string): string => key.split('.')[0] ?? key;
  const sources = new Set(on.map(first));
  const users = new Set(by.map(first));
  const own = selected?.kind === 'cell' || selected?.kind === 'table' ? selected.key : undefined;
  const left = new Set<number>();
  const right = new Set<number>();
  rows.forEach((row, index) => {
    if (row.kind === 'cell' || row.kind === 'table') {
      if (sources.has(row.key)) left.add(index);
      if (users.has(row.key)) right.add(index);
    } else if (own !== undefined && (row.kind === 'check' || row.kind === 'chart')) {
      if (row.drawsOn.some((key) => first(key) === own)) right.add(index);
    }
  });
  return { left: pieces(rows.length, home, left), right: pieces(rows.length, home, right) };
}
