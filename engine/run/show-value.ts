// A node's value in a memory as text: figure and unit apart, in the unit of its cell. Givens keep the
// digits that were typed.

import type { GraphNode } from '../check/scope.ts';
import { componentCount, type QuantityType, type Type } from '../check/type.ts';
import { plain } from '../dimension/dimension.ts';
import {
  formatDay,
  formatMoment,
  formatNumber,
  formatQuantity,
  formatTimeOfDay,
} from '../dimension/quantity.ts';
import {
  coherentUnit,
  findUnit,
  fromStored,
  plainUnit,
  preferredUnit,
  type Unit,
} from '../dimension/unit.ts';
import { wilsonInterval } from '../physics/weather-chance.ts';
import { isAnyDrawn } from '../plan/link.ts';
import type { Memory, Operand } from '../plan/memory.ts';
import { percentileOf } from '../plan/order-statistics.ts';
import type { Evaluation } from './evaluation.ts';
import type { Figure, ShownValue } from './snapshot.ts';

/** Reads component `j` of a value at place `i`. */
export type Read = (component: number, place: number) => number;

export function reader(evaluation: Evaluation, node: number, memory: Memory): Read {
  const operands = evaluation.program.operands[node] ?? [];
  return (j, i) => memory.at(operands[j] as Operand, i);
}

/** How many places a node has in a memory; 1 for a scalar. */
export function placesOf(evaluation: Evaluation, node: number, memory: Memory): number {
  const first = evaluation.program.operands[node]?.[0];
  if (first === undefined) return 0;
  return first >= 0 ? 1 : (memory.rows[~first] as Float64Array).length;
}

/** The unit a quantity is shown in: its cell's own, else the usual one for its size in the plan. */
export function unitFor(evaluation: Evaluation, type: QuantityType, node?: number): Unit {
  if (type.unit && (node === undefined || reaches(evaluation, node, type.unit))) return type.unit;
  const { units } = evaluation.checked.scope.notebook.header;
  if (type.stance === 'moment') return plainUnit;
  if (type.dimension === plain) return plainUnit;
  const size = node === undefined ? undefined : largestOf(evaluation, node);
  const options = { point: type.stance !== 'plain', ...(size === undefined ? {} : { size }) };
  const usual = preferredUnit(type.dimension, units, options);
  if (node === undefined || reaches(evaluation, node, usual)) return usual;
  const other = preferredUnit(type.dimension, [], options);
  // Of the largest angles only radians have a number.
  return reaches(evaluation, node, other) ? other : coherentUnit(type.dimension);
}

/** The unit of both ends of a span: a gauge only when both are the areas of a wire. */
export function spanUnit(evaluation: Evaluation, of: Type, read: Read, place: number): Unit {
  const unit = of.kind === 'quantity' ? unitFor(evaluation, of) : plainUnit;
  const isGauge = unit.scale === 'gauge' && !(read(0, place) > 0 && read(1, place) > 0);
  return isGauge ? differenceUnit(unit) : unit;
}

/**
 * Whether a unit has a number for each value of a node. A gauge has none for an area that is not
 * above zero, and a small unit none for an amount near the largest number there is.
 */
function reaches(evaluation: Evaluation, node: number, unit: Unit): boolean {
  const places = evaluation.program.operands[node] ?? [];
  if (unit.scale !== 'gauge' && (places[0] ?? -1) < 0) return true;
  return evaluation.columns.every(({ memory }) => {
    if (memory.faults[node]) return true;
    const n = placesOf(evaluation, node, memory);
    for (let i = 0; i < n; i++) {
      const x = memory.at(places[0] as Operand, i);
      if (Number.isFinite(x) && !Number.isFinite(fromStored(x, unit))) return false;
    }
    return true;
  });
}

/** The largest amount that a cell has anywhere in the plan, SI, whatever its sign; nothing when that is 0. */
export function largestOf(evaluation: Evaluation, node: number): number | undefined {
  // What stands in the place of a value with a fault means nothing.
  if (evaluation.plan.faults[node]) return undefined;
  const read = reader(evaluation, node, evaluation.plan);
  const n = placesOf(evaluation, node, evaluation.plan);
  let largest = 0;
  for (let i = 0; i < n; i++) {
    const v = Math.abs(read(0, i));
    if (v > largest) largest = v;
  }
  return largest > 0 && Number.isFinite(largest) ? largest : undefined;
}

/** One place of a value. `asWritten` keeps the digits of a literal. */
export function figureOf(
  evaluation: Evaluation,
  type: Type,
  read: Read,
  place: number,
  unit: Unit,
  asWritten?: string,
): Figure {
  const x = read(0, place);
  const absent = Number.isNaN(x);
  switch (type.kind) {
    case 'quantity':
      if (absent) return { figure: '–', unit: '' };
      if (type.stance === 'moment')
        return { figure: type.unit?.symbol === 'd' ? formatDay(x) : formatMoment(x), unit: '' };
      if (unit.scale === 'gauge' && !(x > 0))
        return figureOf(evaluation, type, read, place, differenceUnit(unit));
      if (unit.scale === 'gauge')
        return { figure: formatQuantity(x, unit).replace(/\s*AWG$/u, ''), unit: 'AWG' };
      return {
        figure: formatNumber(fromStored(x, unit), asWritten === undefined ? {} : { asWritten }),
        unit: unit.symbol,
      };
    case 'truth':
      return { figure: absent ? '–' : x !== 0 ? 'yes' : 'no', unit: '' };
    case 'text':
      return { figure: absent ? '–' : textOf(evaluation, x), unit: '' };
    case 'time of day':
      return { figure: absent ? '–' : formatTimeOfDay(x), unit: '' };
    case 'span': {
      if (absent) return { figure: '–', unit: '' };
      const inner = spanUnit(evaluation, type.of, read, place);
      const low = figureOf(evaluation, type.of, read, place, inner);
      const high = figureOf(evaluation, type.of, (j, i) => read(j + 1, i), place, inner);
      return { figure: `${low.figure}..${high.figure}`, unit: high.unit };
    }
    case 'window':
      return { figure: 'a sky window', unit: '' };
    case 'record':
      return { figure: type.fields.map((f) => f.name).join(', '), unit: '' };
    default:
      return { figure: '', unit: '' };
  }
}

export function textOf(evaluation: Evaluation, id: number): string {
  return evaluation.compiled.textOf(id);
}

/** The unit of a difference of two amounts in `unit`: that of a scale for a point on it. */
export function differenceUnit(unit: Unit): Unit {
  if (unit.scale === 'gauge') return findUnit('mm²') ?? plainUnit;
  const symbols: Readonly<Record<string, string>> = { '°C': 'K', '°F': 'Δ°F', dBm: 'dB' };
  return { ...unit, zero: 0, isPoint: false, symbol: symbols[unit.symbol] ?? unit.symbol };
}

/** A stored difference of two amounts in `unit`: `3 K`, `1 point` of a share. */
export function differenceText(value: number, unit: Unit): string {
  const { figure, unit: symbol } = differenceFigure(value, unit);
  return joined({ figure, unit: symbol });
}

function differenceFigure(value: number, unit: Unit): Figure {
  const own = differenceUnit(unit);
  const figure = formatNumber(fromStored(value, own));
  const isOne = /^[+−]?1$/u.test(figure);
  return { figure, unit: unit.symbol === '%' ? (isOne ? 'point' : 'points') : own.symbol };
}

/** Figure and unit as running text, joined by a no-break space. */
export function joined(figure: Figure): string {
  return figure.unit === ''
    ? figure.figure
    : figure.unit === '°'
      ? `${figure.figure}°`
      : `${figure.figure}\u00a0${figure.unit}`;
}

/** The digits a person typed for a plain given, when the value is shown in that unit. */
function writtenDigits(node: GraphNode): string | undefined {
  const { tree } = node;
  if (tree?.kind !== 'number') return undefined;
  return String(tree.value);
}

/** Whether a node's value is a share of trials, whose interval is shown with it. */
function isChance({ expr, type }: GraphNode): boolean {
  const value = expr?.op === 'with' ? expr.value : expr;
  return value?.op === 'chance' && type?.kind === 'quantity';
}

/** Whether nothing under a share of trials is uncertain in a column: every trial is then the plan. */
function isSure({ compiled, program, columns }: Evaluation, id: number, index: number): boolean {
  const own = compiled.sites.sites.filter(({ owner }) => owner === id);
  const site = own.find(({ kind }) => kind === 'trials');
  if (!site) return false;
  const { memory, scenario } = columns[index] as Evaluation['columns'][number];
  const put = [
    ...own.filter(({ kind }) => kind === 'with').flatMap(({ targets }) => targets),
    ...(scenario?.overrides ?? []).map(({ override }) => override),
  ];
  const held = new Set(put.flatMap(({ node, row }) => (row === undefined ? [node] : [])));
  return !isAnyDrawn(program, site, [...memory.instead.values()], held);
}

/** A share of trials: plain when it is sure, else with its interval, and never a bare 0 % or 100 %. */
function shareOfTrials(share: number, trials: number, sure: boolean): Shown {
  const percent = (x: number): string => formatNumber(100 * x);
  if (sure && (share === 0 || share === 1)) {
    const shown = { figure: percent(share), unit: '%' };
    return { shown, text: `${joined(shown)} (sure: nothing in it is uncertain)` };
  }
  const w = wilsonInterval(Math.round(share * trials), trials);
  const figure =
    share === 0
      ? `below ${percent(w.high)}`
      : share === 1
        ? `above ${percent(w.low)}`
        : percent(share);
  const shown = { figure, unit: '%' };
  return {
    shown,
    text: `${joined(shown)} (95 %: ${percent(w.low)} to ${percent(w.high)}\u00a0%)`,
  };
}

interface Shown {
  readonly shown: Figure;
  readonly text: string;
}

const NO_FIGURE: Figure = { figure: '', unit: '' };

/** How many absent entries a sum or a mean of a column leaves out: its value says so. */
function leftOut({ program }: Evaluation, { expr }: GraphNode, memory: Memory): number {
  if (expr?.op !== 'reduce' || expr.where || expr.a.op !== 'ref' || !expr.a.type.optional) return 0;
  // The first and the last entry that there is leave nothing out of account.
  if (expr.fn === 'first' || expr.fn === 'last') return 0;
  const [place] = program.operands[expr.a.node] ?? [];
  if (place === undefined || place >= 0) return 0;
  let count = 0;
  for (const x of memory.array(place)) if (Number.isNaN(x)) count++;
  return count;
}

/** A stored number in a unit, for a file: without the digits that only dividing brought. */
export function plainNumber(x: number, unit: Unit): number {
  const shown = fromStored(x, unit);
  return unit.factor === 1 || !Number.isFinite(shown) ? shown : Number(shown.toPrecision(15));
}

/** A node's value in one column; `known` is the unit it is shown in, where that was found before. */
export function showValue(
  evaluation: Evaluation,
  id: number,
  index: number,
  known?: Unit,
): ShownValue {
  const column = evaluation.columns[index];
  const node = evaluation.program.nodes[id];
  if (!column || !node) throw new RangeError(`no column ${index} or node ${id}`);
  const overridden = column.touched.has(id);
  const fault = column.memory.faults[id];
  const base = { number: Number.NaN, overridden, changed: false };
  if (fault) {
    if (fault.kind === 'error')
      return { ...base, state: 'error', shown: NO_FIGURE, text: fault.text };
    if (fault.kind === 'pending')
      return { ...base, state: 'pending', shown: NO_FIGURE, text: 'being worked out' };
    if (fault.kind === 'blank')
      return { ...base, state: 'blank', shown: NO_FIGURE, text: 'to be filled in' };
    return {
      ...base,
      state: 'waits',
      shown: NO_FIGURE,
      text: `waits for ${rootName(evaluation, fault.on, column.memory)}`,
    };
  }
  const { type } = node;
  if (!type) return { ...base, state: 'error', shown: NO_FIGURE, text: 'cannot be worked out' };
  const read = reader(evaluation, id, column.memory);
  const unit = known ?? unitShown(evaluation, id, type);
  if (type.axes.length === 0) {
    const written = overridden || index > 0 ? undefined : writtenDigits(node);
    let shown = figureOf(evaluation, type, read, 0, unit, written);
    const number =
      type.kind === 'quantity' && type.stance !== 'moment'
        ? fromStored(read(0, 0), unit)
        : read(0, 0);
    let text = joined(shown);
    // A share that a scenario puts in comes from no trials.
    if (isChance(node) && !overridden) {
      const sure = isSure(evaluation, id, index);
      ({ shown, text } = shareOfTrials(read(0, 0), evaluation.program.trials, sure));
    }

    const absent = leftOut(evaluation, node, column.memory);
    if (absent > 0 && !overridden) text += ` (${absent} absent left out)`;
    const spread = spreadOf(evaluation, id, index, unit);
    const value: ShownValue = {
      state: 'value',
      shown,
      text,
      number: componentCount(type) === 1 ? number : Number.NaN,
      overridden,
      changed: false,
      ...(spread ? { spread } : {}),
    };
    return index === 0 ? value : compared(evaluation, id, value, read(0, 0), type, unit);
  }
  const series = showSeries(evaluation, id, column.memory, type, unit);
  const value: ShownValue = {
    state: 'value',
    ...series,
    number: Number.NaN,
    overridden,
    changed: false,
  };
  return index === 0 ? value : { ...value, changed: seriesDiffers(evaluation, id, column.memory) };
}

/** The unit in which a node is shown in all columns. */
function unitShown(evaluation: Evaluation, id: number, type: Type): Unit {
  return type.kind === 'quantity' ? unitFor(evaluation, type, id) : plainUnit;
}

const DOTS = 20;

/** Twenty values that stand for all trials: each the middle of a twentieth. */
function spreadOf(
  evaluation: Evaluation,
  id: number,
  index: number,
  unit: Unit,
): readonly number[] | undefined {
  const sample = evaluation.studies?.columns[index]?.samples.get(id);
  if (!sample) return undefined;
  const fit = sample.filter((v) => !Number.isNaN(v));
  if (fit.length < DOTS) return undefined;
  return Array.from({ length: DOTS }, (_, k) =>
    fromStored(percentileOf(fit, (k + 0.5) / DOTS), unit),
  );
}

/** The name of the broken cell at the end of a chain of waiting ones. */
export function rootName(evaluation: Evaluation, on: number, memory: Memory): string {
  let at = on;
  for (let left = memory.faults.length; left > 0; left--) {
    const fault = memory.faults[at];
    if (fault?.kind !== 'waits') break;
    at = fault.on;
  }
  return evaluation.program.nodes[at]?.name ?? '';
}

function compared(
  evaluation: Evaluation,
  id: number,
  value: ShownValue,
  stored: number,
  type: Type,
  unit: Unit,
): ShownValue {
  const plan = evaluation.plan;
  if (plan.faults[id]) return value;
  const read = reader(evaluation, id, plan);
  if (type.kind !== 'quantity' || type.stance === 'moment') {
    const before = joined(figureOf(evaluation, type, read, 0, unit));
    return { ...value, changed: before !== value.text };
  }
  const before = fromStored(read(0, 0), unit);
  const gap = Math.abs(value.number - before);
  const changed = gap > 1e-9 * Math.max(Math.abs(before), Math.abs(value.number));
  if (!changed) return value;
  const delta = stored - read(0, 0);
  const difference = differenceFigure(delta, unit);
  return {
    ...value,
    changed,
    difference: delta > 0 ? { ...difference, figure: `+${difference.figure}` } : difference,
  };
}

/** A node's values in all columns; a scenario that does not move it shows the plan's own. */
export function showValues(evaluation: Evaluation, id: number): ShownValue[] {
  const type = evaluation.program.nodes[id]?.type;
  const unit = type && unitShown(evaluation, id, type);
  const plan = showValue(evaluation, id, 0, unit);
  return evaluation.columns.map((column, index) => {
    if (index === 0) return plan;
    const still =
      !column.cone.has(id) &&
      !column.whole.has(id) &&
      column.memory.faults[id]?.kind === evaluation.plan.faults[id]?.kind &&
      plan.state !== 'waits' &&
      plan.spread === undefined &&
      !seriesDiffers(evaluation, id, column.memory);
    return still ? plan : showValue(evaluation, id, index, unit);
  });
}

function seriesDiffers(evaluation: Evaluation, id: number, memory: Memory): boolean {
  if (evaluation.plan.faults[id]) return false;
  const operands = evaluation.program.operands[id] ?? [];
  return operands.some((o) => {
    if (o >= 0) return !Object.is(memory.scalars[o], evaluation.plan.scalars[o]);
    const [a, b] = [memory.rows[~o] as Float64Array, evaluation.plan.rows[~o] as Float64Array];
    if (a === b) return false;
    if (a.length !== b.length) return true;
    for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return true;
    return false;
  });
}

const SPARK = 64;

function showSeries(
  evaluation: Evaluation,
  id: number,
  memory: Memory,
  type: Type,
  unit: Unit,
): { shown: Figure; text: string; spark?: readonly number[] } {
  const read = reader(evaluation, id, memory);
  const n = placesOf(evaluation, id, memory);
  if (type.kind === 'record')
    return {
      shown: { figure: type.fields.map((f) => f.name).join(', '), unit: '' },
      text: `${type.fields.map((f) => f.name).join(', ')}, at ${n} places`,
    };
  if (type.kind !== 'quantity' && type.kind !== 'time of day' && type.kind !== 'truth') {
    return { shown: { figure: `${n} values`, unit: '' }, text: `${n} values` };
  }
  if (type.kind === 'truth') {
    let holds = 0;
    for (let i = 0; i < n; i++) if (read(0, i) === 1) holds++;
    const text = `yes at ${holds} of ${n}`;
    return { shown: { figure: text, unit: '' }, text };
  }
  let [low, high, absent] = [-1, -1, 0];
  for (let i = 0; i < n; i++) {
    const v = read(0, i);
    if (Number.isNaN(v)) {
      absent++;
      continue;
    }
    if (low < 0 || v < read(0, low)) low = i;
    if (high < 0 || v > read(0, high)) high = i;
  }
  if (low < 0)
    return { shown: { figure: 'all absent', unit: '' }, text: `${n} values, all absent` };
  const a = figureOf(evaluation, type, read, low, unit);
  const b = figureOf(evaluation, type, read, high, unit);
  const isMoment = type.kind === 'quantity' && type.stance === 'moment';
  const left = absent > 0 ? `, ${absent} absent` : '';
  const text = isMoment
    ? `${a.figure} to ${b.figure}${left}`
    : `lowest ${joined(a)}, highest ${joined(b)}${left}`;
  const shown: Figure = isMoment
    ? { figure: `${n} moments`, unit: '' }
    : a.figure === b.figure
      ? a
      : { figure: `${a.figure} to ${b.figure}`, unit: b.unit };
  if (isMoment) return { shown, text };
  const spark: number[] = [];
  const step = Math.max(1, n / SPARK);
  for (let k = 0; k < Math.min(n, SPARK); k++) {
    const v = read(0, Math.min(n - 1, Math.floor(k * step)));
    spark.push(type.kind === 'quantity' ? fromStored(v, unit) : v);
  }
  return { shown, text, spark };
}
