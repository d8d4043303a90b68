// Sites: places in the program where part of the notebook is run again with some nodes replaced.

import type { Axis } from '../check/type.ts';
import type { DrawnInstead, Fault, Memory, Operand } from './memory.ts';
import type { Reads } from './needs.ts';
import type { CodeRange } from './program.ts';
import { nameNumber } from './random.ts';

/** What a run puts in place of a node or of one row of a column. */
export interface Replacement {
  readonly node: number;
  readonly row: number | undefined;
  readonly value: (component: number, place: number) => number;
  /** Why there is nothing to put in, if so. */
  readonly fault?: Fault | undefined;
}

/** What the machine offers to sites. */
export interface SiteRunner {
  childOf(parent: Memory): Memory;
  /**
   * Works the cone of a site in its child, which `toCome` runs like it are to follow, this one included;
   * false when something wanted has failed, or that would be too much (the child's problem says what).
   */
  runCone(site: Site, child: Memory, toCome?: number): boolean;
  execute(range: CodeRange, m: Memory): void;
  /** Puts a value in place of a whole node, or of one row of it. */
  replace(
    child: Memory,
    node: number,
    row: number | undefined,
    value: (component: number, i: number) => number,
  ): void;
  /** The trials of a site in its child: works the one that is asked for; false as `runCone` has it. */
  trialsOf(site: Site, child: Memory): (trial: number) => boolean;
  /** Everything that the trials of a site draw on, as numbers; undefined when it cannot be told or is too much. */
  inputsOf(site: Site, child: Memory): readonly number[] | undefined;
  /** Whether something that an expression reads has failed. */
  hasFailed(child: Memory, wanted: ReadonlySet<number>): boolean;
}

export interface Site {
  readonly kind: 'with' | 'solve' | 'trials';
  /** Node whose formula this is part of. */
  readonly owner: number;
  /** Replaced nodes; a row means one entry of a column. */
  readonly targets: readonly { readonly node: number; readonly row: number | undefined }[];
  /** What the body reads. */
  readonly reads: Reads;
  readonly instructions: readonly number[];
  readonly resultAxes: readonly Axis[];
  body: CodeRange;
  /** Nodes that must have a value in this run; filled in by the linker, like what follows. */
  wanted: ReadonlySet<number>;
  cone: readonly ConeAction[];
  invalid: string;
  /** Uncertain nodes under the wanted ones (trials). */
  drawn: readonly number[];
  /** Nodes worked as well for trials that share this run; their faults are not this site's. */
  readonly also: Set<number>;
  /** Cone and drawn nodes where a scenario's own uncertain amounts are drawn, or where runs around hold nodes of a circle. */
  readonly variants: Map<string, TrialCone>;
}

/** What a trial draws, and what it works after that. */
export interface TrialCone {
  readonly drawn: readonly number[];
  readonly cone: readonly ConeAction[];
}

export type ConeAction =
  | { readonly kind: 'unit'; readonly unit: number }
  | { readonly kind: 'replace'; readonly node: number }
  /** Entries put in after (or instead of) the column's own work. */
  | { readonly kind: 'patch'; readonly node: number }
  /** A circle that what is put in does not end. */
  | { readonly kind: 'circle'; readonly faults: ReadonlyMap<number, Fault> };

/** What the runs around an expression put in; trials that stand in the same one can be shared. */
export interface RunContext {
  /** Undefined when nothing can be shared there. */
  readonly key: string | undefined;
  readonly outer: RunContext | undefined;
  /** The site of the run, once it is made. */
  site: Site | undefined;
}

/** One `chance` or `percentile`. */
export interface PoolMember {
  readonly site: Site;
  readonly context: RunContext | undefined;
  /** Where its body leaves the value of a trial. */
  readonly result: Operand;
  readonly pool: TrialPool;
}

/** For each place of a value its numbers over the trials. */
export type Sample = readonly Float64Array[];

export interface KeptTrials {
  readonly inputs: readonly number[];
  readonly instead: ReadonlyMap<string, DrawnInstead>;
  readonly samples: ReadonlyMap<PoolMember, Sample>;
}

export interface TrialPool {
  readonly members: PoolMember[];
  /** Those that share a run, two or more; filled in by the linker. */
  readonly together: PoolMember[];
  kept: KeptTrials | undefined;
}

export class RunSites {
  readonly sites: Site[] = [];
  /** Nodes that run something again. */
  readonly owners = new Set<number>();
  readonly pools = new Map<string, TrialPool>();
  runner: SiteRunner | undefined;
  readonly #keys: readonly string[];
  readonly trials: number;

  constructor(keys: readonly string[], trials: number) {
    this.#keys = keys;
    this.trials = trials;
  }

  drawName(node: number): number {
    return nameNumber(this.#keys[node] ?? '');
  }

  get machine(): SiteRunner {
    if (!this.runner) throw new RangeError('sites are not linked');
    return this.runner;
  }

  /** Only the first so many: what came after was made for a formula that is compiled in another way. */
  keep(count: number): void {
    const gone = new Set(this.sites.splice(count));
    this.owners.clear();
    for (const { owner } of this.sites) this.owners.add(owner);
    for (const { members } of this.pools.values())
      for (let i = members.length - 1; i >= 0; i--)
        if (gone.has(members[i]?.site as Site)) members.splice(i, 1);
  }

  add(
    site: Pick<Site, 'kind' | 'owner' | 'targets' | 'reads' | 'instructions' | 'resultAxes'>,
  ): Site {
    const made: Site = {
      ...site,
      body: { from: 0, to: 0 },
      wanted: new Set(),
      cone: [],
      invalid: '',
      drawn: [],
      also: new Set(),
      variants: new Map(),
    };
    this.sites.push(made);
    this.owners.add(made.owner);
    return made;
  }
}
