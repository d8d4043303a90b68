// One entry of the catalogue of messages: what a code means, what to do, and a notebook that
// provokes it.

export interface CatalogueEntry {
  /** What is wrong, in one sentence. */
  readonly meaning: string;
  /** What to do, in one sentence. */
  readonly remedy: string;
  /** Lines of a notebook that have this fault and no other. */
  readonly sample: string;
  /** The words at which the message stands: the last place in the sample where they occur. */
  readonly at: string;
  /** The sample is a whole file with its own header. */
  readonly whole: boolean;
}

export function entry(
  meaning: string,
  remedy: string,
  sample: string,
  at: string,
  whole = false,
): CatalogueEntry {
  return { meaning, remedy, sample, at, whole };
}
