// What is said of charts drawn from the trials and of maps, instead of their pictures: how wide they
// spread and where, how many keep to a limit, and which way each given moves the result.

import { formatMoment } from '../dimension/quantity.ts';
import { keepsTo, withUnit } from './chart-spoken.ts';
import type { ChartData, ShownInfluence } from './snapshot.ts';

/** The place at which a series is lowest; −1 when it has no value. */
function lowestAt(values: readonly number[]): number {
  let low = -1;
  values.forEach((value, index) => {
    if (Number.isFinite(value) && (low < 0 || value < (values[low] ?? 0))) low = index;
  });
  return low;
}

/** When a band's value stands: a state at the end of its step. */
function whenAt(data: ChartData, index: number): string {
  const value = data.axis.values[index] ?? 0;
  if (data.axis.kind !== 'time') return data.axis.labels[index] || withUnit(value, data.axis.unit);
  const half = data.series[0]?.flow === 'state' ? data.step / 2 : -data.step / 2;
  return formatMoment(value + half);
}

export function bandsSpoken(data: ChartData): string {
  const { bands } = data;
  const name = data.series[0]?.name ?? data.title;
  if (!bands) return data.title;
  const said = [`Bands over the trials. ${name}`];
  const middle = lowestAt(bands.middle);
  if (middle >= 0)
    said.push(
      `The middle trial is lowest at ${whenAt(data, middle)} with ${withUnit(bands.middle[middle] ?? 0, bands.unit)}`,
    );
  const low = lowestAt(bands.low);
  if (low >= 0)
    said.push(
      `Nine in ten trials are lowest at ${whenAt(data, low)}, between ${withUnit(bands.low[low] ?? 0, bands.unit)} and ${withUnit(bands.high[low] ?? 0, bands.unit)}`,
    );
  for (const limit of data.limits) {
    const fromBelow = limit.relation === '≥' || limit.relation === '>';
    const edge = fromBelow ? bands.low : bands.high;
    const first = edge.findIndex((value) => Number.isFinite(value) && !keepsTo(value, limit));
    said.push(
      first < 0
        ? `${limit.text}: the band of nine in ten keeps to it throughout`
        : `${limit.text}: the band of nine in ten first goes beyond it at ${whenAt(data, first)}`,
    );
  }
  return `${said.join('. ')}.`;
}

/** `data.spread` rises from its lowest to its highest. */
export function spreadSpoken(data: ChartData): string {
  const spread = data.spread ?? [];
  const { name, unit } = data.axis;
  const at = (share: number): string =>
    withUnit(spread[Math.round(share * (spread.length - 1))] ?? Number.NaN, unit);
  const said = [
    `Spread over ${spread.length} trials. ${name}: lowest ${at(0)}, middle ${at(0.5)}, highest ${at(1)}`,
    `Eight in ten lie between ${at(0.1)} and ${at(0.9)}`,
    ...data.limits.map((limit) => {
      const kept = spread.filter((value) => keepsTo(value, limit)).length;
      return `${limit.text}: kept in ${kept} of ${spread.length}`;
    }),
  ];
  return `${said.join('. ')}.`;
}

export function influenceSpoken(name: string, influence: readonly ShownInfluence[]): string {
  const said = influence.map(
    (one) =>
      `${one.name} from ${one.lowText} to ${one.highText}: ${name} from ${withUnit(one.low, one.unit)} to ${withUnit(one.high, one.unit)}`,
  );
  return `What moves ${name} most. ${said.join('. ')}.`;
}
