// What must have a value before a cell can be worked. It is what the formula names, but for a formula
// that runs part of the notebook again: `y with x = 2` needs neither x nor y, only what y is made of
// besides x. So a what-if may stand on cells that are blank, broken or in a circle, as long as what it
// puts in ends that.

import type { GraphNode } from '../check/scope.ts';
import type { Expr } from '../check/typed.ts';
import { childrenOf } from '../check/typed-walk.ts';
import { closure, stronglyConnected } from './graph.ts';

/** What a run puts in: a whole node, or one row of a column. */
export interface Put {
  readonly node: number;
  readonly row: number | undefined;
}

/** What an expression reads: of its own run, and of the runs within it. */
export interface Reads {
  readonly own: ReadonlySet<number>;
  readonly bodies: readonly Body[];
}

/** A part of a formula that is worked in a run of its own. */
interface Body {
  readonly targets: readonly Put[];
  readonly reads: Reads;
}

/** How nodes lean on each other. */
export interface Needs {
  /** What each node needs a value of, in the run it is worked in. */
  readonly of: readonly (readonly number[])[];
  readonly by: readonly (readonly number[])[];
  /** Of nodes that run something again: what is worked within these runs. */
  readonly within: ReadonlyMap<number, ReadonlySet<number>>;
}

/** What runs within runs read is asked at each of them. */
const readsOfOne = new WeakMap<Expr, Reads>();

export function readsOf(...exprs: readonly Expr[]): Reads {
  const [one] = exprs;
  if (exprs.length !== 1 || one === undefined) return readTogether(exprs);
  let known = readsOfOne.get(one);
  if (!known) {
    known = readTogether(exprs);
    readsOfOne.set(one, known);
  }
  return known;
}

function readTogether(exprs: readonly Expr[]): Reads {
  const own = new Set<number>();
  const bodies: Body[] = [];
  const waiting: Expr[] = [...exprs];
  for (let x = waiting.pop(); x !== undefined; x = waiting.pop()) {
    if (x.op === 'ref') own.add(x.node);
    if ('axis' in x && x.axis.node >= 0) own.add(x.axis.node);
    for (const axis of x.type.axes) if (axis.node >= 0 && axis.kind !== 'steps') own.add(axis.node);
    if (x.op === 'with') {
      const targets = x.overrides.map(({ node, row }) => ({ node, row }));
      bodies.push({ targets, reads: readsOf(x.value) });
      for (const { value } of x.overrides) waiting.push(value);
    } else if (x.op === 'solve') {
      bodies.push({
        targets: [{ node: x.node, row: undefined }],
        reads: readsOf(x.left, x.right),
      });
      waiting.push(x.low, x.high);
    } else waiting.push(...childrenOf(x));
  }
  return { own, bodies };
}

function runsAgain(expr: Expr): boolean {
  const waiting: Expr[] = [expr];
  for (let x = waiting.pop(); x !== undefined; x = waiting.pop()) {
    if (x.op === 'with' || x.op === 'solve') return true;
    waiting.push(...childrenOf(x));
  }
  return false;
}

/** Everything that is named, in the run itself or in those within it. */
export function namedIn({ own, bodies }: Reads): ReadonlySet<number> {
  const found = new Set(own);
  for (const { targets, reads } of bodies) {
    for (const { node } of targets) found.add(node);
    for (const id of namedIn(reads)) found.add(id);
  }
  return found;
}

/** What a run wants of the run that it stands in. */
export interface Wanted {
  /** The nodes that must have a value there. */
  readonly there: ReadonlySet<number>;
  /** Those that are worked in the runs within it. */
  readonly within: ReadonlySet<number>;
}
/** What was found out already, as long as what nodes need stays the same. */
export type KnownWanted = Map<Reads, Wanted>;

/** The nodes that must have a value in the run itself, and those that are worked in the runs within it. */
export function wantedIn(needs: Needs, reads: Reads, known: KnownWanted = new Map()): Wanted {
  const before = known.get(reads);
  if (before) return before;
  const [there, within] = [new Set(reads.own), new Set<number>()];
  for (const { targets, reads: inside } of reads.bodies) {
    const inner = wantedIn(needs, inside, known);
    for (const id of inner.within) within.add(id);
    const cone = coneOfNeeds(needs, targets, inner.there, [], []);
    const put = new Set(targets.flatMap(({ node, row }) => (row === undefined ? [node] : [])));
    const look = (on: number): void => {
      if (!cone.has(on) && !put.has(on)) there.add(on);
    };
    for (const on of inner.there) look(on);
    for (const { node, row } of targets) if (row !== undefined) look(node);
    for (const id of cone) {
      within.add(id);
      for (const deeper of needs.within.get(id) ?? []) within.add(deeper);
      for (const on of needs.of[id] as readonly number[]) look(on);
    }
  }
  const wanted = { there, within };
  known.set(reads, wanted);
  return wanted;
}

/** Who leans on each node, in order, itself left out. */
export function turnedRound(of: readonly (readonly number[])[]): number[][] {
  const counts = new Int32Array(of.length);
  of.forEach((list, id) => {
    for (const on of list) if (on !== id) counts[on] = (counts[on] as number) + 1;
  });
  // Counted first: a list that grows takes more room than it needs.
  const by = Array.from(counts, (count) => new Array<number>(count));
  counts.fill(0);
  of.forEach((list, id) => {
    for (const on of list) {
      if (on === id) continue;
      const at = counts[on] as number;
      (by[on] as number[])[at] = id;
      counts[on] = at + 1;
    }
  });
  return by;
}

/** Rounds after which what circles lean on no longer changes, if it settles at all. */
const MOST_ROUNDS = 12;

/**
 * @param draws  everything that each node names
 */
export function needsOf(nodes: readonly GraphNode[], draws: readonly (readonly number[])[]): Needs {
  const of: (readonly number[])[] = draws.slice();
  const owners = new Map<number, Reads>();
  for (const { id, expr, draws: named, looksBack } of nodes) {
    if (!expr || !(named.has(id) || runsAgain(expr))) continue;
    const reads = readsOf(expr);
    if (reads.bodies.length > 0) owners.set(id, reads);
    // To put something in place of itself is not to draw on itself.
    else if (reads.own.has(id) && !looksBack.has(id)) of[id] = [...(of[id] as number[]), id];
  }
  const by = turnedRound(of);
  const needs = { of, by, within: new Map<number, ReadonlySet<number>>() };
  if (owners.size === 0) return needs;
  const settle = (id: number): boolean => {
    const reads = owners.get(id) as Reads;
    const before = of[id] as readonly number[];
    const { there, within } = wantedIn(needs, reads);
    const found = new Set(there);
    // What is drawn on and not named, such as the timeline of what looks back.
    const named = namedIn(reads);
    for (const on of draws[id] ?? []) if (!named.has(on)) found.add(on);
    // What would run itself again within its own run goes round in a circle.
    if (within.has(id)) found.add(id);
    const now = [...found].sort((a, b) => a - b);
    for (const on of before)
      if (!found.has(on) && on !== id) by[on] = (by[on] as number[]).filter((one) => one !== id);
    for (const on of now)
      if (!before.includes(on) && on !== id)
        by[on] = [...(by[on] as number[]), id].sort((a, b) => a - b);
    of[id] = now;
    needs.within.set(id, within);
    return before.length !== now.length || now.some((on) => !before.includes(on));
  };
  for (const group of stronglyConnected({
    count: nodes.length,
    draws: (id) => draws[id] as readonly number[],
  })) {
    const own = group.filter((id) => owners.has(id));
    let rounds = group.length === 1 ? 1 : MOST_ROUNDS;
    for (let moves = own.length > 0; moves && rounds > 0; rounds--) {
      moves = false;
      for (const id of own) if (settle(id)) moves = true;
    }
  }
  return needs;
}

/** Nodes between the replaced ones (and `roots`) and the wanted ones; `held` are replaced already. */
export function coneOfNeeds(
  needs: Pick<Needs, 'of' | 'by' | 'within'>,
  targets: readonly Put[],
  wanted: Iterable<number>,
  roots: Iterable<number>,
  held: readonly number[],
): Set<number> {
  const whole = new Set(held);
  for (const { node, row } of targets) if (row === undefined) whole.add(node);
  const put = new Set([...held, ...targets.map(({ node }) => node)]);
  const leaning = new Map<number, number[]>();
  const needed = closure(
    wanted,
    (id) => {
      const own = needs.of[id] ?? [];
      const within = needs.within.get(id);
      if (!within) return own;
      const more = [...put].filter((on) => within.has(on) && !own.includes(on));
      for (const on of more) {
        const list = leaning.get(on);
        if (list) list.push(id);
        else leaning.set(on, [id]);
      }
      return more.length > 0 ? [...own, ...more] : own;
    },
    (id) => whole.has(id),
  );
  const start = [...targets.map(({ node }) => node), ...roots];
  const moved = closure(start, (id) =>
    [...(needs.by[id] ?? []), ...(leaning.get(id) ?? [])].filter(
      (by) => needed.has(by) && !whole.has(by),
    ),
  );
  const cone = new Set<number>();
  for (const id of moved) if (needed.has(id) && !whole.has(id)) cone.add(id);
  // A row put in does not by itself make its column be worked again.
  for (const { node, row } of targets)
    if (row !== undefined && !(needs.of[node] ?? []).some((id) => id !== node && moved.has(id)))
      cone.delete(node);
  return cone;
}
