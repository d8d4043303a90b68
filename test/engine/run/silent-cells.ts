// Looks a whole notebook over, every column of it with all work done, for values that are none.

import { openSession } from '../../../engine/index.ts';

/** Whether a value holds a number that is none; absent entries are `null` and are not meant. */
function hasNoNumber(value: unknown): boolean {
  if (typeof value === 'number') return !Number.isFinite(value);
  if (Array.isArray(value)) return value.some(hasNoNumber);
  return value !== null && typeof value === 'object' && Object.values(value).some(hasNoNumber);
}

/** Cells that show neither a value nor why there is none, in the plan and in every scenario. */
export function silentCells(text: string): readonly string[] {
  const session = openSession(text);
  const silent: string[] = [];
  for (const index of session.evaluation.columns.keys()) {
    const { cells } = session.report(index, true);
    const { nodes } = session.evaluation.program;
    for (const [name, cell] of Object.entries(cells)) {
      // An entry that is not there, asked for by itself.
      if (
        nodes.find((node) => node.kind === 'cell' && node.name === name)?.type?.optional &&
        cell.value === null
      )
        continue;
      const { value, kind } = cell;
      const isTold = cell.error !== undefined || cell.waits !== undefined || kind === 'blank';
      if (!isTold && (value === null || hasNoNumber(value)))
        silent.push(`${name} in column ${index}: ${cell.text}`);
    }
  }
  session.snapshot();
  return silent;
}
