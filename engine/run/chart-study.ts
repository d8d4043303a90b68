// Charts drawn from the trials: bands of a series, the spread of a result, what moves it most.

import type { CheckedChart } from '../check/check-chart.ts';
import type { Type } from '../check/type.ts';
import { fromStored } from '../dimension/unit.ts';
import type { AxisValue } from '../plan/memory.ts';
import { axisOf, limitsOf, NO_AXIS, nightsOf, oneSeries } from './chart-series.ts';
import { bandsSpoken, influenceSpoken, spreadSpoken } from './chart-study-spoken.ts';
import type { Evaluation } from './evaluation.ts';
import { unitFor } from './show-value.ts';
import { shownInfluence } from './shown-influence.ts';
import type { ChartAxis, ChartData } from './snapshot.ts';

/** Charts drawn from the trials. */
export function studyChart(
  evaluation: Evaluation,
  chart: CheckedChart,
  node: number,
  name: string,
  type: Type,
  empty: ChartData,
): ChartData {
  const kind = (chart.kind ?? 'spread') as 'bands' | 'spread' | 'influence';
  const { studies } = evaluation;
  const waiting: ChartData = { ...empty, kind, state: 'pending', text: 'being worked out' };
  if (type.kind !== 'quantity') return { ...empty, kind, text: 'The trials draw amounts.' };
  if (!studies) return waiting;
  const unit = unitFor(evaluation, type, node);
  const source = evaluation.program.nodes[node];
  const own = source?.kind === 'chart item' && source.expr?.op === 'ref' ? source.expr.node : node;
  const still: ChartData = {
    ...empty,
    kind,
    state: 'error',
    text: 'No uncertain given moves this. Make one uncertain, such as 40..55..70 W.',
  };
  if (kind === 'bands') {
    const axis = type.axes[0];
    const bands = studies.columns[0]?.bands.get(node) ?? studies.columns[0]?.bands.get(own);
    if (!axis) return { ...empty, kind, text: 'Bands need a series along a timeline.' };
    if (!bands) return still;
    const [low, quarter, middle, threeQuarter, high] = bands.map((band) =>
      [...band].map((v) => fromStored(v, unit)),
    ) as [number[], number[], number[], number[], number[]];
    const t = evaluation.plan.axes[axis.id] as AxisValue;
    const series = [oneSeries(evaluation, node, name, 0, type)];
    const data: ChartData = {
      ...empty,
      kind,
      state: 'ready',
      axis: axisOf(evaluation, axis),
      series,
      limits: limitsOf(evaluation, chart),
      nights: axis.kind === 'timeline' ? nightsOf(evaluation, t) : [],
      step: t.step,
      bands: { low, quarter, middle, threeQuarter, high, unit: unit.symbol },
    };
    return { ...data, spoken: bandsSpoken(data) };
  }
  const axis: ChartAxis = { ...NO_AXIS, kind: 'number', name, unit: unit.symbol };
  if (kind === 'spread') {
    const sample = studies.columns[0]?.samples.get(own);
    if (!sample) return still;
    const spread = [...sample]
      .filter((v) => !Number.isNaN(v))
      .map((v) => fromStored(v, unit))
      .sort((a, b) => a - b);
    const data: ChartData = {
      ...empty,
      kind,
      state: 'ready',
      axis,
      spread,
      limits: limitsOf(evaluation, chart),
    };
    return { ...data, spoken: spreadSpoken(data) };
  }
  const list = studies.influence.get(chart.item);
  if (!list) return waiting;
  if (list.length === 0) return still;
  const influence = shownInfluence(evaluation, list, unit);
  return {
    ...empty,
    kind,
    state: 'ready',
    axis,
    influence,
    spoken: influenceSpoken(name, influence),
  };
}
