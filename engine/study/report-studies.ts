// Studies as plain tables for the command line: trials, influence, a sweep. Amounts in display units.

import { literalAmount, parseContext } from '../check/scope.ts';
import type { Type } from '../check/type.ts';
import { formatMomentIso } from '../dimension/quantity.ts';
import { fromStored, type Unit } from '../dimension/unit.ts';
import { nameKey, parseFormula } from '../language/parser.ts';
import { wilsonInterval } from '../physics/weather-chance.ts';
import { percentileOf } from '../plan/order-statistics.ts';
import type { Session } from '../run/session.ts';
import { plainNumber, unitFor } from '../run/show-value.ts';
import { influenceCost } from './influence.ts';
import { influenceOf } from './show-influence.ts';
import { startStudies } from './studies.ts';
import { sweepCost, sweepGiven } from './sweep.ts';

export interface StudyTable {
  readonly title: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly (string | number)[])[];
}

/** Passes that are worked without a look at the clock, some ten seconds of them. */
const MOST_PASSES = 4_000_000;

/** A number in its unit; a moment as it is typed. */
function amountOf(type: Type | undefined, value: number, unit: Unit): string | number {
  const isMoment = type?.kind === 'quantity' && type.stance === 'moment';
  return isMoment && Number.isFinite(value) ? formatMomentIso(value) : plainNumber(value, unit);
}

/** Which uncertain givens move a cell most; a sentence when none does, or when that would take too long. */
export function influenceTable(
  session: Session,
  column: number,
  cell: string,
  trials: number,
): StudyTable | string {
  const { evaluation } = session;
  const { cells, tables } = evaluation.checked.scope;
  const key = nameKey(cell);
  const id = cells.get(key);
  if (id === undefined && !tables.has(key)) return `There is no cell called "${cell}".`;
  if (id !== undefined && influenceCost(evaluation, column, id, trials) > MOST_PASSES)
    return `What moves "${cell}" would take too long to find with ${trials} trials. Take fewer, or a coarser timeline.`;
  const list = influenceOf(session, cell, column, trials);
  if (list.length === 0) return `No uncertain given moves "${cell}", or it is no single amount.`;
  return {
    title: `what moves ${cell} most`,
    head: [
      'given',
      'low',
      'high',
      `result at low (${list[0]?.unit ?? ''})`,
      'result at high',
      'rank correlation',
    ],
    rows: list.map((one) => [one.name, one.lowText, one.highText, one.low, one.high, one.rank]),
  };
}

/** How often each check holds, and how every uncertain result is spread; a sentence when that would take too long. */
export function trialTables(
  session: Session,
  column: number,
  trials: number,
): readonly StudyTable[] | string {
  const { evaluation } = session;
  const work = startStudies(session, trials, new Set([column]));
  const most = Math.floor(MOST_PASSES / work.cost);
  if (work.alive && trials > most)
    return `${trials} trials of this notebook would take too long. Take ${most < 1 ? 'a coarser timeline' : `at most ${most}, or a coarser timeline`}.`;
  while (work.alive && work.trialsLeft) work.step(() => false);
  const study = work.result().columns[column];
  if (!study || !work.alive) return [];
  const share = (n: number): readonly (string | number)[] => {
    const w = wilsonInterval(n, study.trials);
    return [n, study.trials, w.low, w.high];
  };
  const checks = evaluation.checked.checks.flatMap((check, i) =>
    (study.checks[i] ?? -1) < 0
      ? []
      : [[evaluation.program.nodes[check.node]?.name ?? '', ...share(study.checks[i] as number)]],
  );
  const cells = [...study.samples].flatMap(([id, sample]) => {
    const node = evaluation.program.nodes[id];
    if (node?.type?.kind !== 'quantity') return [];
    const unit = unitFor(evaluation, node.type, id);
    const fit = sample.filter((v) => !Number.isNaN(v));
    return fit.length === 0
      ? []
      : [
          [
            node.name,
            unit.symbol,
            ...[0.1, 0.5, 0.9].map((q) => amountOf(node.type, percentileOf(fit, q), unit)),
          ],
        ];
  });
  return [
    {
      title: 'checks',
      head: ['check', 'holds', 'trials', 'interval low', 'interval high'],
      rows: [...checks, ['all', ...share(study.all)]],
    },
    { title: 'results', head: ['cell', 'unit', '10 %', '50 %', '90 %'], rows: cells },
  ];
}

/** `GIVEN from A to B by C`, or a sentence that says what is wrong. */
export function sweepTable(session: Session, column: number, wanted: string): StudyTable | string {
  const match = /^\s*(.+?)\s+from\s+(.+?)\s+to\s+(.+?)\s+by\s+(.+?)\s*$/iu.exec(wanted);
  if (!match)
    return 'A sweep is written "GIVEN from A to B by C", such as "cable length from 5 m to 50 m by 5 m".';
  const { evaluation } = session;
  const [, name = '', ...ends] = match;
  const id = evaluation.checked.scope.cells.get(nameKey(name));
  const node = id === undefined ? undefined : evaluation.program.nodes[id];
  if (id === undefined || !node) return `No cell is called "${name}".`;
  const { type } = node;
  if (type?.kind !== 'quantity' || type.axes.length > 0 || type.stance === 'moment')
    return `"${node.name}" is not a single amount.`;
  const amounts = ends.map((text, i) => {
    const { node: tree, diagnostics } = parseFormula(text, parseContext);
    return diagnostics.length > 0 ? undefined : literalAmount(tree, i === 2);
  });
  const [from, to, by] = amounts;
  if (from === undefined || to === undefined || by === undefined)
    return `The ends and the step of a sweep are plain amounts, such as 5 m; one of "${ends.join('", "')}" is not.`;
  const count = Math.floor((to - from) / by + 1e-9) + 1;
  if (!(count >= 1 && count <= 10_000))
    return 'The step must lead from the first end to the last in at most 10,000 steps.';
  const values = Array.from({ length: count }, (_, i) => from + i * by);
  const cost = sweepCost(evaluation, column, id);
  if (count * cost > MOST_PASSES)
    return `${count} steps of this notebook would take too long. Take longer steps, or a coarser timeline.`;
  const sweep = sweepGiven(evaluation, column, id, values);
  const unit = unitFor(evaluation, type, id);
  const columns = [...sweep.results].flatMap(([cell, results]) => {
    const own = evaluation.program.nodes[cell];
    if (own?.type?.kind !== 'quantity') return [];
    const { type: ownType } = own;
    const u = unitFor(evaluation, ownType, cell);
    return [
      {
        head: u.symbol === '' ? own.name : `${own.name} (${u.symbol})`,
        at: (i: number): string | number => amountOf(ownType, results[i] as number, u),
      },
    ];
  });
  return {
    title: `sweep of ${node.name}`,
    head: [`${node.name} (${unit.symbol})`, ...columns.map((c) => c.head)],
    rows: values.map((v, i) => [
      Number(fromStored(v, unit).toPrecision(12)),
      ...columns.map((c) => c.at(i)),
    ]),
  };
}
