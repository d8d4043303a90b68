// The page's own small geometry: thinning, threads, the disc of the sky, and which strips fit. The
// expected values follow from the definitions, worked by hand beside each case.

import { expect, test } from 'vitest';
import { closureOf, type ExpressionNode } from '../../web/chart/chart-expression.ts';
import { steadied, straightened, thinned } from '../../web/chart/chart-thin.ts';
import { fromDisc, outlineAt, toDisc } from '../../web/chart/sky-geometry.ts';
import { cutAtMarks } from '../../web/parts/phrase.ts';
import { stripsInView } from '../../web/sheet/strips-in-view.ts';
import { pieces } from '../../web/sheet/threads.ts';

const DEGREE = Math.PI / 180;

test('a thinned series keeps its highest and its lowest point', () => {
  const xs = Array.from({ length: 1000 }, (_, index) => index);
  const values = xs.map((x) => (x === 333 ? 50 : x === 777 ? -50 : Math.sin(x)));
  const points = thinned(xs, values, 100);
  expect(points.length).toBeLessThanOrEqual(100);
  expect(points).toContainEqual({ x: 333, y: 50 });
  expect(points).toContainEqual({ x: 777, y: -50 });
  expect(points.map(({ x }) => x)).toEqual(points.map(({ x }) => x).toSorted((a, b) => a - b));
});

test('a short series stays as it is, and what is absent breaks the line', () => {
  expect(thinned([1, 2, 3], [4, Number.NaN, 6], 10)).toEqual([
    { x: 1, y: 4 },
    { x: 2, y: null },
    { x: 3, y: 6 },
  ]);
});

test('a straightened line strays nowhere by more than it may, and breaks where it broke', () => {
  const points = Array.from({ length: 800 }, (_, x) => ({
    x,
    y: x === 400 ? null : 50 + 40 * Math.sin(x / 60) + (x > 600 ? 5 : 0),
  }));
  const kept = straightened(points, 0.1);
  expect(kept.length).toBeLessThan(points.length / 4);
  expect(kept[0]).toEqual(points[0]);
  expect(kept.at(-1)).toEqual(points.at(-1));
  expect(kept).toContainEqual({ x: 400, y: null });
  // On either side of the break the line still ends where it ended.
  expect(kept.map(({ x }) => x)).toEqual(expect.arrayContaining([399, 401]));
  for (const { x, y } of points) {
    if (y === null) continue;
    const before = kept.findLast((one) => one.x <= x) ?? { x: Number.NaN, y: null };
    const after = kept.find((one) => one.x >= x) ?? { x: Number.NaN, y: null };
    if (before.y === null || after.y === null) throw new Error(`no line over ${x}`);
    const share = after.x === before.x ? 0 : (x - before.x) / (after.x - before.x);
    expect(Math.abs(before.y + share * (after.y - before.y) - y)).toBeLessThanOrEqual(0.1 + 1e-9);
  }
});

test('a straight line is its two ends', () => {
  const points = Array.from({ length: 9 }, (_, x) => ({ x, y: 2 * x }));
  expect(straightened(points, 0.01)).toEqual([
    { x: 0, y: 0 },
    { x: 8, y: 16 },
  ]);
});

test('steps keep both places of every jump', () => {
  const points = [0, 0, 0, 5, 5, 7, 7, 7].map((y, x) => ({ x, y }));
  expect(steadied(points).map(({ x }) => x)).toEqual([0, 2, 3, 4, 5, 7]);
});

test('a thread runs from the first row it joins to the last', () => {
  // Row 4 draws on rows 1 and 2: it begins at 1, is joined by 2, passes 3 and ends in 4.
  expect(pieces(6, 4, new Set([1, 2]))).toEqual(['', 'from', 'join', 'pass', 'into', '']);
  // Row 0 is drawn on by row 2.
  expect(pieces(4, 0, new Set([2]))).toEqual(['from', 'pass', 'into', '']);
  expect(pieces(3, 1, new Set())).toEqual(['', '', '']);
});

test('lying with the feet to the south, north is up and east is on the left', () => {
  const horizonNorth = toDisc(0, 0, 100, 80);
  expect(horizonNorth.x).toBeCloseTo(100, 9);
  expect(horizonNorth.y).toBeCloseTo(20, 9);
  expect(toDisc(90 * DEGREE, 0, 100, 80).x).toBeCloseTo(20, 9);
  expect(toDisc(1, 90 * DEGREE, 100, 80)).toEqual({ x: 100, y: 100 });
});

test('a point moved on the disc comes back as the direction it was put in', () => {
  for (const azimuth of [0, 45, 123, 210, 359]) {
    for (const elevation of [1, 30, 77]) {
      const back = fromDisc(toDisc(azimuth * DEGREE, elevation * DEGREE, 240, 212), 240, 212);
      expect(back.azimuth / DEGREE).toBeCloseTo(azimuth, 6);
      expect(back.elevation / DEGREE).toBeCloseTo(elevation, 6);
    }
  }
});

test('an outline is straight between its points and closes over north', () => {
  const [azimuths, heights] = [
    [90, 270],
    [10, 30],
  ].map((list) => list.map((d) => d * DEGREE));
  if (!azimuths || !heights) throw new Error('no outline');
  expect(outlineAt(azimuths, heights, 180 * DEGREE) / DEGREE).toBeCloseTo(20, 9);
  expect(outlineAt(azimuths, heights, 0) / DEGREE).toBeCloseTo(20, 9);
  expect(outlineAt(azimuths, heights, 315 * DEGREE) / DEGREE).toBeCloseTo(25, 9);
});

test('a mark cuts a formula at exactly its characters', () => {
  const parts = [
    { text: 'panel rating', kind: 'cell' as const, key: 'panel rating' },
    { text: ' / ', kind: 'operator' as const },
    { text: 'panel volts', kind: 'plain' as const },
  ];
  const cut = cutAtMarks(parts, [{ start: 6, end: 18 }]);
  expect(cut.filter(({ marked }) => marked).map(({ part }) => part.text)).toEqual([
    'rating',
    ' / ',
    'pan',
  ]);
  expect(cut.map(({ part }) => part.text).join('')).toBe('panel rating / panel volts');
});

test('the plan always has its strip, and the scenario last chosen stays in view', () => {
  const room = { width: 90, narrow: false, besideBench: true, total: 5, first: 1 };
  // 90 rem less bench 24, name and stem 14.5, formula 18: 33.5 rem, three strips of 8.4.
  expect(stripsInView({ ...room, scenario: 0 })).toEqual([0, 1, 2]);
  expect(stripsInView({ ...room, scenario: 4 })).toEqual([0, 3, 4]);
  expect(stripsInView({ ...room, narrow: true, scenario: 3 })).toEqual([3]);
});

/** `datum.value > 2 ? upper : -1` as Vega's parser hands it over. */
const conditional: ExpressionNode = {
  type: 'ConditionalExpression',
  test: {
    type: 'BinaryExpression',
    operator: '>',
    left: {
      type: 'MemberExpression',
      computed: false,
      object: { type: 'Identifier', name: 'datum' },
      property: { type: 'Identifier', name: 'value' },
    },
    right: { type: 'Literal', value: 2 },
  },
  consequent: { type: 'Identifier', name: 'upper' },
  alternate: { type: 'UnaryExpression', operator: '-', argument: { type: 'Literal', value: 1 } },
};

test('a chart expression runs as a closure over datum and parameters', () => {
  const run = closureOf(conditional, {});
  const scope = { params: { $upper: 'high' }, item: undefined, event: undefined };
  expect(run({ ...scope, datum: { value: 3 } })).toBe('high');
  expect(run({ ...scope, datum: { value: 2 } })).toBe(-1);
});

test('a chart expression reaches no constructor and no unknown function', () => {
  const reach: ExpressionNode = {
    type: 'MemberExpression',
    computed: false,
    object: { type: 'Identifier', name: 'datum' },
    property: { type: 'Identifier', name: 'constructor' },
  };
  const scope = { params: undefined, datum: {}, item: undefined, event: undefined };
  expect(closureOf(reach, {})(scope)).toBeUndefined();
  const call: ExpressionNode = {
    type: 'CallExpression',
    callee: { type: 'Identifier', name: 'fetch' },
    arguments: [],
  };
  expect(() => closureOf(call, {})).toThrow(RangeError);
});
