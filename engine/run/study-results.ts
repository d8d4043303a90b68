// What studies hand over to an evaluation: plain data, so that it can come from a worker.

/** What trials tell of one column. */
export interface ColumnStudy {
  readonly trials: number;
  /** Trials in which every check holds. */
  readonly all: number;
  /** By check, in file order: trials in which it holds; −1 when trials cannot move it. */
  readonly checks: readonly number[];
  /** Scalar cells: values in the order of the trials, stored units. */
  readonly samples: ReadonlyMap<number, Float64Array>;
  /** Series asked for: five quantiles (5, 25, 50, 75, 95 %), each as long as the axis. */
  readonly bands: ReadonlyMap<number, readonly Float64Array[]>;
}

export interface Influence {
  readonly name: string;
  readonly node: number;
  readonly row: number | undefined;
  /** The result with this given at its low and at its high end, stored units. */
  readonly low: number;
  readonly high: number;
  /** The given's own ends. */
  readonly givenLow: number;
  readonly givenHigh: number;
  /** Spearman's rank correlation of given and result over the trials. */
  readonly rank: number;
}

export interface StudyResults {
  readonly columns: readonly ColumnStudy[];
  /** By chart item. */
  readonly influence: ReadonlyMap<number, readonly Influence[]>;
  /** Trials done of those wanted. */
  readonly done: number;
  readonly wanted: number;
}

/** A column of which nothing is told yet. */
export const UNTOLD: ColumnStudy = {
  trials: 0,
  all: 0,
  checks: [],
  samples: new Map(),
  bands: new Map(),
};

/** Results of the same text from several places, each of columns of its own, as one. */
export function gathered(parts: readonly StudyResults[]): StudyResults {
  const length = Math.max(0, ...parts.map(({ columns }) => columns.length));
  return {
    columns: Array.from(
      { length },
      (_, index) =>
        parts.find(({ columns }) => (columns[index]?.trials ?? 0) > 0)?.columns[index] ?? UNTOLD,
    ),
    influence: new Map(parts.flatMap(({ influence }) => [...influence])),
    done: parts.reduce((sum, part) => sum + part.done, 0),
    wanted: parts.reduce((sum, part) => sum + part.wanted, 0),
  };
}
