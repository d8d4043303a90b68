// Circles that do not run along an axis. Their cells have no value in the plan; a run that puts
// something in place of one of them may work the others, in an order that depends on what it puts in.

import { circleMessage } from '../check/checker.ts';
import type { GraphNode } from '../check/scope.ts';
import { walk } from '../language/walk.ts';
import { stronglyConnected } from './graph.ts';
import type { Fault } from './memory.ts';
import type { Needs } from './needs.ts';
import type { Program } from './program.ts';

/** The way round a circle, the first node again at the end: the first way that is found. */
function wayRound(
  group: readonly number[],
  needs: (node: number) => readonly number[],
): readonly number[] {
  const members = new Set(group);
  const seen = new Set<number>();
  const first = Math.min(...group);
  const trail: { readonly node: number; readonly edges: Iterator<number> }[] = [];
  const open = (node: number): void => {
    seen.add(node);
    trail.push({ node, edges: needs(node)[Symbol.iterator]() });
  };
  open(first);
  for (let top = trail[trail.length - 1]; top !== undefined; top = trail[trail.length - 1]) {
    const edge = top.edges.next();
    if (edge.done) trail.pop();
    else if (members.has(edge.value)) {
      const from = trail.findIndex(({ node }) => node === edge.value);
      if (from >= 0) return [...trail.slice(from).map(({ node }) => node), edge.value];
      if (!seen.has(edge.value)) open(edge.value);
    }
  }
  return [first, first];
}

/** One member has the message, where its formula closes the circle; the others wait. */
export function circleFaults(
  nodes: readonly GraphNode[],
  group: readonly number[],
  needs: (node: number) => readonly number[],
): ReadonlyMap<number, Fault> {
  const way = wayRound(group, needs);
  const [to, from] = [way[way.length - 1] as number, way[way.length - 2] as number];
  const { code, span, text } = circleMessage(
    placeNamed(nodes[from], nodes[to]),
    way.map((id) => nodes[id]?.name ?? ''),
  );
  const waits: Fault = { kind: 'waits', on: from };
  return new Map(
    group.map((id): [number, Fault] => [
      id,
      id === from ? { kind: 'error', code, text, span } : waits,
    ]),
  );
}

/** Where a formula names a node. */
function placeNamed(
  from: GraphNode | undefined,
  to: GraphNode | undefined,
): { readonly start: number; readonly end: number } {
  let found = from?.tree?.span ?? { start: 0, end: 1 };
  let isFound = false;
  if (from?.tree)
    walk(from.tree, (node) => {
      if (isFound) return;
      const key =
        node.kind === 'name'
          ? node.name.key
          : node.kind === 'part' && node.of.kind === 'name'
            ? `${node.of.name.key}.${node.name.key}`
            : undefined;
      if (key === undefined || (key !== to?.key && `${from.table?.key}.${key}` !== to?.key)) return;
      found = node.span;
      isFound = true;
    });
  return found;
}

/** Units of a cone in an order that what is held allows, circles that are left among them. */
export function orderKnots(
  program: Program,
  units: ReadonlySet<number>,
  whole: ReadonlySet<number>,
): readonly (number | ReadonlyMap<number, Fault>)[] {
  const list = [...units].sort((a, b) => a - b);
  const index = new Map(list.map((unit, k) => [unit, k]));
  const under = (id: number): readonly number[] => needsUnder(program.needs, id, whole);
  const nodesOf = (k: number): readonly number[] => program.units[list[k] as number]?.nodes ?? [];
  const edges = (k: number): readonly number[] => {
    const found = new Set<number>();
    for (const id of nodesOf(k))
      for (const on of under(id)) {
        if (whole.has(on)) continue;
        const to = index.get(program.unitOf[on] ?? -1);
        // A circle along an axis is one unit and no knot.
        if (to !== undefined && !(to === k && !program.knots.has(id))) found.add(to);
      }
    return [...found];
  };
  return stronglyConnected({ count: list.length, draws: edges }).map((group) => {
    const [first] = group as [number];
    if (group.length === 1 && !edges(first).includes(first)) return list[first] as number;
    return circleFaults(program.nodes, group.flatMap(nodesOf), (id) =>
      under(id).filter((on) => !whole.has(on)),
    );
  });
}

function needsUnder(needs: Needs, id: number, whole: ReadonlySet<number>): readonly number[] {
  const own = needs.of[id] ?? [];
  const within = needs.within.get(id);
  return within ? [...own, ...[...whole].filter((on) => within.has(on))] : own;
}
