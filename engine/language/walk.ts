// Going through a tree without knowing every kind of node.

import type { Node, Target } from './ast.ts';

/** The nodes directly below a node, in the order they are written. */
export function children(node: Node): readonly Node[] {
  switch (node.kind) {
    case 'part':
      return [node.of];
    case 'call':
      return [node.callee, ...node.arguments.map(({ value }) => value)];
    case 'unary':
      return [node.operand];
    case 'binary':
      return [node.left, node.right];
    case 'compare':
      return node.operands;
    case 'range':
      return node.parts;
    case 'tolerance':
      return [node.centre, node.spread];
    case 'as':
      return [node.value];
    case 'if':
      return [node.condition, node.then, node.otherwise];
    case 'with':
      return [
        node.value,
        ...node.overrides.flatMap(({ target, value }) => [...entryOf(target), value]),
      ];
    default:
      return [];
  }
}

function entryOf(target: Target): readonly Node[] {
  return target.entry === undefined ? [] : [target.entry];
}

/** Calls `visit` with every node, parents first. Needs no stack, however deep the tree is. */
export function walk(root: Node, visit: (node: Node) => void): void {
  const waiting: Node[] = [root];
  for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
    visit(node);
    // Most nodes are these, and need no list of what is below them.
    if (node.kind === 'name' || node.kind === 'number') continue;
    if (node.kind === 'binary') waiting.push(node.right, node.left);
    else waiting.push(...children(node).toReversed());
  }
}

/** How many nodes lie one below the other where they are most, the root included. */
export function depthOf(root: Node): number {
  let deepest = 0;
  for (let level: readonly Node[] = [root]; level.length > 0; level = level.flatMap(children))
    deepest += 1;
  return deepest;
}

/** Whether a node is a value written out: no name, no call, no arithmetic but a leading minus. */
export function isLiteral(node: Node): boolean {
  switch (node.kind) {
    case 'number':
    case 'gauge':
    case 'moment':
    case 'time of day':
    case 'text':
    case 'pi':
    case 'none':
    case 'blank':
      return true;
    case 'unary':
      return node.operator === '-' && node.operand.kind === 'number';
    case 'range':
    case 'tolerance':
      return children(node).every(isLiteral);
    default:
      return false;
  }
}
