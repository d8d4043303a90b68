// `chance` and `percentile`: a site whose cone is worked once for each trial, with the uncertain
// givens beneath it drawn anew. Those in the same context share their runs (trial-pool.ts).

import type { Expr } from '../check/typed.ts';
import type { Code } from '../source/catalogue.ts';
import type { Compiling } from './compiling.ts';
import type { Memory, Operand } from './memory.ts';
import { readsOf } from './needs.ts';
import { percentileOf } from './order-statistics.ts';
import type { Step } from './program.ts';
import { fail } from './run-steps.ts';
import type { PoolMember, RunSites, Sample, TrialPool } from './sites.ts';
import { APART, keptFor } from './trial-pool.ts';

/** Why there are no numbers. */
interface Told {
  readonly code: Code;
  readonly text: string;
}

/** Numbers kept of one value over the trials. */
const MOST_KEPT = 40_000_000;
/** Numbers kept for another cell that may never ask for them. */
const MOST_KEPT_FOR_OTHERS = 4_000_000;
const TOO_LONG: Told = {
  code: 'trials-long',
  text: 'Too many trials of too long a series to rank. Use fewer trials.',
};

export function chanceStep(k: Compiling, condition: Expr, out: Operand): Step {
  const member = trialMember(k, condition);
  const { sites } = k;
  return {
    run(m: Memory): void {
      const found = sampleOf(sites, member, m);
      if ('code' in found) {
        fail(m, [out], found.code, found.text);
        return;
      }
      let hits = 0;
      // An absent condition does not hold.
      for (const held of found[0] ?? []) if (held !== 0 && !Number.isNaN(held)) hits++;
      m.scalars[out] = hits / sites.trials;
    },
  };
}

export function percentileStep(k: Compiling, value: Expr, share: Expr, out: Operand): Step {
  const [s] = k.vector(k, share);
  const member = trialMember(k, value);
  const { sites } = k;
  return {
    run(m: Memory): void {
      const wanted = m.at(s as Operand, 0);
      if (!(wanted >= 0 && wanted <= 1)) {
        fail(
          m,
          [out],
          'out-of-range',
          'percentile(…) takes a share from 0 % to 100 %. Write 10 % for ten in a hundred.',
        );
        return;
      }
      const found = sampleOf(sites, member, m);
      if ('code' in found) {
        fail(m, [out], found.code, found.text);
        return;
      }
      const values = found.map((sample) => percentileOf(sample, wanted));
      if (out >= 0) m.scalars[out] = values[0] as number;
      else m.own(~out, values.length).set(values);
    },
  };
}

function trialMember(k: Compiling, expr: Expr): PoolMember {
  const { sites } = k;
  let result: Operand = 0;
  const before = sites.sites.length;
  const instructions = k.e.aside(() => {
    [result = 0] = k.vector({ ...k, context: APART }, expr);
  });
  const isPlain = sites.sites.length === before;
  const site = sites.add({
    kind: 'trials',
    owner: k.owner,
    targets: [],
    reads: readsOf(expr),
    instructions,
    resultAxes: expr.type.axes,
  });
  const key = k.context === undefined ? '' : k.context.key;
  // A body that runs the notebook again itself would make others pay for it.
  const isShared = isPlain && key !== undefined;
  const known = isShared ? sites.pools.get(key) : undefined;
  const pool: TrialPool = known ?? { members: [], together: [], kept: undefined };
  if (isShared) sites.pools.set(key, pool);
  const member: PoolMember = { site, context: k.context, result, pool };
  pool.members.push(member);
  return member;
}

/** The numbers of one member over all trials, or why there are none. */
function sampleOf(sites: RunSites, member: PoolMember, m: Memory): Sample | Told {
  const { machine } = sites;
  const { site, pool } = member;
  const child = machine.childOf(m);
  const isShared = pool.together.includes(member);
  const inputs = isShared ? machine.inputsOf(site, child) : undefined;
  if (inputs) {
    const kept = keptFor(member, inputs, child.instead);
    if (kept) return kept;
  }
  const { instead } = child;
  const samples = new Map<PoolMember, Sample>();
  const working = new Set(inputs ? pool.together : []).add(member);
  const run = machine.trialsOf(site, child);
  for (let trial = 0; trial < sites.trials; trial++) {
    if (!run(trial)) {
      m.passOn(child);
      return { code: child.code, text: child.problem };
    }
    for (const other of working) {
      const problem =
        other !== member && machine.hasFailed(child, other.site.wanted)
          ? TOO_LONG
          : keepOne(
              sites,
              other,
              child,
              trial,
              samples,
              other === member ? MOST_KEPT : MOST_KEPT_FOR_OTHERS,
            );
      if (problem === undefined) continue;
      if (other === member) return problem;
      // It finds its own message when it is worked itself.
      working.delete(other);
      samples.delete(other);
    }
  }
  if (inputs) pool.kept = { inputs, instead, samples };
  return samples.get(member) ?? [];
}

/** Works a member's body and keeps what it gives; otherwise says what is wrong. */
function keepOne(
  sites: RunSites,
  member: PoolMember,
  child: Memory,
  trial: number,
  samples: Map<PoolMember, Sample>,
  most: number,
): Told | undefined {
  const { result, site } = member;
  child.problem = '';
  sites.machine.execute(site.body, child);
  const { problem, code } = child;
  child.problem = '';
  if (problem !== '') return { code, text: problem };
  const n = result >= 0 ? 1 : child.array(result).length;
  let sample = samples.get(member);
  if (!sample) {
    if (n * sites.trials > most) return TOO_LONG;
    sample = Array.from({ length: n }, () => new Float64Array(sites.trials));
    samples.set(member, sample);
  }
  for (let i = 0; i < sample.length; i++) (sample[i] as Float64Array)[trial] = child.at(result, i);
  return undefined;
}
