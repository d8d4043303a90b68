// What a chart says at each of its places, as rows: one source for the table beside the picture, the
// words under the hand and the file of values. A rate is said of the interval it holds through, a
// state of the instant at which it holds.

import type { ChartData, ChartSeries } from '../../engine/index.ts';
import { axisLabel, civilText, clock, figure, moment } from './chart-words.ts';

export interface ReadingHead {
  readonly name: string;
  readonly unit: string;
  readonly numeric: boolean;
}
export type Entry = string | number;
/** A moment, as one writes it and as a file of values does. */
export interface ReadingRow {
  readonly entries: readonly Entry[];
  /** The same entries for a file, where they differ. */
  readonly plain: readonly Entry[];
}
export interface ChartReading {
  readonly heads: readonly ReadingHead[];
  /** How many rows there are. */
  readonly count: number;
  /** Made when first asked for: a chart that is redrawn while a hand moves needs one row's words. */
  readonly rows: readonly ReadingRow[];
  /** What row `index` says, as one line. */
  readonly words: (index: number) => string;
}

interface Named {
  readonly name: string;
  readonly unit: string;
  readonly values: readonly number[];
  readonly flow: ChartSeries['flow'];
}

/** The plan's series, and the scenarios' in view for the first of them. */
function seriesInView(
  data: ChartData,
  columnNames: readonly string[],
  columns: readonly number[],
): readonly Named[] {
  const flow = data.series[0]?.flow ?? 'other';
  if (data.bands) {
    const { unit, low, quarter, middle, threeQuarter, high } = data.bands;
    const named = { 'lowest of 9 in 10': low, 'lowest of half': quarter, 'middle one': middle };
    const upper = { 'highest of half': threeQuarter, 'highest of 9 in 10': high };
    return Object.entries({ ...named, ...upper }).map(([name, values]) => ({
      name,
      unit,
      values,
      flow,
    }));
  }
  const first = data.series[0]?.key;
  return data.series
    .filter(({ column, key }) => column === 0 || (key === first && columns.includes(column)))
    .map((series) => ({
      ...series,
      name: series.column > 0 ? `${series.name}, ${columnNames[series.column] ?? ''}` : series.name,
    }));
}

function row(entries: readonly Entry[], plain: readonly Entry[] = entries): ReadingRow {
  return { entries, plain };
}

function head(name: string, unit = '', numeric = true): ReadingHead {
  return { name, unit, numeric };
}

function amount(value: number | undefined, unit: string): string {
  return `${figure(value)} ${unit}`.trim();
}

/** The first instant and the last of a step, civil seconds. */
export function stepAt(data: ChartData, index: number): readonly [number, number] {
  const middle = data.axis.values[index] ?? 0;
  return [middle - data.step / 2, middle + data.step / 2];
}

/** `Wed 19 May 12:00–12:15` */
function intervalWords(from: number, to: number): string {
  if (from === to) return moment(from);
  const sameDay = Math.floor(from / 86_400) === Math.floor(to / 86_400);
  return `${moment(from)}–${sameDay ? clock(to) : moment(to)}`;
}

/** Whether everything drawn is a state, so that instants and not intervals are read. */
export function statesOnly(data: ChartData): boolean {
  return data.series.length > 0 && data.series.every(({ flow }) => flow === 'state');
}

function timeReading(data: ChartData, series: readonly Named[]): ChartReading {
  const states = statesOnly(data);
  const value = (one: Named, index: number): number => one.values[index] ?? Number.NaN;
  const heads = [
    ...(states ? [head('at', '', false)] : [head('from', '', false), head('to', '', false)]),
    ...series.map(({ name, unit, flow }) =>
      head(flow === 'state' && !states ? `${name} at the end` : name, unit),
    ),
  ];
  const rowAt = (_: number, index: number): ReadingRow => {
    const [from, to] = stepAt(data, index);
    const places = states ? [to] : [from, to];
    const values = series.map((one) => value(one, index));
    return row([...places.map(moment), ...values], [...places.map(civilText), ...values]);
  };
  let made: readonly ReadingRow[] | undefined;
  const words = (index: number): string => {
    const [from, to] = stepAt(data, index);
    const said = series.map((one) => {
      const at = one.flow === 'state' && !states ? ` at ${clock(to)}` : '';
      return `${one.name} ${amount(value(one, index), one.unit)}${at}`;
    });
    return [states ? moment(to) : intervalWords(from, to), ...said].join(' · ');
  };
  return {
    heads,
    count: data.axis.values.length,
    get rows(): readonly ReadingRow[] {
      made ??= data.axis.values.map(rowAt);
      return made;
    },
    words,
  };
}

/** Rows read across: the first entry names the place. */
function plainReading(heads: readonly ReadingHead[], rows: readonly ReadingRow[]): ChartReading {
  const words = (index: number): string => {
    const entries = rows[index]?.entries ?? [];
    return entries
      .map((entry, c) => {
        const { name = '', unit = '', numeric = false } = heads[c] ?? {};
        const said = typeof entry === 'number' ? amount(entry, unit) : entry;
        return numeric || c > 0 ? `${name} ${said}` : said;
      })
      .join(' · ');
  };
  return { heads, count: rows.length, rows, words };
}

/** Shares of the trials at which a spread is read, %. */
const SHARES = [5, 10, 25, 50, 75, 90, 95];

/** The value below which this share of a rising sample lies, by straight lines between its members. */
export function shareOf(sorted: readonly number[], share: number): number {
  const at = (share / 100) * (sorted.length - 1);
  const below = Math.floor(at);
  const [low, high] = [sorted[below] ?? Number.NaN, sorted[below + 1]];
  return high === undefined ? low : low + (high - low) * (at - below);
}

function spreadReading(data: ChartData, spread: readonly number[]): ChartReading {
  const heads = [
    head('share of the trials', '%'),
    head(`${data.axis.name} at most`, data.axis.unit),
  ];
  return plainReading(
    heads,
    SHARES.map((share) => row([share, shareOf(spread, share)])),
  );
}

const DEGREE = Math.PI / 180;

/** Degrees as an outline is sighted: to a tenth. */
function degrees(angle: number): number {
  return Math.round((angle / DEGREE) * 10) / 10;
}

export function chartReading(
  data: ChartData,
  columnNames: readonly string[],
  columns: readonly number[],
): ChartReading {
  const { axis, second, influence, sky } = data;
  if (influence) {
    const unit = influence[0]?.unit ?? '';
    const result = axis.name;
    return plainReading(
      [
        head('given', '', false),
        head('its low', '', false),
        head(`${result} at its low`, unit),
        head('its high', '', false),
        head(`${result} at its high`, unit),
      ],
      influence.map((one) => row([one.name, one.lowText, one.low, one.highText, one.high])),
    );
  }
  if (sky)
    return plainReading(
      [head('azimuth', '°'), head('height', '°'), head('light through', '%')],
      sky.azimuth.map((azimuth, index) =>
        row([
          degrees(azimuth),
          degrees(sky.height[index] ?? 0),
          Math.round((sky.through[index] ?? 0) * 1000) / 10,
        ]),
      ),
    );
  if (data.spread) return spreadReading(data, data.spread);
  const series = seriesInView(data, columnNames, columns);
  if (axis.kind === 'time') return timeReading(data, series);
  if (second) {
    const [one] = series;
    const rows = axis.values.flatMap((x, i) =>
      second.values.map((y, j) =>
        row([x, y, one?.values[i * second.values.length + j] ?? Number.NaN]),
      ),
    );
    const heads = [head(axis.name, axis.unit), head(second.name, second.unit)];
    return plainReading([...heads, head(one?.name ?? '', one?.unit ?? '')], rows);
  }
  const count = Math.max(axis.values.length, axis.labels.length);
  const numeric = axis.kind === 'number';
  const heads = [
    head(axis.name, axis.unit, numeric),
    ...series.map(({ name, unit }) => head(name, unit)),
  ];
  const rows = Array.from({ length: count }, (_, index) => {
    const values = series.map((one) => one.values[index] ?? Number.NaN);
    const label = numeric ? (axis.values[index] ?? Number.NaN) : axisLabel(axis, index);
    const plain = axis.kind === 'days' ? civilText(axis.values[index] ?? 0).slice(0, 10) : label;
    return row([label, ...values], [plain, ...values]);
  });
  return plainReading(heads, rows);
}
