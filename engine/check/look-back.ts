// `previous(x, first: …)`: the one function through which a circle may run. What it looks back at
// may not be typed yet when it is met, so its kind is taken from `first` and its axis from the
// timeline that `x` is built on; both are held against the real type once everything is checked.

import type { CallNode, Node } from '../language/ast.ts';
import { walk } from '../language/walk.ts';
import { sameKind } from './check-with.ts';
import type { Checker, Place } from './checker.ts';
import { describeType } from './describe.ts';
import { Rejected, reject } from './rejected.ts';
import { noteId } from './scope.ts';
import { type Axis, along, type QuantityType, sameAxes, type Type } from './type.ts';
import type { Expr } from './typed.ts';

export interface Postponed {
  readonly place: Place;
  readonly x: Node;
  readonly expr: { readonly back: { of: Expr }; readonly type: Type };
  readonly call: CallNode;
}

const postponed = new WeakMap<Checker, Postponed[]>();

export function postponedOf(c: Checker): Postponed[] {
  let list = postponed.get(c);
  if (!list) {
    list = [];
    postponed.set(c, list);
  }
  return list;
}

export function lookingBackType(
  c: Checker,
  x: Node,
  first: Expr,
  firstNode: Node,
  call: CallNode,
  place: Place,
): Expr {
  const axis = axisOf(c, x, place);
  if (!axis)
    reject(
      'needs-series',
      x.span,
      `previous(…) looks one place back along an axis; "${c.quote(x, place)}" has none. A circle needs a timeline: build one of its cells on it.`,
    );
  let type: Type = along(first.type, [axis as Axis], false);
  if (type.kind === 'quantity') type = { ...type, flow: 'state' };
  if (type.kind === 'record' || type.kind === 'window' || type.kind === 'table')
    reject('wrong-argument', firstNode.span, 'previous(…) looks back at single values.');
  const expr = { op: 'previous' as const, type, back: { of: first }, first, axis: axis as Axis };
  // A circle may name nothing else that stands on the timeline, and must still come after it.
  const { node: timeline } = axis as Axis;
  if (timeline >= 0 && timeline !== place.node.id && axis?.kind !== 'rows')
    noteId(place.node, 'draws', timeline);
  postponedOf(c).push({ place: { ...place, lookingBack: true }, x, expr, call });
  return expr;
}

/** Settles what `previous` looked back at, now that every cell is typed. */
export function settlePostponed(c: Checker): void {
  for (const { place, x, expr, call } of postponedOf(c)) {
    try {
      const of = c.expression(x, place);
      if (!sameKind(of.type, expr.type) || !sameAxes(of.type.axes, expr.type.axes))
        reject(
          'look-back-kind',
          call.span,
          `previous(…) looks back at "${c.quote(x, place)}", which is ${describeType(of.type)}, but "first:" makes it ${describeType(expr.type)}. Give "first:" the same kind of value.`,
        );
      expr.back.of = of;
    } catch (error) {
      if (!(error instanceof Rejected)) throw error;
      if (error.diagnostic) place.node.problem ??= error.diagnostic;
      else noteId(place.node, 'waits', error.waitsFor);
      // What was assumed of this formula does not hold, so it is not run.
      place.node.type = undefined;
      place.node.expr = undefined;
    }
  }
}

/** The axis x will have: its own when it is known, the table's, else the timeline it is built on. */
function axisOf(c: Checker, x: Node, place: Place): Axis | undefined {
  const names = namesIn(x, place, c);
  for (const id of names) {
    const node = c.node(id);
    if (node.state === 'done' && node.type && node.type.axes.length === 1) return node.type.axes[0];
    if (node.kind === 'column') return node.table?.rows;
  }
  for (const clock of c.timelines) {
    if (c.timelines.length === 1 || names.some((id) => reaches(c, id, clock))) {
      const type = c.node(clock).type as QuantityType | undefined;
      if (type?.timeline) return type.timeline;
    }
  }
  return undefined;
}

/** Cells and columns that a tree names, at any depth of the tree. */
export function namesIn(tree: Node, place: Pick<Place, 'table'>, c: Checker): number[] {
  const found: number[] = [];
  walk(tree, (node) => {
    if (node.kind === 'part' && node.of.kind === 'name') {
      const column = c.scope.tables.get(node.of.name.key)?.columnByKey.get(node.name.key);
      if (column !== undefined) found.push(column);
    }
    if (node.kind === 'name') {
      const hit = place.table?.columnByKey.get(node.name.key) ?? c.scope.cells.get(node.name.key);
      if (hit !== undefined) found.push(hit);
    }
  });
  return found;
}

function reaches(c: Checker, from: number, to: number): boolean {
  const seen = new Set<number>();
  const stack = [from];
  while (stack.length > 0) {
    const id = stack.pop() as number;
    if (id === to) return true;
    if (seen.has(id)) continue;
    seen.add(id);
    const node = c.node(id);
    if (node.tree) stack.push(...namesIn(node.tree, { table: node.table }, c));
  }
  return false;
}
