// What a call along an axis worked out before, for arguments that often stay as they were: the sun's
// geometry through a thousand trials, of which only the haze is drawn. Told apart by content, for
// the rows a call is given are written anew; comparing them costs a hundredth of the sines they save.

const KEPT = 8;

interface Kept<T> {
  readonly numbers: readonly number[];
  readonly rows: readonly Float64Array[];
  readonly made: T;
}

function sameNumbers(a: readonly number[], b: readonly number[]): boolean {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return false;
  return a.length === b.length;
}

function sameRow(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** The last few results, the latest first. A row with an absent number is never found again. */
export class RowMemory<T> {
  readonly #kept: Kept<T>[] = [];

  /** What was made for these numbers and rows, or `make()`, kept for the next time. */
  find(numbers: readonly number[], rows: readonly Float64Array[], make: () => T): T {
    const kept = this.#kept;
    const at = kept.findIndex(
      (one) =>
        sameNumbers(one.numbers, numbers) &&
        one.rows.length === rows.length &&
        one.rows.every((row, k) => sameRow(row, rows[k] as Float64Array)),
    );
    const found = kept[at];
    if (found) {
      if (at > 0) {
        kept.splice(at, 1);
        kept.unshift(found);
      }
      return found.made;
    }
    const made = make();
    kept.unshift({ numbers, rows: rows.map((row) => row.slice()), made });
    if (kept.length > KEPT) kept.pop();
    return made;
  }
}
