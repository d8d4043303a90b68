// The studies of an open notebook: trials of every column, bands and influence for the charts that
// ask for them. Worked in slices, wherever time is not missed; the result is plain data that another
// session of the same text can take over.

import type { Evaluation } from '../run/evaluation.ts';
import type { Session } from '../run/session.ts';
import { type Influence, type StudyResults, UNTOLD } from '../run/study-results.ts';
import { influenceOn } from './influence.ts';
import { ColumnTrials, type TrialShare } from './trials.ts';

/** Trials worked between two looks at the clock. */
const SLICE = 8;

/** Cells that a chart shows in bands. Bands are of whole rows; a number alone has none, and its chart says so. */
function bandedIn({ checked, program }: Evaluation): readonly number[] {
  return checked.charts
    .filter((chart) => chart.kind === 'bands')
    .flatMap((chart) => chart.items.map(({ node }) => node))
    .filter((node) => (program.operands[node]?.[0] ?? 0) < 0);
}

export class StudyWork {
  readonly #evaluation: Evaluation;
  /** By column; those that are not asked for are absent. */
  readonly #columns: ReadonlyMap<number, ColumnTrials>;
  readonly #list: readonly ColumnTrials[];
  readonly #influence = new Map<number, readonly Influence[]>();
  readonly #asked: { readonly item: number; readonly node: number }[];
  #at = 0;

  constructor(
    evaluation: Evaluation,
    trials: number = evaluation.program.trials,
    wanted?: ReadonlySet<number>,
  ) {
    this.#evaluation = evaluation;
    const { charts } = evaluation.checked;
    const bands = bandedIn(evaluation);
    this.#columns = new Map(
      evaluation.columns
        .map((_, index) => index)
        .filter((index) => wanted === undefined || wanted.has(index))
        .map((index) => [index, new ColumnTrials(evaluation, index, bands, trials)]),
    );
    this.#list = [...this.#columns.values()];
    // Influence is told of the plan.
    this.#asked = (this.#columns.has(0) ? charts : [])
      .filter((chart) => chart.kind === 'influence')
      .flatMap((chart) =>
        chart.items[0] ? [{ item: chart.item, node: chart.items[0].node }] : [],
      );
  }

  /** Whether any given is uncertain. */
  get alive(): boolean {
    return this.#list.some((column) => column.run.alive);
  }

  /** What one trial of all these columns costs, in passes of a unit. */
  get cost(): number {
    return this.#list.reduce((sum, { run }) => sum + run.cost, 0);
  }

  /** Whether some trials are still to be worked. */
  get trialsLeft(): boolean {
    return this.#list.some((column) => column.done < column.trials);
  }

  /** Works until `until` says stop; true while something is left. */
  step(until: () => boolean): boolean {
    if (!this.alive) return false;
    // Column by column in turn, so that an early look shows all of them.
    if (this.trialsLeft) {
      while (this.trialsLeft) {
        (this.#list[this.#at] as ColumnTrials).step(SLICE);
        this.#at = (this.#at + 1) % this.#list.length;
        if (until()) return true;
      }
      // What the trials tell does not wait for what moves it.
      return this.#asked.length > 0;
    }
    const next = this.#asked.find(({ item }) => !this.#influence.has(item));
    if (next) {
      this.#influence.set(
        next.item,
        influenceOn(this.#evaluation, 0, next.node, Math.min(500, this.#evaluation.program.trials)),
      );
      return this.#asked.some(({ item }) => !this.#influence.has(item));
    }
    return false;
  }

  /** Takes over some trials of a column that another worker worked. */
  accept(column: number, share: TrialShare): void {
    this.#columns.get(column)?.accept(share);
  }

  result(): StudyResults {
    return {
      columns: this.#evaluation.columns.map(
        (_, index) => this.#columns.get(index)?.result() ?? UNTOLD,
      ),
      influence: new Map(this.#influence),
      done: this.#list.reduce((sum, column) => sum + column.done, 0),
      wanted: this.#list.reduce((sum, column) => sum + column.trials, 0),
    };
  }
}

/**
 * Begins the trials that a notebook asks for, in these columns or in all; nothing of it shows before
 * the session adopts it.
 */
export function startStudies(
  session: Session,
  trials?: number,
  columns?: ReadonlySet<number>,
): StudyWork {
  return new StudyWork(session.evaluation, trials, columns);
}

/** Trials that are handed over together: the last of them are missed as long as they take. */
const HANDED_OVER = 40;
/** What telling of the trials takes of the one that puts them together, as a share of a part. */
const TELLING = 0.2;

/** Where the part numbered `nth` of `parts` begins among so many trials; the first part is the smaller one. */
function beginOf(nth: number, parts: number, trials: number): number {
  return Math.floor(trials * (1 - (parts - nth) / (parts - TELLING)));
}

/**
 * A part of one column's trials, worked for a study that stands elsewhere: the part numbered `nth` of
 * `parts`, from 1 on; part 0 is worked where they are put together. Each call works some trials and gives them; nothing when none is left.
 */
export function startShare(
  { evaluation }: Session,
  column: number,
  nth: number,
  parts: number,
): () => TrialShare | undefined {
  const { trials } = evaluation.program;
  const from = beginOf(nth, parts, trials);
  const to = beginOf(nth + 1, parts, trials);
  const work = new ColumnTrials(evaluation, column, bandedIn(evaluation), to, from);
  let left = work.run.alive ? to - from : 0;
  return () => {
    const count = Math.min(HANDED_OVER, left);
    left -= count;
    if (count === 0) return undefined;
    work.step(count);
    return work.share();
  };
}
