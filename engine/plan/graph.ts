// Order and circles: nodes are sorted so that each follows what it draws on; nodes that go round in
// a circle are found together (Tarjan 1972, written without recursion for long chains).

export interface GraphInput {
  readonly count: number;
  /** What each node draws on. */
  readonly draws: (node: number) => readonly number[];
}

/** Groups in dependency order; a group of several nodes, or one that draws on itself, is a circle. */
export function stronglyConnected(graph: GraphInput): number[][] {
  const { count } = graph;
  const index = new Int32Array(count).fill(-1);
  const low = new Int32Array(count);
  const onStack = new Uint8Array(count);
  const stack: number[] = [];
  const groups: number[][] = [];
  // Nodes at work, what each draws on, and how far it is with that.
  const work: number[] = [];
  const edges: (readonly number[])[] = [];
  const at: number[] = [];
  let next = 0;
  const open = (node: number): void => {
    index[node] = next;
    low[node] = next;
    next++;
    stack.push(node);
    onStack[node] = 1;
    work.push(node);
    edges.push(graph.draws(node));
    at.push(0);
  };
  for (let root = 0; root < count; root++) {
    if (index[root] !== -1) continue;
    open(root);
    while (work.length > 0) {
      const top = work.length - 1;
      const node = work[top] as number;
      const to = (edges[top] as readonly number[])[at[top] as number];
      if (to !== undefined) {
        at[top] = (at[top] as number) + 1;
        if (index[to] === -1) open(to);
        else if (onStack[to] === 1) low[node] = Math.min(low[node] as number, index[to] as number);
        continue;
      }
      work.pop();
      edges.pop();
      at.pop();
      const parent = work[top - 1];
      if (parent !== undefined) low[parent] = Math.min(low[parent] as number, low[node] as number);
      if (low[node] === index[node]) groups.push(takeGroup(stack, onStack, node));
    }
  }
  return groups;
}

/** The nodes of the stack from one on, taken off it. */
function takeGroup(stack: number[], onStack: Uint8Array, first: number): number[] {
  let from = stack.length - 1;
  while (stack[from] !== first) from--;
  const group = stack.splice(from);
  for (const node of group) onStack[node] = 0;
  return group;
}

/** Everything reachable along `edges`, the start included. */
export function closure(
  start: Iterable<number>,
  edges: (node: number) => Iterable<number>,
  stop?: (node: number) => boolean,
): Set<number> {
  const seen = new Set<number>();
  const stack = [...start];
  while (stack.length > 0) {
    const node = stack.pop() as number;
    if (seen.has(node)) continue;
    seen.add(node);
    if (stop?.(node)) continue;
    for (const next of edges(node)) stack.push(next);
  }
  return seen;
}
