// Part of a notebook worked trial after trial: what is drawn stands in one list of numbers, and the
// cells in one stream (quick-cone.ts). Both the trials of a whole column and those of `chance` and
// `percentile` run here.

import type { Distribution } from '../check/typed.ts';
import type { Memory } from './memory.ts';
import type { Program } from './program.ts';
import type { QuickCone } from './quick-cone.ts';
import { quantile, uniform } from './random.ts';
import type { ConeAction, Replacement } from './sites.ts';

/** One thing that is drawn: a node, or an entry of its column. */
export interface Drawn {
  readonly node: number;
  readonly row: number | undefined;
  /** The number of the name it is drawn under. */
  readonly name: number;
  readonly distribution: Distribution;
}

/** What the machine offers to a stream. */
interface StreamRunner {
  readonly program: Program;
  quickCone(
    actions: readonly ConeAction[],
    list: readonly Replacement[],
    m: Memory,
  ): QuickCone | undefined;
  runQuick(cone: QuickCone, list: readonly Replacement[], m: Memory): boolean;
  runActions(actions: readonly ConeAction[], list: readonly Replacement[], m: Memory): void;
}

export class TrialStream {
  readonly #machine: StreamRunner;
  readonly #actions: readonly ConeAction[];
  readonly #drawn: readonly Drawn[];
  /** What is drawn in the present trial. */
  readonly #values: Float64Array;
  readonly #list: readonly Replacement[];
  readonly #child: Memory;
  /** Nodes of the cone. */
  readonly #worked: Int32Array;
  readonly #quick: QuickCone | undefined;

  /** @param held what is put in besides, unless it is drawn */
  constructor(
    machine: StreamRunner,
    actions: readonly ConeAction[],
    drawn: readonly Drawn[],
    held: readonly Replacement[],
    child: Memory,
  ) {
    this.#machine = machine;
    this.#actions = actions;
    this.#drawn = drawn;
    this.#values = new Float64Array(drawn.length);
    this.#child = child;
    this.#list = this.#putIn(held);
    const { units } = machine.program;
    this.#worked = Int32Array.from(
      actions
        .flatMap((action) => (action.kind === 'unit' ? (units[action.unit]?.nodes ?? []) : []))
        // What a run around this one has put in stays as it is, a fault included.
        .filter((id) => !child.heldBefore.has(id)),
    );
    this.#quick = machine.quickCone(actions, this.#list, child);
  }

  /** Works one trial in the child; `fixed` gives shares for what is not drawn but set. */
  run(trial: number, fixed?: (place: number) => number): void {
    const child = this.#child;
    const { seed } = this.#machine.program;
    child.trial = trial;
    for (let k = 0; k < this.#drawn.length; k++) {
      const { distribution, name, row } = this.#drawn[k] as Drawn;
      const share = fixed ? fixed(k) : uniform(seed, trial, name, row === undefined ? 0 : row + 1);
      this.#values[k] = quantile(distribution, share);
    }
    for (let k = 0; k < this.#worked.length; k++)
      child.faults[this.#worked[k] as number] = undefined;
    if (!this.#quick || !this.#machine.runQuick(this.#quick, this.#list, child))
      this.#machine.runActions(this.#actions, this.#list, child);
  }

  #putIn(held: readonly Replacement[]): readonly Replacement[] {
    const list: Replacement[] = [...held];
    this.#drawn.forEach(({ node, row }, index) => {
      const put: Replacement = { node, row, value: () => this.#values[index] as number };
      const at = list.findIndex((r) => r.node === node && r.row === row);
      if (at >= 0) list[at] = put;
      else list.push(put);
    });
    return list;
  }
}
