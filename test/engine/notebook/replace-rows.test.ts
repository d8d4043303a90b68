// All rows of a table anew: notes go with their rows, remarks between rows stay, and other lines
// are not touched.

import { expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';

const TEXT = `dapple 1

trees = table
  azimuth | height
  0°      | 30°     -- the hill
  -- sighted in spring
  90°     | 40°
  180°    | 20°
after = 2 W
`;

function withRows(rows: readonly { entries: readonly string[]; noteOf?: number }[]): string {
  const session = openSession(TEXT);
  const done = session.do({ do: 'all rows', table: 'trees', rows });
  return done ? session.text : 'refused';
}

test('more rows are added after the last', () => {
  const rows = ['0°', '90°', '180°', '270°'].map((azimuth, noteOf) => ({
    entries: [azimuth, '10°'],
    ...(noteOf < 3 ? { noteOf } : {}),
  }));
  const text = withRows(rows);
  expect(text).toMatch(/0° +\| 10° -- the hill\n {2}-- sighted in spring\n/u);
  expect(text).toMatch(/180° +\| 10°\n {2}270° +\| 10°\nafter = 2 W\n$/u);
});

test('fewer rows take their lines away and leave the rest', () => {
  const text = withRows([
    { entries: ['0°', '30°'], noteOf: 0 },
    { entries: ['180°', '20°'], noteOf: 2 },
  ]);
  expect(text).toMatch(/sighted in spring\n {2}180° +\| 20°\nafter = 2 W\n$/u);
  expect(text).not.toContain('90°');
});

test('an empty table and an entry that would not be read back are refused', () => {
  expect(withRows([])).toBe('refused');
  expect(withRows([{ entries: ['0° | 4°', '10°'] }])).toBe('refused');
});
