// Which lines differ between two texts of a notebook.

import { diffLines } from 'diff';

export interface ChangedLine {
  readonly kind: 'added' | 'taken away' | 'same';
  readonly text: string;
}

/** Lines on either side of a change that are shown with it. */
const AROUND = 1;

/** The changed lines with their neighbours; a stretch that is the same is left out as `…`. */
export function changedLines(before: string, after: string): readonly ChangedLine[] {
  const all: ChangedLine[] = [];
  for (const part of diffLines(before, after)) {
    const kind = part.added ? 'added' : part.removed ? 'taken away' : 'same';
    const lines = part.value.replace(/\r?\n$/u, '').split(/\r?\n/u);
    for (const text of lines) all.push({ kind, text });
  }
  const shown = all.map((_, i) =>
    all.slice(Math.max(0, i - AROUND), i + AROUND + 1).some(({ kind }) => kind !== 'same'),
  );
  return all.flatMap((line, i) => {
    if (shown[i]) return [line];
    return i > 0 && shown[i - 1] ? [{ kind: 'same', text: '…' } as const] : [];
  });
}
