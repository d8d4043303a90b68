/*
 * Chance: spells of wet and dry days as a chain of two states, guesses of three points, the normal
 * distribution, and how sure a count of trials makes one. Nothing here draws its own random
 * numbers: a caller hands in numbers between 0 and 1, so a trial can be told again.
 */

/** Chances that a day is wet, given the day before. */
export interface WetChain {
  /** After a wet day, p11, 0 to 1. */
  readonly afterWet: number;
  /** After a dry day, p01, 0 to 1. */
  readonly afterDry: number;
}

/**
 * A chain from what people remember: wet days in a month, and how long a wet spell lasts.
 *
 *     π = w / d   p11 = 1 − 1/L   p01 = π (1 − p11) / (1 − π)
 *
 * @param wetDays  in a month w, 0 to d
 * @param spell    mean length of a wet spell L, days, 1 or more
 * @param days     in the month d
 * @returns        the chain; `afterDry` comes out above 1 when so many wet days cannot lie in spells
 *                 so short: the entry contradicts itself
 *
 * Source: Gabriel & Neumann, Quarterly Journal of the Royal Meteorological Society 88 (1962) 90
 * Truth: test/engine/physics/weather-chance.test.ts, by the chain's own share and mean spell
 */
export function wetChain(wetDays: number, spell: number, days = 30): WetChain {
  const share = wetDays / days;
  // A month of nothing but wet days never leaves the wet state.
  if (share >= 1) return { afterWet: 1, afterDry: 1 };
  return { afterWet: 1 - 1 / spell, afterDry: share / (spell * (1 - share)) };
}

/**
 * Share of wet days in the long run.
 *
 *     π = p01 / (1 − p11 + p01)
 *
 * @param chain  not both certain to stay
 * @returns      0 to 1
 *
 * Source: Gabriel & Neumann 1962
 * Truth: test/reference/checks.json (markov_stationary_wet), largest relative error 0.0004
 */
export function wetShare(chain: WetChain): number {
  return chain.afterDry / (1 - chain.afterWet + chain.afterDry);
}

/**
 * Correlation of one day with the next.
 *
 *     r = p11 − p01
 *
 * @param chain  the chances
 * @returns      −1 to 1; 0 when days are independent
 *
 * Source: Gabriel & Neumann 1962
 * Truth: test/reference/checks.json (markov_autocorrelation), no error beyond rounding
 */
export function persistence(chain: WetChain): number {
  return chain.afterWet - chain.afterDry;
}

/**
 * Chance of a wet day some days ahead.
 *
 *     p(n) = π + (p0 − π) r^n
 *
 * @param chain  the chances
 * @param start  chance that today is wet p0: 1 wet, 0 dry
 * @param days   ahead n, whole, 0 or more
 * @returns      0 to 1
 *
 * Source: the chain's powers
 * Truth: test/reference/checks.json (markov_n_step_wet), no error beyond rounding
 */
export function wetChanceAhead(chain: WetChain, start: number, days: number): number {
  const share = wetShare(chain);
  return share + (start - share) * persistence(chain) ** days;
}

/**
 * Mean length of a wet spell.
 *
 *     L = 1 / (1 − p11)
 *
 * @param chain  the chances
 * @returns      days
 *
 * Source: geometric distribution
 * Truth: test/reference/checks.json (mean_wet_spell_days), largest relative error 1e-6
 */
export function meanWetSpell(chain: WetChain): number {
  return 1 / (1 - chain.afterWet);
}

/**
 * Chance that a wet spell lasts so long.
 *
 *     P = p11^(L − 1)
 *
 * @param chain   the chances
 * @param length  L, days, whole, 1 or more
 * @returns       0 to 1
 *
 * Source: geometric distribution
 * Truth: test/reference/checks.json (prob_spell_at_least), no error beyond rounding
 */
export function spellChance(chain: WetChain, length: number): number {
  return chain.afterWet ** (length - 1);
}

/**
 * Chance that a trip holds so many wet days in a row, its first day drawn from the long run.
 *
 * The days so far are sorted by the wet run they end in, 0 to `run` − 1; those that reached `run`
 * leave the sum.
 *
 * @param chain  the chances
 * @param run    days in a row, whole, 1 or more
 * @param days   of the trip, whole, 1 or more
 * @returns      0 to 1
 *
 * Source: the chain widened by the length of its run
 * Truth: test/reference/checks.json (prob_run_of_wet_in_trip), largest relative error 2e-6
 */
export function wetRunChance(chain: WetChain, run: number, days: number): number {
  const share = wetShare(chain);
  let ending = new Float64Array(run);
  let reached = run === 1 ? share : 0;
  ending[0] = 1 - share;
  if (run > 1) ending[1] = share;
  for (let day = 1; day < days; day += 1) {
    const next = new Float64Array(run);
    for (let length = 0; length < run; length += 1) {
      const chance = ending[length] ?? 0;
      const wet = chance * (length === 0 ? chain.afterDry : chain.afterWet);
      next[0] = (next[0] ?? 0) + chance - wet;
      if (length + 1 === run) reached += wet;
      else next[length + 1] = wet;
    }
    ending = next;
  }
  return reached;
}

/**
 * Chance that every day of a trip is wet.
 *
 *     P = π p11^(n − 1)
 *
 * @param chain  the chances
 * @param days   n, whole, 1 or more
 * @returns      0 to 1
 *
 * Source: the chain
 * Truth: test/reference/checks.json (prob_all_wet), largest relative error 2e-7
 */
export function allWetChance(chain: WetChain, days: number): number {
  return wetShare(chain) * chain.afterWet ** (days - 1);
}

/**
 * Is the first day wet?
 *
 * @param chain    the chances
 * @param uniform  number drawn evenly from 0 to 1
 * @returns        with the chance of the long run
 *
 * Truth: test/engine/physics/weather-chance.test.ts
 */
export function drawFirstWet(chain: WetChain, uniform: number): boolean {
  return uniform < wetShare(chain);
}

/**
 * Is the next day wet?
 *
 * @param chain    the chances
 * @param wet      is it wet today
 * @param uniform  number drawn evenly from 0 to 1
 * @returns        with the chance after such a day
 *
 * Truth: test/engine/physics/weather-chance.test.ts
 */
export function drawNextWet(chain: WetChain, wet: boolean, uniform: number): boolean {
  return uniform < (wet ? chain.afterWet : chain.afterDry);
}

/**
 * Which of several classes a number picks.
 *
 * @param shares   of the classes, 0 or more, not all 0; they need not add up to 1
 * @param uniform  number drawn evenly from 0 to 1
 * @returns        index into `shares`, never of a class without a share; −1 when there is none
 *
 * Truth: test/engine/physics/weather-chance.test.ts
 */
export function drawClass(shares: readonly number[], uniform: number): number {
  let total = 0;
  for (const share of shares) total += share;
  let left = uniform * total;
  let picked = -1;
  for (let index = 0; index < shares.length; index += 1) {
    const share = shares[index] ?? 0;
    if (share <= 0) continue;
    picked = index;
    if (left < share) return index;
    left -= share;
  }
  return picked;
}

/**
 * Share of trials that came out so.
 *
 * @param hits    whole, 0 or more
 * @param trials  whole, more than 0
 * @returns       0 to 1
 *
 * Source: the definition
 * Truth: test/reference/checks.json (lolp_from_counts), no error beyond rounding
 */
export function shareOf(hits: number, trials: number): number {
  return hits / trials;
}

/**
 * Interval that a share lies in with 95 % confidence, after so many trials.
 *
 *     (p + z²/2n ± z √(p (1 − p)/n + z²/4n²)) / (1 + z²/n)
 *
 * @param hits    whole, 0 to `trials`
 * @param trials  n, whole, more than 0
 * @param z       quantile of the normal distribution, 1.96 for 95 %
 * @returns       shares; never 0 to 0 and never 1 to 1
 *
 * Source: Wilson, Journal of the American Statistical Association 22 (1927) 209
 * Truth: test/reference/checks.json (wilson_interval_upper), largest relative error 4e-7
 */
export function wilsonInterval(
  hits: number,
  trials: number,
  z = 1.959963984540054,
): { readonly low: number; readonly high: number } {
  const share = hits / trials;
  const square = (z * z) / trials;
  const middle = (share + square / 2) / (1 + square);
  const half =
    (z * Math.sqrt((share * (1 - share)) / trials + square / (4 * trials))) / (1 + square);
  // At the ends the two terms are equal but for rounding.
  return {
    low: hits <= 0 ? 0 : Math.max(0, middle - half),
    high: hits >= trials ? 1 : Math.min(1, middle + half),
  };
}

/**
 * Mean of a triangular distribution.
 *
 *     (a + m + b) / 3
 *
 * @param low     a
 * @param likely  m, between them
 * @param high    b
 * @returns       in their unit
 *
 * Source: any table of distributions
 * Truth: test/reference/checks.json (triangular_mean), no error beyond rounding
 */
export function triangularMean(low: number, likely: number, high: number): number {
  return (low + likely + high) / 3;
}

/**
 * Variance of a triangular distribution.
 *
 *     (a² + m² + b² − am − ab − mb) / 18
 *
 * @param low     a
 * @param likely  m, between them
 * @param high    b
 * @returns       in the square of their unit
 *
 * Source: any table of distributions
 * Truth: test/reference/checks.json (triangular_variance), largest relative error 2e-6
 */
export function triangularVariance(low: number, likely: number, high: number): number {
  // Differences first: the squares of large numbers would cancel.
  const left = likely - low;
  const right = high - likely;
  return (left * left + left * right + right * right) / 18;
}

/**
 * Share of a triangular distribution below a value.
 *
 *     x ≤ m: (x − a)² / ((b − a)(m − a))     x > m: 1 − (b − x)² / ((b − a)(b − m))
 *
 * @param x       the value
 * @param low     a
 * @param likely  m, between them
 * @param high    b, above a
 * @returns       0 to 1
 *
 * Source: any table of distributions
 * Truth: test/reference/checks.json (triangular_cdf), largest relative error 1e-6
 */
export function triangularShare(x: number, low: number, likely: number, high: number): number {
  if (x <= low) return 0;
  if (x >= high) return 1;
  if (x <= likely) return (x - low) ** 2 / ((high - low) * (likely - low));
  return 1 - (high - x) ** 2 / ((high - low) * (high - likely));
}

/**
 * Value below which a share of a triangular distribution lies.
 *
 *     a + √(p (b − a)(m − a))   or   b − √((1 − p)(b − a)(b − m))
 *
 * @param share   p, 0 to 1
 * @param low     a
 * @param likely  m, between them
 * @param high    b
 * @returns       in their unit
 *
 * Source: `triangularShare` solved for x
 * Truth: test/reference/checks.json (triangular_quantile), largest relative error 2e-6
 */
export function triangularQuantile(
  share: number,
  low: number,
  likely: number,
  high: number,
): number {
  const width = high - low;
  if (width <= 0) return low;
  if (share <= (likely - low) / width) return low + Math.sqrt(share * width * (likely - low));
  return high - Math.sqrt((1 - share) * width * (high - likely));
}

/**
 * Ends of the triangular distribution whose outermost tenths are passed once in ten each way: what
 * people mean by "from … to".
 *
 * With a = low − x and b = high + y the two conditions are
 *
 *     x² = 0.1 (w + x + y)(u + x)   y² = 0.1 (w + x + y)(v + y),   w = high − low
 *
 * u and v being the distances of `likely` from `low` and `high`; they are solved by repeating both
 * quadratic equations.
 *
 * @param low     passed downwards once in ten
 * @param likely  the mode, between them
 * @param high    passed upwards once in ten
 * @returns       the ends a and b
 *
 * Source: the definition of the quantiles
 * Truth: test/engine/physics/weather-chance.test.ts, both quantiles come back to 1e-9 of the width
 */
export function triangularEnds(
  low: number,
  likely: number,
  high: number,
): { readonly low: number; readonly high: number } {
  const width = high - low;
  if (!(width > 0)) return { low, high };
  const left = likely - low;
  const right = high - likely;
  // Each pass solves x² = 0.1 t (u + x) for x with the whole width t as it stands.
  const root = (t: number, u: number): number => {
    const half = 0.05 * t;
    return half + Math.sqrt(half * half + 0.1 * t * u);
  };
  let total = width;
  for (let round = 0; round < 200; round += 1) {
    const next = width + root(total, left) + root(total, right);
    if (Math.abs(next - total) <= 1e-14 * next) break;
    total = next;
  }
  return { low: low - root(total, left), high: high + root(total, right) };
}

/**
 * Mean of a PERT guess.
 *
 *     (a + 4m + b) / 6
 *
 * @param low     a
 * @param likely  m
 * @param high    b
 * @returns       in their unit
 *
 * Source: Malcolm, Roseboom, Clark & Fazar, Operations Research 7 (1959) 646
 * Truth: test/reference/checks.json (pert_mean), no error beyond rounding
 */
export function pertMean(low: number, likely: number, high: number): number {
  return (low + 4 * likely + high) / 6;
}

/**
 * Variance of a PERT guess as first published.
 *
 *     ((b − a) / 6)²
 *
 * @param low   a
 * @param high  b
 * @returns     in the square of their unit
 *
 * Source: Malcolm et al. 1959
 * Truth: test/reference/checks.json (pert_classic_variance), largest relative error 9e-7
 */
export function pertClassicVariance(low: number, high: number): number {
  return ((high - low) / 6) ** 2;
}

/**
 * Variance of the beta distribution behind a PERT guess.
 *
 *     (μ − a)(b − μ) / 7
 *
 * @param low     a
 * @param likely  m
 * @param high    b
 * @returns       in the square of their unit
 *
 * Source: beta distribution with α = 1 + 4 (m − a)/(b − a), β = 1 + 4 (b − m)/(b − a)
 * Truth: test/reference/checks.json (beta_pert_variance), largest relative error 2e-6
 */
export function pertVariance(low: number, likely: number, high: number): number {
  const mean = pertMean(low, likely, high);
  return ((mean - low) * (high - mean)) / 7;
}

/**
 * Share of the normal distribution below z.
 *
 *     Φ(z)
 *
 * @param z  standard deviations from the mean
 * @returns  0 to 1
 *
 * Source: Hart's rational approximation in the form of West, Wilmott Magazine, May 2005, 70
 * Truth: test/engine/physics/weather-chance.test.ts, largest error 2e-15 against printed values
 */
export function normalShare(z: number): number {
  const size = Math.abs(z);
  if (size > 37) return z > 0 ? 1 : 0;
  const bell = Math.exp((-size * size) / 2);
  let tail: number;
  if (size < 7.07106781186547) {
    let above = 3.52624965998911e-2 * size + 0.700383064443688;
    above = above * size + 6.37396220353165;
    above = above * size + 33.912866078383;
    above = above * size + 112.079291497871;
    above = above * size + 221.213596169931;
    above = above * size + 220.206867912376;
    let below = 8.83883476483184e-2 * size + 1.75566716318264;
    below = below * size + 16.064177579207;
    below = below * size + 86.7807322029461;
    below = below * size + 296.564248779674;
    below = below * size + 637.333633378831;
    below = below * size + 793.826512519948;
    below = below * size + 440.413735824752;
    tail = (bell * above) / below;
  } else {
    const fraction = size + 1 / (size + 2 / (size + 3 / (size + 4 / (size + 0.65))));
    tail = bell / (fraction * Math.sqrt(2 * Math.PI));
  }
  return z > 0 ? 1 - tail : tail;
}

/**
 * Standard deviations below which a share of the normal distribution lies.
 *
 *     Φ⁻¹(p)
 *
 * @param share  p, 0 to 1
 * @returns      −∞ at 0, ∞ at 1; NaN outside
 *
 * Source: a rational first guess, then Halley's step on `normalShare` twice
 * Truth: test/engine/physics/weather-chance.test.ts, inverse of `normalShare`; 1.9599639845 at 0.975
 */
export function inverseNormal(share: number): number {
  if (!(share >= 0 && share <= 1)) return Number.NaN;
  if (share === 0) return Number.NEGATIVE_INFINITY;
  if (share === 1) return Number.POSITIVE_INFINITY;
  // The upper half by symmetry, so that a small tail is never the difference of two near-equals.
  if (share > 0.5) return -inverseNormal(1 - share);
  // Abramowitz & Stegun, Handbook of Mathematical Functions, 26.2.23, good to 4.5e-4.
  const t = Math.sqrt(-2 * Math.log(share));
  const above = 2.515517 + t * (0.802853 + t * 0.010328);
  const below = 1 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  let z = above / below - t;
  // Beyond 37 deviations the share is below the smallest number; the first guess must do.
  for (let round = 0; round < 2 && z > -37; round += 1) {
    const miss = (normalShare(z) - share) * Math.sqrt(2 * Math.PI) * Math.exp((z * z) / 2);
    z -= miss / (1 + (z * miss) / 2);
  }
  return z;
}
