// What kind of value the cells of a circle have. Each would be known from the next, round and round;
// but where `with`, `solve` or a scenario puts something in place of one of them, that tells. The
// notebook is checked once more with what was learnt, until nothing more is.

import type { Node, Target } from '../language/ast.ts';
import { walk } from '../language/walk.ts';
import { uncertain } from './check-node.ts';
import { drawnBy } from './check-order.ts';
import { sameKind } from './check-with.ts';
import type { AssumedType, Checker, Place } from './checker.ts';
import { Rejected } from './rejected.ts';
import type { GraphNode } from './scope.ts';
import { type Axis, along, scalarOf, type Type } from './type.ts';

/** Times that a notebook is checked again; circles that hang on each other may need several. */
const MOST_PASSES = 8;

const NOTHING: ReadonlyMap<number, unknown> = new Map();

/** A value that some formula puts in place of a cell. */
interface Put {
  readonly node: number;
  readonly by: GraphNode;
  readonly value: Node;
  /** The value is a span to look in. */
  readonly isSpan: boolean;
}

export class Assumptions {
  readonly types = new Map<number, AssumedType>();
  /** Those whose own formula turned out to give another kind of value. */
  readonly #refused = new Set<number>();
  /** Those that were taken for a series too, or need not be. */
  readonly #tried = new Set<number>();
  #passes = 0;

  /** Takes what the last check shows; whether another check would find more. */
  learn(checked: { readonly checker: Checker; readonly nodes: readonly GraphNode[] }): boolean {
    if (this.#passes === 0 && !checked.nodes.some(({ problem }) => problem?.code === 'circle'))
      return false;
    if (this.#passes++ >= MOST_PASSES) return false;
    const { checker: c, nodes } = checked;
    let hasLearnt = false;
    for (const id of [...this.types.keys()]) if (this.#compare(c, c.node(id))) hasLearnt = true;
    if (hasLearnt) return true;
    const round = circleMembers(c, nodes);
    for (const put of putsOf(c, nodes, round)) {
      const { node } = put;
      if (this.types.has(node) || this.#refused.has(node)) continue;
      const type = typeOfPut(c, put);
      if (!type) continue;
      const { table } = c.node(node);
      this.types.set(node, { type, along: table && { table: table.key } });
      hasLearnt = true;
    }
    return hasLearnt;
  }

  /** Holds what was assumed against what the cell's own formula gives; whether it must be corrected. */
  #compare(c: Checker, { id, type, kind }: GraphNode): boolean {
    const assumed = this.types.get(id) as AssumedType;
    const [timeline] = c.timelines;
    if (!type && timeline !== undefined && kind === 'cell' && !this.#tried.has(id)) {
      // A single value may be put in place of a whole series.
      this.#tried.add(id);
      this.types.set(id, { ...assumed, along: { timeline, isDays: false } });
      return true;
    }
    if (!type || !sameKind(type, assumed.type)) {
      this.types.delete(id);
      this.#refused.add(id);
      return true;
    }
    this.#tried.add(id);
    const made = assumedFrom(c, type);
    if (!made) {
      this.types.delete(id);
      this.#refused.add(id);
      return true;
    }
    if (isSame(made, assumed)) return false;
    this.types.set(id, made);
    return true;
  }
}

function isSame(a: AssumedType, b: AssumedType): boolean {
  const flow = (type: Type): string => ('flow' in type ? type.flow : '');
  return (
    JSON.stringify(a.along) === JSON.stringify(b.along) &&
    flow(a.type) === flow(b.type) &&
    a.type.optional === b.type.optional
  );
}

/** A kind of value without the axes themselves, which every check makes anew. */
function assumedFrom(c: Checker, type: Type): AssumedType | undefined {
  const [axis, ...more] = type.axes;
  const bare = along(type, []);
  if (!axis) return { type: bare, along: undefined };
  if (more.length > 0) return undefined;
  const from = madeBy(c, axis);
  return from && { type: bare, along: from };
}

function madeBy(c: Checker, axis: Axis): AssumedType['along'] {
  if (axis.kind === 'timeline') return { timeline: axis.node, isDays: false };
  if (axis.kind === 'days') return { timeline: axis.node, isDays: true };
  const table = [...c.scope.tables.values()].find(({ rows }) => rows === axis);
  return table && { table: table.key };
}

/** Nodes that lie in a circle of names, whatever is put in place of them. */
function circleMembers(c: Checker, nodes: readonly GraphNode[]): ReadonlySet<number> {
  // What is put in place of a cell is of its kind, so that the kind is asked for there as well.
  const draws = nodes.map((node) => [...drawnBy(c, node, NOTHING), ...targetsIn(c, node)]);
  // Those that lead out of every circle are taken away, from both ends, until none is left.
  const inward = new Int32Array(nodes.length);
  const by: number[][] = nodes.map(() => []);
  draws.forEach((list, id) => {
    for (const on of new Set(list)) {
      inward[on] = (inward[on] as number) + 1;
      by[on]?.push(id);
    }
  });
  const left = new Set(nodes.map(({ id }) => id));
  const peel = (count: Int32Array, next: (id: number) => Iterable<number>): void => {
    const waiting = [...left].filter((id) => count[id] === 0);
    for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
      left.delete(id);
      for (const to of next(id)) {
        if (!left.has(to)) continue;
        count[to] = (count[to] as number) - 1;
        if (count[to] === 0) waiting.push(to);
      }
    }
  };
  peel(inward, (id) => new Set(draws[id]));
  const outward = Int32Array.from(
    nodes,
    ({ id }) => [...new Set(draws[id])].filter((on) => left.has(on)).length,
  );
  peel(outward, (id) => by[id] ?? []);
  return left;
}

/** The cells and columns that a formula puts something in place of. */
function targetsIn(c: Checker, { tree }: GraphNode): readonly number[] {
  const found: number[] = [];
  if (tree)
    walk(tree, (n) => {
      if (n.kind !== 'with') return;
      for (const { target } of n.overrides) {
        const id = targetNode(c, target);
        if (id !== undefined) found.push(id);
      }
    });
  return found;
}

function targetNode(c: Checker, target: Target): number | undefined {
  const table = target.column && c.scope.tables.get(target.name.key);
  return target.column && table
    ? table.columnByKey.get(target.column.key)
    : c.scope.cells.get(target.name.key);
}

/** What formulas and scenarios put in place of these nodes, in the order of the file. */
function putsOf(
  c: Checker,
  nodes: readonly GraphNode[],
  members: ReadonlySet<number>,
): readonly Put[] {
  const found: Put[] = [];
  const note = (target: Target | undefined, by: GraphNode, value: Node, isSpan: boolean): void => {
    if (!target || target.entry) return;
    const node = targetNode(c, target);
    if (node !== undefined && members.has(node)) found.push({ node, by, value, isSpan });
  };
  const overrides = new Map(
    c.scope.scenarios.flatMap(({ overrides: list }) =>
      list.map((o) => [o.node, o.target] as const),
    ),
  );
  for (const by of nodes) {
    const { tree } = by;
    if (!tree) continue;
    note(overrides.get(by.id), by, tree, false);
    walk(tree, (n) => {
      if (n.kind === 'with')
        for (const { target, value } of n.overrides) note(target, by, value, false);
      if (n.kind !== 'call' || n.callee.kind !== 'name' || n.callee.name.key !== 'solve') return;
      const cell = n.arguments[0]?.value;
      const over = n.arguments.find(({ label }) => label?.key === 'over')?.value;
      if (cell?.kind === 'name' && over) note({ name: cell.name, span: cell.span }, by, over, true);
    });
  }
  return found;
}

/** The kind of value that is put in, if it is known without the circle. */
function typeOfPut(c: Checker, { by, value, isSpan }: Put): Type | undefined {
  // Looked at beside the formula, so that nothing is written down twice.
  const node: GraphNode = {
    ...by,
    draws: new Set(),
    looksBack: new Set(),
    waits: new Set(),
    entryDistributions: [],
    problem: undefined,
  };
  const place: Place = {
    node,
    table: by.table,
    lookingBack: false,
    source: c.scope.notebook.items[by.item]?.source ?? '',
  };
  try {
    const { type } = uncertain(c, value, place) ?? c.expression(value, place);
    if (type.kind === 'span' && (isSpan || value.kind === 'range')) return along(type.of, []);
    if (type.kind === 'table' || type.kind === 'nothing' || type.kind === 'window')
      return undefined;
    return scalarOf(type);
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    return undefined;
  }
}
