// What every chart is made of: panels, one a unit, each a Vega-Lite specification without data and
// the rows that go into it; axes, limits, and how series are told apart.

import type { ChartData, ChartLimit, ChartSeries } from '../../engine/index.ts';
import { type ChartColours, DASHES } from './chart-theme.ts';
import { dayName, moment } from './chart-words.ts';

export type Rows = readonly object[];
export interface Panel {
  readonly spec: object;
  readonly data: Readonly<Record<string, Rows>>;
  readonly height: number;
  /** What stands beside this panel. */
  readonly names: readonly NamedLine[];
}
export interface NamedLine {
  readonly name: string;
  readonly style: number;
  readonly kind:
    | 'line'
    | 'middle'
    | 'fill'
    | 'outline'
    | 'ring'
    | 'mark'
    | 'cross'
    | 'square'
    | 'band'
    | 'half'
    | 'tile'
    | 'limit'
    | 'rails';
}

export const LIMIT = 320;
export const DAY = 86_400_000;
const EDGE = 8;

export interface Setting {
  readonly width: number;
  /** What the labels beside the paper take, px; the same for every panel of a chart. */
  readonly gutter: number;
  readonly colours: ChartColours;
  /** What each column is called; the strips in view. */
  readonly columnNames: readonly string[];
  readonly columns: readonly number[];
}

function hourAxis(from: number, to: number, every: number): object {
  const step = every * 3_600_000;
  const values: number[] = [];
  for (let hour = Math.ceil(from / step) * step; hour <= to; hour += step) values.push(hour);
  const labelExpr = "utcFormat(datum.value, '%H:%M')";
  return {
    field: 'x',
    type: 'quantitative',
    scale: { domain: [from, to], nice: false, zero: false },
    axis: { values, labelExpr, tickCount: values.length + 1, title: null },
  };
}

export function timeX(data: ChartData, setting: Setting): object {
  const values = data.axis.values;
  const from = ((values[0] ?? 0) - data.step / 2) * 1000;
  const to = ((values.at(-1) ?? 0) + data.step / 2) * 1000;
  const noons: number[] = [];
  for (let noon = Math.floor(from / DAY) * DAY + DAY / 2; noon < to; noon += DAY) {
    if (noon >= from) noons.push(noon);
  }
  const hours = (to - from) / 3_600_000;
  if (hours <= 48 && hours > 0) return hourAxis(from, to, hours <= 6 ? 1 : hours <= 30 ? 4 : 6);
  const room = (paperWidth(setting) * 24) / Math.max(1, hours);
  const every = Math.max(1, Math.ceil(34 / room));
  const axis =
    noons.length > 0
      ? {
          values: noons.filter((_, index) => index % every === 0),
          labelExpr: `utcFormat(datum.value, '${room * every > 58 ? '%a %-d' : '%a'}')`,
          labelOverlap: false,
          labelFlush: false,
          tickCount: noons.length + 1,
          title: null,
        }
      : { labelExpr: "utcFormat(datum.value, '%H:%M')", tickCount: 8, title: null };
  return {
    field: 'x',
    type: 'quantitative',
    scale: { domain: [from, to], nice: false, zero: false },
    axis,
  };
}

export function unitLabels(unit: string, { gutter }: Setting): object {
  const safe = unit.replaceAll('\\', '').replaceAll("'", '’');
  return {
    title: null,
    tickCount: 4,
    minExtent: gutter,
    maxExtent: gutter,
    labelExpr: `datum.index === 1 ? datum.label + ' ${safe}' : datum.label`,
  };
}

export function isShare(series: readonly ChartSeries[]): boolean {
  const share = series.every(({ unit }) => unit === '%');
  const all = series.flatMap(({ values }) => values);
  // A share that stays small, such as a drop of some per cent, gets a scale of its own.
  return share && all.every((v) => !(v < -0.01 || v > 100.01)) && all.some((v) => v > 50);
}

export function yOf(unit: string, share: boolean, setting: Setting, field = 'y'): object {
  return {
    field,
    type: 'quantitative',
    scale: share ? { domain: [0, 100], nice: false } : { zero: true, nice: true },
    axis: share
      ? { ...unitLabels(unit, setting), values: [0, 50, 100] }
      : unitLabels(unit, setting),
  };
}

export const STYLES = [0, 1, 2, 3, 4];

export function lineStyles(colours: ChartColours): object {
  return {
    color: {
      field: 'style',
      type: 'nominal',
      scale: { domain: STYLES, range: colours.series },
      legend: null,
    },
    strokeDash: {
      field: 'style',
      type: 'nominal',
      scale: { domain: STYLES, range: DASHES },
      legend: null,
    },
    detail: { field: 'id', type: 'nominal' },
  };
}

export function nightLayer(x: object, colours: ChartColours): object {
  return {
    data: { name: 'nights' },
    mark: { type: 'rect', fill: colours.night, clip: true },
    encoding: { x: { ...x, field: 'from' }, x2: { field: 'to' } },
  };
}

/** How far the two rails of a limit lie from its value, px. */
const RAIL = 1.5;

/**
 * A limit across the paper, or up it: a line in a colour of its own; in a light of one colour two thin
 * ones side by side, which no series is.
 */
export function limitLayers(
  along: 'x' | 'y',
  scale: object,
  { oneColour }: ChartColours,
): readonly object[] {
  // Only a scale whose ends are set may leave a limit out; on others one at the very end is whole.
  const clip = 'scale' in scale && Object(scale.scale).domain !== undefined;
  const line = (look: object): object => ({
    data: { name: 'limits' },
    mark: { type: 'rule', clip, ...look },
    encoding: { [along]: { ...scale, field: 'value' } },
  });
  if (!oneColour) return [line({})];
  return [-RAIL, RAIL].map((offset) => line({ [`${along}Offset`]: offset, strokeWidth: 1 }));
}

export function nightRows(data: ChartData): Rows {
  return data.nights.map(([from, to]) => ({ from: from * 1000, to: to * 1000 }));
}

/**
 * Where each value of a timeline stands. Its axis gives the middle of every step: a rate stands there,
 * a state at the end of the step.
 */
export function timesOf(data: ChartData, series: ChartSeries): readonly number[] {
  const shift = series.flow === 'state' ? data.step / 2 : 0;
  return data.axis.values.map((value) => (value + shift) * 1000);
}

export function unitsOf(series: readonly ChartSeries[]): readonly string[] {
  return [...new Set(series.map(({ unit }) => unit))];
}

/** What is left of a chart's width for its paper, px; its right edge keeps a little free. */
export function paperWidth({ width, gutter }: Setting): number {
  return Math.max(80, width - gutter - EDGE);
}

export function frame(setting: Setting, height: number, layer: readonly object[]): object {
  return {
    width: paperWidth(setting),
    height,
    autosize: { type: 'pad', contains: 'content' },
    layer,
  };
}

/** The columns drawn: the plan, and the scenarios in view for the first series alone. */
export function drawnSeries(data: ChartData, setting: Setting): readonly ChartSeries[] {
  const first = data.series[0]?.key;
  const main = setting.columns.length === 1 ? (setting.columns[0] ?? 0) : 0;
  return data.series.filter(
    ({ column, key }) => column === main || (key === first && setting.columns.includes(column)),
  );
}

export interface Styled {
  readonly series: ChartSeries;
  readonly style: number;
  readonly name: string;
}

export function styled(data: ChartData, setting: Setting): readonly Styled[] {
  const drawn = drawnSeries(data, setting);
  const several = new Set(drawn.map(({ key }) => key)).size > 1;
  const counts = new Map<string, number>();
  return drawn.map((series) => {
    const style = counts.get(series.unit) ?? 0;
    counts.set(series.unit, style + 1);
    const column = setting.columnNames[series.column] ?? '';
    const name = series.column === 0 ? (several ? series.name : column) : column;
    return { series, style: Math.min(style, 4), name };
  });
}

/** What stands under each place of an axis that is not a scale. */
export function labelsOf(data: ChartData): readonly string[] {
  const { kind, values, labels } = data.axis;
  if (kind === 'days') return values.map((value) => dayName(value));
  // Stretches of the day have no words yet: without a name of its own each is known by its number.
  if (labels.length > 0) return labels.map((label, index) => label || String(index + 1));
  return values.map((value) => (kind === 'time' ? moment(value) : String(value)));
}

export function limitNames(
  limits: readonly ChartLimit[],
  { oneColour }: ChartColours,
): readonly NamedLine[] {
  const kind = oneColour ? 'rails' : 'limit';
  return limits.map(({ name, text }) => ({ name: text || name, style: 0, kind }));
}
