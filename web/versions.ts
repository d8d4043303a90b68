// Which earlier versions of a notebook are kept: one when it is opened and one for every hour in
// which it changes, thinned as they age. The policy is plain data in and out; storage.ts keeps them.

export interface Earlier {
  /** The notebook's own. */
  readonly id: string;
  /** When this was the notebook's text, ms since 1970. */
  readonly when: number;
  readonly title: string;
  readonly text: string;
  readonly headline: string;
}

export const HOUR = 3_600_000;
export const DAY = 24 * HOUR;
const MONTH = 30 * DAY;
/** All versions of one notebook together, in characters; the oldest give way. */
export const MOST_CHARACTERS = 4_000_000;

/** Versions of the same span of time count as one, of which the latest stays; 0: each stays. */
function spanOf(age: number): number {
  if (age < 6 * HOUR) return 0;
  if (age < DAY) return HOUR;
  if (age < MONTH) return DAY;
  return MONTH;
}

/**
 * The moments of the versions to keep: all of the last six hours, then one an hour for a day, one a
 * day for a month, one a month after that, as far as they fit.
 *
 * @param versions of one notebook, in any order
 */
export function keptVersions(
  versions: readonly { readonly when: number; readonly size: number }[],
  now: number,
): ReadonlySet<number> {
  const kept = new Set<number>();
  const spans = new Set<string>();
  let characters = 0;
  for (const { when, size } of versions.toSorted((a, b) => b.when - a.when)) {
    const span = spanOf(now - when);
    const name = span === 0 ? `at ${when}` : `${span} ${Math.floor(when / span)}`;
    if (spans.has(name)) continue;
    // The newest is kept however large it is.
    if (kept.size > 0 && characters + size > MOST_CHARACTERS) break;
    spans.add(name);
    kept.add(when);
    characters += size;
  }
  return kept;
}

/** Whether the text before an edit is worth keeping as a version of its own. */
export function isDue(last: number | undefined, now: number): boolean {
  return last === undefined || now - last >= HOUR;
}
