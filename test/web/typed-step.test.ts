// What a typed text does at each place of the sheet, carried out on a small notebook.

import { expect, test } from 'vitest';
import { type CellRow, openSession, type TableRowShown } from '../../engine/index.ts';
import { entryTarget, type TypedInto, typedStep } from '../../web/desk/typed-step.ts';
import { type EditPlace, rowName } from '../../web/parts/place.ts';

const NOTEBOOK = `dapple 1
title: A shed

power = 12 W
days = table
  day | clear index
  1 | 95 %
  2 | 60 %
check power ≤ 20 W
# The end
scenario Grey
  power = 18 W
`;

/** The notebook's text after `typed` was kept at the place. */
function after(place: EditPlace, typed: string): { readonly text: string; readonly label: string } {
  const session = openSession(NOTEBOOK);
  const snapshot = session.snapshot();
  const rows = snapshot.rows.filter(
    (row): row is CellRow | TableRowShown => row.kind === 'cell' || row.kind === 'table',
  );
  const into: TypedInto = {
    text: session.text,
    snapshot,
    rowOf: (key) => rows.find((row) => row.key === key),
  };
  const row = snapshot.rows.find(({ item }) => item === place.item);
  const step = typedStep(into, place, typed, row ? rowName(row) : '');
  expect(step && session.do(step.command)).toBe(true);
  return { text: session.text, label: step?.label ?? '' };
}

const itemOf = (kind: string): number =>
  openSession(NOTEBOOK)
    .snapshot()
    .rows.find((row) => row.kind === kind)?.item ?? -1;

const cell = { item: itemOf('cell'), cell: 'power' };
const table = { item: itemOf('table'), table: 'days' };
const scenario = { item: itemOf('scenario'), name: 'Grey' };
const changed = (from: string, to: string): string => NOTEBOOK.replace(from, to);

test.each([
  ['a formula', { kind: 'formula', ...cell }, '15 W', changed('12 W', '15 W'), 'power'],
  [
    'a value of the plan',
    { kind: 'value', ...cell, column: 0 },
    '9 W',
    changed('12 W', '9 W'),
    'power',
  ],
  [
    'a value of a scenario',
    { kind: 'value', ...cell, column: 1 },
    '19 W',
    changed('18 W', '19 W'),
    'power in Grey',
  ],
  [
    'nothing in a scenario: the plan’s is put back',
    { kind: 'value', ...cell, column: 1 },
    ' ',
    changed('  power = 18 W\n', ''),
    'put back power',
  ],
  [
    'a name, with its uses',
    { kind: 'name', ...cell },
    ' draw ',
    NOTEBOOK.replaceAll('power', 'draw'),
    'name power',
  ],
  [
    'an entry of the plan’s table',
    { kind: 'entry', ...table, row: 1, column: 1, into: 0 },
    '40 %',
    changed('60 %', '40 %'),
    'days',
  ],
  [
    'an entry for a scenario alone',
    { kind: 'entry', ...table, row: 1, column: 1, into: 1 },
    '40 %',
    changed('18 W\n', '18 W\n  days.clear index(2) = 40 %\n'),
    'days in Grey',
  ],
  [
    'a check',
    { kind: 'check', item: itemOf('check') },
    'power ≤ 25 W',
    changed('≤ 20 W', '≤ 25 W'),
    'check power ≤ 20 W',
  ],
  [
    'a scenario’s name',
    { kind: 'scenario', ...scenario, part: 'name' },
    'Rain',
    changed('Grey', 'Rain'),
    'name Grey',
  ],
  [
    'a scenario’s words',
    { kind: 'scenario', ...scenario, part: 'words' },
    'Cloud.',
    changed('scenario Grey\n', 'scenario Grey\n  | Cloud.\n'),
    'Grey',
  ],
  [
    'whole lines',
    { kind: 'lines', item: itemOf('heading'), first: 9, count: 1 },
    '# An end\n| of it',
    changed('# The end', '# An end\n| of it'),
    'The end',
  ],
  [
    'a new line below',
    { kind: 'new', item: cell.item },
    'lamp = 3 W',
    changed('12 W\n', '12 W\nlamp = 3 W\n'),
    'new row',
  ],
] satisfies readonly (readonly [string, EditPlace, string, string, string])[])(
  '%s',
  (_, place, typed, text, label) => {
    expect(after(place, typed)).toEqual({ text, label });
  },
);

test('an entry is named by what stands first in its row', () => {
  const row = openSession(NOTEBOOK.replace('  1 |', '  "north wall" |'))
    .snapshot()
    .rows.find(({ kind }) => kind === 'table');
  const shown = row?.kind === 'table' ? row : undefined;
  expect(shown && entryTarget(shown, 0, 1)).toBe('days.clear index("north wall")');
  expect(shown && entryTarget(shown, 1, 1)).toBe('days.clear index(2)');
  expect(shown && entryTarget(shown, 7, 1)).toBeUndefined();
});
