// Cones: for each site, which units must be worked again when its targets are replaced, in order.

import { closure } from './graph.ts';
import type { Program } from './program.ts';
import type { ConeAction, RunSites, Site } from './sites.ts';

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
  const roots: number[] = [];
  if (site.kind === 'trials') {
    const needed = closure(site.wanted, (id) => program.draws[id] ?? []);
    for (const id of needed) {
      const node = program.nodes[id];
      if (!node || program.broken.has(id)) continue;
      if (node.distribution || node.entryDistributions.length > 0) roots.push(id);
      else if (node.expr?.op === 'drawn sky') roots.push(id);
    }
  }
  const drawn = roots.filter((id) => program.nodes[id]?.distribution);
  const entries = roots.filter(
    (id) => !drawn.includes(id) && (program.nodes[id]?.entryDistributions.length ?? 0) > 0,
  );
  const targets = [
    ...site.targets,
    ...drawn.map((node) => ({ node, row: undefined })),
    ...entries.map((node) => ({ node, row: 0 })),
  ];
  const cone = coneNodes(
    program,
    targets,
    site.wanted,
    roots.filter((id) => !drawn.includes(id) && !entries.includes(id)),
  );
  site.drawn = [...drawn, ...entries];
  site.cone = orderCone(program, cone, targets);
  for (const axis of site.resultAxes)
    if (axis.kind === 'timeline' || axis.kind === 'days') {
      if (cone.has(axis.node) || targets.some((t) => t.node === axis.node))
        site.invalid = `What is changed here changes ${axis.name} itself, and the result still runs along it. Reduce it to one value first, such as lowest(…).`;
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
