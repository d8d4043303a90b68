// Long chains of cells, checked from their far end. A node is checked when a formula first names it,
// one call inside another, and thousands of calls inside each other do not fit the stack. So nodes
// that lie far down are found first, without recursion, and checked before anything names them. A
// circle that closes far down is told here, for the same reason.

import type { CallNode, Node } from '../language/ast.ts';
import { children, walk } from '../language/walk.ts';
import { type Checker, circleMessage } from './checker.ts';
import { namesIn } from './look-back.ts';
import { type GraphNode, noteId } from './scope.ts';

/** Nodes that may name each other in one chain of calls. */
const DEEP = 150;

/**
 * Nodes that lie deeper than the stack allows, the deepest first, in two lists: those that the roots
 * need, and all others. Circles among them are closed with a message.
 */
export function deepNodes(c: Checker, roots: readonly number[]): readonly [number[], number[]] {
  const { nodes } = c.scope;
  if (nodes.length <= DEEP) return [[], []];
  const state = new Uint8Array(nodes.length);
  const found: [number[], number[]] = [[], []];
  const order = [...roots, ...nodes.map((node) => node.id)];
  order.forEach((root, index) => {
    if (state[root] !== 0) return;
    const list = found[index < roots.length ? 0 : 1];
    const work: { id: number; edges: readonly number[]; next: number }[] = [];
    const open = (id: number): void => {
      state[id] = 1;
      work.push({ id, edges: drawnBy(c, c.node(id)), next: 0 });
    };
    open(root);
    for (let top = work[work.length - 1]; top !== undefined; top = work[work.length - 1]) {
      const to = top.edges[top.next++];
      if (to === undefined) {
        state[top.id] = 2;
        if (work.length > DEEP) list.push(top.id);
        work.pop();
      } else if (state[to] === 0) open(to);
      else if (state[to] === 1 && work.length > DEEP) {
        const from = work.findIndex((step) => step.id === to);
        close(c, c.node(top.id), [...work.slice(from).map((step) => step.id), to]);
      }
    }
  });
  return found;
}

function close(c: Checker, node: GraphNode, circle: readonly number[]): void {
  node.problem ??= circleMessage(
    node.tree?.span ?? { start: 0, end: 1 },
    circle.map((id) => c.node(id).name),
  );
  const [next] = circle.slice(-1);
  if (next !== undefined) noteId(node, 'draws', next);
}

/** What a node names outside `previous(…)`: what must be typed before it. */
export function drawnBy(
  c: Checker,
  node: GraphNode,
  assumed: ReadonlyMap<number, unknown> = c.assumed,
): readonly number[] {
  const found: number[] = [];
  const trees: Node[] = [];
  if (node.tree) trees.push(node.tree);
  if (node.table)
    for (const row of node.table.entries) {
      const entry = row[node.column];
      if (entry?.formula) trees.push(entry.node);
    }
  for (const tree of trees)
    for (const part of withoutPrevious(tree)) found.push(...namesIn(part, node, c));
  return assumed.size === 0 ? found : found.filter((id) => !assumed.has(id));
}

function callsPrevious(tree: Node): boolean {
  let found = false;
  walk(tree, (node) => {
    found ||= isPrevious(node);
  });
  return found;
}

function isPrevious(node: Node): node is CallNode {
  return node.kind === 'call' && node.callee.kind === 'name' && node.callee.name.key === 'previous';
}

/** The tree, or what remains of it when what `previous` looks back at is left out. */
function withoutPrevious(tree: Node): readonly Node[] {
  if (!callsPrevious(tree)) return [tree];
  const rest: Node[] = [];
  const waiting: Node[] = [tree];
  const leaves: Node[] = [];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    if (isPrevious(node)) {
      const first = node.arguments.find(({ label }) => label?.key === 'first');
      if (first) rest.push(...withoutPrevious(first.value));
      continue;
    }
    const isTablePart = node.kind === 'part' && node.of.kind === 'name';
    if (node.kind === 'name' || isTablePart) leaves.push(node);
    else waiting.push(...children(node));
  }
  return [...leaves, ...rest];
}
