// What a chart says at its places, as rows, words and a file; and an outline drawn by hand. Expected
// values follow from the rules, worked beside each case.

import { expect, test } from 'vitest';
import { type ChartData, openSession } from '../../engine/index.ts';
import { readingToCsv } from '../../web/chart/chart-csv.ts';
import { placeByKey } from '../../web/chart/chart-places.ts';
import { chartReading, shareOf } from '../../web/chart/chart-reading.ts';
import { type Picture, spotOf, spotUnder } from '../../web/chart/chart-spots.ts';
import {
  nextAround,
  outlineDrawn,
  pointPutIn,
  pointTakenOut,
  thinnedLine,
} from '../../web/chart/sky-outline.ts';

const DEGREE = Math.PI / 180;

function chart(text: string): ChartData {
  const session = openSession(text);
  while (session.continue(1000, () => 0));
  const row = session.snapshot().rows.find((one) => one.kind === 'chart');
  if (!row) throw new Error('no chart');
  return session.chart(row.item);
}

function data(part: Partial<ChartData>): ChartData {
  const axis = { kind: 'labels', name: '', unit: '', values: [], labels: [] } as const;
  return {
    kind: 'line',
    title: 'chart',
    note: '',
    state: 'ready',
    text: '',
    axis,
    series: [],
    limits: [],
    nights: [],
    step: 0,
    spoken: '',
    ...part,
  };
}

/** Two steps of half an hour from 2027-05-19 12:00 on; their middles are 12:15 and 12:45. */
const NOON = Date.UTC(2027, 4, 19, 12) / 1000;
const HALF_HOURS = {
  axis: { kind: 'time', name: 'clock', unit: '', values: [NOON + 900, NOON + 2700], labels: [] },
  step: 1800,
} as const;
const rate = {
  name: 'harvest',
  key: 'harvest',
  unit: 'W',
  column: 0,
  values: [40, 60],
  flow: 'rate',
} as const;
const state = {
  name: 'charge',
  key: 'charge',
  unit: '%',
  column: 0,
  values: [55, 56],
  flow: 'state',
} as const;

/** A picture whose paper is 460 by 100 px, 71 from the left and 5 from the top; 100 units are as tall. */
function paper([from, to]: readonly [number, number]): Picture {
  const x = (value: number): number => ((value - from) / (to - from)) * 460;
  const y = (value: number): number => 100 - value;
  return {
    origin: () => [71, 5],
    width: () => 460,
    height: () => 100,
    scale: (name) => (name === 'x' ? x : y),
  };
}

test('a rate is read over its step and a state at the end of it', () => {
  const reading = chartReading(data({ ...HALF_HOURS, series: [state, rate] }), ['Plan'], [0]);
  expect(reading.heads.map(({ name }) => name)).toEqual([
    'from',
    'to',
    'charge at the end',
    'harvest',
  ]);
  expect(reading.rows[0]?.entries).toEqual(['Wed 19 May 12:00', 'Wed 19 May 12:30', 55, 40]);
  expect(reading.words(1)).toBe('Wed 19 May 12:30–13:00 · charge 56 % at 13:00 · harvest 60 W');
});

test('states alone are read at the instant at which they hold', () => {
  const only = data({ ...HALF_HOURS, series: [state] });
  expect(chartReading(only, ['Plan'], [0]).words(0)).toBe('Wed 19 May 12:30 · charge 55 %');
  // The paper is 460 px from 12:00 to 13:00, 71 px from the left: 12:30 is in its middle.
  const picture = paper([NOON * 1000, (NOON + 3600) * 1000]);
  const reading = chartReading(only, ['Plan'], [0]);
  expect(spotUnder(only, reading, picture, { x: 71 + 200, y: 20 })).toBe(0);
  expect(spotUnder(only, reading, picture, { x: 71 + 400, y: 400 })).toBe(1);
  expect(spotUnder(only, reading, picture, { x: 20, y: 20 })).toBeUndefined();
  expect(spotOf(only, reading, picture, 0)).toEqual({ x: 71 + 230 });
  expect(spotOf(only, reading, picture, 1)).toEqual({ x: 71 + 460 });
});

test('the dot that a hand means is the nearest to it, and one that is absent is none', () => {
  const axis = {
    kind: 'number',
    name: 'air',
    unit: '°C',
    values: [0, 10, 5, 8],
    labels: [],
  } as const;
  const series = [{ ...rate, flow: 'other', values: [0, 100, 50, Number.NaN] } as const];
  const cloud = data({ kind: 'dots', axis, series });
  const reading = chartReading(cloud, ['Plan'], [0]);
  // 46 px a degree, 1 px a watt from the bottom at 105 px up.
  const picture = paper([0, 10]);
  const at = (index: number) => spotOf(cloud, reading, picture, index);
  expect([0, 1, 2, 3].map(at)).toEqual([
    { x: 71, y: 105 },
    { x: 71 + 460, y: 5 },
    { x: 71 + 230, y: 55 },
    undefined,
  ]);
  expect(spotUnder(cloud, reading, picture, { x: 71 + 400, y: 90 })).toBe(1);
  expect(spotUnder(cloud, reading, picture, { x: 71 + 250, y: 90 })).toBe(2);
  expect(spotUnder(cloud, reading, picture, { x: 71 + 250, y: 140 })).toBeUndefined();
});

test('a file of values has units in its heads, whole numbers and no text that would be worked out', () => {
  const labels = ['=1+1', '-lamp', '@home', 'a, "b"'];
  const series = [{ ...rate, flow: 'other', values: [-1.5, 1 / 3, Number.NaN, 2] } as const];
  const axis = { kind: 'labels', name: 'load', unit: '', values: [], labels } as const;
  expect(readingToCsv(chartReading(data({ axis, series }), ['Plan'], [0]))).toBe(
    [
      'load,harvest (W)',
      "'=1+1,-1.5",
      "'-lamp,0.3333333333333333",
      "'@home,",
      '"a, ""b""",2',
      '',
    ].join('\r\n'),
  );
});

test('times in a file are civil ISO 8601', () => {
  const csv = readingToCsv(chartReading(data({ ...HALF_HOURS, series: [rate] }), ['Plan'], [0]));
  expect(csv.split('\r\n')[1]).toBe('2027-05-19T12:00,2027-05-19T12:30,40');
});

test('a share of a sample lies on the line between its members', () => {
  // Of 0, 10, 20: the median is 10, a quarter lies at half way from 0 to 10.
  expect(shareOf([0, 10, 20], 50)).toBe(10);
  expect(shareOf([0, 10, 20], 25)).toBe(5);
});

test('a page of a time chart is a day, and the ends hold', () => {
  // Half hours: 48 a day.
  expect(placeByKey('PageDown', 10, 100, HALF_HOURS)).toBe(58);
  expect(placeByKey('PageDown', 90, 100, HALF_HOURS)).toBe(99);
  expect(placeByKey('Home', 10, 100, HALF_HOURS)).toBe(0);
  expect(placeByKey('ArrowLeft', 0, 100, HALF_HOURS)).toBe(0);
  expect(placeByKey('x', 0, 100, HALF_HOURS)).toBeUndefined();
});

test('a sweep names where its check begins to hold, and is spoken of with its ends', () => {
  const swept = chart(`dapple 1

panel = 50 W
day = panel × 4 h as Wh
check day ≥ 290 Wh
chart day against panel = steps(0 W, 200 W, by: 20 W)
`);
  // 290 Wh over 4 h is 72.5 W.
  expect(swept.crossings?.map(({ words }) => words)).toEqual(['holds from about 72.5\u00a0W']);
  expect(swept.crossings?.[0]?.places[0]).toBeCloseTo(72.5, 9);
  expect(swept.spoken).toMatch(/^Line chart over panel, 0\u00a0W to 200\u00a0W\. /u);
  expect(swept.spoken).toContain('lowest 0\u00a0Wh at 0\u00a0W, highest 800\u00a0Wh at 200\u00a0W');
  expect(swept.spoken).toContain('holds from about 72.5\u00a0W');
});

test('a limit from above holds up to its crossing', () => {
  const swept = chart(`dapple 1

length = 4 m
drop = length × 0.5 %/m as %
check drop ≤ 3 %
chart drop against length = steps(2 m, 20 m, by: 4 m)
`);
  // 3 % at half a per cent a metre: 6 m.
  expect(swept.crossings?.map(({ words }) => words)).toEqual(['holds up to about 6\u00a0m']);
});

// ── the outline ─────────────────────────────────────────────────────────────────────────────────

const SQUARE = [0, 90, 180, 270].map((azimuth, row) => ({
  azimuth: azimuth * DEGREE,
  height: 30 * DEGREE,
  row,
}));

test('a point is put in half way to the next, over north too', () => {
  expect(nextAround(SQUARE, 3)).toBe(0);
  const { points, at } = pointPutIn(SQUARE, 3);
  expect(at).toBe(4);
  expect((points[4]?.azimuth ?? 0) / DEGREE).toBeCloseTo(315, 9);
  expect((points[4]?.height ?? 0) / DEGREE).toBeCloseTo(30, 9);
});

test('the last three points stay', () => {
  const three = pointTakenOut(SQUARE, 0);
  expect(three.length).toBe(3);
  expect(pointTakenOut(three, 0)).toBe(three);
});

test('a straight line is thinned to its ends, a corner stays', () => {
  const line = Array.from({ length: 11 }, (_, x) => ({ x, y: x < 5 ? x : 10 - x }));
  expect(thinnedLine(line, 0.1)).toEqual([line[0], line[5], line[10]]);
});

test.each([
  ['from east to west', 100, 260, 5],
  ['from west to east', 260, 100, -5],
])('a level stroke %s replaces what it passes and nothing else', (_, from, to, step) => {
  const stroke = Array.from({ length: (to - from) / step + 1 }, (__, n) => ({
    azimuth: (from + n * step) * DEGREE,
    elevation: 20 * DEGREE,
  }));
  const degrees = outlineDrawn(SQUARE, stroke).map(({ azimuth, height }) =>
    [azimuth, height].map((angle) => Math.round(angle / DEGREE)),
  );
  // South, at 180°, was passed; the stroke is level, so its two ends are enough.
  expect(degrees).toEqual([
    [0, 30],
    [90, 30],
    [100, 20],
    [260, 20],
    [270, 30],
  ]);
});

test('a stroke over north keeps the south', () => {
  const stroke = [330, 345, 0, 15, 30].map((azimuth) => ({
    azimuth: azimuth * DEGREE,
    elevation: 10 * DEGREE,
  }));
  const drawn = outlineDrawn(SQUARE, stroke);
  expect(
    drawn.map(({ azimuth }) => Math.round(azimuth / DEGREE)).toSorted((a, b) => a - b),
  ).toEqual([30, 90, 180, 270, 330]);
});
