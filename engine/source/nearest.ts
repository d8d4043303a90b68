// The name a reader probably meant: the nearest of the known ones, when one is near enough.

/**
 * Number of slips between two words: letters left out, added, changed, or two neighbours swapped
 * (optimal string alignment: Damerau 1964, Levenshtein 1966). Gives `limit + 1` when there are more
 * than `limit`.
 */
export function slips(first: string, second: string, limit: number): number {
  if (Math.abs(first.length - second.length) > limit) return limit + 1;
  let before: readonly number[] = [];
  let above: readonly number[] = Array.from({ length: second.length + 1 }, (_, column) => column);
  for (let row = 1; row <= first.length; row += 1) {
    const current: number[] = [row];
    let least = row;
    for (let column = 1; column <= second.length; column += 1) {
      const same = first[row - 1] === second[column - 1];
      let cost = Math.min(
        (above[column] ?? 0) + 1,
        (current[column - 1] ?? 0) + 1,
        (above[column - 1] ?? 0) + (same ? 0 : 1),
      );
      const swapped =
        row > 1 &&
        column > 1 &&
        first[row - 1] === second[column - 2] &&
        first[row - 2] === second[column - 1];
      if (swapped) cost = Math.min(cost, (before[column - 2] ?? 0) + 1);
      current.push(cost);
      least = Math.min(least, cost);
    }
    if (least > limit) return limit + 1;
    before = above;
    above = current;
  }
  return Math.min(above[second.length] ?? 0, limit + 1);
}

/**
 * How many slips still make a word the one that was meant: a third of its letters, 3 at most. A name of
 * one or two letters is near to every other such name.
 */
function allowed(word: string): number {
  return Math.min(3, Math.floor(word.length / 3));
}

/** The candidate with the fewest slips, if at most a third of the word's letters (3 at most). */
export function nearest(word: string, candidates: Iterable<string>): string | undefined {
  const wanted = word.toLowerCase();
  let limit = allowed(wanted);
  let best: string | undefined;
  for (const candidate of candidates) {
    const count = slips(wanted, candidate.toLowerCase(), limit);
    if (count > limit || (best !== undefined && count >= limit + 1)) continue;
    best = candidate;
    if (count === 0) break;
    limit = count - 1;
  }
  return best;
}

/** Among so many names all are looked at. */
const FEW = 1000;
/** Of more, so many that begin like the word and are about as long. */
const LOOKED_AT = 40;

/**
 * Names in which the nearest is looked for again and again. With very many, looking through all of
 * them for each of very many faults would take minutes, so only some that begin alike are looked at.
 */
export class NameIndex {
  readonly names: readonly string[];
  #byStart: ReadonlyMap<string, readonly string[]> | undefined;

  constructor(names: readonly string[]) {
    this.names = names;
  }

  nearest(word: string, further: readonly string[]): string | undefined {
    if (this.names.length <= FEW) return nearest(word, [...this.names, ...further]);
    return nearest(word, [...this.#likely(word.toLowerCase()), ...further]);
  }

  #likely(word: string): readonly string[] {
    this.#byStart ??= grouped(this.names);
    const found: string[] = [];
    const reach = allowed(word);
    for (let longer = 0; longer <= reach; longer++) {
      for (const by of longer === 0 ? [0] : [longer, -longer]) {
        for (const name of this.#byStart.get(startOf(word, by)) ?? []) {
          found.push(name);
          if (found.length === LOOKED_AT) return found;
        }
      }
    }
    return found;
  }
}

/** First letter and length, the length so many letters more. */
function startOf(name: string, longer: number): string {
  return `${name[0] ?? ''}${name.length + longer}`;
}

function grouped(names: readonly string[]): ReadonlyMap<string, readonly string[]> {
  const groups = new Map<string, string[]>();
  for (const name of names) {
    const start = startOf(name.toLowerCase(), 0);
    const group = groups.get(start);
    if (group) group.push(name);
    else groups.set(start, [name]);
  }
  return groups;
}
