// Rows moved together: what stands where afterwards, and that the inverse restores the bytes.

import { expect, test } from 'vitest';
import { applyEdit, type Edited } from '../../../engine/notebook/edit.ts';
import { moveBlock } from '../../../engine/notebook/edit-block.ts';
import type { Notebook } from '../../../engine/notebook/notebook.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { writeNotebook } from '../../../engine/notebook/write-notebook.ts';

const TEXT = `dapple 1

# Loads
lamp = 6 W   -- on the label
hours = 4 h

use = lamp × hours as Wh
check use ≤ 30 Wh

scenario Long
  hours = 8 h`;

/** The text after an edit, once taking it back was seen to restore the text before. */
function after(notebook: Notebook, edited: Edited | undefined): string {
  expect(edited).toBeDefined();
  if (!edited) return '';
  expect(writeNotebook(applyEdit(edited.notebook, edited.inverse).notebook)).toBe(
    writeNotebook(notebook),
  );
  return writeNotebook(edited.notebook);
}

for (const end of ['\n', '\r\n']) {
  const notebook = readNotebook(TEXT.replaceAll('\n', end));
  const at = (line: string): number =>
    notebook.items.findIndex((item) => item.source.startsWith(line));
  const lines = (text: string): readonly string[] => text.split(end);
  const name = end === '\n' ? 'line feeds' : 'carriage returns';

  test(`rows change places with what stands above or below, with ${name}`, () => {
    const rows = { first: at('lamp'), next: at('use') };
    const down = after(
      notebook,
      moveBlock(notebook, rows, { first: at('use'), next: at('check') }),
    );
    expect(lines(down).slice(3, 7)).toEqual([
      '',
      'use = lamp × hours as Wh',
      'lamp = 6 W   -- on the label',
      'hours = 4 h',
    ]);
    const up = after(
      notebook,
      moveBlock(notebook, rows, { first: at('# Loads'), next: rows.first }),
    );
    expect(lines(up).slice(2, 5)).toEqual([
      'lamp = 6 W   -- on the label',
      'hours = 4 h',
      '# Loads',
    ]);
    const last = { first: at('scenario'), next: -1 };
    const above = { first: at('check'), next: last.first };
    const raised = after(notebook, moveBlock(notebook, last, above));
    expect(lines(raised).slice(7, 10)).toEqual([
      'scenario Long',
      '  hours = 8 h',
      'check use ≤ 30 Wh',
    ]);
    const below = after(notebook, moveBlock(notebook, above, last));
    expect(lines(below).slice(-4)).toEqual([
      'scenario Long',
      '  hours = 8 h',
      'check use ≤ 30 Wh',
      '',
    ]);
    expect(moveBlock(notebook, rows, rows)).toBeUndefined();
    expect(moveBlock(notebook, { first: 5, next: 3 }, rows)).toBeUndefined();
  });
}
