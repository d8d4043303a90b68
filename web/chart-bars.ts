// Charts along days, rows or names: bars, stacks and dots.

import type { ChartData } from '../engine/index.ts';
import {
  frame,
  labelsOf,
  limitLayer,
  limitNames,
  type NamedLine,
  type Panel,
  type Setting,
  STYLES,
  styled,
  unitsOf,
  yOf,
} from './chart-panel.ts';

/** How long a label may be, px, so that it keeps to its own place. */
function labelRoom(count: number, setting: Setting): number {
  return Math.max(28, (setting.width - 60) / Math.max(1, count) - 6);
}

export function barPanels(data: ChartData, setting: Setting, stacked: boolean): readonly Panel[] {
  const plan = data.series.filter(({ column }) => column === 0);
  const first = plan[0]?.key;
  const others = data.series.filter(
    ({ column, key }) => column > 0 && key === first && setting.columns.includes(column),
  );
  const labels = labelsOf(data);
  const count = labels.length || (plan[0]?.values.length ?? 0);
  const c = setting.colours;
  const fills = [
    c.sun,
    'transparent',
    c.series[2] ?? c.ink,
    c.series[3] ?? c.ink,
    c.series[4] ?? c.ink,
  ];
  const strokes = [c.sunInk, c.ink, ...fills.slice(2)];
  return unitsOf(plan).map((unit): Panel => {
    const mine = plan.filter((series) => series.unit === unit);
    const rows = mine.flatMap((series) =>
      Array.from({ length: count }, (_, index) => ({
        x: labels[index] ?? String(index + 1),
        y: Number.isFinite(series.values[index]) ? series.values[index] : null,
        id: Math.min(4, plan.indexOf(series)),
      })),
    );
    const marks = others
      .filter((series) => series.unit === unit)
      .flatMap((series, style) =>
        series.values.map((value, index) => ({
          x: labels[index] ?? String(index + 1),
          y: Number.isFinite(value) ? value : null,
          style: style + 1,
          id: 0,
        })),
      );
    const x = {
      field: 'x',
      type: 'nominal',
      sort: null,
      scale: { paddingInner: 0.25, paddingOuter: 0.12 },
      axis: {
        title: null,
        labelAngle: 0,
        labelOverlap: false,
        labelLimit: labelRoom(count, setting),
      },
    };
    const y = { ...yOf(unit, false), stack: stacked ? 'zero' : null };
    const layers = [
      limitLayer(y),
      {
        data: { name: 'bars' },
        mark: { type: 'bar', strokeWidth: 1.4 },
        encoding: {
          x,
          y,
          ...(stacked ? {} : { xOffset: { field: 'id', type: 'nominal' } }),
          fill: {
            field: 'id',
            type: 'nominal',
            scale: { domain: STYLES, range: fills },
            legend: null,
          },
          stroke: {
            field: 'id',
            type: 'nominal',
            scale: { domain: STYLES, range: strokes },
            legend: null,
          },
        },
      },
      {
        data: { name: 'marks' },
        mark: { type: 'point', size: 60, filled: true, opacity: 1 },
        encoding: {
          x,
          ...(stacked ? {} : { xOffset: { field: 'id', type: 'nominal' } }),
          y: { ...yOf(unit, false) },
          color: {
            field: 'style',
            type: 'nominal',
            scale: { domain: STYLES, range: c.series },
            legend: null,
          },
          shape: {
            field: 'style',
            type: 'nominal',
            scale: {
              domain: STYLES,
              range: ['circle', 'square', 'triangle-up', 'diamond', 'cross'],
            },
            legend: null,
          },
        },
      },
    ];
    return {
      spec: frame(setting.width, 106, layers),
      data: { bars: rows, marks, limits: data.limits.filter((limit) => limit.unit === unit) },
      height: 136,
      names: [
        ...mine.map(
          (series): NamedLine => ({
            name: series.name,
            style: plan.indexOf(series),
            kind: plan.indexOf(series) === 1 ? 'outline' : 'fill',
          }),
        ),
        ...others
          .filter((series) => series.unit === unit)
          .map(
            (series, index): NamedLine => ({
              name: setting.columnNames[series.column] ?? '',
              style: index + 1,
              kind: 'square',
            }),
          ),
        ...limitNames(data.limits.filter((limit) => limit.unit === unit)),
      ],
    };
  });
}

export function dotPanel(data: ChartData, setting: Setting): readonly Panel[] {
  const all = styled(data, setting);
  const labels = labelsOf(data);
  return unitsOf(all.map(({ series }) => series)).map((unit): Panel => {
    const rows = all
      .filter(({ series }) => series.unit === unit)
      .flatMap(({ series, style }) =>
        series.values.map((value, index) => ({
          x: labels[index] ?? String(index + 1),
          y: Number.isFinite(value) ? value : null,
          style,
        })),
      );
    const y = yOf(unit, false);
    const layers = [
      limitLayer(y),
      {
        data: { name: 'dots' },
        mark: { type: 'point', filled: true, size: 55, opacity: 1 },
        encoding: {
          x: {
            field: 'x',
            type: 'nominal',
            sort: null,
            axis: { title: null, labelAngle: 0, labelOverlap: 'greedy' },
          },
          y,
          color: {
            field: 'style',
            type: 'nominal',
            scale: { domain: STYLES, range: setting.colours.series },
            legend: null,
          },
          shape: {
            field: 'style',
            type: 'nominal',
            scale: {
              domain: STYLES,
              range: ['circle', 'square', 'triangle-up', 'diamond', 'cross'],
            },
            legend: null,
          },
        },
      },
    ];
    return {
      spec: frame(setting.width, 110, layers),
      data: { dots: rows, limits: data.limits.filter((limit) => limit.unit === unit) },
      height: 140,
      names: all
        .filter(({ series }) => series.unit === unit)
        .map(({ name, style }) => ({ name, style, kind: 'mark' })),
    };
  });
}
