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

/** The candidate with the fewest slips, if at most a third of the word's letters (3 at most). */
export function nearest(word: string, candidates: Iterable<string>): string | undefined {
  const wanted = word.toLowerCase();
  // A name of one or two letters is near to every other such name.
  let limit = Math.min(3, Math.floor(wanted.length / 3));
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
