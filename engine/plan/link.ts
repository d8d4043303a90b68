// Cones: for each site, which units must be worked again when its targets are replaced, in order.

import { closure } from './graph.ts';
import type { Program } from './program.ts';
import type { ConeAction, RunSites, Site, TrialCone } from './sites.ts';

export function linkSites(program: Program, sites: RunSites): void {
  for (const site of sites.sites) linkSite(program, site);
}

/** Nodes between the replaced ones and the wanted ones. */
export function coneNodes(
  program: Program,
  targets: readonly { readonly node: number; readonly row: number | undefined }[],
  wanted: Iterable<number>,
  roots: Iterable<number>,
): Set<number> {
  const whole = new Set(targets.filter((t) => t.row === undefined).map((t) => t.node));
  const needed = closure(
    wanted,
    (id) => program.draws[id] ?? [],
    (id) => whole.has(id),
  );
  const start = [...targets.map((t) => t.node), ...roots];
  const moved = closure(start, (id) =>
    (program.drawnOnBy[id] ?? []).filter((by) => needed.has(by) && !whole.has(by)),
  );
  const cone = new Set<number>();
  for (const id of moved) if (needed.has(id) && !whole.has(id)) cone.add(id);
  // A row put in does not by itself make its column be worked again.
  for (const t of targets)
    if (
      t.row !== undefined &&
      !(program.draws[t.node] ?? []).some((id) => id !== t.node && moved.has(id))
    )
      cone.delete(t.node);
  return cone;
}

function linkSite(program: Program, site: Site): void {
  const { drawn, cone, targets, nodes } = coneOf(program, site, []);
  site.drawn = drawn;
  site.cone = cone;
  for (const axis of site.resultAxes)
    if (axis.kind === 'timeline' || axis.kind === 'days') {
      if (nodes.has(axis.node) || targets.some((t) => t.node === axis.node))
        site.invalid = `What is changed here changes ${axis.name} itself, and the result still runs along it. Reduce it to one value first, such as lowest(…).`;
    }
}

/** Cone and drawn nodes of a site; `instead` are nodes that a scenario replaces by uncertain amounts. */
export function coneOf(
  program: Program,
  site: Site,
  instead: readonly number[],
): TrialCone & {
  readonly targets: readonly { readonly node: number; readonly row: number | undefined }[];
  readonly nodes: ReadonlySet<number>;
} {
  const wanted = [...site.wanted, ...site.also];
  const roots: number[] = [];
  if (site.kind === 'trials') {
    const needed = closure(wanted, (id) => program.draws[id] ?? []);
    for (const id of needed) {
      const node = program.nodes[id];
      if (!node || program.broken.has(id)) continue;
      if (node.distribution || node.entryDistributions.length > 0 || instead.includes(id))
        roots.push(id);
      else if (node.expr?.op === 'drawn sky') roots.push(id);
    }
  }
  const drawn = roots.filter((id) => program.nodes[id]?.distribution || instead.includes(id));
  const entries = roots.filter(
    (id) => !drawn.includes(id) && (program.nodes[id]?.entryDistributions.length ?? 0) > 0,
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
  );
  return {
    drawn: [...drawn, ...entries],
    cone: orderCone(program, nodes, targets),
    targets,
    nodes,
  };
}

/**
 * Trials in the same context share their runs when most of what they work is the same. Only cells
 * whose own runs are quick take part: otherwise one would wait for the other's.
 */
export function linkPools(program: Program, sites: RunSites): void {
  for (const pool of sites.pools.values()) {
    let common: ReadonlySet<number> | undefined;
    for (const member of pool.members) {
      const { nodes } = coneOf(program, member.site, []);
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
  targets: readonly { readonly node: number; readonly row: number | undefined }[],
): ConeAction[] {
  const units = new Set<number>();
  for (const id of cone) {
    const unit = program.unitOf[id];
    if (unit !== undefined && unit >= 0) units.add(unit);
  }
  const actions = new Map<string, { at: number; action: ConeAction }>();
  for (const { node, row } of targets) {
    const unit = program.unitOf[node] ?? -1;
    // A whole node stands in for its unit; a row goes in after its column's own work.
    if (row === undefined)
      actions.set(`replace ${node}`, { at: unit - 0.25, action: { kind: 'replace', node } });
    else actions.set(`patch ${node}`, { at: unit + 0.5, action: { kind: 'patch', node } });
  }
  for (const unit of units)
    actions.set(`unit ${unit}`, { at: unit, action: { kind: 'unit', unit } });
  return [...actions.values()].sort((a, b) => a.at - b.at).map((a) => a.action);
}
