// Charts along a timeline or a swept given: lines, and the bands of the trials.

import type { ChartData } from '../engine/index.ts';
import {
  frame,
  isShare,
  LIMIT,
  limitLayer,
  limitNames,
  lineStyles,
  type NamedLine,
  nightLayer,
  nightRows,
  type Panel,
  type Setting,
  styled,
  timesOf,
  timeX,
  unitsOf,
  yOf,
} from './chart-panel.ts';
import { thinned } from './chart-thin.ts';

export function linePanels(data: ChartData, setting: Setting): readonly Panel[] {
  const all = styled(data, setting);
  const units = unitsOf(all.map(({ series }) => series));
  const time = data.axis.kind === 'time';
  return units.map((unit, index): Panel => {
    const mine = all.filter(({ series }) => series.unit === unit);
    const share = isShare(mine.map(({ series }) => series));
    const height = index === 0 ? 112 : 84;
    const x: object = time
      ? timeX(data, setting.width)
      : {
          field: 'x',
          type: 'quantitative',
          scale: { zero: false, nice: false },
          axis: { title: [data.axis.name, data.axis.unit].filter(Boolean).join(', '), grid: false },
        };
    const y = yOf(unit, share);
    const rows = mine.flatMap(({ series, style }, id) =>
      thinned(time ? timesOf(data, series) : data.axis.values, series.values, LIMIT).map(
        (point) => ({ ...point, style, id }),
      ),
    );
    const layers = [
      ...(time ? [nightLayer(x, setting.colours)] : []),
      limitLayer(y),
      {
        data: { name: 'lines' },
        mark: { type: 'line', clip: true, ...(time ? {} : { point: true }) },
        encoding: { x, y, ...lineStyles(setting.colours) },
      },
    ];
    const limits = data.limits.filter((limit) => limit.unit === unit);
    return {
      spec: frame(setting.width, height, layers),
      data: { ...(time ? { nights: nightRows(data) } : {}), limits, lines: rows },
      height: height + 28 + (time ? 0 : 18),
      names: [
        ...mine.map(
          ({ style, name }): NamedLine => ({
            name: units.length > 1 ? `${name}, ${unit}` : name,
            style,
            kind: 'line',
          }),
        ),
        ...limitNames(limits),
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
  const rows: object[] = [];
  for (let from = 0; from < count; from += size) {
    const to = Math.min(count, from + size);
    const middle = Math.min(count - 1, Math.floor((from + to) / 2));
    const least = (values: readonly number[]): number => Math.min(...values.slice(from, to));
    const most = (values: readonly number[]): number => Math.max(...values.slice(from, to));
    rows.push({
      x: (data.axis.values[middle] ?? 0) * (time ? 1000 : 1),
      low: least(bands.low),
      quarter: bands.quarter[middle],
      middle: bands.middle[middle],
      threeQuarter: bands.threeQuarter[middle],
      high: most(bands.high),
    });
  }
  const x = time
    ? timeX(data, setting.width)
    : {
        field: 'x',
        type: 'quantitative',
        axis: { title: data.axis.name },
        scale: { zero: false, nice: false },
      };
  const inside = [...bands.low, ...bands.high].every((v) => v >= -0.01 && v <= 100.01);
  const y = yOf(bands.unit, bands.unit === '%' && inside, 'low');
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
    limitLayer(y),
  ];
  return [
    {
      spec: frame(setting.width, 150, layers),
      data: { bands: rows, ...(time ? { nights: nightRows(data) } : {}), limits: data.limits },
      height: 180,
      names: [
        { name: '9 in 10 trials', style: 0, kind: 'band' },
        { name: 'half of them', style: 0, kind: 'half' },
        { name: 'the middle one', style: 0, kind: 'middle' },
        ...limitNames(data.limits),
      ],
    },
  ];
}
