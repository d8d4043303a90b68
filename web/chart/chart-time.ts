// Charts along a timeline or a swept given: lines, and the bands of the trials.

import type { ChartData, ChartLimit } from '../../engine/index.ts';
import {
  frame,
  isShare,
  LIMIT,
  limitLayers,
  limitNames,
  lineStyles,
  type NamedLine,
  nightLayer,
  nightRows,
  type Panel,
  paperWidth,
  type Setting,
  type Styled,
  styled,
  timesOf,
  timeX,
  unitsOf,
  yOf,
} from './chart-panel.ts';
import { type Point, steadied, straightened, thinned } from './chart-thin.ts';
import { figure, moment } from './chart-words.ts';

/** The moment at which a series comes nearest to its limit, or goes farthest beyond it. */
export function tightest(
  xs: readonly number[],
  values: readonly number[],
  limit: number,
): { readonly x: number; readonly y: number } | undefined {
  const known = values.flatMap((y, index) =>
    Number.isFinite(y) ? [{ x: xs[index] ?? 0, y }] : [],
  );
  const first = known[0];
  if (!first) return undefined;
  // A limit below most of the series is one from below.
  const above = known.filter(({ y }) => y >= limit).length * 2 >= known.length;
  return known.reduce(
    (best, one) => ((above ? one.y < best.y : one.y > best.y) ? one : best),
    first,
  );
}

/** The plan's tightest moment of each series that has a limit, with its words. */
function tightRows(
  data: ChartData,
  mine: readonly Styled[],
  limits: readonly ChartLimit[],
): readonly object[] {
  const from = data.axis.values[0] ?? 0;
  const middle = (from + (data.axis.values.at(-1) ?? from)) * 500;
  return limits.flatMap((limit) => {
    const own = mine.find(({ series }) => series.key === limit.key);
    if (!own) return [];
    const found = tightest(timesOf(data, own.series), own.series.values, limit.value);
    if (!found) return [];
    // A step is called by its beginning, as the sheet calls it; a state holds at the end of one.
    const at = found.x / 1000 - (own.series.flow === 'state' ? 0 : data.step / 2);
    const words = `${figure(found.y)} ${limit.unit}, ${moment(at)}`;
    return [{ ...found, words, left: found.x < middle }];
  });
}

function tightLayers(x: object, y: object, setting: Setting): readonly object[] {
  const words = (paint: object): object => ({
    data: { name: 'tight' },
    mark: {
      type: 'text',
      align: { expr: "datum.left ? 'left' : 'right'" },
      dx: { expr: 'datum.left ? 6 : -6' },
      dy: 14,
      ...paint,
    },
    encoding: { x, y, text: { field: 'words' } },
  });
  return [
    {
      data: { name: 'tight' },
      mark: {
        type: 'point',
        filled: true,
        size: 70,
        fill: setting.colours.strip,
        stroke: setting.colours.ink,
        strokeWidth: 2,
        opacity: 1,
      },
      encoding: { x, y },
    },
    words({ stroke: setting.colours.strip, strokeWidth: 4, color: setting.colours.strip }),
    words({ color: setting.colours.ink }),
  ];
}

/** Where a sweep crosses its limits. */
function crossingRows(data: ChartData, unit: string): readonly object[] {
  const keys = new Set(
    data.series.filter((series) => series.unit === unit).map((series) => series.key),
  );
  return (data.crossings ?? [])
    .filter(({ key }) => keys.has(key))
    .flatMap(({ places, limit }) => places.map((x) => ({ x, y: limit })));
}

function crossingLayer(x: object, y: object, setting: Setting): object {
  return {
    data: { name: 'crossings' },
    mark: {
      type: 'point',
      filled: true,
      size: 90,
      fill: setting.colours.strip,
      stroke: setting.colours.hand,
      strokeWidth: 2.2,
      opacity: 1,
    },
    encoding: { x, y },
  };
}

/** How far a line may stray from its series, px: what no eye sees. */
const STRAY = 0.2;

/** Whether a series holds through each step of the timeline and jumps between them. */
function isStepped({ series }: Styled): boolean {
  return series.flow === 'rate';
}

/** The fewest points that draw a series of a timeline as it is. */
function drawnPoints(
  data: ChartData,
  one: Styled,
  span: number,
  size: { readonly width: number; readonly height: number },
): readonly Point[] {
  // The lowest and the highest of every pixel column.
  const most = Math.max(LIMIT, 2 * size.width);
  const points = thinned(timesOf(data, one.series), one.series.values, most);
  return isStepped(one) ? steadied(points) : straightened(points, (STRAY * span) / size.height);
}

/** How far apart the lowest and the highest of all values are. */
function spanOf(all: readonly Styled[]): number {
  let [low, high] = [0, 0];
  for (const { series } of all)
    for (const value of series.values) {
      if (value < low) low = value;
      if (value > high) high = value;
    }
  return high - low;
}

export function linePanels(data: ChartData, setting: Setting): readonly Panel[] {
  const all = styled(data, setting);
  const units = unitsOf(all.map(({ series }) => series));
  const time = data.axis.kind === 'time';
  return units.map((unit, index): Panel => {
    const mine = all.filter(({ series }) => series.unit === unit);
    const share = isShare(mine.map(({ series }) => series));
    const height = index === 0 ? 112 : 84;
    const x: object = time
      ? timeX(data, setting)
      : {
          field: 'x',
          type: 'quantitative',
          scale: { zero: false, nice: false },
          axis: { title: [data.axis.name, data.axis.unit].filter(Boolean).join(', '), grid: false },
        };
    const y = yOf(unit, share, setting);
    const span = spanOf(mine);
    const rowsOf = (stepped: boolean): readonly object[] =>
      mine.flatMap((one, id) => {
        if ((time && isStepped(one)) !== stepped) return [];
        const points = time
          ? drawnPoints(data, one, span, { width: paperWidth(setting), height })
          : thinned(data.axis.values, one.series.values, LIMIT);
        return points.map((point) => ({ ...point, style: one.style, id }));
      });
    const lines = rowsOf(false);
    const steps = rowsOf(true);
    const lineLayer = (name: string, look: object): object => ({
      data: { name },
      mark: { type: 'line', clip: true, ...look },
      encoding: { x, y, ...lineStyles(setting.colours) },
    });
    const layers = [
      ...(time ? [nightLayer(x, setting.colours)] : []),
      ...limitLayers('y', y, setting.colours),
      // A rate holds through its step; the axis gives each step's middle.
      ...(steps.length > 0 ? [lineLayer('steps', { interpolate: 'step' })] : []),
      ...(lines.length > 0 ? [lineLayer('lines', time ? {} : { point: true })] : []),
      ...(time ? tightLayers(x, y, setting) : [crossingLayer(x, y, setting)]),
    ];
    const limits = data.limits.filter((limit) => limit.unit === unit);
    return {
      spec: frame(setting, height, layers),
      data: {
        ...(time
          ? { nights: nightRows(data), tight: tightRows(data, mine, limits) }
          : { crossings: crossingRows(data, unit) }),
        limits,
        ...(steps.length > 0 ? { steps } : {}),
        ...(lines.length > 0 ? { lines } : {}),
      },
      height: height + 28 + (time ? 0 : 18),
      names: [
        ...mine.map(
          ({ style, name }): NamedLine => ({
            name: units.length > 1 ? `${name}, ${unit}` : name,
            style,
            kind: 'line',
          }),
        ),
        ...limitNames(limits, setting.colours),
      ],
    };
  });
}

export function bandPanel(data: ChartData, setting: Setting): readonly Panel[] {
  const bands = data.bands;
  if (!bands) return [];
  const count = data.axis.values.length;
  const time = data.axis.kind === 'time';
  const size = Math.max(1, Math.ceil(count / (LIMIT / 2)));
  const [series] = data.series;
  const times = series ? timesOf(data, series) : [];
  const rows: object[] = [];
  for (let from = 0; from < count; from += size) {
    const to = Math.min(count, from + size);
    const middle = Math.min(count - 1, Math.floor((from + to) / 2));
    const least = (values: readonly number[]): number => Math.min(...values.slice(from, to));
    const most = (values: readonly number[]): number => Math.max(...values.slice(from, to));
    rows.push({
      x: (time ? times : data.axis.values)[middle],
      low: least(bands.low),
      quarter: bands.quarter[middle],
      middle: bands.middle[middle],
      threeQuarter: bands.threeQuarter[middle],
      high: most(bands.high),
    });
  }
  const x = time
    ? timeX(data, setting)
    : {
        field: 'x',
        type: 'quantitative',
        axis: { title: data.axis.name },
        scale: { zero: false, nice: false },
      };
  const inside = [...bands.low, ...bands.high].every((v) => v >= -0.01 && v <= 100.01);
  const y = yOf(bands.unit, bands.unit === '%' && inside, setting, 'low');
  const area = (low: string, high: string, fillOpacity: number): object => ({
    data: { name: 'bands' },
    mark: { type: 'area', fill: setting.colours.band, fillOpacity, clip: true },
    encoding: { x, y: { ...y, field: low }, y2: { field: high } },
  });
  const layers = [
    ...(time ? [nightLayer(x, setting.colours)] : []),
    area('low', 'high', 0.16),
    area('quarter', 'threeQuarter', 0.28),
    {
      data: { name: 'bands' },
      mark: { type: 'line', stroke: setting.colours.band, strokeWidth: 2.6, clip: true },
      encoding: { x, y: { ...y, field: 'middle' } },
    },
    ...limitLayers('y', y, setting.colours),
  ];
  return [
    {
      spec: frame(setting, 150, layers),
      data: { bands: rows, ...(time ? { nights: nightRows(data) } : {}), limits: data.limits },
      height: 180,
      names: [
        { name: '9 in 10 trials', style: 0, kind: 'band' },
        { name: 'half of them', style: 0, kind: 'half' },
        { name: 'the middle one', style: 0, kind: 'middle' },
        ...limitNames(data.limits, setting.colours),
      ],
    },
  ];
}
