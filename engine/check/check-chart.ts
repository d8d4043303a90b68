// What a chart line draws: its items as nodes, the givens they are swept along, and whether the kind
// of chart can be drawn from them. What hangs on values is told when the chart is drawn.

import { angle } from '../dimension/dimension.ts';
import type { Node, Target } from '../language/ast.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import type { Span } from '../source/span.ts';
import { checkNode, placeOf } from './check-node.ts';
import { findTarget, fitOverride } from './check-with.ts';
import { type Checker, type Place, slice } from './checker.ts';
import { describeAxes, describeKind } from './describe.ts';
import { Rejected, reject } from './rejected.ts';
import type { GraphNode, Scope, TableScope } from './scope.ts';
import { type Axis, plainNumber, sameAxes, type Type } from './type.ts';
import type { Expr, TypedOverride } from './typed.ts';

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

type ParsedChart = NonNullable<Scope['charts'][number]['chart']>;

export const CHART_KINDS = [
  'line',
  'bars',
  'stack',
  'list',
  'dots',
  'map',
  'bands',
  'spread',
  'influence',
  'sky',
] as const;

type ChartKind = (typeof CHART_KINDS)[number];

export function checkChart(
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
    knownKind(chart, source);
    const [only] = chart.items;
    const table = only?.kind === 'name' ? c.scope.tables.get(only.name.key) : undefined;
    if (chart.items.length === 1 && only && table) {
      hasOutline(c, table, chart.as, only.span);
      return { ...none, kind: 'sky', skyTable: table.key };
    }
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
    const drawn = [...items, ...(other ? [{ node: other.id }] : [])].map(({ node }) =>
      c.node(node),
    );
    for (const n of drawn) {
      if (n.problem) return { ...none, problem: n.problem };
      if (!n.type) return { ...none, waits: [...n.waits][0] ?? n.id };
    }
    fitKind(
      chart,
      items.map(({ node }) => drawable(c.node(node))),
      other ? drawable(other) : undefined,
    );
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

// ── whether it can be drawn ─────────────────────────────────────────────────────────────────────

function knownKind({ as, asSpan }: ParsedChart, source: string): void {
  if (as === undefined || CHART_KINDS.includes(as as ChartKind)) return;
  reject(
    'chart-kind-unknown',
    asSpan ?? { start: 0, end: 1 },
    `"${asSpan ? source.slice(asSpan.start, asSpan.end) : as}" is no kind of chart. Write ${CHART_KINDS.slice(0, -1).join(', ')} or ${CHART_KINDS.at(-1)} after "as", or leave it out.`,
  );
}

/** A table alone is drawn as a sky; it needs two columns of angles. */
function hasOutline(c: Checker, table: TableScope, kind: string | undefined, span: Span): void {
  const types = table.columns.map((id) => ({ node: c.node(id), type: c.node(id).type }));
  // A column that is broken says so itself.
  if (types.some(({ type }) => type === undefined)) return;
  const angles = types.filter(({ type }) => type?.kind === 'quantity' && type.dimension === angle);
  if (angles.length >= 2 && (kind === undefined || kind === 'sky')) return;
  const amount = types.find(({ type }) => type?.kind === 'quantity') ?? types[0];
  reject(
    'chart-item',
    span,
    `"${table.name}" is a table, and a table is drawn only as a sky, from its columns azimuth and height. Name the columns to draw, such as ${amount?.node.name ?? `${table.name}.…`}.`,
  );
}

interface Drawn {
  readonly name: string;
  readonly type: Type;
  readonly span: Span;
}

function drawable(node: GraphNode): Drawn {
  return {
    name: node.name,
    type: node.type as Type,
    span: node.tree?.span ?? { start: 0, end: 1 },
  };
}

/** Whether the items can be drawn together and as what is asked for. */
function fitKind(chart: ParsedChart, items: readonly Drawn[], other: Drawn | undefined): void {
  const [first, ...rest] = items;
  if (!first) return;
  for (const item of other ? [...items, other] : items) isDrawn(item);
  const kind = chart.as as ChartKind | undefined;
  if (first.type.kind === 'window' || kind === 'sky') {
    fitSky(kind, first, rest);
    return;
  }
  for (const item of rest) together(first, item);
  if (other || kind === 'dots') fitDots(kind, first, other);
  else if (kind === 'spread' || kind === 'influence' || first.type.axes.length === 0)
    fitTrials(kind, first, rest);
  else fitSeries(kind, first, rest);
}

function unfit({ span }: Drawn, text: string): never {
  reject('chart-fit', span, text);
}

function fitSky(kind: ChartKind | undefined, first: Drawn, rest: readonly Drawn[]): void {
  if (first.type.kind === 'window' && rest.length === 0 && (kind ?? 'sky') === 'sky') return;
  unfit(
    first,
    'A sky chart draws one sky window, or the table of an outline. Give it a chart line of its own.',
  );
}

function fitDots(kind: ChartKind | undefined, first: Drawn, other: Drawn | undefined): void {
  if (!other)
    unfit(first, 'Dots draw one item against another. Write: chart ITEM against ITEM as dots.');
  if (kind !== undefined && kind !== 'dots')
    unfit(other, `One item against another is drawn as dots. Leave out "as ${kind}".`);
  if (first.type.axes.length !== 1)
    unfit(
      first,
      `Dots need two series on one axis. To draw against a given, say over what: against ${other.name} = ….`,
    );
  together(first, other);
}

function fitTrials(kind: ChartKind | undefined, first: Drawn, rest: readonly Drawn[]): void {
  if (first.type.axes.length > 0)
    unfit(
      first,
      `"as ${kind}" draws the trials of one result; "${first.name}" is a series. Draw it as bands.`,
    );
  if (kind !== undefined && kind !== 'spread' && kind !== 'influence')
    unfit(
      first,
      `"${first.name}" is one amount. Draw it as spread or as influence, or against a given: against … = ….`,
    );
  if (rest[0])
    unfit(rest[0], 'One chart draws the trials of one result. Give this one its own line.');
}

function fitSeries(kind: ChartKind | undefined, first: Drawn, rest: readonly Drawn[]): void {
  const axes = first.type.axes.length;
  if (axes > 2)
    unfit(first, 'A chart has two axes at most. Reduce one of them first, such as by lowest(…).');
  if (kind === 'map' && axes < 2)
    unfit(first, 'A map needs two givens: against … = …, … = …. Leave out "as map", or add one.');
  if (axes === 2 && kind !== undefined && kind !== 'map')
    unfit(first, `Two axes are drawn as a map. Leave out "as ${kind}", or one of the two.`);
  if (rest[0] && axes === 2) unfit(rest[0], 'A map draws one item. Give this one its own line.');
  if (rest[0] && kind === 'bands')
    unfit(rest[0], 'A chart of bands draws one item. Give this one its own line.');
  if (kind === 'stack')
    for (const item of [first, ...rest])
      if (!isStacked(item.type, first.type))
        unfit(item, 'What is stacked adds up: amounts of one kind, such as powers.');
}

function isDrawn({ name, type, span }: Drawn): void {
  if (type.kind === 'quantity' && type.stance !== 'moment') return;
  if (type.kind === 'truth' || type.kind === 'time of day' || type.kind === 'window') return;
  const remedy =
    type.kind === 'record'
      ? `Name one of its parts, such as ${name}.${type.fields[0]?.name ?? ''}.`
      : 'Name amounts.';
  reject('chart-item', span, `"${name}" is ${describeKind(type)} and cannot be drawn. ${remedy}`);
}

function together(first: Drawn, item: Drawn): void {
  if (sameAxes(first.type.axes, item.type.axes)) return;
  const along = ({ name, type }: Drawn): string =>
    type.axes.length === 0
      ? `"${name}" is one amount`
      : `"${name}" runs along ${describeAxes(type.axes)}`;
  reject(
    'chart-fit',
    item.span,
    `${along(first)}, ${along(item)}; one chart has one axis. Give this one a chart line of its own.`,
  );
}

function isStacked(type: Type, first: Type): boolean {
  return (
    type.kind === 'quantity' &&
    first.kind === 'quantity' &&
    type.stance === 'plain' &&
    type.dimension === first.dimension
  );
}
