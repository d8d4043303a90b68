// Several quantiles of one sample without putting all of it in order: only the ranks that are asked
// for come to stand where they would stand in a sorted sample. Bands ask this for every place of a
// series, where a sort costs ten times as much.

/**
 * Quantiles at rising shares, each straight between order statistics: the share p lies at p (n − 1).
 * Moves the sample's numbers about; absent ones count as the largest.
 */
export function quantilesOf(sample: Float64Array, shares: readonly number[], out: number[]): void {
  const n = sample.length;
  if (hasAbsent(sample)) sample.sort();
  else {
    let from = 0;
    for (let k = 0; k < shares.length; k++) {
      const rank = Math.floor((shares[k] as number) * (n - 1));
      for (let r = rank; r <= rank + 1 && r < n; r++) {
        if (r < from) continue;
        select(sample, from, n - 1, r);
        from = r + 1;
      }
    }
  }
  for (let k = 0; k < shares.length; k++) {
    const x = (shares[k] as number) * (n - 1);
    const i = Math.floor(x);
    const a = sample[i] as number;
    const b = sample[Math.min(n - 1, i + 1)] as number;
    out[k] = x === i ? a : a + (b - a) * (x - i);
  }
}

/** One quantile; moves the sample's numbers about. */
export function percentileOf(sample: Float64Array, share: number): number {
  const out: number[] = [];
  quantilesOf(sample, [share], out);
  return out[0] as number;
}

function hasAbsent(sample: Float64Array): boolean {
  for (let i = 0; i < sample.length; i++) if (Number.isNaN(sample[i] as number)) return true;
  return false;
}

/** Hoare's selection: afterwards rank `k` stands in its place, none before it is larger, none after it smaller. */
function select(x: Float64Array, from: number, to: number, k: number): void {
  let [low, high] = [from, to];
  while (low < high) {
    const pivot = middleOf(x[low] as number, x[(low + high) >> 1] as number, x[high] as number);
    let i = low;
    let j = high;
    while (i <= j) {
      while ((x[i] as number) < pivot) i++;
      while ((x[j] as number) > pivot) j--;
      if (i > j) break;
      const kept = x[i] as number;
      x[i] = x[j] as number;
      x[j] = kept;
      i++;
      j--;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else return;
  }
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
