// Rows as they were last shown, with the values they were made from. Making a row means writing
// numbers as text in every column; after a slider moved, most rows come out as they were, and
// comparing numbers is far cheaper than writing them. It compares what the memories hold, so that it
// need not be told what an edit reached.

import type { GraphNode } from '../check/scope.ts';
import type { Item } from '../notebook/notebook.ts';
import type { Fault, Memory, Operand } from '../plan/memory.ts';
import type { Evaluation } from './evaluation.ts';
import type { Row } from './snapshot.ts';

interface Before {
  readonly source: string;
  readonly line: number;
  readonly nodes: readonly number[];
  /** Column by column, node by node, operand by operand. A series shared with the plan is `shared`. */
  readonly values: readonly (number | Float64Array)[];
  /** Empty when there is none. */
  readonly faults: readonly (Fault | undefined)[];
  readonly row: Row;
}

const shared = new Float64Array(0);
const NO_FAULTS: readonly undefined[] = [];
const NO_PLACES: readonly Operand[] = [];

/**
 * What a place of the plan or of a scenario holds now, kept apart from the memory's own arrays. `spare` is
 * what was kept of it before and is wanted no more: its array is taken again, for a slide would else
 * leave hundreds of them at every move.
 */
function copyOf(
  memory: Memory,
  plan: Memory,
  operand: Operand,
  spare: number | Float64Array | undefined,
): number | Float64Array {
  if (operand >= 0) return memory.scalars[operand] as number;
  const row = memory.rows[~operand] as Float64Array;
  if (memory !== plan && row === plan.rows[~operand]) return shared;
  if (typeof spare !== 'object' || spare === shared || spare.length !== row.length)
    return row.slice();
  spare.set(row);
  return spare;
}

function isAsBefore(
  before: number | Float64Array,
  memory: Memory,
  plan: Memory,
  operand: Operand,
): boolean {
  if (operand >= 0) return Object.is(before, memory.scalars[operand]);
  const row = memory.rows[~operand] as Float64Array;
  if (before === shared) return memory !== plan && row === plan.rows[~operand];
  if (typeof before === 'number' || before.length !== row.length) return false;
  if (memory !== plan && row === plan.rows[~operand]) return false;
  for (let i = 0; i < row.length; i++) if (!Object.is(before[i], row[i])) return false;
  return true;
}

function isSameFault(a: Fault | undefined, b: Fault | undefined): boolean {
  if (a === undefined || b === undefined) return a === b;
  if (a === b) return true;
  // One that waits names what it waits for.
  if (a.kind === 'waits') return b.kind === 'waits' && a.on === b.on;
  return a.kind === b.kind && (a.kind !== 'error' || b.kind !== 'error' || a.text === b.text);
}

export class ShownBefore {
  #evaluation: Evaluation | undefined;
  #studies: Evaluation['studies'];
  #clock: { readonly node: GraphNode | undefined } | undefined;
  /** By item. */
  #rows: (Before | undefined)[] = [];

  /** Begins a snapshot. Another evaluation or other trials leave nothing of before. */
  begin(evaluation: Evaluation): void {
    if (evaluation !== this.#evaluation || evaluation.studies !== this.#studies) this.forget();
    this.#evaluation = evaluation;
    this.#studies = evaluation.studies;
  }

  /** The first timeline. Which cells are timelines is settled with the evaluation. */
  clockOf(evaluation: Evaluation): GraphNode | undefined {
    this.#clock ??= {
      node: evaluation.program.nodes.find(
        ({ type }) => type?.kind === 'quantity' && type.timeline !== undefined,
      ),
    };
    return this.#clock.node;
  }

  /** Forgets one row, which shows what draws on it and is drawn on by other cells now. */
  forgetRow(item: number): void {
    if (item < this.#rows.length) this.#rows[item] = undefined;
  }

  /** Forgets every row: what they were made from may have changed in more than its values. */
  forget(): void {
    this.#rows = [];
    this.#clock = undefined;
  }

  /** The row of an item without messages, when nothing it shows has changed. */
  still(evaluation: Evaluation, index: number, item: Item): Row | undefined {
    const before = this.#rows[index];
    return before !== undefined &&
      before.source === item.source &&
      before.line === item.line &&
      this.#holds(evaluation, before)
      ? before.row
      : undefined;
  }

  /**
   * The row of an item, as it was when nothing it shows has changed, else made anew. `nodes` are all
   * nodes whose values it shows; a row with messages is always made anew.
   */
  row<R extends Row>(
    evaluation: Evaluation,
    index: number,
    item: Item,
    nodes: readonly number[],
    hasMessages: boolean,
    make: () => R,
  ): Row {
    const same = hasMessages ? undefined : this.still(evaluation, index, item);
    if (same) return same;
    const before = this.#rows[index];
    const row = make();
    if (hasMessages) this.forgetRow(index);
    else {
      // A list with holes is read as a map is.
      while (this.#rows.length < index) this.#rows.push(undefined);
      const { source, line } = item;
      const { values, faults } = this.#held(evaluation, nodes, before?.values ?? []);
      this.#rows[index] = { source, line, nodes, values, faults, row };
    }
    return row;
  }

  #holds(evaluation: Evaluation, before: Before): boolean {
    const { plan, columns } = evaluation;
    const { operands } = evaluation.program;
    const { nodes, faults, values } = before;
    let [value, fault] = [0, 0];
    for (let c = 0; c < columns.length; c++) {
      const { memory } = columns[c] as Evaluation['columns'][number];
      for (let n = 0; n < nodes.length; n++) {
        const node = nodes[n] as number;
        if (!isSameFault(faults[fault++], memory.faults[node])) return false;
        const places = operands[node] ?? NO_PLACES;
        for (let j = 0; j < places.length; j++)
          if (
            !isAsBefore(
              values[value++] as number | Float64Array,
              memory,
              plan,
              places[j] as Operand,
            )
          )
            return false;
      }
    }
    return true;
  }

  /** What the nodes hold now. The arrays of `spare`, held before, are taken for it. */
  #held(
    evaluation: Evaluation,
    nodes: readonly number[],
    spare: Before['values'],
  ): Pick<Before, 'values' | 'faults'> {
    const { plan } = evaluation;
    const values: (number | Float64Array)[] = [];
    const faults: (Fault | undefined)[] = [];
    for (const { memory } of evaluation.columns)
      for (const node of nodes) {
        faults.push(memory.faults[node]);
        for (const operand of evaluation.program.operands[node] ?? [])
          values.push(copyOf(memory, plan, operand, spare[values.length]));
      }
    // A list that grew has room for more; a copy has not, and there is one of them for every row.
    return {
      values: values.slice(),
      faults: faults.every((fault) => fault === undefined) ? NO_FAULTS : faults.slice(),
    };
  }
}
