// What a chart line sweeps: the ends may be amounts or cells. Expected values by the line's own rule.

import { expect, test } from 'vitest';
import { type ChartData, openSession } from '../../../engine/index.ts';

const BODY = `dapple 1

low  = 2 m
high = 10 m
length = 4 m
loop = 2 × length
`;

function chart(line: string): ChartData {
  const session = openSession(`${BODY}${line}\n`);
  while (session.continue(1000, () => 0));
  const row = session.snapshot().rows.find((one) => one.kind === 'chart');
  if (!row) throw new Error('no chart');
  return session.chart(row.item);
}

test.each([
  ['amounts', 'chart loop against length = 2 m..10 m'],
  ['cells', 'chart loop against length = low..high'],
  ['a cell and a formula', 'chart loop against length = low..low × 5'],
])('ends given as %s reach from one to the other', (_, line) => {
  const { state, axis, series } = chart(line);
  expect(state).toBe('ready');
  expect(axis.unit).toBe('m');
  const [first] = axis.values;
  expect([first, axis.values.at(-1)]).toEqual([2, 10]);
  // The loop is twice the length at every place.
  expect(series[0]?.values).toEqual(axis.values.map((length) => 2 * length));
});

test('temperatures are swept as points', () => {
  const session = openSession(
    'dapple 1\n\nair = 20 °C\nlid = air + 5 K\nchart lid against air = -10 °C..30 °C\n',
  );
  while (session.continue(1000, () => 0));
  const row = session.snapshot().rows.find((one) => one.kind === 'chart');
  const { axis, series } = session.chart(row?.item ?? -1);
  expect([axis.values[0], axis.values.at(-1)]).toEqual([-10, 30]);
  expect(series[0]?.values[0]).toBeCloseTo(-5, 9);
  expect(series[0]?.values.at(-1)).toBeCloseTo(35, 9);
});
