// What a check compares, taken apart, so that its margin can be told: `a ≥ b and c within d..e` is
// two comparisons. Each side becomes a node of its own unless it already is one.

import type { Node } from '../language/ast.ts';
import { toleranceOf } from './check-common.ts';
import { placeOf } from './check-node.ts';
import type { Checker } from './checker.ts';
import { Rejected } from './rejected.ts';
import type { GraphNode } from './scope.ts';
import type { QuantityType } from './type.ts';
import type { Expr } from './typed.ts';

export interface CheckPart {
  readonly relation: '<' | '≤' | '=' | '≥' | '>' | '≠';
  readonly left: number;
  readonly right: number;
}

export interface CheckedCheck {
  readonly item: number;
  readonly must: boolean;
  readonly node: number;
  /** Empty when the check is no comparison of amounts. */
  readonly parts: readonly CheckPart[];
}

export interface CheckedAnswer {
  /** Key of the blank. */
  readonly key: string;
  readonly item: number;
  readonly node: number;
  /** Node of the tolerance, −1 when the answer must match exactly. */
  readonly spread: number;
}

const RELATIONS: Readonly<Record<string, CheckPart['relation']>> = {
  lt: '<',
  le: '≤',
  eq: '=',
  ge: '≥',
  gt: '>',
  ne: '≠',
};

const TURNED: Readonly<Record<CheckPart['relation'], CheckPart['relation']>> = {
  '<': '>',
  '≤': '≥',
  '=': '=',
  '≥': '≤',
  '>': '<',
  '≠': '≠',
};

/** A node made by the checker itself, drawing on what `owner` draws on. */
export function hiddenNode(
  c: Checker,
  owner: GraphNode,
  expr: Expr,
  key: string,
  name: string = owner.name,
): number {
  if (expr.op === 'ref') return expr.node;
  // A plain amount stands whatever became of the rest.
  const draws = expr.op === 'const' ? [] : owner.draws;
  const node: GraphNode = {
    id: c.scope.nodes.length,
    kind: 'side',
    key,
    name,
    item: owner.item,
    tree: undefined,
    table: undefined,
    column: -1,
    parseProblems: [],
    role: 'derived',
    type: expr.type,
    expr,
    draws: new Set(draws),
    looksBack: new Set(owner.looksBack),
    problem: undefined,
    waits: new Set(owner.waits),
    distribution: undefined,
    entryDistributions: [],
    bounds: undefined,
    state: 'done',
  };
  c.scope.nodes.push(node);
  return node.id;
}

export function checkParts(c: Checker, node: GraphNode): readonly CheckPart[] {
  const parts: CheckPart[] = [];
  const place = placeOf(c, node);
  const side = (expr: Expr, tree: Node | undefined): number =>
    hiddenNode(
      c,
      node,
      expr,
      `${node.key} side ${c.scope.nodes.length}`,
      tree ? c.quote(tree, place) : node.name,
    );
  const take = (expr: Expr, tree: Node | undefined): boolean => {
    if (expr.op === 'binary' && expr.fn === 'and') {
      // `a ≤ b ≤ c` and `a ≤ b and b ≤ c` are the same to the machine; only the trees differ.
      if (tree?.kind === 'binary' && tree.operator === 'and')
        return take(expr.a, tree.left) && take(expr.b, tree.right);
      if (tree?.kind !== 'compare') return take(expr.a, undefined) && take(expr.b, undefined);
      const { operands, operators } = tree;
      const head: Node = {
        ...tree,
        operands: operands.slice(0, -1),
        operators: operators.slice(0, -1),
      };
      const last: Node = { ...tree, operands: operands.slice(-2), operators: operators.slice(-1) };
      return take(expr.a, head) && take(expr.b, last);
    }
    if (expr.op === 'binary' && expr.a.type.kind === 'quantity') {
      const relation = RELATIONS[expr.fn];
      if (!relation) return false;
      const [left, right] =
        tree?.kind === 'compare'
          ? tree.operands
          : tree?.kind === 'binary'
            ? [tree.left, tree.right]
            : [];
      if (tree?.kind === 'binary' && tree.right.kind === 'tolerance') {
        const { centre, spread } = tree.right;
        const apart = `distance of ${c.quote(tree.left, place)} from ${c.quote(centre, place)}`;
        const key = `${node.key} side ${c.scope.nodes.length}`;
        parts.push({
          relation,
          left: hiddenNode(c, node, expr.a, key, apart),
          right: side(expr.b, spread),
        });
        return true;
      }
      const [a, b] = [side(expr.a, left), side(expr.b, right)];
      // The limit stands on the right, also when `10 V ≤ voltage` was written.
      if (expr.a.op === 'const' && expr.b.op !== 'const')
        parts.push({ relation: TURNED[relation], left: b, right: a });
      else parts.push({ relation, left: a, right: b });
      return true;
    }
    if (expr.op === 'map' && expr.fn === 'within') {
      const [x, low, high] = expr.args as [Expr, Expr, Expr];
      const left = side(x, tree?.kind === 'binary' ? tree.left : undefined);
      parts.push(
        { relation: '≥', left, right: side(low, undefined) },
        { relation: '≤', left, right: side(high, undefined) },
      );
      return true;
    }
    return false;
  };
  return node.expr && take(node.expr, node.tree) ? parts : [];
}

export function answerSpread(c: Checker, node: GraphNode): number {
  const { tree, expr, type } = node;
  if (tree?.kind !== 'tolerance' || !expr || !type) return -1;
  const place = placeOf(c, node);
  try {
    const spread =
      type.kind === 'time of day'
        ? c.expression(tree.spread, place)
        : toleranceOf(c, tree.spread, type as QuantityType, expr, place);
    return hiddenNode(c, node, spread, `${node.key} spread`);
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    if (error.diagnostic) node.problem ??= error.diagnostic;
    return -1;
  }
}
