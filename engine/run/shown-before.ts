// Rows as they were last shown, with the values they were made from. Making a row means writing
// numbers as text in every column; after a slider moved, most rows come out as they were, and
// comparing numbers is far cheaper than writing them. It compares what the memories hold, so that it
// need not be told what an edit reached.

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

/** What a place of the plan or of a scenario holds now, kept apart from the memory's own arrays. */
function copyOf(memory: Memory, plan: Memory, operand: Operand): number | Float64Array {
  if (operand >= 0) return memory.scalars[operand] as number;
  const row = memory.rows[~operand] as Float64Array;
  return memory !== plan && row === plan.rows[~operand] ? shared : row.slice();
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
  // One that waits names the root of what it waits for, which may change while it waits on.
  return (
    a.kind === b.kind &&
    a.kind !== 'waits' &&
    (a.kind !== 'error' || b.kind !== 'error' || a.text === b.text)
  );
}

export class ShownBefore {
  #evaluation: Evaluation | undefined;
  #studies: Evaluation['studies'];
  readonly #byItem = new Map<number, Before>();

  /** Begins a snapshot. Another evaluation or other trials leave nothing of before. */
  begin(evaluation: Evaluation): void {
    if (evaluation !== this.#evaluation || evaluation.studies !== this.#studies) this.forget();
    this.#evaluation = evaluation;
    this.#studies = evaluation.studies;
  }

  /** Forgets one row, which shows what draws on it and is drawn on by other cells now. */
  forgetRow(item: number): void {
    this.#byItem.delete(item);
  }

  /** Forgets every row: what they were made from may have changed in more than its values. */
  forget(): void {
    this.#byItem.clear();
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
    const before = this.#byItem.get(index);
    if (
      before &&
      !hasMessages &&
      before.source === item.source &&
      before.line === item.line &&
      this.#holds(evaluation, before)
    )
      return before.row;
    const row = make();
    if (hasMessages) this.#byItem.delete(index);
    else {
      const { source, line } = item;
      this.#byItem.set(index, { source, line, nodes, row, ...this.#held(evaluation, nodes) });
    }
    return row;
  }

  #holds(evaluation: Evaluation, before: Before): boolean {
    const { plan } = evaluation;
    const { operands } = evaluation.program;
    let [value, fault] = [0, 0];
    for (const { memory } of evaluation.columns)
      for (const node of before.nodes) {
        if (!isSameFault(before.faults[fault++], memory.faults[node])) return false;
        for (const operand of operands[node] ?? [])
          if (!isAsBefore(before.values[value++] as number | Float64Array, memory, plan, operand))
            return false;
      }
    return true;
  }

  #held(evaluation: Evaluation, nodes: readonly number[]): Pick<Before, 'values' | 'faults'> {
    const { plan } = evaluation;
    const values: (number | Float64Array)[] = [];
    const faults: (Fault | undefined)[] = [];
    for (const { memory } of evaluation.columns)
      for (const node of nodes) {
        faults.push(memory.faults[node]);
        for (const operand of evaluation.program.operands[node] ?? [])
          values.push(copyOf(memory, plan, operand));
      }
    // A list that grew has room for more; a copy has not, and there is one of them for every row.
    return {
      values: values.slice(),
      faults: faults.every((fault) => fault === undefined) ? NO_FAULTS : faults.slice(),
    };
  }
}
