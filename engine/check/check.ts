// A whole notebook checked: every node typed, scenario values fitted to their targets, charts
// resolved. The result is what the compiler works from.

import type { Node, Target } from '../language/ast.ts';
import { walk } from '../language/walk.ts';
import { libraryFunctions } from '../library/library.ts';
import type { Notebook } from '../notebook/notebook.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import { Assumptions } from './assumptions.ts';
import { textId, textTable } from './check-common.ts';
import { checkExpression } from './check-expression.ts';
import { checkNode, placeOf } from './check-node.ts';
import { deepNodes } from './check-order.ts';
import { answerSpread, type CheckedAnswer, type CheckedCheck, checkParts } from './check-sides.ts';
import { findTarget, fitOverride } from './check-with.ts';
import { type AssumedType, Checker, type Place, slice } from './checker.ts';
import { settlePostponed } from './look-back.ts';
import { Rejected } from './rejected.ts';
import { buildScope, type GraphNode, type Scope, type TreeCache } from './scope.ts';
import { type Axis, plainNumber } from './type.ts';
import type { Expr, TypedOverride } from './typed.ts';

export interface CheckedScenario {
  readonly item: number;
  readonly name: string;
  /** Target, and the node whose value in the plan replaces it. */
  readonly overrides: readonly { readonly override: TypedOverride; readonly from: number }[];
  readonly problems: readonly Diagnostic[];
}

export interface CheckedChart {
  readonly item: number;
  readonly kind: string | undefined;
  /** Nodes of kind `chart item`, or cells themselves. */
  readonly items: readonly { readonly name: string; readonly node: number }[];
  /** `against GIVEN = …`: sweeps made as nodes of their own, one an item. */
  readonly against: readonly { readonly name: string; readonly axis: Axis }[];
  readonly againstItem: { readonly name: string; readonly node: number } | undefined;
  readonly problem: Diagnostic | undefined;
  /** Node this chart waits for. */
  readonly waits: number;
  /** Table or window of a sky chart. */
  readonly skyTable: string | undefined;
}

export interface Checked {
  readonly scope: Scope;
  readonly nodes: readonly GraphNode[];
  readonly scenarios: readonly CheckedScenario[];
  readonly charts: readonly CheckedChart[];
  readonly checks: readonly CheckedCheck[];
  readonly answers: readonly CheckedAnswer[];
  /** Text of a text's number. */
  readonly texts: ReadonlyMap<string, number>;
  readonly axisCount: number;
  /** As it stood at the end, to check one formula again. */
  readonly checker: Checker;
}

export function checkNotebook(notebook: Notebook, cache: TreeCache = new Map()): Checked {
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
  const answers = [...scope.answers].map(([key, node]) => ({
    key,
    item: c.node(node).item,
    node,
    spread: answerSpread(c, c.node(node)),
  }));
  return {
    scope,
    nodes: scope.nodes,
    scenarios,
    charts,
    checks,
    answers,
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
    else node.waits.add(error.waitsFor);
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

// ── charts ──────────────────────────────────────────────────────────────────────────────────────

type ParsedChart = NonNullable<Scope['charts'][number]['chart']>;

function checkChart(
  c: Checker,
  item: number,
  chart: ParsedChart | undefined,
  problems: readonly Diagnostic[],
): CheckedChart {
  const none: CheckedChart = {
    item,
    kind: chart?.as,
    items: [],
    against: [],
    againstItem: undefined,
    problem: problems[0],
    waits: -1,
    skyTable: undefined,
  };
  if (!chart || problems.length > 0) return none;
  const source = c.scope.notebook.items[item]?.source ?? '';
  try {
    const [only] = chart.items;
    if (chart.items.length === 1 && only?.kind === 'name' && c.scope.tables.has(only.name.key))
      return { ...none, kind: chart.as ?? 'sky', skyTable: only.name.key };
    const againstItem = chart.against.find((a) => 'item' in a);
    const sets = chart.against.filter((a) => 'given' in a);
    const axes: Axis[] = [];
    const against: { name: string; axis: Axis }[] = [];
    const items = chart.items.map((tree, i) => {
      const node = chartNode(c, item, tree, source.slice(tree.span.start, tree.span.end).trim(), i);
      if (sets.length > 0) sweepItem(c, node, sets, i, axes, against);
      return { name: node.name, node: node.id };
    });
    const other =
      againstItem && 'item' in againstItem
        ? chartNode(
            c,
            item,
            againstItem.item,
            source.slice(againstItem.item.span.start, againstItem.item.span.end).trim(),
            99,
          )
        : undefined;
    for (const { node } of items) {
      const n = c.node(node);
      if (n.problem) return { ...none, problem: n.problem };
      if (!n.type) return { ...none, waits: [...n.waits][0] ?? node };
    }
    return {
      ...none,
      items,
      against,
      againstItem: other ? { name: other.name, node: other.id } : undefined,
    };
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    return { ...none, problem: error.diagnostic, waits: error.waitsFor };
  }
}

/** A cell or column charted by name is used as it stands; anything else becomes a node of its own. */
function chartNode(c: Checker, item: number, tree: Node, text: string, index: number): GraphNode {
  const name = text.replace(/^\((.*)\)$/s, '$1');
  const made: GraphNode = {
    id: c.scope.nodes.length,
    kind: 'chart item',
    key: `chart ${item} ${index}`,
    name,
    item,
    tree,
    table: undefined,
    column: -1,
    parseProblems: [],
    role: 'derived',
    type: undefined,
    expr: undefined,
    draws: new Set(),
    looksBack: new Set(),
    problem: undefined,
    waits: new Set(),
    distribution: undefined,
    entryDistributions: [],
    bounds: undefined,
    state: 'new',
  };
  c.scope.nodes.push(made);
  checkNode(c, made);
  return made;
}

/** `against panel rating = 100 W..600 W` makes of an item `item with panel rating = steps(…)`. */
function sweepItem(
  c: Checker,
  node: GraphNode,
  sets: readonly { given?: Target; values?: Node }[],
  index: number,
  axes: Axis[],
  against: { name: string; axis: Axis }[],
): void {
  if (!node.expr || !node.type) return;
  const place = placeOf(c, node);
  const overrides: TypedOverride[] = [];
  const sweeps: Axis[] = [];
  sets.forEach((set, k) => {
    const { given, values } = set;
    if (!given || !values) return;
    const value = sweepValues(c, place, given, values, sets.length > 1 ? 13 : 33, axes[k]);
    const before = new Set(node.draws);
    overrides.push(fitOverride(c, given, value, values, place, sweeps));
    for (const id of [...node.draws])
      if (!before.has(id) && !drawnBy(value).includes(id)) node.draws.delete(id);
    const axis = value.type.axes.find((a) => a.kind === 'steps');
    if (axis && index === 0) {
      axes[k] = axis;
      against.push({
        name: given.column ? `${given.name.text}.${given.column.text}` : given.name.text,
        axis,
      });
    }
  });
  const inner = node.expr;
  node.expr = {
    op: 'with',
    type: { ...inner.type, axes: [...sweeps, ...inner.type.axes] } as Expr['type'],
    value: inner,
    overrides,
    sweeps,
  };
  node.type = node.expr.type;
}

function drawnBy(expr: Expr): readonly number[] {
  return expr.op === 'ref' ? [expr.node] : [];
}

function sweepValues(
  c: Checker,
  place: Place,
  given: Target,
  values: Node,
  count: number,
  shared: Axis | undefined,
): Expr {
  const expr = c.expression(values, place);
  const target = findTarget(c, given, place);
  if (expr.type.kind !== 'span' || target.type.kind === 'span') return expr;
  const { of } = expr.type;
  const low = slice(expr, 0, of);
  const high = slice(expr, 1, of);
  const unit = of.kind === 'quantity' && of.unit ? { unit: of.unit } : {};
  const coordinate =
    of.kind === 'quantity'
      ? { kind: 'quantity' as const, dimension: of.dimension, stance: of.stance, ...unit }
      : { kind: 'time of day' as const };
  const axis = shared ?? c.newAxis('steps', given.name.text, coordinate);
  const type = { ...of, axes: [axis] } as Expr['type'];
  // The ends may be cells; a place between them is a share of the way from one to the other.
  const away: Expr = { op: 'binary', fn: 'sub', type: of, a: high, b: low };
  const at = (i: number): Expr => {
    const share: Expr = { op: 'const', type: plainNumber, values: [i / (count - 1)] };
    const part: Expr = { op: 'binary', fn: 'mul', type: of, a: away, b: share };
    return { op: 'binary', fn: 'add', type: of, a: low, b: part };
  };
  return {
    op: 'steps',
    type,
    axis,
    even: false,
    parts: Array.from({ length: count }, (_, i) => at(i)),
  };
}
