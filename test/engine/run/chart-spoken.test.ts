// What a screen reader says of the charts whose picture is not a line or a bar. Expected values follow
// from the notebook's own numbers, worked beside each case.

import { describe, expect, test } from 'vitest';
import { type ChartData, openSession, startStudies } from '../../../engine/index.ts';

function chartOf(text: string, trials = false): ChartData {
  const session = openSession(text);
  while (session.continue(1000, () => 0));
  if (trials) {
    const study = startStudies(session);
    while (study.step(() => false));
    session.adoptStudies(study.result());
  }
  const row = session.snapshot().rows.find((one) => one.kind === 'chart');
  if (!row) throw new Error('no chart');
  return session.chart(row.item);
}

const nbsp = (text: string): string => text.replaceAll('\u00a0', ' ');

test('a map says where it is lowest and highest and how much of it keeps the limit', () => {
  const data = chartOf(`dapple 1

length = 4 m
width = 1 m
area = length × width as m²
check area ≥ 6 m²
chart area against length = steps(1 m, 3 m, by: 1 m), width = steps(1 m, 3 m, by: 1 m)
`);
  // 1 × 1 to 3 × 3; of the nine products 6, 6 and 9 reach 6.
  expect(nbsp(data.spoken)).toContain(
    'area: lowest 1 m² at length 1 m and width 1 m, highest 9 m² at length 3 m and width 3 m',
  );
  expect(nbsp(data.spoken)).toContain('limit 6 m²: kept at 3 of 9 places');
});

const DRAWN = `dapple 1
trials: 500
seed: 3

draw = 10..20..30 W
rest = 5 W
need = 2 × draw + rest
check need ≤ 45 W
`;

test('a spread says its middle, its eight in ten and how many keep to the limit', () => {
  const data = chartOf(`${DRAWN}chart need as spread\n`, true);
  const spread = data.spread ?? [];
  expect(spread.length).toBe(500);
  const said = nbsp(data.spoken);
  expect(said).toMatch(/^Spread over 500 trials\. need: lowest [\d.]+ W, middle [\d.]+ W/u);
  // Counted here: the trials at or below 45 W.
  const kept = spread.filter((value) => value <= 45).length;
  expect(said).toContain(`limit 45 W: kept in ${kept} of 500`);
  // The span is symmetric about 20 W, and 2 × 20 + 5 is 45: about half keep to it.
  expect(Math.abs(kept / 500 - 0.5)).toBeLessThan(0.1);
});

test('influence says both ends of each given and of the result', () => {
  const data = chartOf(`${DRAWN}chart need as influence\n`, true);
  const [one] = data.influence ?? [];
  if (!one) throw new Error('nothing moves it');
  const said = nbsp(data.spoken);
  expect(said).toMatch(
    /^What moves need most\. draw from [\d.]+ W to [\d.]+ W: need from [\d.]+ W to [\d.]+ W\.$/u,
  );
  const [, low = '', high = '', from = '', to = ''] =
    said.match(/from ([\d.]+) W to ([\d.]+) W: need from ([\d.]+) W to ([\d.]+) W/u) ?? [];
  // need = 2 × draw + 5 W at both ends, to the figures said.
  expect(Number(from)).toBeCloseTo(2 * Number(low) + 5, 0);
  expect(Number(to)).toBeCloseTo(2 * Number(high) + 5, 0);
});

const SERIES = `dapple 1
trials: 400
seed: 5

clock = timeline(from: 2027-06-11 00:00, until: 2027-06-11 06:00, by: 1 h)
base = 10..20..30 W
power = base × (if time of day(clock) within 02:00..03:00 then 0.5 else 1)
`;

test('bands say when and how low nine in ten go, and when their edge goes beyond a limit', () => {
  const data = chartOf(`${SERIES}check lowest(power) ≥ 8 W\nchart power as bands\n`, true);
  const low = data.bands?.low ?? [];
  const lowest = Math.min(...low);
  const said = nbsp(data.spoken);
  // The power is halved from 02:00 on for an hour, and nowhere else.
  expect(low.indexOf(lowest)).toBe(2);
  expect(said).toMatch(/Nine in ten trials are lowest at [^,]*11 Jun[^,]*02:00, between/u);
  expect(lowest).toBeLessThan(8);
  expect(said).toMatch(/limit 8 W: the band of nine in ten first goes beyond it at .*02:00/u);
});

test('a sky says when the sun stands clear of the outline', () => {
  const text = (height: number): string => `dapple 1
place: 0 °N, 0 °E, 0 m, UTC+0

clock = timeline(from: 2027-03-20 00:00, until: 2027-03-21 00:00, by: 1 h)
trees = table
  azimuth | height
  0°      | ${height}°
  90°     | ${height}°
  180°    | ${height}°
  270°    | ${height}°
window = sky window(azimuth: trees.azimuth, height: trees.height)
chart trees as sky
`;
  // At the equator at the equinox the sun climbs 15° an hour from about 6 to about 18: over 45° from
  // about 9 to about 15, within the ten minutes of the track and the quarter hour of the equation of time.
  const said = chartOf(text(45)).spoken;
  const [, from = '', to = ''] = said.match(/the sun is clear (\d\d:\d\d) to (\d\d:\d\d)/u) ?? [];
  const hours = (clock: string): number => Number(clock.slice(0, 2)) + Number(clock.slice(3)) / 60;
  expect(Math.abs(hours(from) - 9)).toBeLessThan(0.5);
  expect(Math.abs(hours(to) - 15)).toBeLessThan(0.5);
  expect(said).toContain('4 sightings');
  expect(chartOf(text(90)).spoken).toContain('the sun never stands clear');
});

describe('a sky', () => {
  const text = (height: string, item: string): string => `dapple 1
place: 0 °N, 0 °E, 0 m, UTC+0

clock = timeline(from: 2027-03-20, until: 2027-03-21, by: 1 h)
trees = table
  azimuth | height
  0°      | ${height}
  90°     | 45°
  180°    | 45°
window = sky window(azimuth: trees.azimuth, height: trees.height)
open = open sky()
chart ${item}
`;

  test('is drawn from a sky window as from its table, and from an open sky', () => {
    const table = chartOf(text('45°', 'trees as sky'));
    const window = chartOf(text('45°', 'window'));
    expect(window.state).toBe('ready');
    expect({ ...window.sky, table: '' }).toEqual({ ...table.sky, table: '' });
    const open = chartOf(text('45°', 'open as sky'));
    // By definition nothing of it is hidden.
    expect(open.sky?.openShare).toBe(1);
    expect(open.spoken).toContain('Nothing stands in the way');
  });

  test.each(['', '95°', '-5°'])('with a height of %j says what is amiss', (height) => {
    const { state, text: words } = chartOf(text(height, 'trees as sky'));
    expect([state, words]).toEqual([
      'error',
      'An outline of the sky needs azimuths that rise from 0° to 360°, heights from 0° to 90° and light through from 0 % to 100 %.',
    ]);
  });
});
