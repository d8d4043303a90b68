// Renaming: every use follows, nothing else does, and no use comes to mean something else.

import { describe, expect, test } from 'vitest';
import { applyEdit } from '../../../engine/notebook/edit.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { writeNotebook } from '../../../engine/notebook/write-notebook.ts';
import { renameCell } from '../../../engine/run/rename.ts';

function renamed(body: string, from: string, to: string): string | undefined {
  const text = `dapple 1\n\n${body}`;
  const edited = renameCell(readNotebook(text), from, to);
  if (edited === undefined) return undefined;
  const back = applyEdit(edited.notebook, edited.inverse);
  expect(writeNotebook(back.notebook)).toBe(text);
  return writeNotebook(edited.notebook).slice('dapple 1\n\n'.length);
}

describe('renaming a cell', () => {
  test('follows every use: formulas, labels apart, overrides, checks, answers, charts, scenarios', () => {
    const before = `tilt = 30°   -- tilt of the panel
light = plane light(sky, tilt: tilt) + Tilt
flat = light with tilt = 0°
loads = table
  item | power = tilt × 2
  lamp | = tilt
  tilt | 3 W
check tilt ≥ 10°
answer tilt = tilt × 2
chart light, tilt against tilt = 0°..90°
scenario Flat tilt
  tilt = tilt / 2
  sky.tilt = 3
| tilt stays in prose
`;
    expect(renamed(before, 'tilt', 'slope')).toBe(`slope = 30°   -- tilt of the panel
light = plane light(sky, tilt: slope) + slope
flat = light with slope = 0°
loads = table
  item | power = slope × 2
  lamp | = slope
  tilt | 3 W
check slope ≥ 10°
answer slope = slope × 2
chart light, slope against slope = 0°..90°
scenario Flat tilt
  slope = slope / 2
  sky.tilt = 3
| tilt stays in prose
`);
  });

  test('a column of the same row is not the cell', () => {
    const before = 'power = 3 W\nt = table\n  item | power | twice = power × 2\n';
    expect(renamed(before, 'power', 'draw')).toBe(before.replace('power = 3 W', 'draw = 3 W'));
  });

  test('a table is renamed with its columns in use', () => {
    expect(
      renamed('loads = table\n  a | b\na = loads.b("x") + sum(loads.b)\n', 'loads', 'things'),
    ).toBe('things = table\n  a | b\na = things.b("x") + sum(things.b)\n');
  });

  test('a name that would become a unit is kept apart', () => {
    expect(renamed('volts = 3\na = 400 W/volts\n', 'volts', 'h')).toBe('h = 3\na = 400 W / h\n');
  });

  test('a new name that is taken, cannot be one, or is a column where it is used, is refused', () => {
    expect(renamed('a = 1\nb = 2\n', 'a', 'B')).toBeUndefined();
    expect(renamed('a = 1\n', 'a', 'twice as long')).toBeUndefined();
    expect(renamed('a = 1\n', 'a', 'check it')).toBeUndefined();
    expect(renamed('a = 1\n', 'a', 'none')).toBeUndefined();
    expect(renamed('a = 1\n', 'c', 'd')).toBeUndefined();
    expect(renamed('a = 1\nt = table\n  x | y | z = a\n', 'a', 'y')).toBeUndefined();
  });

  test('the same name in another spelling is written anew', () => {
    expect(renamed('Day’s low = 1\nb = day’s low\n', "day's low", "day's low")).toBe(
      "day's low = 1\nb = day's low\n",
    );
  });

  test('a column is renamed by table.column: its head, its uses, its rows’ formulas', () => {
    const before = `power = 1 W
loads = table
  item | power | day = power × 2 h
  lamp | 3 W |
  box | 4 W | = power × 1 h
total = sum(loads.power) + power
with it = total with loads.power("lamp") = 1 W
check loads.power("box") ≥ power
chart loads.power, power
scenario Less
  loads.power("lamp") = power
`.replaceAll('with it', 'changed');
    expect(renamed(before, 'loads.power', 'draw')).toBe(`power = 1 W
loads = table
  item | draw | day = draw × 2 h
  lamp | 3 W |
  box | 4 W | = draw × 1 h
total = sum(loads.draw) + power
changed = total with loads.draw("lamp") = 1 W
check loads.draw("box") ≥ power
chart loads.draw, power
scenario Less
  loads.draw("lamp") = power
`);
  });

  test('a column is not given a name that its table’s formulas use for a cell', () => {
    expect(renamed('a = 1\nt = table\n  x | y | z = a + y\n', 't.y', 'a')).toBeUndefined();
    expect(renamed('a = 1\nt = table\n  x | y | z = y\n', 't.y', 'z')).toBeUndefined();
    expect(renamed('a = 1\nt = table\n  x | y | z = y\n', 't.w', 'v')).toBeUndefined();
  });

  test('a series on a table’s rows is followed where it is named as a column', () => {
    expect(
      renamed('t = table\n  x | y\nmore = t.y × 2\nsum of it = sum(t.more)\n', 'more', 'twice'),
    ).toBe('t = table\n  x | y\ntwice = t.y × 2\nsum of it = sum(t.twice)\n');
  });

  test('a name that a function called elsewhere has is refused, and given where none is called', () => {
    expect(renamed('a = 1\nt = table\n  x | y\nb = sum(t.y)\n', 'a', 'sum')).toBeUndefined();
    expect(renamed('a = 1\nb = a + 1\n', 'a', 'sum')).toBe('sum = 1\nb = sum + 1\n');
  });

  test('a formula that cannot be read keeps its slip and gets the name', () => {
    expect(renamed('a = 1\nb = a + × 2\n', 'a', 'c')).toBe('c = 1\nb = c + × 2\n');
  });
});
