// Cones: for each site, which units must be worked again when its targets are replaced, in order.

import { closure } from './graph.ts';
import { orderKnots } from './knots.ts';
import { coneOfNeeds, type KnownWanted, type Put, wantedIn } from './needs.ts';
import type { Program } from './program.ts';
import type { ConeAction, RunSites, Site, TrialCone } from './sites.ts';

export function linkSites(program: Program, sites: RunSites): void {
  const known: KnownWanted = new Map();
  for (const site of sites.sites) linkSite(program, site, known);
}

/** Nodes between the replaced ones and the wanted ones; `held` are replaced by runs around this one. */
export function coneNodes(
  program: Program,
  targets: readonly Put[],
  wanted: Iterable<number>,
  roots: Iterable<number>,
  held: readonly number[] = [],
): Set<number> {
  return coneOfNeeds(program.needs, targets, wanted, roots, held);
}

function linkSite(program: Program, site: Site, known?: KnownWanted): void {
  site.wanted = wantedIn(program.needs, site.reads, known).there;
  const { drawn, cone, targets, nodes } = coneOf(program, site, [], []);
  site.drawn = drawn;
  site.cone = cone;
  for (const axis of site.resultAxes)
    if (axis.kind === 'timeline' || axis.kind === 'days') {
      if (nodes.has(axis.node) || targets.some((t) => t.node === axis.node))
        site.invalid = `What is changed here changes ${axis.name} itself, and the result still runs along it. Reduce it to one value first, such as lowest(…).`;
    }
}

/**
 * Cone and drawn nodes of a site; `instead` is what a scenario replaces by uncertain amounts,
 * `held` nodes of circles that runs around it replace.
 */
export function coneOf(
  program: Program,
  site: Site,
  instead: readonly Put[],
  held: readonly number[],
): TrialCone & {
  readonly targets: readonly Put[];
  readonly nodes: ReadonlySet<number>;
} {
  const wanted = [...site.wanted, ...site.also];
  const wholly = new Set(instead.flatMap(({ node, row }) => (row === undefined ? [node] : [])));
  const partly = new Set(instead.flatMap(({ node, row }) => (row === undefined ? [] : [node])));
  const roots: number[] = [];
  if (site.kind === 'trials') {
    const needed = closure(wanted, (id) => program.draws[id] ?? []);
    for (const id of needed) {
      const node = program.nodes[id];
      if (!node || (program.broken.has(id) && !wholly.has(id))) continue;
      if (
        node.distribution ||
        node.entryDistributions.length > 0 ||
        wholly.has(id) ||
        partly.has(id)
      )
        roots.push(id);
      else if (node.expr?.op === 'drawn sky') roots.push(id);
    }
  }
  const drawn = roots.filter((id) => program.nodes[id]?.distribution || wholly.has(id));
  const entries = roots.filter(
    (id) =>
      !drawn.includes(id) &&
      (partly.has(id) || (program.nodes[id]?.entryDistributions.length ?? 0) > 0),
  );
  const targets = [
    ...site.targets,
    ...drawn.map((node) => ({ node, row: undefined })),
    ...entries.map((node) => ({ node, row: 0 })),
  ];
  const nodes = coneNodes(
    program,
    targets,
    wanted,
    roots.filter((id) => !drawn.includes(id) && !entries.includes(id)),
    held,
  );
  return {
    drawn: [...drawn, ...entries],
    cone: orderCone(program, nodes, targets, held),
    targets,
    nodes,
  };
}

/**
 * Whether anything under what trials ask for is drawn, where `held` stand still and `instead` is drawn in
 * place of what stands there.
 */
export function isAnyDrawn(
  program: Program,
  site: Site,
  instead: readonly Put[],
  held: ReadonlySet<number>,
): boolean {
  const drawn = new Set(instead.map(({ node }) => node));
  const reached = closure(
    site.wanted,
    (id) => program.draws[id] ?? [],
    (id) => held.has(id),
  );
  for (const id of reached) {
    if (drawn.has(id)) return true;
    const node = program.nodes[id];
    if (!node || held.has(id)) continue;
    if (node.distribution || node.entryDistributions.length > 0 || node.expr?.op === 'drawn sky')
      return true;
  }
  return false;
}

/**
 * Trials in the same context share their runs when most of what they work is the same. Only cells
 * whose own runs are quick take part: otherwise one would wait for the other's.
 */
export function linkPools(program: Program, sites: RunSites): void {
  for (const pool of sites.pools.values()) {
    let common: ReadonlySet<number> | undefined;
    for (const member of pool.members) {
      const { nodes } = coneOf(program, member.site, [], []);
      if ([...nodes].some((id) => program.slow[id] === 1)) continue;
      if (common === undefined) common = nodes;
      else {
        const known: ReadonlySet<number> = common;
        const both = [...nodes].filter((id) => known.has(id)).length;
        if (2 * both < nodes.size + known.size - both) continue;
        common = new Set([...known, ...nodes]);
      }
      pool.together.push(member);
    }
    if (pool.together.length < 2) {
      pool.together.length = 0;
      continue;
    }
    const around = new Set<Site>();
    for (const { site, context } of pool.together) {
      around.add(site);
      for (let at = context; at; at = at.outer) if (at.site) around.add(at.site);
    }
    for (const site of around) {
      for (const member of pool.together)
        for (const id of member.site.wanted) if (!site.wanted.has(id)) site.also.add(id);
      linkSite(program, site);
    }
  }
}

export function orderCone(
  program: Program,
  cone: ReadonlySet<number>,
  targets: readonly Put[],
  held: readonly number[] = [],
): ConeAction[] {
  const { unitOf, knots, nodes } = program;
  const units = new Set<number>();
  let isKnotted = false;
  for (const id of cone) {
    isKnotted ||= knots.has(id);
    const unit = unitOf[id] ?? -1;
    if (unit >= 0) units.add(unit);
  }
  const actions: ConeAction[] = [];
  const put = { replace: new Set<number>(), patch: new Set<number>() };
  const add = ({ node, row }: Put): void => {
    const kind = row === undefined ? 'replace' : 'patch';
    if (put[kind].has(node)) return;
    put[kind].add(node);
    actions.push({ kind, node });
  };
  const wholes = targets.filter(({ row }) => row === undefined);
  const whole = new Set([...held, ...wholes.map(({ node }) => node)]);
  /** Units that lay an axis out anew: a series is put in when its axis has its length. */
  const axisUnits = (node: number): readonly number[] =>
    (nodes[node]?.type?.axes ?? [])
      .map((axis) => unitOf[axis.node] ?? -1)
      .filter((unit) => units.has(unit));
  const waiting = new Map<Put, Set<number>>();
  for (const target of wholes) {
    const axes = new Set(axisUnits(target.node));
    if (axes.size === 0) add(target);
    else waiting.set(target, axes);
  }
  // A row goes in after its column's own work.
  const rows = new Map<number, Put[]>();
  for (const target of targets) {
    if (target.row === undefined) continue;
    const unit = unitOf[target.node] ?? -1;
    if (!units.has(unit)) add(target);
    else rows.set(unit, [...(rows.get(unit) ?? []), target]);
  }
  const order = isKnotted ? orderKnots(program, units, whole) : [...units].sort((a, b) => a - b);
  for (const one of order) {
    if (typeof one !== 'number') {
      actions.push({ kind: 'circle', faults: one });
      continue;
    }
    actions.push({ kind: 'unit', unit: one });
    for (const target of rows.get(one) ?? []) add(target);
    for (const [target, axes] of waiting) {
      axes.delete(one);
      if (axes.size > 0) continue;
      waiting.delete(target);
      add(target);
    }
  }
  for (const target of waiting.keys()) add(target);
  return actions;
}
