// Stacks along a timeline: areas one on another. What is expected follows from the definition: each
// part stands on the sum of those before it.

import { expect, test } from 'vitest';
import { type ChartData, openSession } from '../../engine/index.ts';
import type { Setting } from '../../web/chart/chart-panel.ts';
import { drawingOf } from '../../web/chart/chart-spec.ts';

const setting: Omit<Setting, 'gutter'> = {
  width: 600,
  colours: {
    strip: '#123456',
    ink: '#123456',
    ink2: '#123456',
    line: '#123456',
    edge: '#123456',
    hand: '#123456',
    night: '#123456',
    fails: '#123456',
    sun: '#123456',
    sunInk: '#123456',
    band: '#123456',
    series: ['#111111', '#222222', '#333333', '#444444', '#555555'],
    oneColour: false,
    font: '#123456',
  },
  columnNames: ['Plan'],
  columns: [0],
};

function chart(line: string, hours: number): ChartData {
  const session = openSession(`Dapple 1
clock = timeline(from: 2027-06-11 00:00, until: 2027-06-11 00:00 + ${hours} h, by: 15 min)
lamp = if clock within 2027-06-11 06:00..2027-06-11 18:00 then 6 W else 2 W
box = if clock within 2027-06-11 12:00..2027-06-11 13:00 then 45 W else 0 W
${line}
`);
  while (session.continue(1000, () => 0));
  const row = session.snapshot().rows.find((one) => one.kind === 'chart');
  if (!row) throw new Error('no chart');
  return session.chart(row.item);
}

interface Part {
  readonly x: number;
  readonly low: number;
  readonly high: number;
}

test('a long stack is areas, each standing on those before it', () => {
  const data = chart('chart lamp, box as stack', 24);
  expect(data.axis.values.length).toBe(96);
  const [panel] = drawingOf(data, setting);
  const lamp = panel?.data.part0 as readonly Part[];
  const box = panel?.data.part1 as readonly Part[];
  expect(lamp.length).toBe(96);
  expect(panel?.data.bars).toBeUndefined();
  // 12:07:30, the middle of a step: 6 W of the lamp and 45 W of the box on it.
  expect([lamp[48], box[48]]).toMatchObject([
    { low: 0, high: 6 },
    { low: 6, high: 51 },
  ]);
  expect([lamp[2], box[2]]).toMatchObject([
    { low: 0, high: 2 },
    { low: 2, high: 2 },
  ]);
  expect(panel?.names.map(({ name, kind }) => [name, kind])).toEqual([
    ['lamp', 'fill'],
    ['box', 'outline'],
  ]);
});

test('steps too many to be told apart are taken together and keep their mean', () => {
  const data = chart('chart lamp, box as stack', 24 * 7);
  const [panel] = drawingOf(data, setting);
  const lamp = panel?.data.part0 as readonly Part[];
  expect(lamp.length).toBeLessThan(data.axis.values.length / 2);
  // 672 steps by threes: 12 hours of 6 W among 156 of 2 W.
  const mean = lamp.reduce((sum, { high }) => sum + high, 0) / lamp.length;
  expect(mean).toBeCloseTo((12 * 6 + 156 * 2) / 168, 9);
});

test('a short stack keeps its bars', () => {
  const [panel] = drawingOf(chart('chart lamp, box as stack', 3), setting);
  expect(panel?.data.bars?.length).toBe(24);
});

test('steps that are stretches of the day stand side by side', () => {
  const [panel] = drawingOf(
    chart(
      `open = 06:00..12:00
lit = if clock within open then lamp else 0 W
gone = energy(lit)
by time = gone with open = steps(06:00..12:00, 12:00..18:00, 18:00..23:00)
chart by time`,
      24,
    ),
    setting,
  );
  expect(panel?.data.bars?.map((bar) => Reflect.get(bar, 'x'))).toEqual(['1', '2', '3']);
});
