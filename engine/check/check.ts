// A whole notebook checked: every node typed, scenario values fitted to their targets, charts
// resolved. The result is what the compiler works from.

import type { Node, Target } from '../language/ast.ts';
import { walk } from '../language/walk.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Notebook } from '../notebook/notebook.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import { Assumptions } from './assumptions.ts';
import { type CheckedChart, checkChart } from './check-chart.ts';
import { textId, textTable } from './check-common.ts';
import { checkExpression } from './check-expression.ts';
import { type LineProblem, lineProblems } from './check-lines.ts';
import { checkNode, placeOf } from './check-node.ts';
import { deepNodes } from './check-order.ts';
import { answerSpread, type CheckedAnswer, type CheckedCheck, checkParts } from './check-sides.ts';
import { fitOverride } from './check-with.ts';
import { type AssumedType, Checker, type Place } from './checker.ts';
import { settlePostponed } from './look-back.ts';
import { Rejected } from './rejected.ts';
import {
  buildScope,
  type GraphNode,
  noteId,
  type Scope,
  shareEmpty,
  type TreeCache,
} from './scope.ts';
import type { Axis } from './type.ts';
import type { Expr, TypedOverride } from './typed.ts';

export interface CheckedScenario {
  readonly item: number;
  readonly name: string;
  /** Target, and the node whose value in the plan replaces it. */
  readonly overrides: readonly { readonly override: TypedOverride; readonly from: number }[];
  readonly problems: readonly Diagnostic[];
}

export interface Checked {
  readonly scope: Scope;
  readonly nodes: readonly GraphNode[];
  readonly scenarios: readonly CheckedScenario[];
  readonly charts: readonly CheckedChart[];
  readonly checks: readonly CheckedCheck[];
  readonly answers: ReadonlyMap<string, CheckedAnswer>;
  /** Lines whose formulas are sound but that cannot do what they are for. */
  readonly lines: readonly LineProblem[];
  /** Text of a text's number. */
  readonly texts: ReadonlyMap<string, number>;
  readonly axisCount: number;
  /** As it stood at the end, to check one formula again. */
  readonly checker: Checker;
}

export function checkNotebook(notebook: Notebook, cache: TreeCache = new WeakMap()): Checked {
  let checked = checkOnce(notebook, cache, new Map());
  // A circle may still be worked where something is put in place of one of its cells.
  const assumptions = new Assumptions();
  while (assumptions.learn(checked)) checked = checkOnce(notebook, cache, assumptions.types);
  return checked;
}

function checkOnce(
  notebook: Notebook,
  cache: TreeCache,
  assumed: ReadonlyMap<number, AssumedType>,
): Checked {
  const scope = buildScope(notebook, cache);
  const timelines: number[] = [];
  for (const node of scope.nodes)
    if (node.kind === 'cell' && isTimeline(node.tree)) timelines.push(node.id);
  const c = new Checker(
    scope,
    { expression: checkExpression, node: checkNode },
    keysReplacedByNone(scope),
    timelines,
    assumed,
  );
  numberTexts(c);
  // Timelines first: what looks back takes its axis from one of them.
  const [early, deep] = deepNodes(c, timelines);
  for (const id of [...early, ...timelines, ...deep]) checkNode(c, c.node(id));
  for (let id = 0; id < scope.nodes.length; id++) {
    const node = scope.nodes[id];
    if (node && node.kind !== 'scenario value') checkNode(c, node);
  }
  const scenarios = scope.scenarios.map((scenario) => {
    const problems: Diagnostic[] = [];
    const overrides: { override: TypedOverride; from: number }[] = [];
    for (const o of scenario.overrides) {
      const node = c.node(o.node);
      const done = attempt(node, problems, () => {
        checkNode(c, node);
        if (node.problem) problems.push(node.problem);
        if (!o.target || !node.expr || !node.type || !node.tree) return undefined;
        return fitScenario(c, o.target, node);
      });
      if (done) overrides.push({ override: done, from: o.node });
    }
    return { item: scenario.item, name: scenario.name, overrides, problems };
  });
  const charts = scope.charts.map((chart) =>
    checkChart(c, chart.item, chart.chart, chart.problems),
  );
  settlePostponed(c);
  const checks = scope.checks.map((check) => ({
    ...check,
    parts: checkParts(c, c.node(check.node)),
  }));
  const answers = new Map<string, CheckedAnswer>();
  for (const [key, node] of scope.answers)
    answers.set(key, {
      key,
      item: c.node(node).item,
      node,
      spread: answerSpread(c, c.node(node)),
    });
  const lines = lineProblems(c);
  shareEmpty(scope.nodes);
  return {
    scope,
    nodes: scope.nodes,
    scenarios,
    charts,
    checks,
    answers,
    lines,
    texts: textTable(scope),
    axisCount: scope.nextAxis,
    checker: c,
  };
}

function attempt<T>(node: GraphNode, problems: Diagnostic[], work: () => T): T | undefined {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    if (error.diagnostic) problems.push(error.diagnostic);
    else noteId(node, 'waits', error.waitsFor);
    return undefined;
  }
}

function fitScenario(c: Checker, target: Target, node: GraphNode): TypedOverride {
  const place: Place = placeOf(c, node);
  // The node's own expression is run in the plan; the override takes its value from there.
  const before = new Set(node.draws);
  const sweeps: Axis[] = [];
  const fitted =
    node.tree?.kind === 'none'
      ? fitOverride(c, target, node.expr as Expr, node.tree as Node, place, sweeps)
      : fitOverride(
          c,
          target,
          { op: 'ref', type: node.type as NonNullable<GraphNode['type']>, node: node.id },
          node.tree as Node,
          place,
          sweeps,
        );
  // Naming the target is not drawing on it.
  for (const id of [...node.draws]) if (!before.has(id)) node.draws.delete(id);
  return fitted;
}

function isTimeline(tree: Node | undefined): boolean {
  return (
    tree?.kind === 'call' && tree.callee.kind === 'name' && tree.callee.name.key === 'timeline'
  );
}

function keysReplacedByNone(scope: Scope): ReadonlySet<string> {
  const keys = new Set<string>();
  const note = (target: Target | undefined, value: Node | undefined): void => {
    if (target && value?.kind === 'none')
      keys.add(target.column ? `${target.name.key}.${target.column.key}` : target.name.key);
  };
  for (const node of scope.nodes)
    if (node.tree)
      walk(node.tree, (n) => {
        if (n.kind === 'with') for (const o of n.overrides) note(o.target, o.value);
      });
  for (const scenario of scope.scenarios)
    for (const o of scenario.overrides) note(o.target, scope.nodes[o.node]?.tree);
  return keys;
}

/** Texts that arguments have when they are left out. */
const DEFAULT_TEXTS: readonly string[] = [...libraryFunctions.values()].flatMap((fn) =>
  fn.parameters.flatMap((parameter) =>
    typeof parameter.default === 'string' ? [parameter.default] : [],
  ),
);

/**
 * Texts get their numbers in the order of the file, whatever formula names whatever cell, so that two
 * sessions on one text have the same numbers.
 */
function numberTexts(c: Checker): void {
  for (const text of DEFAULT_TEXTS) textId(c, text);
  const take = (tree: Node): void =>
    walk(tree, (n) => {
      if (n.kind === 'text') textId(c, n.value);
    });
  for (const { tree, bounds } of c.scope.nodes) {
    if (tree) take(tree);
    if (bounds?.kind === 'choices') bounds.choices.forEach(take);
  }
  for (const { entries } of c.scope.tables.values())
    for (const row of entries) for (const entry of row) if (entry) take(entry.node);
}
