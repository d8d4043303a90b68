// Times of contenders taken in turn within one process: many short repetitions, the median and the
// middle half of each, and the ratio of two as the median of the ratios round by round, so that a
// busy machine slows both alike.

/** Where results go, so that no work can be left out as useless. */
export const sink = { value: 0 };

export interface Contender {
  readonly name: string;
  /** Does the work once and gives a number that depends on it. */
  readonly run: () => number;
  /** Milliseconds of running before it counts; long code by hand takes seconds to become fast. */
  readonly warmFor?: number;
}

export interface Timing {
  readonly name: string;
  /** Milliseconds of one run: the median, and the quarters below and above it. */
  readonly median: number;
  readonly low: number;
  readonly high: number;
  /** By round, for ratios. */
  readonly rounds: readonly number[];
}

export interface Ratio {
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

/** The value below which a share of the numbers lies. */
export function shareOf(numbers: readonly number[], share: number): number {
  const sorted = [...numbers].sort((a, b) => a - b);
  const x = share * (sorted.length - 1);
  const low = sorted[Math.floor(x)] ?? Number.NaN;
  const high = sorted[Math.ceil(x)] ?? Number.NaN;
  return low + (high - low) * (x - Math.floor(x));
}

/** One stretch of runs of about this many milliseconds is one reading. */
const STRETCH = 4;
const WARM_FOR = 300;

/** How many runs fill a stretch, found while the contender is warmed up. */
function warm(contender: Contender): number {
  const begin = performance.now();
  let runs = 0;
  while (runs < 3 || performance.now() - begin < (contender.warmFor ?? WARM_FOR)) {
    sink.value += contender.run();
    runs++;
  }
  return Math.max(1, Math.round((STRETCH * runs) / (performance.now() - begin)));
}

export function race(contenders: readonly Contender[], rounds = 31): readonly Timing[] {
  // Twice: what is learnt about the first contender may slow the code it shares with the last.
  for (const contender of contenders) warm(contender);
  const counts = contenders.map(warm);
  const times: number[][] = contenders.map(() => []);
  for (let round = 0; round < rounds; round++) {
    contenders.forEach((contender, i) => {
      const count = counts[i] ?? 1;
      const begin = performance.now();
      for (let k = 0; k < count; k++) sink.value += contender.run();
      times[i]?.push((performance.now() - begin) / count);
    });
  }
  return contenders.map(({ name }, i) => {
    const list = times[i] ?? [];
    return {
      name,
      median: shareOf(list, 0.5),
      low: shareOf(list, 0.25),
      high: shareOf(list, 0.75),
      rounds: list,
    };
  });
}

/** How many times longer `a` takes than `b`; `per` scales both to the same amount of work. */
export function ratioOf(a: Timing, b: Timing, per = 1): Ratio {
  const list = a.rounds.map((time, i) => time / (b.rounds[i] ?? Number.NaN) / per);
  return { median: shareOf(list, 0.5), low: shareOf(list, 0.1), high: shareOf(list, 0.9) };
}

/** Largest relative difference between two lists of numbers. */
export function difference(a: ArrayLike<number>, b: ArrayLike<number>): number {
  if (a.length !== b.length) return Number.POSITIVE_INFINITY;
  let most = 0;
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [a[i] ?? Number.NaN, b[i] ?? Number.NaN];
    const d = Math.abs(x - y) / Math.max(1e-12, Math.abs(x), Math.abs(y));
    if (!(d <= most)) most = d;
  }
  return most;
}
