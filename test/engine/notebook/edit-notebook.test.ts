// Edits: what they change, that the rest keeps its place, and that taking one back restores the bytes.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  applyEdit,
  type Edited,
  insertItems,
  moveItem,
  removeItem,
  replaceItem,
  setBody,
  setBounds,
  setFormula,
  setHeaderKey,
  setNote,
  setTitle,
} from '../../../engine/notebook/edit-notebook.ts';
import {
  addScenario,
  removeOverride,
  removeScenario,
  setOverride,
} from '../../../engine/notebook/edit-scenario.ts';
import { setEntry } from '../../../engine/notebook/edit-table.ts';
import type { Notebook } from '../../../engine/notebook/notebook.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { writeNotebook } from '../../../engine/notebook/write-notebook.ts';
import { testCases } from '../../tools/test-cases.ts';
import { SAMPLE, STARTERS } from './sample.ts';

const notebook = readNotebook(SAMPLE);

/** Lines before and after an edit that differ, and the check that the inverse restores the bytes. */
function changed(edited: Edited | undefined, before: Notebook = notebook): readonly string[] {
  expect(edited).toBeDefined();
  if (edited === undefined) return [];
  const old = writeNotebook(before);
  const text = writeNotebook(edited.notebook);
  const back = applyEdit(edited.notebook, edited.inverse);
  expect(writeNotebook(back.notebook)).toBe(old);
  expect(writeNotebook(applyEdit(back.notebook, back.inverse).notebook)).toBe(text);
  const had = new Set(old.split('\n'));
  return text.split('\n').filter((line) => !had.has(line));
}

describe('a formula', () => {
  test('takes the place of the old one; bounds and note keep their columns', () => {
    expect(changed(setFormula(notebook, 'Panel Rating', '320 W'))).toEqual([
      'panel rating = 320 W        [50 W..800 W by 10 W]   -- printed on the back',
    ]);
    expect(changed(setFormula(notebook, 'panel rating', '20 W'))).toEqual([
      'panel rating = 20 W         [50 W..800 W by 10 W]   -- printed on the back',
    ]);
    expect(changed(setFormula(notebook, 'panel rating', '2 × 160.125 W'))).toEqual([
      'panel rating = 2 × 160.125 W  [50 W..800 W by 10 W]   -- printed on the back',
    ]);
  });

  test('of several lines stays with its cell', () => {
    expect(changed(setFormula(notebook, 'half', 'panel rating\n/ 2'))).toEqual([
      'half         = panel rating',
      '    / 2',
    ]);
  });

  test('that would be read as something else is refused', () => {
    expect(setFormula(notebook, 'half', 'table')).toBeUndefined();
    expect(setFormula(notebook, 'half', '1 -- note')).toBeUndefined();
    expect(setFormula(notebook, 'half', '1 [1..2]')).toBeUndefined();
    expect(setFormula(notebook, 'no such cell', '1')).toBeUndefined();
  });
});

describe('notes and bounds', () => {
  const at = (name: string): number =>
    notebook.items.findIndex((item) => 'name' in item && item.name.text === name);

  test('a note is changed, added, taken away', () => {
    expect(changed(setNote(notebook, at('plug'), 'another'))).toEqual([
      'plug         = "a [b] -- c"   -- another',
    ]);
    expect(changed(setNote(notebook, at('half'), 'new'))).toEqual([
      'half         = panel rating/2   -- new',
    ]);
    expect(changed(setNote(notebook, at('plug'), ''))).toEqual(['plug         = "a [b] -- c"']);
    expect(changed(setNote(notebook, at('loads'), 'loads'))).toEqual(['loads = table   -- loads']);
  });

  test('bounds are changed, added before the note, taken away', () => {
    expect(changed(setBounds(notebook, 'panel rating', '1 W..9 W'))).toEqual([
      'panel rating = 160 W        [1 W..9 W]              -- printed on the back',
    ]);
    expect(changed(setBounds(notebook, 'half', '1 W..9 W'))).toEqual([
      'half         = panel rating/2  [1 W..9 W]',
    ]);
    expect(changed(setBounds(notebook, 'plug', '"a"'))).toEqual([
      'plug         = "a [b] -- c"  ["a"] -- the note',
    ]);
    expect(changed(setBounds(notebook, 'gauge', ''))).toEqual(['gauge        = 4 mm²']);
  });
});

describe('a table entry', () => {
  test('keeps the bars in their columns', () => {
    expect(changed(setEntry(notebook, 'loads', 0, 1, '12 W'))).toEqual([
      '  lamp     | 12 W  | 20:30..23:00 |        -- the lamp',
    ]);
    expect(changed(setEntry(notebook, 'loads', 0, 3, '= 7 Wh'))).toEqual([
      '  lamp     | 6 W   | 20:30..23:00 | = 7 Wh -- the lamp',
    ]);
    expect(changed(setEntry(notebook, 'loads', 1, 3, ''))).toEqual([
      '  cool box | 45 W  | 00:00..24:00 | ',
    ]);
    expect(changed(setEntry(notebook, 'loads', 0, 0, 'a very long lamp'))).toEqual([
      '  a very long lamp | 6 W   | 20:30..23:00 |        -- the lamp',
    ]);
  });

  test('left out at the end of its row is put in', () => {
    expect(changed(setEntry(notebook, 'loads', 2, 2, '18:00..20:00'))).toEqual([
      '  phones   | | 18:00..20:00',
    ]);
  });

  test('of a row beyond the last makes a row', () => {
    expect(changed(setEntry(notebook, 'loads', 3, 0, 'radio'))).toEqual(['  radio']);
  });

  test('that would be two is refused', () => {
    expect(setEntry(notebook, 'loads', 0, 0, 'a | b')).toBeUndefined();
    expect(setEntry(notebook, 'loads', 0, 0, 'a\nb')).toBeUndefined();
    expect(setEntry(notebook, 'loads', 0, 9, 'a')).toBeUndefined();
    expect(setEntry(notebook, 'loads', 9, 0, 'a')).toBeUndefined();
  });
});

describe('scenarios', () => {
  test('a change is set, added and taken away', () => {
    expect(changed(setOverride(notebook, 'grey', 'Loads.Hours( “lamp” )', '01:00..02:00'))).toEqual(
      ['  loads.hours("lamp") = 01:00..02:00 -- longer'],
    );
    expect(changed(setOverride(notebook, 'Grey', 'loads.hours("Lamp")', '01:00..02:00'))).toEqual([
      '  loads.hours("Lamp") = 01:00..02:00',
    ]);
    expect(changed(setOverride(notebook, 'Grey', 'panel rating', '50 W'))).toEqual([
      '  panel rating = 50 W',
    ]);
    expect(changed(setOverride(notebook, 'Grey', 'loads.hours("lamp")', '01:00..02:00'))).toEqual([
      '  loads.hours("lamp") = 01:00..02:00 -- longer',
    ]);
    expect(changed(setOverride(notebook, 'Grey', 'half', '9 W'))).toEqual(['  half = 9 W']);
    const without = removeOverride(notebook, 'Grey', 'panel rating');
    expect(changed(without)).toEqual([]);
    expect(writeNotebook(without?.notebook ?? notebook)).toBe(
      SAMPLE.replace('  panel rating = panel rating / 2\n', ''),
    );
  });

  test('one is added after the last, with the lines of another if asked', () => {
    expect(changed(addScenario(notebook, 'Empty'))).toEqual(['scenario Empty']);
    const copied = addScenario(notebook, 'Copy', 'Grey');
    expect(changed(copied)).toEqual(['scenario Copy']);
    expect(copied?.notebook.items.filter(({ kind }) => kind === 'scenario')).toHaveLength(2);
    expect(copied?.notebook.items.at(-2)).toMatchObject({
      name: { text: 'Copy' },
      overrides: [{ target: { text: 'panel rating' } }, { note: { text: 'longer' } }],
    });
    expect(addScenario(notebook, 'grey')).toBeUndefined();
    expect(addScenario(notebook, 'a -- b')).toBeUndefined();
  });

  test('one is taken away', () => {
    const without = removeScenario(notebook, 'Grey');
    expect(changed(without)).toEqual([]);
    expect(without?.notebook.items.some(({ kind }) => kind === 'scenario')).toBe(false);
  });
});

describe('the header and whole items', () => {
  test('keys are changed and added', () => {
    expect(changed(setTitle(notebook, 'A week'))).toEqual(['title: A week']);
    const short = readNotebook('dapple 1\n\na = 1\n');
    expect(changed(setTitle(short, 'New'), short)).toEqual(['title: New']);
    expect(setTitle(short, 'New')?.notebook.header.title).toBe('New');
    const bare = readNotebook('a = 1');
    expect(setTitle(bare, 'New')?.notebook.header.title).toBe('New');
    expect(setHeaderKey(short, 'colour', 'red')).toBeUndefined();
    expect(setTitle(short, 'a\nb')).toBeUndefined();
  });

  test('a body of a check or chart is changed', () => {
    const index = notebook.items.findIndex(({ kind }) => kind === 'chart');
    expect(changed(setBody(notebook, index, 'half as bars'))).toEqual([
      'chart half as bars                                    -- caption',
    ]);
  });

  test('an item without a line end gets one when another follows', () => {
    const short = readNotebook('dapple 1\n\na = 1');
    expect(writeNotebook(insertItems(short, 1, 'b = 2')?.notebook ?? short)).toBe(
      'dapple 1\n\na = 1\nb = 2\n',
    );
  });

  test('items in a file of \\r\\n keep its line ends', () => {
    const windows = readNotebook('dapple 1\r\n\r\na = 1\r\n');
    expect(writeNotebook(insertItems(windows, 0, 'b = 2')?.notebook ?? windows)).toBe(
      'dapple 1\r\n\r\nb = 2\r\na = 1\r\n',
    );
  });
});

test('any edit of any notebook is taken back to the byte', () => {
  const texts = [
    SAMPLE,
    SAMPLE.replaceAll('\n', '\r\n'),
    SAMPLE.trimEnd(),
    ...STARTERS.map(([, text]) => text),
  ];
  const words = fc.constantFrom(
    '1 W',
    '',
    'a -- b',
    '"x',
    'a\n  b',
    'table',
    '| p',
    'long words × 2',
  );
  fc.assert(
    fc.property(
      fc.constantFrom(...texts),
      fc.nat(13),
      fc.nat(80),
      fc.nat(80),
      words,
      (text, which, place, other, put) => {
        const before = readNotebook(text);
        const index = place % before.items.length;
        const item = before.items[index];
        const name = item !== undefined && 'name' in item ? item.name.text : 'Grey';
        const edits: readonly (() => Edited | undefined)[] = [
          () => setFormula(before, name, put),
          () => setBounds(before, name, put),
          () => setNote(before, index, put),
          () => setBody(before, index, put),
          () => setEntry(before, 'loads', other % 7, place % 6, put),
          () => setOverride(before, name, 'half', put),
          () => removeOverride(before, name, 'panel rating'),
          () => addScenario(before, put, 'Grey'),
          () => removeScenario(before, name),
          () => setTitle(before, put),
          () => insertItems(before, index, put),
          () => removeItem(before, index),
          () => replaceItem(before, index, put),
          () => moveItem(before, index, other % before.items.length),
        ];
        const edited = edits[which]?.();
        if (edited === undefined) return;
        const back = applyEdit(edited.notebook, edited.inverse);
        expect(writeNotebook(back.notebook)).toBe(text);
      },
    ),
    { numRuns: testCases(2000) },
  );
});

test('moving every item to every place keeps all lines', () => {
  const sorted = (text: string): readonly string[] => text.split('\n').toSorted();
  const body = readNotebook(SAMPLE);
  for (let from = 0; from < body.items.length; from += 3) {
    for (let to = 0; to < body.items.length; to += 2) {
      const moved = moveItem(body, from, to);
      if (moved === undefined) expect(from).toBe(to);
      else expect(sorted(writeNotebook(moved.notebook))).toEqual(sorted(SAMPLE));
      if (moved !== undefined) {
        expect(moved.notebook.items[to]?.source).toBe(body.items[from]?.source);
      }
    }
  }
});
