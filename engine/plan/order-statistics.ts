// Several quantiles of one sample without putting all of it in order: only the ranks that are asked
// for come to stand where they would stand in a sorted sample. Bands ask this for every place of a
// series, where a sort costs ten times as much.

/**
 * Quantiles at rising shares, each straight between order statistics: the share p lies at p (n − 1).
 * Moves the sample's numbers about; absent ones count as the largest.
 */
export function quantilesOf(sample: Float64Array, shares: readonly number[], out: number[]): void {
  const n = sample.length;
  const ranks: number[] = [];
  for (let k = 0; k < shares.length; k++) {
    const rank = Math.floor((shares[k] as number) * (n - 1));
    for (let r = rank; r <= rank + 1 && r < n; r++)
      if (r > (ranks[ranks.length - 1] ?? -1)) ranks.push(r);
  }
  const found = statisticsOf(sample, ranks);
  for (let k = 0, at = 0; k < shares.length; k++) {
    const x = (shares[k] as number) * (n - 1);
    const i = Math.floor(x);
    while (at < ranks.length && (ranks[at] as number) < i) at++;
    const a = found[at] as number;
    const b = i + 1 < n ? (found[at + 1] as number) : a;
    out[k] = x === i ? a : a + (b - a) * (x - i);
  }
}

/** Fewer numbers than this are not worth sharing out. */
const MANY = 64;
const BUCKETS = 256;
const counts = new Int32Array(BUCKETS + 1);
const begins = new Int32Array(BUCKETS + 1);
let buckets = new Uint16Array(0);
let gathered = new Float64Array(0);

/** The order statistics of these rising ranks. */
function statisticsOf(sample: Float64Array, ranks: readonly number[]): Float64Array {
  const n = sample.length;
  let least = Number.POSITIVE_INFINITY;
  let most = Number.NEGATIVE_INFINITY;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const v = sample[i] as number;
    if (v < least) least = v;
    if (v > most) most = v;
    sum += v;
  }
  if (most === least && !Number.isNaN(sum)) return new Float64Array(ranks.length).fill(least);
  const scale = BUCKETS / (most - least);
  // Absent and endless numbers have no distance from each other.
  if (n >= MANY && scale > 0 && scale < Number.POSITIVE_INFINITY && !Number.isNaN(sum))
    return fromBuckets(sample, least, scale, ranks);
  if (hasAbsent(sample)) sample.sort();
  else place(sample, 0, n - 1, ranks, 0, ranks.length);
  return Float64Array.from(ranks, (rank) => sample[rank] as number);
}

/**
 * Shares the numbers out by size, without a comparison whose outcome nobody can guess, and puts in
 * order only what lies in the few buckets that hold a wanted rank.
 */
function fromBuckets(
  sample: Float64Array,
  least: number,
  scale: number,
  ranks: readonly number[],
): Float64Array {
  const n = sample.length;
  if (buckets.length < n) {
    buckets = new Uint16Array(n);
    gathered = new Float64Array(n);
  }
  counts.fill(0);
  for (let i = 0; i < n; i++) {
    const bucket = (((sample[i] as number) - least) * scale) | 0;
    buckets[i] = bucket;
    counts[bucket] = (counts[bucket] as number) + 1;
  }
  // Where each wanted bucket's numbers are put; −1 for the others.
  begins.fill(-1);
  const wanted: { from: number; to: number; first: number; end: number; below: number }[] = [];
  let below = 0;
  let room = 0;
  let at = 0;
  for (let bucket = 0; bucket <= BUCKETS && at < ranks.length; bucket++) {
    const count = counts[bucket] as number;
    const first = at;
    while (at < ranks.length && (ranks[at] as number) < below + count) at++;
    if (at > first) {
      begins[bucket] = room;
      wanted.push({ from: room, to: room + count - 1, first, end: at, below });
      room += count;
    }
    below += count;
  }
  for (let i = 0; i < n; i++) {
    const bucket = buckets[i] as number;
    const to = begins[bucket] as number;
    if (to < 0) continue;
    gathered[to] = sample[i] as number;
    begins[bucket] = to + 1;
  }
  const found = new Float64Array(ranks.length);
  for (const { from, to, first, end, below: less } of wanted) {
    const own: number[] = [];
    for (let k = first; k < end; k++) own.push((ranks[k] as number) - less + from);
    place(gathered, from, to, own, 0, own.length);
    for (let k = first; k < end; k++) found[k] = gathered[own[k - first] as number] as number;
  }
  return found;
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

/** As many numbers as are put in order at once. */
const FEW = 12;

/**
 * Puts the ranks numbered `first` to `end` of a list in their places: Hoare's partition, then the same
 * with those parts alone that hold a wanted rank.
 */
function place(
  x: Float64Array,
  from: number,
  to: number,
  ranks: readonly number[],
  first: number,
  end: number,
): void {
  let [low, high, begin, stop] = [from, to, first, end];
  while (begin < stop && low < high) {
    if (high - low < FEW) {
      putInOrder(x, low, high);
      return;
    }
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
    // What lies between j and i is the pivot and stands where it belongs.
    let left = begin;
    while (left < stop && (ranks[left] as number) <= j) left++;
    let right = left;
    while (right < stop && (ranks[right] as number) < i) right++;
    place(x, low, j, ranks, begin, left);
    [low, begin] = [i, right];
  }
}

function putInOrder(x: Float64Array, low: number, high: number): void {
  for (let i = low + 1; i <= high; i++) {
    const v = x[i] as number;
    let j = i - 1;
    while (j >= low && (x[j] as number) > v) {
      x[j + 1] = x[j] as number;
      j--;
    }
    x[j + 1] = v;
  }
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
