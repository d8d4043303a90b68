// Charts along days, rows or names: bars, stacks and dots.

import type { ChartData, ChartSeries } from '../../engine/index.ts';
import {
  frame,
  labelsOf,
  limitLayers,
  limitNames,
  type NamedLine,
  type Panel,
  paperWidth,
  type Setting,
  STYLES,
  styled,
  unitsOf,
  yOf,
} from './chart-panel.ts';
import { fittedLabels } from './fitted-labels.ts';

/** How long a label may be, px, so that it keeps to its own place. */
function labelRoom(count: number, setting: Setting): number {
  return paperWidth(setting) / Math.max(1, count) - 4;
}

/** An axis of names, broken or turned so that they are whole. */
function nameAxis(angle: number): object {
  return {
    title: null,
    labelAngle: angle,
    labelOverlap: false,
    labelLimit: 0,
    ...(angle === 0 ? {} : { labelAlign: 'right', labelBaseline: 'middle' }),
  };
}

/** A bar as stripes across its width: each from a share of the width to another in a colour. */
export function striped(colour: string, paper: string, edges: readonly number[]): object {
  const stops: object[] = [];
  let on = false;
  let from = 0;
  for (const to of [...edges, 1]) {
    const color = on ? colour : paper;
    stops.push({ offset: from, color }, { offset: to, color });
    on = !on;
    from = to;
  }
  return { gradient: 'linear', x1: 0, y1: 0, x2: 1, y2: 0, stops };
}

/** Where the stripes of the third bar and those after it begin and end; as in chart-sample.ts. */
export const STRIPES: readonly (readonly number[])[] = [
  [0.2, 0.4, 0.6, 0.8],
  [0, 0.5],
  [0.3, 0.7],
];

/** What fills each series' bars: told apart by their pattern, so that colour is not needed. */
function fillsOf({ colours: c }: Setting): readonly (string | object)[] {
  return [
    c.sun,
    c.strip,
    ...STRIPES.map((edges, index) => striped(c.series[index + 2] ?? c.ink, c.strip, edges)),
  ];
}

/** One value for each style, chosen by the bar's number. */
function byStyle(values: readonly (string | object)[]): object {
  const condition = values
    .slice(1)
    .map((value, index) => ({ test: `datum.id === ${index + 1}`, value }));
  return { condition, value: values[0] };
}

export function barPanels(data: ChartData, setting: Setting, stacked: boolean): readonly Panel[] {
  const first = data.series.find(({ column }) => column === 0)?.key;
  const inView = data.series.filter(({ column }) => column > 0 && setting.columns.includes(column));
  const main = data.series.filter(({ column }) => column === 0);
  // One thing alone stands side by side in the plan and in the scenarios; of several, the first has marks.
  const beside = main.length === 1 && !stacked;
  const plan = beside ? [...main, ...inView].slice(0, STYLES.length) : main;
  const others = beside ? [] : inView.filter(({ key }) => key === first);
  const names = labelsOf(data);
  const count = names.length || (plan[0]?.values.length ?? 0);
  const { shown: labels, angle, extra } = fittedLabels(names, labelRoom(count, setting));
  const c = setting.colours;
  const fills = fillsOf(setting);
  const strokes = [c.sunInk, c.ink, ...c.series.slice(2)];
  const nameOf = (series: ChartSeries): string =>
    beside && plan.length > 1 ? (setting.columnNames[series.column] ?? '') : series.name;
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
      axis: nameAxis(angle),
    };
    const ids = [...new Set(rows.map(({ id }) => id))];
    const places = { field: 'id', type: 'nominal', scale: { domain: ids } };
    const y = { ...yOf(unit, false, setting), stack: stacked ? 'zero' : null };
    const layers = [
      ...limitLayers('y', y, setting.colours),
      {
        data: { name: 'bars' },
        mark: { type: 'bar', strokeWidth: 1.4 },
        encoding: {
          x,
          y,
          ...(stacked ? {} : { xOffset: places }),
          fill: byStyle(fills),
          stroke: byStyle(strokes),
        },
      },
      {
        data: { name: 'marks' },
        mark: { type: 'point', size: 60, filled: true, opacity: 1 },
        encoding: {
          x,
          ...(stacked ? {} : { xOffset: places }),
          y: { ...yOf(unit, false, setting) },
          ...pointStyle(c.series),
        },
      },
    ];
    return {
      spec: frame(setting, 106, layers),
      data: { bars: rows, marks, limits: data.limits.filter((limit) => limit.unit === unit) },
      height: 136 + extra,
      names: [
        ...mine.map(
          (series): NamedLine => ({
            name: nameOf(series),
            style: Math.min(4, plan.indexOf(series)),
            kind: plan.indexOf(series) === 1 ? 'outline' : 'fill',
          }),
        ),
        ...others
          .filter((series) => series.unit === unit)
          .map(
            (series, index): NamedLine => ({
              name: setting.columnNames[series.column] ?? '',
              style: index + 1,
              kind: 'mark',
            }),
          ),
        ...limitNames(
          data.limits.filter((limit) => limit.unit === unit),
          setting.colours,
        ),
      ],
    };
  });
}

/** A point is told apart by its colour and its shape, each series its own. */
function pointStyle(colours: readonly string[]): object {
  const style = (range: readonly string[]): object => ({
    field: 'style',
    type: 'nominal',
    scale: { domain: STYLES, range },
    legend: null,
  });
  return {
    color: style(colours),
    shape: style(['circle', 'square', 'triangle-up', 'diamond', 'cross']),
  };
}

export function dotPanel(data: ChartData, setting: Setting): readonly Panel[] {
  const all = styled(data, setting);
  const names = labelsOf(data);
  const { shown: labels, angle, extra } = fittedLabels(names, labelRoom(names.length, setting));
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
    const y = yOf(unit, false, setting);
    const layers = [
      ...limitLayers('y', y, setting.colours),
      {
        data: { name: 'dots' },
        mark: { type: 'point', filled: true, size: 55, opacity: 1 },
        encoding: {
          x: {
            field: 'x',
            type: 'nominal',
            sort: null,
            axis: nameAxis(angle),
          },
          y,
          ...pointStyle(setting.colours.series),
        },
      },
    ];
    return {
      spec: frame(setting, 110, layers),
      data: { dots: rows, limits: data.limits.filter((limit) => limit.unit === unit) },
      height: 140 + extra,
      names: all
        .filter(({ series }) => series.unit === unit)
        .map(({ name, style }) => ({ name, style, kind: 'mark' })),
    };
  });
}

/** So many dots are drawn of one series; of more, some evenly. */
const MOST_DOTS = 1000;

/** One item against another: a dot a place. */
export function scatterPanels(data: ChartData, setting: Setting): readonly Panel[] {
  const all = styled(data, setting);
  const { axis } = data;
  const every = Math.max(1, Math.ceil(axis.values.length / MOST_DOTS));
  return unitsOf(all.map(({ series }) => series)).map((unit): Panel => {
    const mine = all.filter(({ series }) => series.unit === unit);
    const rows = mine.flatMap(({ series, style }) =>
      series.values.flatMap((value, index) =>
        index % every === 0 && Number.isFinite(value)
          ? [{ x: axis.values[index] ?? 0, y: value, style }]
          : [],
      ),
    );
    const y = yOf(unit, false, setting);
    const x = {
      field: 'x',
      type: 'quantitative',
      scale: { zero: false, nice: true },
      axis: { title: [axis.name, axis.unit].filter(Boolean).join(', '), grid: false },
    };
    const dots = {
      data: { name: 'dots' },
      mark: { type: 'point', filled: true, size: 36, opacity: 0.8 },
      encoding: { x, y, ...pointStyle(setting.colours.series) },
    };
    return {
      spec: frame(setting, 140, [...limitLayers('y', y, setting.colours), dots]),
      data: { dots: rows, limits: data.limits.filter((limit) => limit.unit === unit) },
      height: 186,
      names: mine.map(({ name, style }) => ({ name, style, kind: 'mark' })),
    };
  });
}
