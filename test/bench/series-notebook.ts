// Twenty-nine series along one timeline, one of them a recurrence, and the loop that an author would
// write by hand for them; and a notebook of uncertain givens with its loop of trials.

/** Points a day at a quarter of an hour. */
export const STEPS_A_DAY = 96;
const STEP = 900;

export const SERIES = [
  'days',
  'turn',
  'wave',
  'bright',
  'season',
  'beam',
  'scatter',
  'on plane',
  'warmth',
  'rise',
  'factor',
  'raw power',
  'lead drop',
  'panel power',
  'tracked',
  'harvest',
  'radio',
  'lamp',
  'box',
  'loads',
  'net',
  'offered',
  'drawn',
  'change',
  'store',
  'share',
  'spare',
  'short',
  'score',
] as const;

export function seriesText(points: number): string {
  return `dapple 1
title: Series

begin = 2027-06-11 00:00
finish = begin + ${points / STEPS_A_DAY} × 24 h
clock = timeline(from: begin, until: finish, by: 15 min)
rating = 220 W
base = 4 W

days = (clock - begin) / 24 h
turn = 360° × (days - 0.25)
wave = sin(turn)
bright = max(0, wave)
season = 1 + 0.05 × cos(360° × days / 365)
beam = 800 W/m² × bright × season
scatter = 80 W/m² × bright + 5 W/m²
on plane = 0.8 × beam + 0.9 × scatter
warmth = 8 K × wave
rise = on plane / (30 W/m²/K) + warmth
factor = 1 - 0.35 %/K × rise
raw power = rating × on plane / (1000 W/m²) × factor
lead drop = raw power × raw power / (20000 W)
panel power = raw power - lead drop
tracked = 0.95 × panel power
harvest = min(tracked, 180 W)
radio = if wave < -0.2 then 30 W else 2 W
lamp = if bright > 0 then 0 W else 6 W
box = max(0 W, 20 W + 1.5 W/K × warmth)
loads = radio + lamp + box + base
net = harvest - loads
offered = max(net, 0 W)
drawn = max(0 W, 0 W - net)
change = 0.9 × offered - drawn
store = running total(change, start: 500 Wh, least: 0 Wh, most: 1000 Wh)
share = store / (1000 Wh)
spare = 1 - share
short = max(0, 0.2 - share)
score = share × share - 10 × short
`;
}

/** The same by hand: one loop, every series kept. */
export function handSeries(points: number): {
  readonly rows: readonly Float64Array[];
  readonly run: () => number;
} {
  const rows = SERIES.map(() => new Float64Array(points));
  const [
    days,
    turn,
    wave,
    bright,
    season,
    beam,
    scatter,
    plane,
    warmth,
    rise,
    factor,
    raw,
    lead,
    panel,
    tracked,
    harvest,
    radio,
    lamp,
    box,
    loads,
    net,
    offered,
    drawn,
    change,
    store,
    share,
    spare,
    short,
    score,
  ] = rows as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const circle = 2 * Math.PI;
  const run = (): number => {
    let total = 500 * 3600;
    for (let i = 0; i < points; i++) {
      const d = ((i + 0.5) * STEP) / 86_400;
      const w = Math.sin(circle * (d - 0.25));
      const b = w > 0 ? w : 0;
      const e = 1 + 0.05 * Math.cos((circle * d) / 365);
      const m = 800 * b * e;
      const c = 80 * b + 5;
      const p = 0.8 * m + 0.9 * c;
      const h = 8 * w;
      const r = p / 30 + h;
      const f = 1 - 0.0035 * r;
      const x = ((220 * p) / 1000) * f;
      const l = (x * x) / 20_000;
      const y = x - l;
      const t = 0.95 * y;
      const g = t < 180 ? t : 180;
      const a = w < -0.2 ? 30 : 2;
      const o = b > 0 ? 0 : 6;
      const k = 20 + 1.5 * h > 0 ? 20 + 1.5 * h : 0;
      const q = a + o + k + 4;
      const n = g - q;
      const u = n > 0 ? n : 0;
      const v = -n > 0 ? -n : 0;
      const z = 0.9 * u - v;
      total += z * STEP;
      if (total < 0) total = 0;
      if (total > 3_600_000) total = 3_600_000;
      const s = total / 3_600_000;
      const j = 0.2 - s > 0 ? 0.2 - s : 0;
      days[i] = d;
      turn[i] = circle * (d - 0.25);
      wave[i] = w;
      bright[i] = b;
      season[i] = e;
      beam[i] = m;
      scatter[i] = c;
      plane[i] = p;
      warmth[i] = h;
      rise[i] = r;
      factor[i] = f;
      raw[i] = x;
      lead[i] = l;
      panel[i] = y;
      tracked[i] = t;
      harvest[i] = g;
      radio[i] = a;
      lamp[i] = o;
      box[i] = k;
      loads[i] = q;
      net[i] = n;
      offered[i] = u;
      drawn[i] = v;
      change[i] = z;
      store[i] = total;
      share[i] = s;
      spare[i] = 1 - s;
      short[i] = j;
      score[i] = s * s - 10 * j;
    }
    return total;
  };
  return { rows, run };
}

// ── trials ──────────────────────────────────────────────────────────────────────────────────────

/** Cells that a draw moves: 13 series and 4 single numbers. */
export function trialsText(points: number, trials: number): string {
  return `dapple 1
title: Trials
trials: ${trials}
seed: 7

begin = 2027-06-11 00:00
finish = begin + ${points / STEPS_A_DAY} × 24 h
clock = timeline(from: begin, until: finish, by: 15 min)
days = (clock - begin) / 24 h
wave = sin(360° × (days - 0.25))
bright = max(0, wave)
warmth = 8 K × wave
radio = if wave < -0.2 then 30 W else 2 W
clear = 0.5..0.8..0.95
rating = 200..220..230 W
leak = 0.6..0.75..0.9 W/K
size = 800..1000..1100 Wh

beam = 900 W/m² × bright × clear
scatter = 80 W/m² × (1 - clear) + beam × 0.1
on plane = 0.8 × beam + 0.9 × scatter
rise = on plane / (30 W/m²/K) + warmth
raw power = rating × on plane / (1000 W/m²) × (1 - 0.35 %/K × rise)
lead drop = raw power × raw power / (20000 W)
harvest = min(0.95 × (raw power - lead drop), 180 W)
box = max(0 W, leak × (warmth + 15 K))
loads = radio + box
net = harvest - loads
change = 0.9 × max(net, 0 W) - max(0 W, 0 W - net)
store = running total(change, start: 500 Wh, least: 0 Wh, most: size)
share = store / size
lowest share = lowest(share)
gathered = energy(harvest)
needed = energy(loads)
left = last(store)

check lowest share ≥ 5 %
`;
}

export const TRIAL_RESULTS = ['lowest share', 'gathered', 'needed', 'left'] as const;

/** The same by hand: what no draw moves is worked once, and one loop a trial gives the four results. */
export function handTrials(
  points: number,
  trials: number,
  draws: readonly Float64Array[],
): { readonly results: readonly Float64Array[]; readonly run: () => number } {
  const bright = new Float64Array(points);
  const warmth = new Float64Array(points);
  const radio = new Float64Array(points);
  const results = TRIAL_RESULTS.map(() => new Float64Array(trials));
  const [lowest, gathered, needed, left] = results as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const [clears, ratings, leaks, sizes] = draws as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const run = (): number => {
    for (let i = 0; i < points; i++) {
      const w = Math.sin(2 * Math.PI * (((i + 0.5) * STEP) / 86_400 - 0.25));
      bright[i] = w > 0 ? w : 0;
      warmth[i] = 8 * w;
      radio[i] = w < -0.2 ? 30 : 2;
    }
    for (let trial = 0; trial < trials; trial++) {
      const clear = clears[trial] as number;
      const rating = ratings[trial] as number;
      const leak = leaks[trial] as number;
      const size = sizes[trial] as number;
      const dim = 80 * (1 - clear);
      let total = 500 * 3600;
      let least = Number.POSITIVE_INFINITY;
      let sun = 0;
      let use = 0;
      for (let i = 0; i < points; i++) {
        const warm = warmth[i] as number;
        const beam = 900 * (bright[i] as number) * clear;
        const plane = 0.8 * beam + 0.9 * (dim + beam * 0.1);
        const raw = ((rating * plane) / 1000) * (1 - 0.0035 * (plane / 30 + warm));
        const good = 0.95 * (raw - (raw * raw) / 20_000);
        const harvest = good < 180 ? good : 180;
        const need = leak * (warm + 15);
        const load = (radio[i] as number) + (need > 0 ? need : 0);
        const net = harvest - load;
        total += (0.9 * (net > 0 ? net : 0) - (-net > 0 ? -net : 0)) * STEP;
        if (total < 0) total = 0;
        if (total > size) total = size;
        const share = total / size;
        if (share < least) least = share;
        sun += harvest;
        use += load;
      }
      lowest[trial] = least;
      gathered[trial] = sun * STEP;
      needed[trial] = use * STEP;
      left[trial] = total;
    }
    return left[trials - 1] as number;
  };
  return { results, run };
}
