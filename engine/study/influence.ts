// Which uncertain givens move a result most: each alone from its 10 % to its 90 % value, the others
// at their likely ones; beside it the rank correlation over all trials, since one at a time misses
// what acts together.

import type { Operand } from '../plan/memory.ts';
import type { Evaluation } from '../run/evaluation.ts';
import type { Influence } from '../run/study-results.ts';
import { TrialRun } from './trials.ts';

const LOW = 0.1;
const HIGH = 0.9;

/** What ranking the givens of a cell costs, in passes: every trial, and each given at both its ends. */
export function influenceCost(
  evaluation: Evaluation,
  column: number,
  target: number,
  trials: number,
): number {
  const run = new TrialRun(evaluation, column, [target]);
  return run.cost * (trials + 2 * run.places.length);
}

export function influenceOn(
  evaluation: Evaluation,
  column: number,
  target: number,
  trials: number,
): readonly Influence[] {
  const { program } = evaluation;
  const run = new TrialRun(evaluation, column, [target]);
  const operand = program.operands[target]?.[0];
  if (operand === undefined || operand < 0 || !run.moved.has(target)) return [];
  const likely = run.places.map(() => 0.5);
  const valueAt = (place: number, share: number): { result: number; given: number } => {
    const m = run.run(-1, (i) => (i === place ? share : (likely[i] as number)));
    return { result: m.at(operand, 0), given: givenOf(evaluation, run, place, m) };
  };
  // All trials once, for the ranks.
  const results = new Float64Array(trials);
  const givens = run.places.map(() => new Float64Array(trials));
  for (let t = 0; t < trials; t++) {
    const m = run.run(t);
    results[t] = m.at(operand, 0);
    run.places.forEach((_, p) => {
      (givens[p] as Float64Array)[t] = givenOf(evaluation, run, p, m);
    });
  }
  const resultRanks = ranks(results);
  return run.places
    .map(({ node, row, name }, p): Influence => {
      const low = valueAt(p, LOW);
      const high = valueAt(p, HIGH);
      return {
        name,
        node,
        row,
        low: low.result,
        high: high.result,
        givenLow: low.given,
        givenHigh: high.given,
        rank: correlation(ranks(givens[p] as Float64Array), resultRanks),
      };
    })
    .sort((a, b) => Math.abs(b.high - b.low) - Math.abs(a.high - a.low));
}

function givenOf(
  evaluation: Evaluation,
  run: TrialRun,
  place: number,
  m: ReturnType<TrialRun['run']>,
): number {
  const p = run.places[place];
  const operand = p ? evaluation.program.operands[p.node]?.[0] : undefined;
  return p && operand !== undefined ? m.at(operand as Operand, p.row ?? 0) : Number.NaN;
}

/** Ranks from 0, equals sharing their mean. */
export function ranks(values: Float64Array): Float64Array {
  const order = Array.from(values.keys()).sort(
    (a, b) => (values[a] as number) - (values[b] as number),
  );
  const out = new Float64Array(values.length);
  for (let i = 0; i < order.length; ) {
    let j = i;
    while (j + 1 < order.length && values[order[j + 1] as number] === values[order[i] as number])
      j++;
    for (let k = i; k <= j; k++) out[order[k] as number] = (i + j) / 2;
    i = j + 1;
  }
  return out;
}

/** Pearson's correlation; 0 when one of the two does not vary. */
export function correlation(a: Float64Array, b: Float64Array): number {
  const n = a.length;
  const mean = (x: Float64Array): number => x.reduce((s, v) => s + v, 0) / n;
  const [ma, mb] = [mean(a), mean(b)];
  let [sab, saa, sbb] = [0, 0, 0];
  for (let i = 0; i < n; i++) {
    const [x, y] = [(a[i] as number) - ma, (b[i] as number) - mb];
    sab += x * y;
    saa += x * x;
    sbb += y * y;
  }
  return saa > 0 && sbb > 0 ? sab / Math.sqrt(saa * sbb) : 0;
}
