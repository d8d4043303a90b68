// The notebook run many times with its uncertain givens drawn anew: how often each check holds, how
// each result is spread, bands of a series. A trial's draws depend on seed, trial and name alone, so
// any split of the trials gives the same numbers.

import type { Distribution } from '../check/typed.ts';
import { closure } from '../plan/graph.ts';
import { coneNodes, orderCone } from '../plan/link.ts';
import type { Replacement } from '../plan/machine.ts';
import type { Memory, Operand } from '../plan/memory.ts';
import { quantilesOf } from '../plan/order-statistics.ts';
import type { QuickCone } from '../plan/quick-cone.ts';
import { quantile, uniform } from '../plan/random.ts';
import type { ConeAction } from '../plan/sites.ts';
import type { Evaluation } from '../run/evaluation.ts';
import type { ColumnStudy } from '../run/study-results.ts';
import { whereText } from '../run/verdict.ts';

/** One uncertain given, or one uncertain entry of a table. */
export interface UncertainPlace {
  readonly node: number;
  readonly row: number | undefined;
  readonly name: string;
}

/** How a place is drawn. */
interface Drawn {
  readonly distribution: Distribution;
  readonly name: number;
  readonly place: number;
}

/** A run of trials on one column, for some wanted nodes. */
export class TrialRun {
  readonly places: readonly UncertainPlace[];
  /** Wanted nodes that a draw can move. */
  readonly moved: ReadonlySet<number>;
  readonly #evaluation: Evaluation;
  readonly #column: number;
  readonly #actions: readonly ConeAction[];
  readonly #child: Memory;
  readonly #drawn: readonly Drawn[];
  /** What is drawn in the present trial. */
  readonly #values: Float64Array;
  readonly #list: readonly Replacement[];
  /** Nodes of the cone. */
  readonly #worked: Int32Array;
  readonly #quick: QuickCone | undefined;

  constructor(evaluation: Evaluation, column: number, wanted: Iterable<number>) {
    const { program } = evaluation;
    const { memory, overridden } = evaluation.columns[column] as Evaluation['columns'][number];
    const list = [...wanted].filter((id) => program.slow[id] !== 1);
    const needed = closure(list, (id) => program.draws[id] ?? []);
    const places: UncertainPlace[] = [];
    const rowName = (id: number, row: number): string => {
      const axis = program.nodes[id]?.table?.rows.id ?? -1;
      return whereText(evaluation, column, axis, row) || `row ${row + 1}`;
    };
    const roots: number[] = [];
    for (const id of needed) {
      const node = program.nodes[id];
      if (!node || program.broken.has(id) || program.slow[id] === 1) continue;
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
    for (const id of [...cone]) if (program.slow[id] === 1) cone.delete(id);
    // What a scenario holds still moves nothing by itself.
    const reached = closure([...places.map((p) => p.node), ...roots], (id) =>
      (program.drawnOnBy[id] ?? []).filter((by) => cone.has(by)),
    );
    const really = new Set([...cone].filter((id) => reached.has(id)));
    this.places = places;
    this.moved = new Set(list.filter((id) => reached.has(id)));
    this.#evaluation = evaluation;
    this.#column = column;
    this.#actions = orderCone(program, really, targets);
    this.#child = evaluation.compiled.machine.newMemory();
    this.#child.follow(memory);
    this.#drawn = places.map((place) => this.#drawnAt(place));
    this.#values = new Float64Array(places.length);
    this.#list = this.#putIn();
    this.#worked = Int32Array.from(
      this.#actions.flatMap((action) =>
        action.kind === 'unit' ? (program.units[action.unit]?.nodes ?? []) : [],
      ),
    );
    this.#quick = evaluation.compiled.machine.quickCone(this.#actions, this.#list, this.#child);
  }

  /** Whether anything is uncertain here. */
  get alive(): boolean {
    return this.moved.size > 0;
  }

  /** Works one trial; `fixed` gives shares for places that are not drawn but set (influence). Values are then in the memory returned. */
  run(trial: number, fixed?: (place: number) => number): Memory {
    const { program, compiled } = this.#evaluation;
    const { machine } = compiled;
    const child = this.#child;
    child.trial = trial;
    for (let k = 0; k < this.#drawn.length; k++) {
      const { distribution, name, place } = this.#drawn[k] as Drawn;
      const share = fixed ? fixed(k) : uniform(program.seed, trial, name, place);
      this.#values[k] = quantile(distribution, share);
    }
    for (let k = 0; k < this.#worked.length; k++)
      child.faults[this.#worked[k] as number] = undefined;
    if (!this.#quick || !machine.runQuick(this.#quick, this.#list, child))
      machine.runActions(this.#actions, this.#list, child);
    return child;
  }

  #drawnAt({ node, row }: UncertainPlace): Drawn {
    const { compiled } = this.#evaluation;
    const distribution = this.#evaluation.distributionOf(this.#column, node, row);
    if (!distribution) throw new RangeError(`node ${node} is not uncertain`);
    const place = row === undefined ? 0 : row + 1;
    return { distribution, name: compiled.sites.drawName(node), place };
  }

  /** What the column puts in, and over it what is drawn. */
  #putIn(): readonly Replacement[] {
    const list: Replacement[] = [...this.#evaluation.replacementsOf(this.#column)];
    this.places.forEach(({ node, row }, index) => {
      const put: Replacement = { node, row, value: () => this.#values[index] as number };
      const at = list.findIndex((r) => r.node === node && r.row === row);
      if (at >= 0) list[at] = put;
      else list.push(put);
    });
    return list;
  }
}

const QUANTILES = [0.05, 0.25, 0.5, 0.75, 0.95] as const;
/** Numbers kept for the bands of one series. */
const MOST_KEPT = 30_000_000;
/** Neighbouring places taken out of the trials' rows at once, as many as lie side by side in the cache. */
const GATHERED = 8;

/** A study in progress; `step` works some trials, so that a worker can be stopped and can refine. */
export class ColumnTrials {
  readonly run: TrialRun;
  readonly trials: number;
  readonly #evaluation: Evaluation;
  readonly #column: number;
  readonly #checkNodes: readonly number[];
  readonly #holds: Int32Array;
  readonly #samples = new Map<number, Float64Array>();
  readonly #rows = new Map<number, Float64Array[]>();
  #all = 0;
  #done = 0;

  constructor(evaluation: Evaluation, column: number, bands: readonly number[], trials: number) {
    const { program, checked } = evaluation;
    this.#evaluation = evaluation;
    this.#column = column;
    this.trials = trials;
    this.#checkNodes = checked.checks.map((check) => check.node);
    const scalars = program.nodes.filter(
      (node) =>
        node.kind === 'cell' &&
        node.type?.kind === 'quantity' &&
        node.type.axes.length === 0 &&
        program.slow[node.id] !== 1 &&
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
    for (const id of bands) if (this.run.moved.has(id)) this.#rows.set(id, []);
  }

  get done(): number {
    return this.#done;
  }

  /** Works up to `count` more trials; false when all are done. */
  step(count: number): boolean {
    const { program } = this.#evaluation;
    const { memory: still } = this.#evaluation.columns[
      this.#column
    ] as Evaluation['columns'][number];
    for (let k = 0; k < count && this.#done < this.trials; k++) {
      const trial = this.#done++;
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
        if (rows.length * row.length < MOST_KEPT) rows.push(row.slice());
      }
    }
    return this.#done < this.trials;
  }

  #everywhere(id: number, m: Memory): boolean {
    const operand = this.#evaluation.program.operands[id]?.[0];
    if (operand === undefined) return false;
    if (operand >= 0) return m.scalars[operand] !== 0;
    return (m.rows[~operand] as Float64Array).every((v) => v !== 0);
  }

  result(): ColumnStudy {
    const bands = new Map<number, Float64Array[]>();
    for (const [id, rows] of this.#rows) {
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
          for (let k = 0; k < out.length; k++)
            (out[k] as Float64Array)[from + i] = found[k] as number;
        }
      }
      bands.set(id, out);
    }
    return {
      trials: this.#done,
      all: this.#all,
      checks: this.#checkNodes.map((id, i) =>
        this.run.moved.has(id) ? (this.#holds[i] as number) : -1,
      ),
      samples: new Map([...this.#samples].map(([id, sample]) => [id, sample.slice(0, this.#done)])),
      bands,
    };
  }
}
