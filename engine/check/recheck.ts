// One cell checked again where it stands, after its formula alone changed. It says what the formula is
// now when nothing that was found out about other formulas could have come out otherwise: the kind of
// value is the same, and nothing was said or settled that hangs on the order in which formulas were
// checked. In every other case it gives nothing, and the whole notebook is checked.

import type { Node } from '../language/ast.ts';
import { children } from '../language/walk.ts';
import type { Notebook } from '../notebook/notebook.ts';
import type { Checked } from './check.ts';
import { checkNode } from './check-node.ts';
import { type GraphNode, NO_IDS } from './scope.ts';
import type { Type } from './type.ts';
import type { Expr } from './typed.ts';
import { childrenOf, visitExpr } from './typed-walk.ts';

/** Kinds of parts that draw on nodes and do nothing else: they run nothing again and make no axis. */
const SIMPLE: ReadonlySet<Expr['op']> = new Set([
  'const',
  'ref',
  'slice',
  'pack',
  'map',
  'unary',
  'binary',
  'select',
  'call',
  'reduce',
  'lookup',
  'during',
  'load profile',
] as const);

function isSimple(expr: Expr): boolean {
  if (expr.op === 'const' || expr.op === 'ref') return true;
  if (expr.op === 'binary') return isSimple(expr.a) && isSimple(expr.b);
  return SIMPLE.has(expr.op) && childrenOf(expr).every(isSimple);
}

/** Texts are numbered in the order in which they are met. */
function hasText(tree: Node): boolean {
  if (tree.kind === 'name' || tree.kind === 'number') return false;
  if (tree.kind === 'binary') return hasText(tree.left) || hasText(tree.right);
  return tree.kind === 'text' || children(tree).some(hasText);
}

/** Whether two types are one, part by part; parts that are made anew each time count as others. */
export function isSameType(a: Type, b: Type): boolean {
  if (!isSameAxes(a.axes, b.axes)) return false;
  const [left, right]: readonly [object, object] = [a, b];
  const keys = Object.keys(left) as (keyof object)[];
  if (keys.length !== Object.keys(right).length) return false;
  for (const key of keys)
    if (
      (key as string) !== 'axes' &&
      !(Object.hasOwn(right, key) && Object.is(left[key], right[key]))
    )
      return false;
  return true;
}

function isSameAxes(a: Type['axes'], b: Type['axes']): boolean {
  return a.length === b.length && a.every((axis, i) => axis === b[i]);
}

export function isSameList(a: readonly number[], b: readonly number[]): boolean {
  return a.length === b.length && a.every((one, i) => one === b[i]);
}

function isSameOrder(a: ReadonlySet<number>, b: ReadonlySet<number>): boolean {
  if (a.size !== b.size) return false;
  const others = b.values();
  for (const one of a) if (others.next().value !== one) return false;
  return true;
}

const lookingBack = new WeakMap<Checked, boolean>();

/** Whether any formula looks back: its axis may be found out by the order of checking. */
function looksBack(checked: Checked): boolean {
  let known = lookingBack.get(checked);
  if (known === undefined) {
    known = checked.nodes.some((node) => {
      let found = node.looksBack.size > 0;
      if (node.expr)
        visitExpr(node.expr, ({ op }) => {
          found ||= op === 'previous';
        });
      return found;
    });
    lookingBack.set(checked, known);
  }
  return known;
}

/** Whether a cell is of the simple kind that may be checked by itself. */
function isAlone(node: GraphNode): boolean {
  const { kind, type, expr, tree, role } = node;
  return (
    kind === 'cell' &&
    (role === 'given' || role === 'derived') &&
    node.problem === undefined &&
    node.parseProblems.length === 0 &&
    node.looksBack.size === 0 &&
    (type?.kind === 'quantity' || type?.kind === 'truth' || type?.kind === 'time of day') &&
    expr !== undefined &&
    tree !== undefined &&
    isSimple(expr) &&
    !hasText(tree)
  );
}

/**
 * The node as it is with another formula, or nothing when the whole notebook must be checked.
 *
 * @param tree      the new formula, parsed without a message
 * @param notebook  the notebook with the new formula in it
 */
export function recheck(
  checked: Checked,
  id: number,
  tree: Node,
  notebook: Notebook,
): GraphNode | undefined {
  const { scope, checker } = checked;
  const before = scope.nodes[id];
  if (!before || !isAlone(before)) return undefined;
  const { nextAxis, notebook: old } = scope;
  const [nodes, texts] = [scope.nodes.length, checked.texts.size];
  const made: GraphNode = {
    ...before,
    tree,
    role: 'derived',
    type: undefined,
    expr: undefined,
    draws: NO_IDS,
    looksBack: NO_IDS,
    waits: NO_IDS,
    state: 'new',
  };
  const open = scope as { notebook: Notebook };
  open.notebook = notebook;
  checkNode(checker, made);
  open.notebook = old;
  const fits =
    isAlone(made) &&
    made.waits.size === 0 &&
    !made.draws.has(id) &&
    scope.nextAxis === nextAxis &&
    scope.nodes.length === nodes &&
    checked.texts.size === texts &&
    isSameType(before.type as Type, made.type as Type) &&
    (isSameOrder(before.draws, made.draws) || !looksBack(checked));
  if (!fits) return undefined;
  // What hangs on the type may hold on to the object itself.
  made.type = before.type;
  return made;
}
