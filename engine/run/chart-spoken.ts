// What is said of a chart instead of its picture: its kind and range, the lowest and highest value
// with where they stand, and where a check begins and ceases to hold.

import { formatMoment, formatNumber } from '../dimension/quantity.ts';
import type { ChartAxis, ChartCrossing, ChartData, ChartLimit, ChartSeries } from './snapshot.ts';

/** What each kind of chart is called when it is spoken of. */
const KIND_WORDS: Readonly<Record<ChartData['kind'], string>> = {
  line: 'Line chart',
  bars: 'Bars',
  stack: 'Stacked bars',
  list: 'List',
  dots: 'Dots',
  map: 'Map',
  bands: 'Bands over the trials',
  spread: 'Spread over the trials',
  influence: 'Influence',
  sky: 'Sky',
};

/** Three figures: what a picture would let one read. */
function shown(value: number): string {
  return formatNumber(Number(value.toPrecision(3)));
}

/** `20 %`, with three figures. */
export function withUnit(value: number, unit: string): string {
  return unit === '' ? shown(value) : `${shown(value)}\u00a0${unit}`;
}

/** Whether a value keeps to a limit. */
export function keepsTo(value: number, limit: ChartLimit): boolean {
  switch (limit.relation) {
    case '≥':
      return value >= limit.value;
    case '>':
      return value > limit.value;
    case '≤':
      return value <= limit.value;
    case '<':
      return value < limit.value;
    default:
      return false;
  }
}

/** The axis's name of a place: a moment, a label, or an amount. */
function placeName(data: ChartData, series: ChartSeries, index: number): string {
  const { kind, labels, values, unit } = data.axis;
  const value = values[index] ?? 0;
  if (kind === 'time') return formatMoment(instantOf(data, series, index));
  return labels[index] || withUnit(value, unit);
}

/** When a value of a timeline holds: a state at the end of its step, a rate from its start on. */
function instantOf(data: ChartData, series: ChartSeries, index: number): number {
  const half = data.step / 2;
  return (data.axis.values[index] ?? 0) + (series.flow === 'state' ? half : -half);
}

/** Where a line between two places meets the limit. */
function between(axis: ChartAxis, series: ChartSeries, index: number, limit: number): number {
  const [a, b] = [series.values[index - 1] ?? limit, series.values[index] ?? limit];
  const [from, to] = [axis.values[index - 1] ?? 0, axis.values[index] ?? 0];
  return a === b ? to : from + ((to - from) * (limit - a)) / (b - a);
}

function crossingWords(begin: string, end: string): string {
  if (begin !== '' && end !== '') return `holds from about ${begin} to about ${end}`;
  if (begin !== '') return `holds from about ${begin}`;
  return `holds up to about ${end}`;
}

/**
 * Where the plan's series of a sweep begin and cease to keep to their limits. A place between two
 * steps of the sweep is on the straight line between them, hence "about".
 */
export function crossingsOf(data: ChartData): readonly ChartCrossing[] {
  const { axis } = data;
  if (axis.kind !== 'number' || data.second) return [];
  return data.limits.flatMap((limit) => {
    if (limit.relation === '=' || limit.relation === '≠') return [];
    const series = data.series.find(({ column, key }) => column === 0 && key === limit.key);
    if (!series || series.values.some((value) => !Number.isFinite(value))) return [];
    const kept = series.values.map((value) => keepsTo(value, limit));
    const found: ChartCrossing[] = [];
    let begin: number | undefined;
    const add = (at: number | undefined, to: number | undefined): void => {
      const [from, until] = [at, to].map((x) => (x === undefined ? '' : withUnit(x, axis.unit)));
      const places = [at, to].filter((x) => x !== undefined);
      if (places.length === 0) return;
      const words = crossingWords(from ?? '', until ?? '');
      found.push({ key: limit.key, limit: limit.value, places, words });
    };
    for (let index = 1; index < kept.length; index++) {
      if (kept[index] === kept[index - 1]) continue;
      const at = between(axis, series, index, limit.value);
      if (kept[index] === true) begin = at;
      else {
        add(begin, at);
        begin = undefined;
      }
    }
    if (begin !== undefined) add(begin, undefined);
    return found;
  });
}

/** The lowest and the highest of a series, with where they stand. */
function rangeWords(data: ChartData, series: ChartSeries): string {
  let [low, high] = [-1, -1];
  series.values.forEach((value, index) => {
    if (!Number.isFinite(value)) return;
    if (low < 0 || value < (series.values[low] ?? 0)) low = index;
    if (high < 0 || value > (series.values[high] ?? 0)) high = index;
  });
  if (low < 0) return `${series.name} has no value`;
  const at = (index: number): string => {
    const value = withUnit(series.values[index] ?? 0, series.unit);
    const { second } = data;
    if (!second) return `${value} at ${placeName(data, series, index)}`;
    const [across, up] = [Math.floor(index / second.values.length), index % second.values.length];
    const place = (axis: ChartAxis, at: number): string =>
      `${axis.name} ${axis.labels[at] || withUnit(axis.values[at] ?? 0, axis.unit)}`;
    return `${value} at ${place(data.axis, across)} and ${place(second, up)}`;
  };
  if (series.values[low] === series.values[high])
    return `${series.name} is ${withUnit(series.values[low] ?? 0, series.unit)} throughout`;
  return `${series.name}: lowest ${at(low)}, highest ${at(high)}`;
}

/** Where a series along a timeline or along days first breaks its limit, and for how many places. */
function breachWords(data: ChartData, limit: ChartLimit): string {
  const series = data.series.find(({ column, key }) => column === 0 && key === limit.key);
  if (!series || limit.relation === '=' || limit.relation === '≠') return '';
  if (data.second) {
    const known = series.values.filter(Number.isFinite);
    return `: kept at ${known.filter((value) => keepsTo(value, limit)).length} of ${known.length} places`;
  }
  if (data.axis.kind === 'number') return '';
  const broken = series.values.flatMap((value, index) =>
    Number.isFinite(value) && !keepsTo(value, limit) ? [index] : [],
  );
  const [first] = broken;
  if (first === undefined) return ', kept throughout';
  return `, first broken at ${placeName(data, series, first)}`;
}

/** What a screen reader says of a chart with series. */
export function spokenOf(data: ChartData, crossings: readonly ChartCrossing[]): string {
  const plan = data.series.filter((series) => series.column === 0);
  const { axis } = data;
  const length = Math.max(axis.values.length, axis.labels.length);
  const ends = plan[0]
    ? data.axis.kind === 'time'
      ? [
          formatMoment((axis.values[0] ?? 0) - data.step / 2),
          formatMoment((axis.values.at(-1) ?? 0) + data.step / 2),
        ]
      : [placeName(data, plan[0], 0), placeName(data, plan[0], length - 1)]
    : [];
  const over = axis.name === '' ? '' : ` over ${axis.name}`;
  const and = data.second ? ` and ${data.second.name}` : '';
  const range = ends.length === 2 && length > 1 ? `, ${ends.join(' to ')}` : '';
  const limits = data.limits.map((limit) => `${limit.text}${breachWords(data, limit)}`);
  const said = [
    `${KIND_WORDS[data.kind]}${over}${and}${range}`,
    ...plan.map((series) => rangeWords(data, series)),
    ...limits,
    ...crossings.map(({ words }) => words),
  ];
  return `${said.join('. ')}.`;
}
