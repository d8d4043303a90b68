// The names of a notebook: one graph node for each cell, column, check, answer, chart item and
// scenario value, with its parsed formula. Nothing is typed here.

import { isPointUnit, isUnit, unitHint } from '../dimension/unit.ts';
import type { Node, Target } from '../language/ast.ts';
import {
  type ChoiceBounds,
  type ParseContext,
  type ParsedChart,
  type ParsedFormula,
  parseBounds,
  parseChart,
  parseEntry,
  parseFormula,
  parseTarget,
  type RangeBounds,
} from '../language/parser.ts';
import { libraryFunctions } from '../library/library.ts';
import type { CellItem, Item, Notebook, Piece, TableItem } from '../notebook/notebook.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import { nameKey } from '../source/name.ts';
import { inOrder } from './literal-amount.ts';
import type { Axis, Type } from './type.ts';
import type { Distribution, Expr } from './typed.ts';

export { literalAmount } from './literal-amount.ts';

export type NodeKind =
  | 'cell'
  | 'column'
  | 'check'
  | 'answer'
  | 'chart item'
  | 'scenario value'
  | 'side';
export type Role = 'given' | 'uncertain' | 'blank' | 'derived';

/** One node of the graph. The checker fills in what is not readonly. */
export interface GraphNode {
  readonly id: number;
  readonly kind: NodeKind;
  /** `panel rating`, `loads.power`; unique among cells and columns. */
  readonly key: string;
  readonly name: string;
  readonly item: number;
  /** Tree of the formula; a column without one has none. */
  readonly tree: Node | undefined;
  readonly table: TableScope | undefined;
  /** Column's place in its table. */
  readonly column: number;
  /** Messages of the parser: the formula is broken. */
  readonly parseProblems: readonly Diagnostic[];
  role: Role;
  type: Type | undefined;
  expr: Expr | undefined;
  /** Nodes named by the formula. */
  readonly draws: Set<number>;
  /** Those that are named only inside `previous`. */
  readonly looksBack: Set<number>;
  problem: Diagnostic | undefined;
  /** Broken nodes this one needs. */
  readonly waits: Set<number>;
  distribution: Distribution | undefined;
  readonly entryDistributions: { readonly row: number; readonly distribution: Distribution }[];
  bounds: RangeBounds | ChoiceBounds | undefined;
  state: 'new' | 'checking' | 'done';
}

export interface TableScope {
  readonly key: string;
  readonly name: string;
  readonly item: number;
  readonly rows: Axis;
  readonly rowCount: number;
  readonly columns: readonly number[];
  /** By name key. */
  readonly columnByKey: ReadonlyMap<string, number>;
  /** Parsed entries [row][column]; undefined is absent. */
  readonly entries: readonly (readonly (ParsedEntry | undefined)[])[];
}

export interface ParsedEntry {
  readonly node: Node;
  readonly formula: boolean;
}

export interface CheckScope {
  readonly item: number;
  readonly must: boolean;
  readonly node: number;
}

export interface ScenarioScope {
  readonly item: number;
  readonly name: string;
  readonly overrides: readonly {
    readonly target: Target | undefined;
    readonly node: number;
    readonly text: string;
  }[];
}

export interface ChartScope {
  readonly item: number;
  readonly chart: ParsedChart | undefined;
  readonly problems: readonly Diagnostic[];
}

export interface Scope {
  readonly notebook: Notebook;
  readonly nodes: GraphNode[];
  readonly cells: ReadonlyMap<string, number>;
  readonly tables: ReadonlyMap<string, TableScope>;
  readonly checks: readonly CheckScope[];
  readonly answers: ReadonlyMap<string, number>;
  readonly scenarios: readonly ScenarioScope[];
  readonly charts: readonly ChartScope[];
  /** Messages about names: twice defined, hiding a function. */
  readonly problems: readonly { readonly item: number; readonly diagnostic: Diagnostic }[];
  nextAxis: number;
}

export const parseContext = { isUnit, isPointUnit, unitHint };

/** For a text that stands at an offset. Written out: an object put together of parts takes longer. */
export function parseContextAt(offset: number): ParseContext {
  return { isUnit, isPointUnit, unitHint, offset };
}

/** Parsed trees by the piece of text they were read from, so that an edit parses only what changed. */
export type TreeCache = WeakMap<Piece, ParsedFormula>;

/** A set that stays empty. */
class NoIds extends Set<number> {
  override add(id: number): this {
    throw new RangeError(`${id} is put into the set that all share`);
  }
}
export const NO_IDS: Set<number> = new NoIds();

const NO_ENTRIES: GraphNode['entryDistributions'] = [];

type IdSets = 'draws' | 'looksBack' | 'waits';

/**
 * Adds to one of a node's sets. They begin as one that all share, for an empty set of its own takes 240
 * bytes, and most of a cell's three stay empty.
 */
export function noteId(node: GraphNode, set: IdSets, id: number): void {
  if (node[set] === NO_IDS) (node as { -readonly [K in IdSets]: Set<number> })[set] = new Set();
  node[set].add(id);
}

/** What came out empty when all is checked is the shared one from then on. */
export function shareEmpty(nodes: readonly GraphNode[]): void {
  for (const node of nodes) {
    const own = node as { -readonly [K in IdSets]: Set<number> };
    if (node.draws.size === 0) own.draws = NO_IDS;
    if (node.looksBack.size === 0) own.looksBack = NO_IDS;
    if (node.waits.size === 0) own.waits = NO_IDS;
  }
}

export function buildScope(notebook: Notebook, cache: TreeCache = new WeakMap()): Scope {
  const nodes: GraphNode[] = [];
  const cells = new Map<string, number>();
  const tables = new Map<string, TableScope>();
  const checks: CheckScope[] = [];
  const answers = new Map<string, number>();
  const scenarios: ScenarioScope[] = [];
  const charts: ChartScope[] = [];
  const problems: { item: number; diagnostic: Diagnostic }[] = [];
  let nextAxis = 0;

  const parse = (piece: Piece): ParsedFormula => {
    const known = cache.get(piece);
    if (known) return known;
    const made = parseFormula(piece.text, parseContextAt(piece.span.start));
    cache.set(piece, made);
    return made;
  };
  const add = (
    kind: NodeKind,
    item: number,
    name: string,
    key: string,
    tree: Node | undefined,
    parseProblems: readonly Diagnostic[],
    table?: TableScope,
    column = -1,
  ): GraphNode => {
    const node: GraphNode = {
      id: nodes.length,
      kind,
      key,
      name,
      item,
      tree,
      table,
      column,
      parseProblems,
      role: 'derived',
      type: undefined,
      expr: undefined,
      draws: NO_IDS,
      looksBack: NO_IDS,
      problem: parseProblems[0],
      waits: NO_IDS,
      distribution: undefined,
      entryDistributions: table ? [] : NO_ENTRIES,
      bounds: undefined,
      state: 'new',
    };
    nodes.push(node);
    return node;
  };
  /** Whether only cells without a line between them part an item from a scenario above. */
  const belowScenario = (item: number): boolean => {
    let above = item - 1;
    while (notebook.items[above]?.kind === 'cell') above -= 1;
    return notebook.items[above]?.kind === 'scenario';
  };
  const lineOf = (id: number): number => notebook.items[nodes[id]?.item ?? 0]?.line ?? 0;
  const taken = (key: string, item: number, piece: Piece): boolean => {
    const first = cells.get(key);
    const line =
      first !== undefined
        ? notebook.items[nodes[first]?.item ?? 0]?.line
        : tables.has(key)
          ? notebook.items[tables.get(key)?.item ?? 0]?.line
          : undefined;
    if (line === undefined) return false;
    problems.push({
      item,
      diagnostic: {
        code: 'name-taken',
        span: piece.span,
        text: `"${piece.text}" is already the name of a cell, on line ${line}. Give this one another name${belowScenario(item) ? ', or begin the line with a space if it belongs to the scenario' : ''}.`,
      },
    });
    return true;
  };

  const hides = (key: string, item: number, piece: Piece): void => {
    const fn = libraryFunctions.get(key);
    if (!fn) return;
    problems.push({
      item,
      diagnostic: {
        code: 'hides-function',
        span: piece.span,
        text: `"${piece.text}" is a function too; in this notebook the name means this cell. To use ${fn.name}(…), call the cell something else.`,
      },
    });
  };

  const addCell = (item: CellItem, index: number): void => {
    const key = nameKey(item.name.text);
    if (taken(key, index, item.name)) return;
    hides(key, index, item.name);
    const parsed = parse(item.formula);
    const node = add('cell', index, item.name.text, key, parsed.node, parsed.diagnostics);
    cells.set(key, node.id);
    if (item.bounds) {
      const bounds = inOrder(parseBounds(item.bounds.text, parseContextAt(item.bounds.span.start)));
      node.bounds = bounds.bounds;
      for (const diagnostic of bounds.diagnostics) problems.push({ item: index, diagnostic });
    }
  };

  const addTable = (item: TableItem, index: number): void => {
    const key = nameKey(item.name.text);
    if (taken(key, index, item.name)) return;
    hides(key, index, item.name);
    const axis: Axis = {
      id: nextAxis++,
      kind: 'rows',
      name: `the rows of ${item.name.text}`,
      coordinate: { kind: 'text' },
      node: -1,
    };
    const columns: number[] = [];
    const columnByKey = new Map<string, number>();
    const entryProblems: Diagnostic[][] = item.columns.map(() => []);
    const entries = item.rows.map((row) =>
      item.columns.map((_, c): ParsedEntry | undefined => {
        const piece = row.entries[c];
        if (!piece || piece.text.trim() === '') return undefined;
        const parsed = parseEntry(piece.text, parseContextAt(piece.span.start));
        entryProblems[c]?.push(...parsed.diagnostics);
        return { node: parsed.node, formula: parsed.formula ?? false };
      }),
    );
    const table: TableScope = {
      key,
      name: item.name.text,
      item: index,
      rows: axis,
      rowCount: item.rows.length,
      columns,
      columnByKey,
      entries,
    };
    item.columns.forEach((column, c) => {
      const columnKey = nameKey(column.name.text);
      if (columnByKey.has(columnKey)) {
        problems.push({
          item: index,
          diagnostic: {
            code: 'column-taken',
            span: column.name.span,
            text: `This table has two columns called "${column.name.text}". Give one of them another name.`,
          },
        });
        return;
      }
      const parsed = column.formula ? parse(column.formula) : undefined;
      const node = add(
        'column',
        index,
        `${item.name.text}.${column.name.text}`,
        `${key}.${columnKey}`,
        parsed?.node,
        [...(parsed?.diagnostics ?? []), ...(entryProblems[c] ?? [])],
        table,
        c,
      );
      columns.push(node.id);
      columnByKey.set(columnKey, node.id);
    });
    axis.node = columns[0] ?? -1;
    tables.set(key, table);
  };

  notebook.items.forEach((item: Item, index) => {
    switch (item.kind) {
      case 'cell':
        addCell(item, index);
        break;
      case 'table':
        addTable(item, index);
        break;
      case 'check': {
        const parsed = parse(item.formula);
        const node = add(
          'check',
          index,
          item.formula.text,
          `check ${index}`,
          parsed.node,
          parsed.diagnostics,
        );
        checks.push({ item: index, must: item.must, node: node.id });
        break;
      }
      case 'answer': {
        const parsed = parse(item.formula);
        const node = add(
          'answer',
          index,
          item.name.text,
          `answer ${nameKey(item.name.text)}`,
          parsed.node,
          parsed.diagnostics,
        );
        const answered = answers.get(nameKey(item.name.text));
        if (answered === undefined) answers.set(nameKey(item.name.text), node.id);
        else
          problems.push({
            item: index,
            diagnostic: {
              code: 'answer-twice',
              span: item.name.span,
              text: `"${item.name.text}" has an answer already, on line ${lineOf(answered)}; that one counts. Delete one.`,
            },
          });
        break;
      }
      case 'chart': {
        const parsed = parseChart(item.body.text, parseContextAt(item.body.span.start));
        charts.push({ item: index, chart: parsed, problems: parsed.diagnostics });
        break;
      }
      case 'scenario': {
        const key = nameKey(item.name.text);
        const twin = key === '' ? undefined : scenarios.find((one) => nameKey(one.name) === key);
        if (twin)
          problems.push({
            item: index,
            diagnostic: {
              code: 'scenario-taken',
              span: item.name.span,
              text: `"${item.name.text}" is already the name of a scenario, on line ${notebook.items[twin.item]?.line}. Give this one another name.`,
            },
          });
        scenarios.push({
          item: index,
          name: item.name.text,
          overrides: item.overrides.map((o) => {
            const target = parseTarget(o.target.text, parseContextAt(o.target.span.start));
            const value = parse(o.value);
            const node = add(
              'scenario value',
              index,
              o.target.text,
              `scenario ${index} ${nameKey(o.target.text)}`,
              value.node,
              [...target.diagnostics, ...value.diagnostics],
            );
            return { target: target.target, node: node.id, text: o.target.text };
          }),
        });
        break;
      }
      default:
        break;
    }
  });
  return { notebook, nodes, cells, tables, checks, answers, scenarios, charts, problems, nextAxis };
}
