// Charts of many runs: the spread over trials, the givens by influence, and the map of two givens.

import type { ChartData, ChartLimit } from '../../engine/index.ts';
import {
  frame,
  limitLayers,
  limitNames,
  type NamedLine,
  type Panel,
  paperWidth,
  type Setting,
} from './chart-panel.ts';
import type { Point } from './chart-thin.ts';

/** Fifty dots: each one trial in fifty, stacked where they fall together. */
export function stackedDots(values: readonly number[], slots: number): readonly Point[] {
  const sorted = values.filter(Number.isFinite).toSorted((a, b) => a - b);
  const low = sorted[0] ?? 0;
  const high = sorted.at(-1) ?? 1;
  const size = (high - low) / slots || 1;
  const heights = new Map<number, number>();
  const count = Math.min(50, sorted.length);
  return Array.from({ length: count }, (_, index) => {
    const value = sorted[Math.floor(((index + 0.5) / count) * sorted.length)] ?? low;
    const slot = Math.round((value - low) / size);
    const stacked = (heights.get(slot) ?? 0) + 1;
    heights.set(slot, stacked);
    return { x: low + slot * size, y: stacked };
  });
}

export function spreadPanel(data: ChartData, setting: Setting): readonly Panel[] {
  const unit = data.series[0]?.unit ?? data.axis.unit;
  const slots = Math.min(60, Math.floor(paperWidth(setting) / 14));
  const rows = stackedDots(data.spread ?? [], slots);
  const highest = Math.max(8, ...rows.map(({ y }) => y ?? 0));
  const layers = [
    {
      data: { name: 'dots' },
      mark: { type: 'point', filled: true, size: 90, color: setting.colours.hand, opacity: 1 },
      encoding: {
        x: {
          field: 'x',
          type: 'quantitative',
          scale: { zero: false },
          axis: {
            title: [data.axis.name || data.title, unit].filter(Boolean).join(', '),
            grid: false,
          },
        },
        y: { field: 'y', type: 'quantitative', scale: { domain: [0, highest + 1] }, axis: null },
      },
    },
    ...limitLayers('x', { type: 'quantitative' }, setting.colours),
  ];
  const height = Math.min(170, highest * 13 + 10);
  return [
    {
      spec: frame(setting, height, layers),
      data: { dots: rows, limits: data.limits },
      height: height + 44,
      names: [
        { name: 'one trial in fifty', style: 0, kind: 'square' },
        ...limitNames(data.limits, setting.colours),
      ],
    },
  ];
}

/** What could not be worked out is absent, as Vega writes it. */
function drawable(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

export function influencePanel(data: ChartData, setting: Setting): readonly Panel[] {
  const rows = data.influence ?? [];
  const longest = (texts: readonly string[]): number =>
    7 * Math.max(0, ...texts.map(({ length }) => length));
  // The figures beside the ends keep clear of the names.
  const ends = longest(rows.flatMap(({ lowText, highText }) => [lowText, highText])) + 14;
  const extent = Math.min(150, longest(rows.map(({ name }) => name)) + 4);
  const y = {
    field: 'name',
    type: 'nominal',
    sort: null,
    axis: {
      title: null,
      grid: false,
      labelLimit: 180,
      minExtent: extent,
      labelColor: setting.colours.ink,
    },
  };
  const x = (field: string): object => ({
    field,
    type: 'quantitative',
    scale: { zero: false, padding: ends },
    axis: { title: [data.axis.name, rows[0]?.unit].filter(Boolean).join(', '), grid: false },
  });
  const hand = setting.colours.hand;
  const text = (field: string, words: string, left: string): object => ({
    data: { name: 'rows' },
    mark: {
      type: 'text',
      dx: { expr: `datum.${left} ? -9 : 9` },
      align: { expr: `datum.${left} ? 'right' : 'left'` },
      color: setting.colours.ink2,
    },
    encoding: { x: x(field), y, text: { field: words } },
  });
  const layers = [
    {
      data: { name: 'spans' },
      mark: { type: 'rule', stroke: hand, strokeWidth: 2.2 },
      encoding: { x: x('low'), x2: { field: 'high' }, y },
    },
    {
      data: { name: 'rows' },
      mark: {
        type: 'point',
        filled: true,
        size: 80,
        fill: setting.colours.strip,
        stroke: hand,
        strokeWidth: 2.4,
        opacity: 1,
      },
      encoding: { x: x('low'), y },
    },
    {
      data: { name: 'rows' },
      mark: { type: 'point', filled: true, size: 95, color: hand, opacity: 1 },
      encoding: { x: x('high'), y },
    },
    text('low', 'lowText', 'lowLeft'),
    text('high', 'highText', 'highLeft'),
  ];
  const height = rows.length * 28 + 12;
  const marked = rows.map((row) => ({
    ...row,
    low: drawable(row.low),
    high: drawable(row.high),
    lowLeft: !(row.high < row.low),
    highLeft: row.high < row.low,
  }));
  // A line has two ends: where one could not be worked out, the other stands alone.
  const spans = marked.filter(({ low, high }) => low !== null && high !== null);
  const spec = {
    ...frame(setting, height, layers),
    width: Math.max(80, setting.width - extent - 20),
  };
  return [
    {
      spec,
      data: { spans, rows: marked },
      height: height + 44,
      names: [
        { name: 'the given at its low', style: 0, kind: 'ring' },
        { name: 'at its high', style: 0, kind: 'square' },
      ],
    },
  ];
}

function edges(values: readonly number[]): readonly number[] {
  const middle = values.slice(1).map((value, index) => (value + (values[index] ?? 0)) / 2);
  const first = values[0] ?? 0;
  const last = values.at(-1) ?? 1;
  return [
    2 * first - (middle[0] ?? first - 0.5),
    ...middle,
    2 * last - (middle.at(-1) ?? last + 0.5),
  ];
}

/** Whether a value lies beyond a limit, as Vega writes it. */
function beyondTest({ relation, value }: ChartLimit): string {
  const opposite = { '≥': '<', '>': '<=', '≤': '>', '<': '>=', '=': '!==', '≠': '===' }[relation];
  return `datum.value !== null && datum.value ${opposite} ${value}`;
}

export function mapPanel(data: ChartData, setting: Setting): readonly Panel[] {
  const second = data.second;
  const series = data.series[0];
  if (!second || !series) return [];
  const [xs, ys] = [edges(data.axis.values), edges(second.values)];
  const limit = data.limits[0];
  const rows = data.axis.values.flatMap((_, i) =>
    second.values.map((__, j) => {
      const value = series.values[i * second.values.length + j] ?? Number.NaN;
      return {
        x: xs[i],
        x2: xs[i + 1],
        y: ys[j],
        y2: ys[j + 1],
        value: drawable(value),
      };
    }),
  );
  const axis = (name: string, unit: string): object => ({
    title: [name, unit].filter(Boolean).join(', '),
    grid: false,
  });
  const span = (values: readonly number[]): object => ({
    domain: [values[0], values.at(-1)],
    nice: false,
    zero: false,
  });
  const layers = [
    {
      data: { name: 'cells' },
      mark: { type: 'rect', stroke: null },
      encoding: {
        x: {
          field: 'x',
          type: 'quantitative',
          scale: span(xs),
          axis: axis(data.axis.name, data.axis.unit),
        },
        x2: { field: 'x2' },
        y: {
          field: 'y',
          type: 'quantitative',
          scale: span(ys),
          axis: { ...axis(second.name, second.unit), minExtent: setting.gutter },
        },
        y2: { field: 'y2' },
        color: {
          field: 'value',
          type: 'quantitative',
          scale: {
            range: [setting.colours.strip, setting.colours.hand],
            zero: false,
            interpolate: 'rgb',
          },
          legend: null,
        },
      },
    },
    {
      data: { name: 'cells' },
      transform: limit === undefined ? [{ filter: 'false' }] : [{ filter: beyondTest(limit) }],
      mark: { type: 'text', text: '×', color: setting.colours.fails, fontSize: 13, xOffset: 0 },
      encoding: {
        x: { field: 'xm', type: 'quantitative' },
        y: { field: 'ym', type: 'quantitative' },
      },
    },
  ];
  const placed = rows.map((row) => ({
    ...row,
    xm: ((row.x ?? 0) + (row.x2 ?? 0)) / 2,
    ym: ((row.y ?? 0) + (row.y2 ?? 0)) / 2,
  }));
  const known = series.values.filter(Number.isFinite);
  const figure = (value: number): string => `${Number(value.toPrecision(3))} ${series.unit}`.trim();
  return [
    {
      spec: frame({ ...setting, width: setting.width - 22 }, 190, layers),
      data: { cells: placed },
      height: 240,
      names: [
        { name: `lowest ${figure(Math.min(...known))}`, style: 1, kind: 'outline' },
        { name: `highest ${figure(Math.max(...known))}`, style: 0, kind: 'tile' },
        ...limitNames(data.limits.slice(0, 1), setting.colours).map(
          (line): NamedLine => ({ ...line, kind: 'cross', name: `beyond ${line.name}` }),
        ),
      ],
    },
  ];
}
