// What a chart line asks for, as data in display units: which kind of chart it is, and why it cannot
// be drawn when it cannot. Each kind is made in a file of its own.

import type { CheckedChart } from '../check/check-chart.ts';
import type { Axis, Type } from '../check/type.ts';
import type { AxisValue } from '../plan/memory.ts';
import { axisOf, limitsOf, NO_AXIS, nightsOf, oneSeries, sameAsPlan } from './chart-series.ts';
import { skyChart } from './chart-sky.ts';
import { crossingsOf, spokenOf } from './chart-spoken.ts';
import { studyChart } from './chart-study.ts';
import type { Evaluation } from './evaluation.ts';
import { placesOf, rootName } from './show-value.ts';
import type { ChartAxis, ChartData, ChartSeries } from './snapshot.ts';

export function chartOf(evaluation: Evaluation, item: number): ChartData {
  const chart = evaluation.checked.charts.find((c) => c.item === item);
  const line = evaluation.checked.scope.notebook.items[item];
  const note = line?.kind === 'chart' ? (line.note?.text ?? '') : '';
  const title = line?.kind === 'chart' ? line.body.text.trim() : '';
  const empty: ChartData = {
    kind: 'line',
    title,
    note,
    state: 'error',
    text: '',
    axis: NO_AXIS,
    series: [],
    limits: [],
    nights: [],
    step: 0,
    spoken: title,
  };
  if (!chart) return { ...empty, text: 'There is no chart here.' };
  if (chart.problem) return { ...empty, text: chart.problem.text };
  if (chart.waits >= 0)
    return {
      ...empty,
      state: 'waits',
      text: `waits for ${rootName(evaluation, chart.waits, evaluation.plan)}`,
    };
  if (chart.skyTable !== undefined) return skyChart(evaluation, chart, empty);
  for (const { node } of chart.againstItem ? [...chart.items, chart.againstItem] : chart.items) {
    const fault = evaluation.plan.faults[node];
    if (!fault) continue;
    if (fault.kind === 'pending')
      return {
        ...empty,
        kind: (chart.kind ?? 'line') as ChartData['kind'],
        state: 'pending',
        text: 'being worked out',
      };
    if (fault.kind === 'error') return { ...empty, text: fault.text };
    return {
      ...empty,
      state: 'waits',
      text: `waits for ${rootName(evaluation, fault.kind === 'waits' ? fault.on : node, evaluation.plan)}`,
    };
  }
  return seriesChart(evaluation, chart, empty);
}

function seriesChart(evaluation: Evaluation, chart: CheckedChart, empty: ChartData): ChartData {
  const [first] = chart.items;
  const type = first ? evaluation.program.nodes[first.node]?.type : undefined;
  if (!first || !type) return { ...empty, text: 'There is nothing to draw.' };
  const isStudy = chart.kind === 'bands' || chart.kind === 'spread' || chart.kind === 'influence';
  if (type.kind === 'window' && !isStudy) return skyChart(evaluation, chart, empty);
  if (isStudy || (type.axes.length === 0 && chart.against.length === 0))
    return studyChart(evaluation, chart, first.node, first.name, type, empty);
  if (chart.againstItem) return dotsChart(evaluation, chart, chart.againstItem, empty);
  const axis = type.axes[0] as Axis;
  const second = type.axes[1];
  const kind = (chart.kind ??
    (second
      ? 'map'
      : axis.kind === 'days' ||
          axis.kind === 'rows' ||
          axis.coordinate.kind === 'text' ||
          axis.coordinate.kind === 'time of day'
        ? 'bars'
        : 'line')) as ChartData['kind'];
  /** A swept axis goes by the name of what is swept. */
  const namedAxis = (one: Axis): ChartAxis => {
    const swept = chart.against.find((given) => given.axis.id === one.id);
    const shown = axisOf(evaluation, one);
    return swept ? { ...shown, name: swept.name } : shown;
  };
  const shownAxis = namedAxis(axis);
  const series: ChartSeries[] = [];
  chart.items.forEach(({ node, name }) => {
    const own = evaluation.program.nodes[node];
    if (!own?.type) return;
    evaluation.columns.forEach((column, index) => {
      if (column.memory.faults[node]) return;
      if (
        index > 0 &&
        (placesOf(evaluation, node, column.memory) !==
          placesOf(evaluation, node, evaluation.plan) ||
          sameAsPlan(evaluation, node, index))
      )
        return;
      series.push(oneSeries(evaluation, node, name, index, own.type as Type));
    });
  });
  const t = evaluation.plan.axes[axis.id] as AxisValue;
  const limits = limitsOf(evaluation, chart);
  const data: ChartData = {
    ...empty,
    kind,
    state: 'ready',
    axis: shownAxis,
    series,
    limits,
    nights: axis.kind === 'timeline' ? nightsOf(evaluation, t) : [],
    step: t.step,
    ...(second ? { second: namedAxis(second) } : {}),
  };
  const crossings = crossingsOf(data);
  return { ...data, crossings, spoken: spokenOf(data, crossings) };
}

/** One item against another: a dot a place, from left to right by the other's values. */
function dotsChart(
  evaluation: Evaluation,
  chart: CheckedChart,
  across: { readonly name: string; readonly node: number },
  empty: ChartData,
): ChartData {
  const type = evaluation.program.nodes[across.node]?.type as Type;
  const along = oneSeries(evaluation, across.node, across.name, 0, type);
  const order = along.values
    .map((_, place) => place)
    .filter((place) => Number.isFinite(along.values[place]));
  order.sort((a, b) => (along.values[a] ?? 0) - (along.values[b] ?? 0));
  const inOrder = (values: readonly number[]): number[] =>
    order.map((place) => values[place] ?? Number.NaN);
  const series: ChartSeries[] = [];
  chart.items.forEach(({ node, name }) => {
    const own = evaluation.program.nodes[node]?.type;
    if (!own) return;
    evaluation.columns.forEach((column, index) => {
      if (column.memory.faults[node] || column.memory.faults[across.node]) return;
      // The dots of a scenario stand over the plan's values, so those must be its own too.
      if (
        index > 0 &&
        (sameAsPlan(evaluation, node, index) || !sameAsPlan(evaluation, across.node, index))
      )
        return;
      const made = oneSeries(evaluation, node, name, index, own);
      series.push({ ...made, values: inOrder(made.values), flow: 'other' });
    });
  });
  const data: ChartData = {
    ...empty,
    kind: 'dots',
    state: 'ready',
    axis: {
      kind: 'number',
      name: across.name,
      unit: along.unit,
      values: inOrder(along.values),
      labels: [],
    },
    series,
    limits: limitsOf(evaluation, chart),
  };
  return { ...data, spoken: spokenOf(data, []) };
}
