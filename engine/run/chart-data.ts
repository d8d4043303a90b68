// What a chart line asks for, as data in display units: series on an axis, limits of checks, nights.

import type { CheckedChart } from '../check/check.ts';
import type { Axis, Type } from '../check/type.ts';
import { dayOfMoment } from '../dimension/calendar.ts';
import { angle } from '../dimension/dimension.ts';
import {
  formatDate,
  formatNumber,
  formatQuantity,
  formatTimeOfDay,
} from '../dimension/quantity.ts';
import { fromStored, plainUnit, type Unit } from '../dimension/unit.ts';
import { makeSkyWindow, skyShare } from '../physics/sky-window.ts';
import { solarPosition, sunriseSunset } from '../physics/solar-position.ts';
import { equal } from '../plan/kernels.ts';
import type { AxisValue, Operand } from '../plan/memory.ts';
import type { Evaluation } from './evaluation.ts';
import { placesOf, reader, rootName, textOf, unitFor } from './show-value.ts';
import { shownInfluence } from './shown-influence.ts';
import type { ChartAxis, ChartData, ChartLimit, ChartSeries, SkyTrack } from './snapshot.ts';

const DAY = 86_400;
const NO_AXIS: ChartAxis = { kind: 'labels', name: '', unit: '', values: [], labels: [] };
const KINDS = [
  'line',
  'bars',
  'stack',
  'list',
  'dots',
  'map',
  'bands',
  'spread',
  'influence',
  'sky',
] as const;

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
  if (chart.kind !== undefined && !KINDS.includes(chart.kind as (typeof KINDS)[number]))
    return {
      ...empty,
      text: `"${chart.kind}" is no kind of chart. There are ${KINDS.join(', ')}.`,
    };
  if (chart.skyTable !== undefined) return skyChart(evaluation, chart, empty);
  for (const { node } of chart.items) {
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
  if (
    chart.kind === 'bands' ||
    chart.kind === 'spread' ||
    chart.kind === 'influence' ||
    (type.axes.length === 0 && chart.against.length === 0)
  )
    return studyChart(evaluation, chart, first.node, first.name, type, empty);
  if (type.kind === 'window') return skyChart(evaluation, chart, empty);
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
  const shownAxis = axisOf(evaluation, axis);
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
          same(evaluation, node, index))
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
    ...(second ? { second: axisOf(evaluation, second) } : {}),
  };
  return { ...data, spoken: spokenOf(data) };
}

/** Charts drawn from the trials. */
function studyChart(
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
    const least = Math.min(...low);
    return {
      ...data,
      spoken: `${name} over the trials: in nine of ten it stays above ${formatNumber(least)}\u00a0${unit.symbol}.`,
    };
  }
  const axis: ChartAxis = { ...NO_AXIS, kind: 'number', name, unit: unit.symbol };
  if (kind === 'spread') {
    const sample = studies.columns[0]?.samples.get(own);
    if (!sample) return still;
    const spread = [...sample]
      .filter((v) => !Number.isNaN(v))
      .map((v) => fromStored(v, unit))
      .sort((a, b) => a - b);
    const at = (q: number): string =>
      formatNumber(spread[Math.round(q * (spread.length - 1))] ?? Number.NaN);
    return {
      ...empty,
      kind,
      state: 'ready',
      axis,
      spread,
      limits: limitsOf(evaluation, chart),
      spoken: `${name} over ${spread.length} trials: eight in ten lie between ${at(0.1)} and ${at(0.9)}\u00a0${unit.symbol}.`,
    };
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
    spoken: `What moves ${name} most: ${influence
      .slice(0, 3)
      .map((i) => i.name)
      .join(', ')}.`,
  };
}

function same(evaluation: Evaluation, node: number, index: number): boolean {
  const memory = evaluation.columns[index]?.memory;
  if (!memory) return true;
  return (evaluation.program.operands[node] ?? []).every((o) => {
    if (o >= 0) return Object.is(memory.scalars[o], evaluation.plan.scalars[o]);
    const [a, b] = [memory.rows[~o] as Float64Array, evaluation.plan.rows[~o] as Float64Array];
    return a === b || (a.length === b.length && a.every((v, i) => Object.is(v, b[i])));
  });
}

function oneSeries(
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

function axisOf(evaluation: Evaluation, axis: Axis): ChartAxis {
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
function limitsOf(evaluation: Evaluation, chart: CheckedChart): ChartLimit[] {
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
          unit: unit.symbol,
          value,
          text: `${name} ${formatNumber(value)}\u00a0${unit.symbol}`,
        });
    }
  return limits;
}

/** Stretches of a timeline between sunset and sunrise. */
function nightsOf(evaluation: Evaluation, t: AxisValue): (readonly [number, number])[] {
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

function spokenOf(data: ChartData): string {
  const plan = data.series.filter((s) => s.column === 0);
  const said = plan.map((s) => {
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const v of s.values) {
      if (v < low) low = v;
      if (v > high) high = v;
    }
    const unit = s.unit === '' ? '' : `\u00a0${s.unit}`;
    return `${s.name} from ${formatNumber(low)} to ${formatNumber(high)}${unit}`;
  });
  const limits = data.limits.map((l) => `; ${l.text}`).join('');
  return `Chart of ${said.join(', ')}${data.axis.name ? `, over ${data.axis.name}` : ''}${limits}.`;
}

// ── the sky ─────────────────────────────────────────────────────────────────────────────────────

function skyChart(evaluation: Evaluation, chart: CheckedChart, empty: ChartData): ChartData {
  const { place } = evaluation.checked.scope.notebook.header;
  const outline = outlineOf(evaluation, chart);
  if (!outline)
    return {
      ...empty,
      kind: 'sky',
      text: 'A sky chart needs a table with azimuth and height columns, or a sky window.',
    };
  if (!place)
    return {
      ...empty,
      kind: 'sky',
      text: 'The sky needs a place. Add a header line such as "place: 44.5 °N, 110.2 °W, 2100 m, UTC-6".',
    };
  const clock = evaluation.program.nodes.find(
    (n) =>
      n.type?.kind === 'quantity' && n.type.timeline !== undefined && !evaluation.plan.faults[n.id],
  );
  const t =
    clock?.type?.kind === 'quantity' && clock.type.timeline
      ? evaluation.plan.axes[clock.type.timeline.id]
      : undefined;
  const first = t && t.length > 0 ? Math.floor(t.start / DAY) : 0;
  const last = t && t.length > 0 ? Math.floor((t.end - 1) / DAY) : first;
  const days = [...new Set([first, Math.round((first + last) / 2), last])];
  const tracks: SkyTrack[] =
    !t || t.length === 0
      ? []
      : days.map((d) => {
          const azimuth: number[] = [];
          const elevation: number[] = [];
          const hour: number[] = [];
          for (let minute = 0; minute <= 1440; minute += 10) {
            const sun = solarPosition(
              d * DAY + minute * 60 - place.offset,
              place.latitude,
              place.longitude,
            );
            if (sun.elevation < -0.0145) continue;
            azimuth.push(sun.azimuth);
            elevation.push(sun.elevation);
            hour.push(minute / 60);
          }
          return { label: formatDate(d), azimuth, elevation, hour };
        });
  const window = makeSkyWindow(outline.azimuth, outline.height, outline.through);
  const openShare = skyShare(window, 0, 0);
  return {
    ...empty,
    kind: 'sky',
    state: 'ready',
    text: '',
    sky: {
      table: outline.table,
      azimuth: outline.azimuth,
      height: outline.height,
      through: outline.through,
      tracks,
      openShare,
    },
    spoken: `The sky from the site: ${formatNumber(100 * openShare)}\u00a0% of it is open. The outline has ${outline.azimuth.length} sightings.`,
  };
}

function outlineOf(
  evaluation: Evaluation,
  chart: CheckedChart,
): { table: string; azimuth: number[]; height: number[]; through: number[] } | undefined {
  if (chart.skyTable !== undefined) {
    const table = evaluation.checked.scope.tables.get(chart.skyTable);
    if (!table) return undefined;
    const column = (wanted: (name: string) => boolean): number[] | undefined => {
      for (const [key, id] of table.columnByKey) {
        const node = evaluation.program.nodes[id];
        if (!wanted(key) || node?.type?.kind !== 'quantity' || evaluation.plan.faults[id]) continue;
        const operand = evaluation.program.operands[id]?.[0] as Operand;
        return [...(evaluation.plan.rows[~operand] as Float64Array)];
      }
      return undefined;
    };
    const isAngle = (key: string): boolean => {
      const type = evaluation.program.nodes[table.columnByKey.get(key) ?? -1]?.type;
      return type?.kind === 'quantity' && type.dimension === angle;
    };
    const azimuth = column((key) => key === 'azimuth') ?? column(isAngle);
    const height =
      column((key) => key === 'height') ?? column((key) => isAngle(key) && key !== 'azimuth');
    if (!azimuth || !height || azimuth.length < 3) return undefined;
    return {
      table: table.key,
      azimuth,
      height,
      through: (column((key) => key === 'light through') ?? azimuth.map(() => 0)).map((v) =>
        Number.isNaN(v) ? 0 : v,
      ),
    };
  }
  const [first] = chart.items;
  const operand = first ? evaluation.program.operands[first.node]?.[0] : undefined;
  if (operand === undefined || operand >= 0) return undefined;
  const packed = evaluation.plan.rows[~operand] as Float64Array;
  const n = packed[0] ?? 0;
  return {
    table: '',
    azimuth: [...packed.slice(1, 1 + n)],
    height: [...packed.slice(1 + n, 1 + 2 * n)],
    through: [...packed.slice(1 + 2 * n, 1 + 3 * n)],
  };
}
