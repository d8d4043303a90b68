// An end of an influence that could not be worked out is not drawn. Vega-Lite leaves out a mark whose
// x is absent, but a rule with only its x2 absent is drawn to nowhere: `x2="NaN"`.

import { parse, View } from 'vega';
import { compile } from 'vega-lite';
import { expect, test } from 'vitest';
import type { ChartData, ShownInfluence } from '../../engine/index.ts';
import { chartExpressions } from '../../web/chart/chart-expression.ts';
import { influencePanel } from '../../web/chart/chart-study.ts';

const one = (name: string, low: number, high: number): ShownInfluence => ({
  ...{ name, low, high, rank: 0, unit: '%' },
  ...{ lowText: '1 W', highText: '2 W' },
});

test('a given of which one end is unknown keeps its other end and gets no line', async () => {
  const influence = [one('both', 10, 30), one('low', 12, Number.NaN), one('high', Number.NaN, 5)];
  const axis = { name: 'charge', unit: '%', kind: 'number', values: [], labels: [] };
  const data = { kind: 'influence', axis, influence } as unknown as ChartData;
  const colours = { hand: '#000', strip: '#fff', ink: '#000', ink2: '#000' };
  const setting = { width: 600, columnNames: ['Plan'], columns: [0], colours } as never;
  const [panel] = influencePanel(data, setting);
  const named = (rows: readonly object[] = []): readonly unknown[] =>
    rows.map((row) => Reflect.get(row, 'name'));
  expect(named(panel?.data.spans)).toEqual(['both']);
  expect(named(panel?.data.rows)).toEqual(['both', 'low', 'high']);
  const given = panel?.data.rows?.map((row) => [Reflect.get(row, 'low'), Reflect.get(row, 'high')]);
  expect(given).toEqual([
    [10, 30],
    [12, null],
    [null, 5],
  ]);
  // Drawn by Vega itself: one rule, and its second end is a number.
  const view = new View(parse(compile(panel?.spec as never).spec, undefined, { ast: true }), {
    renderer: 'none',
    expr: chartExpressions as never,
  });
  for (const [name, rows] of Object.entries(panel?.data ?? {})) view.data(name, [...rows]);
  await view.runAsync();
  const drawn = String(
    Reflect.apply(Reflect.get(view.scenegraph(), 'toJSON'), view.scenegraph(), []),
  );
  const rules = [...drawn.matchAll(/"marktype":"rule"[^[]*"role":"mark"[^[]*"items":\[(.*?)\]/gu)];
  const ends = rules.flatMap(([, items = '']) => [...items.matchAll(/"x2":([^,}]*)/gu)]);
  expect(ends.map(([, x2]) => Number.isFinite(Number(x2)) && x2 !== 'null')).toEqual([true]);
  view.finalize();
});
