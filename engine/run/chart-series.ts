// What the charts of every kind share: axes, series, nights and the limits of checks, in display units.

import type { CheckedChart } from '../check/check-chart.ts';
import type { Axis, Type } from '../check/type.ts';
import { dayOfMoment } from '../dimension/calendar.ts';
import {
  formatDate,
  formatNumber,
  formatQuantity,
  formatTimeOfDay,
} from '../dimension/quantity.ts';
import { fromStored, plainUnit, type Unit } from '../dimension/unit.ts';
import { sunriseSunset } from '../physics/solar-position.ts';
import { equal } from '../plan/kernels.ts';
import type { AxisValue } from '../plan/memory.ts';
import type { Evaluation } from './evaluation.ts';
import { placesOf, reader, textOf, unitFor } from './show-value.ts';
import type { ChartAxis, ChartLimit, ChartSeries } from './snapshot.ts';

const DAY = 86_400;
export const NO_AXIS: ChartAxis = { kind: 'labels', name: '', unit: '', values: [], labels: [] };

/** Whether a scenario's column has the plan's values. */
export function sameAsPlan(evaluation: Evaluation, node: number, index: number): boolean {
  const memory = evaluation.columns[index]?.memory;
  if (!memory) return true;
  return (evaluation.program.operands[node] ?? []).every((o) => {
    if (o >= 0) return Object.is(memory.scalars[o], evaluation.plan.scalars[o]);
    const [a, b] = [memory.rows[~o] as Float64Array, evaluation.plan.rows[~o] as Float64Array];
    return a === b || (a.length === b.length && a.every((v, i) => Object.is(v, b[i])));
  });
}

export function oneSeries(
  evaluation: Evaluation,
  node: number,
  name: string,
  index: number,
  type: Type,
): ChartSeries {
  const memory = evaluation.columns[index]?.memory ?? evaluation.plan;
  const read = reader(evaluation, node, memory);
  const n = placesOf(evaluation, node, memory);
  const unit: Unit = type.kind === 'quantity' ? unitFor(evaluation, type, node) : plainUnit;
  const values = new Array<number>(n);
  for (let i = 0; i < n; i++)
    values[i] =
      type.kind === 'quantity' && type.stance !== 'moment'
        ? fromStored(read(0, i), unit)
        : read(0, i);
  const flow = type.kind === 'quantity' && type.axes[0]?.kind === 'timeline' ? type.flow : 'other';
  return {
    name,
    key: evaluation.program.nodes[node]?.key ?? '',
    unit: unit.symbol,
    column: index,
    values,
    flow,
  };
}

export function axisOf(evaluation: Evaluation, axis: Axis): ChartAxis {
  const t = evaluation.plan.axes[axis.id] as AxisValue;
  if (axis.kind === 'timeline')
    return { kind: 'time', name: axis.name, unit: '', values: [...t.places], labels: [] };
  if (axis.kind === 'days')
    return {
      kind: 'days',
      name: axis.name,
      unit: '',
      values: [...t.places],
      labels: [...t.places].map((s) => formatDate(dayOfMoment(s))),
    };
  const operand = axis.kind === 'rows' ? evaluation.program.operands[axis.node]?.[0] : undefined;
  const places =
    operand !== undefined ? (evaluation.plan.rows[~operand] as Float64Array) : t.places;
  const { coordinate } = axis;
  if (coordinate.kind === 'text')
    return {
      kind: 'labels',
      name: axis.name,
      unit: '',
      values: [],
      labels: [...places].map((x) => textOf(evaluation, x)),
    };
  if (coordinate.kind === 'time of day')
    return {
      kind: 'labels',
      name: axis.name,
      unit: '',
      values: [],
      labels: [...places].map(formatTimeOfDay),
    };
  if (coordinate.stance === 'moment')
    return { kind: 'time', name: axis.name, unit: '', values: [...places], labels: [] };
  const unit =
    coordinate.unit ??
    unitFor(evaluation, {
      kind: 'quantity',
      dimension: coordinate.dimension,
      stance: coordinate.stance,
      axes: [],
      optional: false,
      flow: 'rate',
    });
  const values = [...places].map((x) => fromStored(x, unit));
  return {
    kind: 'number',
    name: axis.name.replace(/^the steps of /u, ''),
    unit: unit.symbol,
    values,
    labels: [...places].map((x) => formatQuantity(x, unit)),
  };
}

/** Limits of checks on what is drawn: `lowest charge ≥ reserve` marks the charge. */
export function limitsOf(evaluation: Evaluation, chart: CheckedChart): ChartLimit[] {
  const limits: ChartLimit[] = [];
  const drawn = chart.items.map(({ node }) => {
    const n = evaluation.program.nodes[node];
    const ref = n?.expr?.op === 'with' ? n.expr.value : n?.expr;
    return { key: n?.key ?? '', node: ref?.op === 'ref' ? ref.node : node };
  });
  for (const check of evaluation.checked.checks)
    for (const part of check.parts) {
      const left = evaluation.program.nodes[part.left];
      const right = evaluation.program.operands[part.right]?.[0];
      if (!left?.type || right === undefined || right < 0 || evaluation.plan.faults[part.right])
        continue;
      const reduced =
        left.expr?.op === 'reduce' && left.expr.a.op === 'ref' ? left.expr.a.node : -1;
      const hit = drawn.find((d) => d.node === left.id || d.node === reduced);
      const type = left.type;
      if (!hit || type.kind !== 'quantity' || type.stance === 'moment') continue;
      const unit = unitFor(evaluation, type, left.id);
      const value = fromStored(evaluation.plan.scalars[right] as number, unit);
      const name =
        evaluation.program.nodes[part.right]?.kind === 'cell'
          ? (evaluation.program.nodes[part.right]?.name ?? '')
          : 'limit';
      if (!limits.some((l) => l.key === hit.key && equal(l.value, value)))
        limits.push({
          name,
          key: hit.key,
          relation: part.relation,
          unit: unit.symbol,
          value,
          text: `${name} ${formatNumber(value)}\u00a0${unit.symbol}`,
        });
    }
  return limits;
}

/** Stretches of a timeline between sunset and sunrise. */
export function nightsOf(evaluation: Evaluation, t: AxisValue): (readonly [number, number])[] {
  const { place } = evaluation.checked.scope.notebook.header;
  if (!place || t.length === 0) return [];
  const nights: (readonly [number, number])[] = [];
  let dusk = t.start;
  const first = Math.floor(t.start / DAY);
  const last = Math.floor(t.end / DAY);
  if (last - first > 400) return [];
  for (let d = first; d <= last; d++) {
    const day = sunriseSunset(d * DAY + DAY / 2 - place.offset, place.latitude, place.longitude);
    if (day.state === 'up all day') {
      dusk = (d + 1) * DAY;
      continue;
    }
    if (day.state === 'down all day') continue;
    const [rise, set] = [day.rise + place.offset, day.set + place.offset];
    if (rise > dusk && rise > t.start)
      nights.push([Math.max(dusk, t.start), Math.min(rise, t.end)]);
    dusk = Math.max(dusk, set);
  }
  if (dusk < t.end) nights.push([dusk, t.end]);
  return nights.filter(([a, b]) => b > a);
}
