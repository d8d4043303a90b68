// How wide the labels beside a chart's paper are: the top one carries the unit, such as 1,000 W/m². All
// panels of a chart keep the same room, so that their moments stand under each other.

import type { ChartData } from '../../engine/index.ts';

/** Room for labels that are short, px: charts below each other mostly begin at the same place. */
const LEAST = 52;
/** Between a label and the paper, and before the label, px. */
const BESIDE = 9;
/** About as many marks stand beside a paper. */
const MARKS = 4;

/** A label's width at 12.5 px: narrow marks, capitals and m, all others; a little more than it is. */
function widthOf(label: string): number {
  let width = 0;
  for (const letter of label)
    width += /[\s,./·]/u.test(letter) ? 4 : /[WMm%]/u.test(letter) ? 11 : 7.6;
  return width;
}

/** The round step by which an axis of this span is marked. */
function markStep(span: number): number {
  const rough = span / MARKS || 1;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((times) => times * ten).find((step) => step >= rough) ?? rough;
}

/** The labels at both ends of an axis that holds these values and 0. */
function endLabels(values: readonly number[], unit: string): readonly string[] {
  let [low, high] = [0, 0];
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  const step = markStep(high - low);
  // An axis may be marked at half of this.
  const places = Math.min(6, Math.max(0, Math.ceil(-Math.log10(step / 2) - 1e-9)));
  const label = (value: number): string =>
    value.toLocaleString('en', { minimumFractionDigits: places, maximumFractionDigits: places });
  return [
    `${label(Math.ceil(high / step) * step)} ${unit}`.trim(),
    label(Math.floor(low / step) * step),
  ];
}

/** The values of a chart by their units; what is stacked counts together. */
function valuesByUnit(data: ChartData): ReadonlyMap<string, readonly number[]> {
  const all = new Map<string, number[]>();
  const add = (unit: string, values: readonly number[]): void => {
    const there = all.get(unit) ?? [];
    for (const value of values) if (Number.isFinite(value)) there.push(value);
    all.set(unit, there);
  };
  for (const { unit, values, column } of data.series) {
    if (data.kind !== 'stack') add(unit, values);
    else if (column === 0)
      add(unit, [values.reduce((most, value) => Math.max(most, value || 0), 0)]);
  }
  if (data.kind === 'stack')
    for (const [unit, tops] of all) all.set(unit, [tops.reduce((sum, top) => sum + top, 0)]);
  for (const { unit, value } of data.limits) add(unit, [value]);
  if (data.bands) add(data.bands.unit, [...data.bands.low, ...data.bands.high]);
  return all;
}

/** The room that the labels of a chart's upright axes take, px. */
export function gutterOf(data: ChartData): number {
  // These have no amounts of their series beside the paper.
  if (data.spread || data.influence || data.second) return LEAST;
  let widest = 0;
  for (const [unit, values] of valuesByUnit(data))
    for (const label of endLabels(values, unit)) widest = Math.max(widest, widthOf(label));
  return Math.max(LEAST, Math.ceil(widest + BESIDE));
}
