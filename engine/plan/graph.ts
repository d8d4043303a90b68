// Order and circles: nodes are sorted so that each follows what it draws on; nodes that go round in
// a circle are found together (Tarjan 1972, written without recursion for long chains).

export interface GraphInput {
  readonly count: number;
  /** What each node draws on. */
  readonly draws: (node: number) => Iterable<number>;
}

/** Groups in dependency order; a group of several nodes, or one that draws on itself, is a circle. */
export function stronglyConnected(graph: GraphInput): number[][] {
  const { count } = graph;
  const index = new Int32Array(count).fill(-1);
  const low = new Int32Array(count);
  const onStack = new Uint8Array(count);
  const stack: number[] = [];
  const groups: number[][] = [];
  let next = 0;
  for (let root = 0; root < count; root++) {
    if (index[root] !== -1) continue;
    const work: { node: number; edges: Iterator<number> }[] = [];
    const open = (node: number): void => {
      index[node] = next;
      low[node] = next;
      next++;
      stack.push(node);
      onStack[node] = 1;
      work.push({ node, edges: graph.draws(node)[Symbol.iterator]() });
    };
    open(root);
    while (work.length > 0) {
      const top = work[work.length - 1] as { node: number; edges: Iterator<number> };
      const edge = top.edges.next();
      if (!edge.done) {
        const to = edge.value;
        if (index[to] === -1) open(to);
        else if (onStack[to] === 1)
          low[top.node] = Math.min(low[top.node] as number, index[to] as number);
        continue;
      }
      work.pop();
      const parent = work[work.length - 1];
      if (parent) low[parent.node] = Math.min(low[parent.node] as number, low[top.node] as number);
      if (low[top.node] === index[top.node]) {
        const group: number[] = [];
        for (;;) {
          const node = stack.pop() as number;
          onStack[node] = 0;
          group.push(node);
          if (node === top.node) break;
        }
        groups.push(group.reverse());
      }
    }
  }
  return groups;
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
