// The notebook run many times with its uncertain givens drawn anew: how often each check holds, how
// each result is spread, bands of a series. A trial's draws depend on seed, trial and name alone, so
// any split of the trials gives the same numbers.

import { closure } from '../plan/graph.ts';
import { coneNodes, orderCone } from '../plan/link.ts';
import type { Memory, Operand } from '../plan/memory.ts';
import { quantilesOf } from '../plan/order-statistics.ts';
import type { ConeAction } from '../plan/sites.ts';
import { type Drawn, TrialStream } from '../plan/trial-stream.ts';
import type { Evaluation } from '../run/evaluation.ts';
import type { ColumnStudy } from '../run/study-results.ts';
import { whereText } from '../run/verdict.ts';

/** One uncertain given, or one uncertain entry of a table. */
export interface UncertainPlace {
  readonly node: number;
  readonly row: number | undefined;
  readonly name: string;
}

/** A run of trials on one column, for some wanted nodes. */
export class TrialRun {
  readonly places: readonly UncertainPlace[];
  /** Wanted nodes that a draw can move. */
  readonly moved: ReadonlySet<number>;
  readonly #machine: Evaluation['compiled']['machine'];
  readonly #actions: readonly ConeAction[];
  readonly #child: Memory;
  readonly #stream: TrialStream;

  constructor(evaluation: Evaluation, column: number, wanted: Iterable<number>) {
    const { program } = evaluation;
    const { memory, overridden } = evaluation.columns[column] as Evaluation['columns'][number];
    const list = [...wanted].filter((id) => !evaluation.isPutOff(column, id));
    const needed = closure(list, (id) => program.draws[id] ?? []);
    const places: UncertainPlace[] = [];
    const rowName = (id: number, row: number): string => {
      const axis = program.nodes[id]?.table?.rows.id ?? -1;
      return whereText(evaluation, column, axis, row) || `row ${row + 1}`;
    };
    const roots: number[] = [];
    for (const id of needed) {
      const node = program.nodes[id];
      if (!node || program.broken.has(id) || evaluation.isPutOff(column, id)) continue;
      if (overridden.has(`${id}`)) {
        if (evaluation.distributionOf(column, id, undefined))
          places.push({ node: id, row: undefined, name: node.name });
        continue;
      }
      if (node.distribution) places.push({ node: id, row: undefined, name: node.name });
      for (let row = 0; row < (node.table?.rowCount ?? 0); row++)
        if (evaluation.distributionOf(column, id, row))
          places.push({ node: id, row, name: `${node.name}, ${rowName(id, row)}` });
      if (node.expr?.op === 'drawn sky') roots.push(id);
    }
    const held = [...overridden]
      .map((key) => key.split(':'))
      .map(([node, row]) => ({
        node: Number(node),
        row: row === undefined ? undefined : Number(row),
      }));
    const targets = [...places.map(({ node, row }) => ({ node, row })), ...held];
    const cone = coneNodes(program, targets, list, roots);
    for (const id of [...cone]) if (evaluation.isPutOff(column, id)) cone.delete(id);
    // What a scenario holds still moves nothing by itself.
    const reached = closure([...places.map((p) => p.node), ...roots], (id) =>
      (program.drawnOnBy[id] ?? []).filter((by) => cone.has(by)),
    );
    const really = new Set([...cone].filter((id) => reached.has(id)));
    this.places = places;
    this.moved = new Set(list.filter((id) => reached.has(id)));
    const { machine, sites } = evaluation.compiled;
    this.#child = machine.newMemory();
    this.#child.follow(memory);
    const drawn = places.map(({ node, row }): Drawn => {
      const distribution = evaluation.distributionOf(column, node, row);
      if (!distribution) throw new RangeError(`node ${node} is not uncertain`);
      return { node, row, name: sites.drawName(node), distribution };
    });
    this.#machine = machine;
    this.#actions = orderCone(program, really, targets);
    this.#stream = new TrialStream(
      machine,
      this.#actions,
      drawn,
      evaluation.replacementsOf(column),
      this.#child,
    );
  }

  /** What one trial costs, in passes. */
  get cost(): number {
    return this.#machine.costOf(this.#actions, this.#child);
  }

  /** Whether anything is uncertain here. */
  get alive(): boolean {
    return this.moved.size > 0;
  }

  /** Works one trial; `fixed` gives shares for places that are not drawn but set (influence). Values are then in the memory returned. */
  run(trial: number, fixed?: (place: number) => number): Memory {
    this.#stream.run(trial, fixed);
    return this.#child;
  }
}

const QUANTILES = [0.05, 0.25, 0.5, 0.75, 0.95] as const;
/** Numbers kept for the bands of one series. */
const MOST_KEPT = 30_000_000;
/** Neighbouring places taken out of the trials' rows at once, as many as lie side by side in the cache. */
const GATHERED = 8;

/** Some trials of a column that were worked elsewhere, as plain data. */
export interface TrialShare {
  readonly from: number;
  readonly count: number;
  /** In how many of them each check holds, and all checks together. */
  readonly holds: Int32Array;
  readonly all: number;
  /** By node: one number a trial. */
  readonly samples: ReadonlyMap<number, Float64Array>;
  /** By node: the rows of the trials, one after the other. */
  readonly rows: ReadonlyMap<number, Float64Array>;
}

/**
 * A study in progress; `step` works some trials, so that a worker can be stopped and can refine. Trials
 * that another one worked are taken over with `accept` and not worked here.
 */
export class ColumnTrials {
  readonly run: TrialRun;
  readonly trials: number;
  readonly #evaluation: Evaluation;
  readonly #column: number;
  readonly #checkNodes: readonly number[];
  readonly #holds: Int32Array;
  readonly #samples = new Map<number, Float64Array>();
  /** By node, by trial. */
  readonly #rows = new Map<number, (Float64Array | undefined)[]>();
  /** Trials taken over that lie further on, in order. */
  #ahead: { readonly from: number; readonly to: number }[] = [];
  #all = 0;
  #done = 0;
  readonly #first: number;
  /** The trial to work next, and the first that no share holds yet. */
  #next: number;
  #shared: number;

  /** @param first the trial to begin with; those before it are somebody else's */
  constructor(
    evaluation: Evaluation,
    column: number,
    bands: readonly number[],
    trials: number,
    first = 0,
  ) {
    const { program, checked } = evaluation;
    this.#evaluation = evaluation;
    this.#column = column;
    this.trials = trials;
    this.#first = first;
    this.#next = first;
    this.#shared = first;
    this.#checkNodes = checked.checks.map((check) => check.node);
    const scalars = program.nodes.filter(
      (node) =>
        node.kind === 'cell' &&
        node.type?.kind === 'quantity' &&
        node.type.axes.length === 0 &&
        !evaluation.isPutOff(column, node.id) &&
        !program.broken.has(node.id),
    );
    this.run = new TrialRun(evaluation, column, [
      ...this.#checkNodes,
      ...scalars.map((node) => node.id),
      ...bands,
    ]);
    this.#holds = new Int32Array(this.#checkNodes.length);
    for (const node of scalars)
      if (this.run.moved.has(node.id) || this.run.places.some((p) => p.node === node.id))
        this.#samples.set(node.id, new Float64Array(trials).fill(Number.NaN));
    for (const id of bands)
      if (this.run.moved.has(id)) this.#rows.set(id, new Array(trials).fill(undefined));
  }

  /** Trials that are told of, those taken over included. */
  get done(): number {
    return this.#done;
  }

  /** Works up to `count` more trials; false when all are done. */
  step(count: number): boolean {
    const { program } = this.#evaluation;
    const { memory: still } = this.#evaluation.columns[
      this.#column
    ] as Evaluation['columns'][number];
    for (let k = 0; k < count && this.#next < this.trials; k++) {
      const trial = this.#next;
      const m = this.run.alive ? this.run.run(trial) : still;
      let all = true;
      this.#checkNodes.forEach((id, i) => {
        const from = this.run.moved.has(id) ? m : still;
        const holds = !from.faults[id] && this.#everywhere(id, from);
        if (holds) this.#holds[i] = (this.#holds[i] as number) + 1;
        else if (from.faults[id]?.kind !== 'pending') all = false;
      });
      if (all) this.#all++;
      for (const [id, sample] of this.#samples)
        sample[trial] = m.faults[id] ? Number.NaN : m.at(program.operands[id]?.[0] as Operand, 0);
      for (const [id, rows] of this.#rows) {
        const operand = program.operands[id]?.[0] as Operand;
        const row = m.rows[~operand] as Float64Array;
        if (trial * row.length < MOST_KEPT) rows[trial] = row.slice();
      }
      this.#done++;
      this.#goTo(trial + 1);
    }
    return this.#next < this.trials;
  }

  /** The next trial, past those that were taken over. */
  #goTo(trial: number): void {
    this.#next = trial;
    while (this.#ahead[0]?.from === this.#next) this.#next = this.#ahead.shift()?.to as number;
  }

  /** Takes over what another one worked, unless some of it is worked here already. */
  accept({ from, count, holds, all, samples, rows }: TrialShare): void {
    const to = from + count;
    if (from < this.#next || to > this.trials || count === 0) return;
    if (this.#ahead.some((one) => from < one.to && one.from < to)) return;
    for (let i = 0; i < this.#holds.length; i++)
      this.#holds[i] = (this.#holds[i] as number) + (holds[i] ?? 0);
    this.#all += all;
    for (const [id, sample] of samples) this.#samples.get(id)?.set(sample, from);
    for (const [id, own] of this.#rows) {
      const put = rows.get(id) ?? new Float64Array(0);
      const length = put.length / count;
      for (let k = 0; k < count && length > 0; k++)
        if ((from + k) * length < MOST_KEPT)
          own[from + k] = put.subarray(k * length, (k + 1) * length);
    }
    this.#done += count;
    this.#ahead = [...this.#ahead, { from, to }].sort((a, b) => a.from - b.from);
    this.#goTo(this.#next);
  }

  /** What was worked since the last share, for another one to take over. */
  share(): TrialShare {
    const from = this.#shared;
    const to = this.#next;
    const holds = this.#holds.slice();
    const all = this.#all;
    this.#shared = to;
    this.#holds.fill(0);
    this.#all = 0;
    const rows = new Map<number, Float64Array>();
    for (const [id, own] of this.#rows) {
      const length = own[from]?.length ?? 0;
      const put = new Float64Array(length * (to - from));
      // What is past the most that is kept is nobody's.
      for (let trial = from; trial < to; trial++) {
        const row = own[trial];
        if (row) put.set(row, (trial - from) * length);
        own[trial] = undefined;
      }
      rows.set(id, put);
    }
    const samples = new Map([...this.#samples].map(([id, all]) => [id, all.slice(from, to)]));
    return { from, count: to - from, holds, all, samples, rows };
  }

  #everywhere(id: number, m: Memory): boolean {
    const operand = this.#evaluation.program.operands[id]?.[0];
    if (operand === undefined) return false;
    if (operand >= 0) return m.scalars[operand] !== 0;
    return (m.rows[~operand] as Float64Array).every((v) => v !== 0);
  }

  /** A sample's numbers of the trials that are done. */
  #doneOf(sample: Float64Array): Float64Array {
    const { length } = this.#ahead;
    if (length === 0) return sample.slice(this.#first, this.#next);
    const found = new Float64Array(this.#done);
    let at = 0;
    for (const { from, to } of [{ from: this.#first, to: this.#next }, ...this.#ahead]) {
      found.set(sample.subarray(from, to), at);
      at += to - from;
    }
    return found;
  }

  result(): ColumnStudy {
    return {
      trials: this.#done,
      all: this.#all,
      checks: this.#checkNodes.map((id, i) =>
        this.run.moved.has(id) ? (this.#holds[i] as number) : -1,
      ),
      samples: new Map([...this.#samples].map(([id, sample]) => [id, this.#doneOf(sample)])),
      bands: new Map(
        [...this.#rows].map(([id, rows]) => [id, bandsOf(rows.filter((row) => row !== undefined))]),
      ),
    };
  }
}

/** The quantiles of each place over some trials. */
function bandsOf(rows: readonly Float64Array[]): Float64Array[] {
  const n = rows[0]?.length ?? 0;
  const out = QUANTILES.map(() => new Float64Array(n));
  const samples = Array.from({ length: GATHERED }, () => new Float64Array(rows.length));
  const found: number[] = [];
  for (let from = 0; from < n; from += GATHERED) {
    const count = Math.min(GATHERED, n - from);
    for (let t = 0; t < rows.length; t++) {
      const row = rows[t] as Float64Array;
      for (let i = 0; i < count; i++) (samples[i] as Float64Array)[t] = row[from + i] as number;
    }
    for (let i = 0; i < count; i++) {
      quantilesOf(samples[i] as Float64Array, QUANTILES, found);
      for (let k = 0; k < out.length; k++) (out[k] as Float64Array)[from + i] = found[k] as number;
    }
  }
  return out;
}
