// Sites: places in the program where part of the notebook is run again with some nodes replaced.

import type { Axis } from '../check/type.ts';
import type { Memory } from './memory.ts';
import type { CodeRange } from './program.ts';
import { nameNumber } from './random.ts';

/** What the machine offers to sites. */
export interface SiteRunner {
  childOf(site: Site, parent: Memory): Memory;
  /** Works the cone of a site in its child; false when something wanted has failed (the child's problem says what). */
  runCone(site: Site, child: Memory): boolean;
  execute(range: CodeRange, m: Memory): void;
  /** Puts a value in place of a whole node, or of one row of it. */
  replace(
    child: Memory,
    node: number,
    row: number | undefined,
    value: (component: number, i: number) => number,
  ): void;
  draw(child: Memory, site: Site, trial: number): void;
}

export interface Site {
  readonly kind: 'with' | 'solve' | 'trials';
  /** Node whose formula this is part of. */
  readonly owner: number;
  /** Replaced nodes; a row means one entry of a column. */
  readonly targets: readonly { readonly node: number; readonly row: number | undefined }[];
  /** Nodes the body reads. */
  readonly wanted: ReadonlySet<number>;
  readonly instructions: readonly number[];
  readonly resultAxes: readonly Axis[];
  body: CodeRange;
  /** Filled in by the linker. */
  cone: readonly ConeAction[];
  invalid: string;
  /** Uncertain nodes under the wanted ones (trials). */
  drawn: readonly number[];
  child: Memory | undefined;
}

export type ConeAction =
  | { readonly kind: 'unit'; readonly unit: number }
  | { readonly kind: 'replace'; readonly node: number }
  /** Entries put in after (or instead of) the column's own work. */
  | { readonly kind: 'patch'; readonly node: number };

export class RunSites {
  readonly sites: Site[] = [];
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

  add(site: Omit<Site, 'body' | 'cone' | 'invalid' | 'drawn' | 'child'>): Site {
    const made: Site = {
      ...site,
      body: { from: 0, to: 0 },
      cone: [],
      invalid: '',
      drawn: [],
      child: undefined,
    };
    this.sites.push(made);
    return made;
  }
}
