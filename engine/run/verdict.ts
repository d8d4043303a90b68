// Checks and the verdict: does each hold, with what margin, which one is tightest.

import type { CheckedCheck, CheckPart } from '../check/check-sides.ts';
import type { QuantityType, Type } from '../check/type.ts';
import { formatDay, formatMoment, roundForVerdict } from '../dimension/quantity.ts';
import { findUnit, fromStored, plainUnit, type Unit } from '../dimension/unit.ts';
import { equal } from '../plan/kernels.ts';
import type { Operand } from '../plan/memory.ts';
import type { Evaluation } from './evaluation.ts';
import { differenceText, differenceUnit, rootName, textOf, unitFor } from './show-value.ts';
import type { ShownCheck, Verdict } from './snapshot.ts';

/** s */
const DAY = 86_400;

export interface CheckResult {
  readonly shown: ShownCheck;
  readonly name: string;
  readonly must: boolean;
  readonly item: number;
}

interface Margin {
  readonly relative: number;
  /** Stored; positive holds. */
  readonly margin: number;
  readonly left: number;
  readonly right: number;
  readonly part: CheckPart;
  /** Where along the axis, in words; empty for a scalar. */
  readonly where: string;
}

export function checkResult(
  evaluation: Evaluation,
  check: CheckedCheck,
  index: number,
): CheckResult {
  const column = evaluation.columns[index];
  const node = evaluation.program.nodes[check.node];
  if (!column || !node) throw new RangeError('no such check');
  const { memory } = column;
  const base = { name: node.name.trim(), must: check.must, item: check.item };
  const none = { relative: Number.NaN, margin: Number.NaN, marginText: '' };
  const fault = memory.faults[check.node];
  if (fault) {
    const state = fault.kind === 'error' ? 'error' : fault.kind === 'pending' ? 'pending' : 'waits';
    const text =
      fault.kind === 'error'
        ? fault.text
        : fault.kind === 'waits'
          ? `waits for ${rootName(evaluation, fault.on, memory)}`
          : fault.kind === 'blank'
            ? 'to be filled in'
            : 'being worked out';
    return { ...base, shown: { ...none, state, text } };
  }
  if (node.type?.kind !== 'truth')
    return {
      ...base,
      shown: {
        ...none,
        state: 'error',
        text: 'A check is a question with yes or no, such as lowest charge ≥ 20 %.',
      },
    };
  const operand = evaluation.program.operands[check.node]?.[0] as Operand;
  const n = operand >= 0 ? 1 : (memory.rows[~operand] as Float64Array).length;
  let holds = true;
  for (let i = 0; i < n; i++) if (memory.at(operand, i) === 0) holds = false;
  const margin = check.parts
    .map((part) => marginOf(evaluation, part, index))
    .reduce<Margin | undefined>(
      (least, m) => (m && (!least || m.relative < least.relative) ? m : least),
      undefined,
    );
  if (!margin)
    return {
      ...base,
      shown: { ...none, state: holds ? 'holds' : 'fails', text: holds ? 'holds' : 'fails' },
    };
  const study = evaluation.studies?.columns[index];
  const at = study ? evaluation.checked.checks.findIndex((c) => c.item === check.item) : -1;
  const holding = study?.checks[at] ?? -1;
  const trials = study && holding >= 0 ? { trials: { holding, total: study.trials } } : {};
  return {
    ...base,
    shown: { ...words(evaluation, margin), state: holds ? 'holds' : 'fails', ...trials },
  };
}

function marginOf(evaluation: Evaluation, part: CheckPart, index: number): Margin | undefined {
  const memory = evaluation.columns[index]?.memory;
  const [l, r] = [
    evaluation.program.operands[part.left]?.[0],
    evaluation.program.operands[part.right]?.[0],
  ];
  const leftNode = evaluation.program.nodes[part.left];
  const rightNode = evaluation.program.nodes[part.right];
  if (
    !memory ||
    l === undefined ||
    r === undefined ||
    !leftNode ||
    !rightNode ||
    memory.faults[part.left] ||
    memory.faults[part.right]
  )
    return undefined;
  const type = leftNode.type;
  if (type?.kind !== 'quantity') return undefined;
  const n = Math.max(
    l >= 0 ? 1 : (memory.rows[~l] as Float64Array).length,
    r >= 0 ? 1 : (memory.rows[~r] as Float64Array).length,
  );
  let best: { margin: number; i: number } | undefined;
  for (let i = 0; i < n; i++) {
    const [x, y] = [memory.at(l, i), memory.at(r, i)];
    if (Number.isNaN(x) || Number.isNaN(y)) continue;
    const gap = equal(x, y) ? 0 : x - y;
    const margin =
      part.relation === '≥' || part.relation === '>'
        ? gap
        : part.relation === '≤' || part.relation === '<'
          ? -gap
          : part.relation === '='
            ? -Math.abs(gap)
            : Math.abs(gap);
    if (!best || margin < best.margin) best = { margin, i };
  }
  if (!best) return undefined;
  const [left, right] = [memory.at(l, best.i), memory.at(r, best.i)];
  // Against a limit of nothing, the margin stands against the value.
  const size = Math.abs(right) > 0 ? Math.abs(right) : Math.abs(left) > 0 ? Math.abs(left) : 1;
  const scale = type.stance === 'plain' ? size : 10;
  const axis = leftNode.type?.axes[0] ?? rightNode.type?.axes[0];
  return {
    margin: best.margin,
    // An equality that holds has no margin to lose: it is never the tightest.
    relative:
      part.relation === '=' && best.margin === 0
        ? 1
        : Math.max(-1, Math.min(1, best.margin / scale)),
    left,
    right,
    part,
    where: axis
      ? whereText(evaluation, index, axis.id, best.i)
      : at(evaluation, leftNode.id, index),
  };
}

/** When a check is on the lowest or highest of a series, where that is. */
function at(evaluation: Evaluation, id: number, index: number): string {
  const node = evaluation.program.nodes[id];
  const expr = node?.expr;
  const memory = evaluation.columns[index]?.memory;
  if (
    !memory ||
    expr?.op !== 'reduce' ||
    (expr.fn !== 'lowest' && expr.fn !== 'highest') ||
    expr.where ||
    expr.axis.kind !== 'timeline' ||
    expr.a.op !== 'ref'
  )
    return '';
  const row = evaluation.program.operands[expr.a.node]?.[0];
  if (row === undefined || row >= 0) return '';
  const values = memory.rows[~row] as Float64Array;
  const own = evaluation.program.operands[id]?.[0];
  const value = own === undefined ? Number.NaN : memory.at(own, 0);
  const i = values.indexOf(value);
  if (i < 0) return '';
  const axis = memory.axes[expr.axis.id];
  const state = expr.a.type.kind === 'quantity' && expr.a.type.flow === 'state';
  return axis ? formatMoment(axis.start + (i + (state ? 1 : 0)) * axis.step) : '';
}

/** How a place of an axis is called: the first entry of its table's row, or its moment. */
export function whereText(
  evaluation: Evaluation,
  index: number,
  axisId: number,
  i: number,
): string {
  const memory = evaluation.columns[index]?.memory;
  const axis = memory?.axes[axisId];
  if (!memory || !axis) return '';
  const table = [...evaluation.checked.scope.tables.values()].find((t) => t.rows.id === axisId);
  if (table) {
    const operand = evaluation.program.operands[table.rows.node]?.[0];
    if (operand === undefined) return '';
    const x = memory.at(operand, i);
    const c = table.rows.coordinate;
    return c.kind === 'text'
      ? textOf(evaluation, x)
      : c.kind === 'quantity' && c.stance === 'moment'
        ? formatMoment(x)
        : `row ${i + 1}`;
  }
  const place = axis.places[i];
  if (place === undefined || !(axis.step > 0)) return `place ${i + 1}`;
  return axis.step === DAY ? formatDay(place) : formatMoment(place);
}

/** The unit of what is compared: of a plain number that of its limit, so that 0.5 % is held against 2 %. */
function unitOfCheck(
  evaluation: Evaluation,
  { left }: CheckPart,
  type: QuantityType,
  limit: Type | undefined,
): Unit {
  if (type.stance === 'moment') return plainUnit;
  const own = unitFor(evaluation, type, left);
  return own.symbol === '' && limit?.kind === 'quantity' ? (limit.unit ?? own) : own;
}

function words(evaluation: Evaluation, m: Margin): Omit<ShownCheck, 'state'> {
  const left = evaluation.program.nodes[m.part.left];
  const right = evaluation.program.nodes[m.part.right];
  const type = left?.type as QuantityType;
  const unit = unitOfCheck(evaluation, m.part, type, right?.type);
  const name = left?.name ?? '';
  const limitName = right?.kind === 'cell' || right?.kind === 'column' ? right.name : 'limit';
  const both =
    type.stance === 'moment'
      ? { value: formatMoment(m.left), limit: formatMoment(m.right) }
      : roundForVerdict(m.left, m.right, unit);
  const isMoment = type.stance === 'moment';
  const marginText = marginWords(m, isMoment ? unitOfTime(m.margin) : unit);
  const where = m.where === '' ? '' : `, ${m.where}`;
  // A side that is itself an amount is its own name.
  const isAmount = name.replaceAll(' ', '\u00a0') === both.value;
  return {
    text: `${isAmount ? '' : `${name} `}${both.value}${where}; ${limitName} ${both.limit}`,
    relative: m.relative,
    margin: isMoment ? m.margin : fromStored(m.margin, differenceUnit(unit)),
    marginText,
  };
}

/** The unit in which so many seconds between two moments are said. */
function unitOfTime(seconds: number): Unit {
  const size = Math.abs(seconds);
  return findUnit(size < 7200 ? 'min' : size < 172_800 ? 'h' : 'd') ?? plainUnit;
}

/**
 * A margin said so that nobody has to know its sign: `0.3 V to spare`, or what is missing or too
 * much. A bare `0.3 V` could be either.
 */
function marginWords({ margin, part }: Margin, unit: Unit): string {
  const size = differenceText(Math.abs(margin), unit);
  const { relation } = part;
  // An equality that holds has nothing to spare; one that fails is off to no side in particular.
  if (relation === '=') return margin === 0 ? '' : `${size} off`;
  if (relation === '≠') return margin === 0 ? 'the same' : `${size} apart`;
  if (margin === 0)
    return relation === '<' || relation === '>' ? 'just at the limit' : 'nothing to\u00a0spare';
  if (margin > 0) return `${size} to\u00a0spare`;
  return relation === '≥' || relation === '>' ? `${size} short` : `${size} over`;
}

/** What a check comes to, with its margin: `work 400 Wh; limit 300 Wh; 100 Wh to spare`. */
export function checkWords({ text, marginText }: ShownCheck): string {
  return marginText === '' ? text : `${text}; ${marginText}`;
}

/** Share of trials below which a plan that holds is called tight. */
const TIGHT = 0.9;

export function verdictOf(
  evaluation: Evaluation,
  results: readonly CheckResult[],
  index: number,
  prose: string,
): Verdict {
  const column = evaluation.columns[index];
  const name = column?.name ?? '';
  const marks = results.map((r) => ({
    item: r.item,
    relative: r.shown.relative,
    state: r.shown.state,
    must: r.must,
  }));
  const total = results.length;
  const holding = results.filter((r) => r.shown.state === 'holds').length;
  const failing = results.filter((r) => r.shown.state === 'fails');
  const open = results.filter((r) => r.shown.state !== 'holds' && r.shown.state !== 'fails');
  const hazard = failing.find((r) => r.must);
  const judged = results.filter((r) => r.shown.state === 'holds' || r.shown.state === 'fails');
  const tightest = [...judged]
    .filter((r) => !Number.isNaN(r.shown.relative))
    .sort((a, b) => a.shown.relative - b.shown.relative)[0];
  const subject = index === 0 ? 'The plan' : name;
  const said = (result: CheckResult | undefined): string => {
    const text = result ? checkWords(result.shown) : '';
    return text.charAt(0).toUpperCase() + text.slice(1);
  };
  const study = evaluation.studies?.columns[index];
  const trials =
    study && study.trials > 0 && study.checks.some((n) => n >= 0)
      ? { trials: { holding: study.all, total: study.trials } }
      : {};
  const base = {
    name,
    prose,
    holding,
    total,
    marks,
    ...trials,
    tightest: said(hazard ?? failing[0] ?? tightest),
  };
  if (total === 0) return { ...base, state: 'none', headline: 'Nothing to check yet' };
  if (hazard)
    return {
      ...base,
      state: 'do not',
      headline: `Do not: ${hazard.shown.text}`,
      tightest: said(hazard),
    };
  if (failing.length > 0) {
    const worst = [...failing].sort((a, b) => a.shown.relative - b.shown.relative)[0];
    return {
      ...base,
      state: 'fails',
      headline: `${subject} fails`,
      tightest: said(worst),
    };
  }
  if (open.length > 0)
    return {
      ...base,
      state: 'waits',
      headline: `Not yet judged: ${open.length} of ${total} ${open.length === 1 ? 'waits' : 'wait'}`,
    };
  // Tight: every check holds in the plain run, but in fewer than nine of ten trials.
  if (trials.trials && trials.trials.holding < TIGHT * trials.trials.total) {
    const worst = [...results]
      .filter((r) => r.shown.trials)
      .sort((a, b) => (a.shown.trials?.holding ?? 0) - (b.shown.trials?.holding ?? 0))[0];
    return {
      ...base,
      state: 'tight',
      headline: `${subject} is tight`,
      tightest: said(worst ?? tightest),
    };
  }
  return { ...base, state: 'holds', headline: `${subject} holds` };
}
