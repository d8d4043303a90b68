// Renaming a cell, a table or a column with every use of it. It needs the parser to find the uses and
// the notebook's edits to write them, so it stands above both. Every name is asked what it means
// before and after; when a name would come to mean something else, nothing is renamed.

import { isPointUnit, isUnit } from '../dimension/unit.ts';
import type { Name, Node, Target } from '../language/ast.ts';
import {
  nameKey,
  parseChart,
  parseEntry,
  parseFormula,
  parseTarget,
  tokenize,
} from '../language/parser.ts';
import { printFormula, printTarget } from '../language/printer.ts';
import { walk } from '../language/walk.ts';
import { libraryFunctions } from '../library/library.ts';
import { applyEdit, type Change, type Edited } from '../notebook/edit-notebook.ts';
import type { Item, Notebook, Piece, TableItem } from '../notebook/notebook.ts';
import { isCellName, isPhrase } from '../source/name.ts';
import type { Span } from '../source/span.ts';

const context = { isUnit, isPointUnit };

/** What is renamed: a cell or a whole table by its key, or a column of a table. */
interface Subject {
  readonly key: string;
  readonly column: string | undefined;
}

/** The names of a notebook: its cells, and its tables with their columns. */
interface Names {
  readonly cells: ReadonlySet<string>;
  readonly tables: ReadonlyMap<string, ReadonlySet<string>>;
}

/** The notebook with the cell, table or column (`table.column`) called `name`; nothing when that cannot be. */
export function renameCell(notebook: Notebook, cell: string, name: string): Edited | undefined {
  const before = namesOf(notebook);
  const subject = subjectOf(before, cell);
  if (!subject) return undefined;
  const wanted = name.trim().replace(/\s+/gu, ' ');
  if (!(subject.column === undefined ? isCellName(wanted) : isPhrase(wanted))) return undefined;
  const after = renamedNames(before, subject, nameKey(wanted));
  if (!after) return undefined;
  const renaming: Renaming = { before, after, subject, wanted, key: nameKey(wanted) };
  const changes: Change[] = [];
  for (const item of notebook.items) {
    for (const piece of definitionsIn(item, subject)) changes.push(inItem(item, piece, wanted));
    for (const [piece, sort] of formulasOf(item)) {
      const table = item.kind === 'table' ? nameKey(item.name.text) : undefined;
      const text = rewritten(renaming, piece.text, sort, table);
      if (text === undefined) return undefined;
      if (text !== piece.text) changes.push(inItem(item, piece, text));
    }
  }
  changes.sort((a, b) => a.span.start - b.span.start);
  return applyEdit(notebook, { changes });
}

function inItem(item: Item, piece: Piece, text: string): Change {
  const { start, end } = piece.span;
  return { span: { start: item.offset + start, end: item.offset + end }, text };
}

// ── names and what they mean ────────────────────────────────────────────────────────────────────

function namesOf(notebook: Notebook): Names {
  const cells = new Set<string>();
  const tables = new Map<string, ReadonlySet<string>>();
  for (const item of notebook.items) {
    if (item.kind === 'cell') cells.add(nameKey(item.name.text));
    if (item.kind === 'table') tables.set(nameKey(item.name.text), columnsOf(item));
  }
  return { cells, tables };
}

function columnsOf(item: TableItem): ReadonlySet<string> {
  return new Set(item.columns.map((column) => nameKey(column.name.text)));
}

function subjectOf(names: Names, cell: string): Subject | undefined {
  const key = nameKey(cell);
  if (names.cells.has(key) || names.tables.has(key)) return { key, column: undefined };
  const dot = key.indexOf('.');
  if (dot < 0) return undefined;
  const [table, column] = [key.slice(0, dot).trim(), key.slice(dot + 1).trim()];
  return names.tables.get(table)?.has(column) ? { key: table, column } : undefined;
}

/** All names as they are afterwards; nothing when the new one is taken. */
function renamedNames(names: Names, subject: Subject, key: string): Names | undefined {
  const replaced = (set: ReadonlySet<string>, old: string): ReadonlySet<string> =>
    new Set([...set].map((one) => (one === old ? key : one)));
  if (subject.column !== undefined) {
    const columns = names.tables.get(subject.key);
    if (!columns || (key !== subject.column && columns.has(key))) return undefined;
    const tables = new Map(names.tables);
    tables.set(subject.key, replaced(columns, subject.column));
    return { cells: names.cells, tables };
  }
  if (key !== subject.key && (names.cells.has(key) || names.tables.has(key))) return undefined;
  const tables = new Map([...names.tables].map(([t, c]) => [t === subject.key ? key : t, c]));
  return { cells: replaced(names.cells, subject.key), tables };
}

/** Where a name stands: in which table's formulas, and after the point of which table. */
interface Use {
  readonly key: string;
  readonly inTable: string | undefined;
  readonly partOf: string | undefined;
  /** Replaced by `with` or a scenario: never a column by its bare name. */
  readonly target: boolean;
}

function meaningOf(names: Names, use: Use): string {
  const { key, inTable, partOf, target } = use;
  if (partOf !== undefined) {
    if (names.tables.get(partOf)?.has(key)) return `column ${partOf}.${key}`;
    return names.cells.has(key) ? `cell ${key}` : 'nothing';
  }
  if (!target && inTable !== undefined && names.tables.get(inTable)?.has(key))
    return `column ${inTable}.${key}`;
  if (names.cells.has(key)) return `cell ${key}`;
  if (names.tables.has(key)) return `table ${key}`;
  return libraryFunctions.has(key) ? `function ${key}` : 'nothing';
}

interface Renaming {
  readonly before: Names;
  readonly after: Names;
  readonly subject: Subject;
  readonly wanted: string;
  readonly key: string;
}

/** The meaning after the renaming that a meaning before it corresponds to. */
function moved({ subject, key }: Renaming, meaning: string): string {
  const old = subject.key;
  if (subject.column !== undefined)
    return meaning === `column ${old}.${subject.column}` ? `column ${old}.${key}` : meaning;
  if (meaning === `cell ${old}`) return `cell ${key}`;
  if (meaning === `table ${old}`) return `table ${key}`;
  return meaning.startsWith(`column ${old}.`)
    ? `column ${key}.${meaning.slice(`column ${old}.`.length)}`
    : meaning;
}

// ── one formula ─────────────────────────────────────────────────────────────────────────────────

type Sort = 'formula' | 'entry' | 'chart' | 'target';

interface ReadPiece {
  readonly trees: readonly (Node | Target)[];
  readonly broken: boolean;
}

function read(text: string, sort: Sort): ReadPiece {
  if (sort === 'target') {
    const { target, diagnostics } = parseTarget(text, context);
    return { trees: target ? [target] : [], broken: diagnostics.length > 0 };
  }
  if (sort === 'chart') {
    const { items, against, diagnostics } = parseChart(text, context);
    const others = against.flatMap((a) => ('item' in a ? [a.item] : [a.given, a.values]));
    return { trees: [...items, ...others], broken: diagnostics.length > 0 };
  }
  const { node, diagnostics } =
    sort === 'entry' ? parseEntry(text, context) : parseFormula(text, context);
  return { trees: [node], broken: diagnostics.length > 0 };
}

function isNode(tree: Node | Target): tree is Node {
  return 'kind' in tree;
}

/** A piece with the new name in it; nothing when some name would then mean something else. */
function rewritten(
  renaming: Renaming,
  text: string,
  sort: Sort,
  inTable: string | undefined,
): string | undefined {
  const { trees, broken } = read(text, sort);
  if (broken) return rewrittenWords(renaming, text);
  const fresh = new Map<Name, string>();
  const take = (name: Name, partOf: Name | undefined, target: boolean): boolean => {
    const outer = partOf && (fresh.has(partOf) ? renaming.key : partOf.key);
    const use = { key: name.key, inTable, partOf: partOf?.key, target };
    const meaning = meaningOf(renaming.before, use);
    const after = moved(renaming, meaning);
    const isSubject = meaning === subjectMeaning(renaming);
    if (isSubject) fresh.set(name, renaming.wanted);
    const now = {
      key: isSubject ? renaming.key : name.key,
      inTable:
        inTable === renaming.subject.key && !renaming.subject.column ? renaming.key : inTable,
      partOf: outer,
      target,
    };
    // A name that meant nothing may come to mean the cell: that is how a slip is mended.
    return meaning === 'nothing' || meaningOf(renaming.after, now) === after;
  };
  let fine = true;
  const targetNames = ({ name, column }: Target): void => {
    fine = take(name, undefined, true) && fine;
    if (column && renaming.before.tables.has(name.key)) fine = take(column, name, true) && fine;
  };
  for (const tree of trees) {
    if (!isNode(tree)) {
      targetNames(tree);
      continue;
    }
    const parts: [Name, Name][] = [];
    walk(tree, (node) => {
      if (node.kind === 'name') fine = take(node.name, undefined, false) && fine;
      if (node.kind === 'with') for (const { target } of node.overrides) targetNames(target);
      if (node.kind === 'part' && node.of.kind === 'name') parts.push([node.name, node.of.name]);
    });
    for (const [name, of] of parts)
      if (renaming.before.tables.has(of.key)) fine = take(name, of, false) && fine;
  }
  if (!fine) return undefined;
  return fresh.size === 0 ? text : written(text, sort, trees, fresh);
}

/** The meaning of the subject itself. */
function subjectMeaning({ before, subject: { key, column } }: Renaming): string {
  if (column !== undefined) return `column ${key}.${column}`;
  return before.cells.has(key) ? `cell ${key}` : `table ${key}`;
}

/**
 * The new names put in where the old ones stood. Where that would read as something else, such as
 * `400 W/h` for `400 W / h`, the parts are printed anew.
 */
function written(
  text: string,
  sort: Sort,
  trees: readonly (Node | Target)[],
  fresh: ReadonlyMap<Name, string>,
): string | undefined {
  const print = (tree: Node | Target, names?: ReadonlyMap<Name, string>): string => {
    const options = {
      isPointUnit,
      nameText: (name: Name): string => names?.get(name) ?? name.text,
    };
    return isNode(tree) ? printFormula(tree, options) : printTarget(tree, options);
  };
  const meant = trees.map((tree) => print(tree, fresh));
  const reads = (candidate: string): boolean => {
    const again = read(candidate, sort);
    return (
      !again.broken &&
      again.trees.length === meant.length &&
      again.trees.every((tree, i) => print(tree) === meant[i])
    );
  };
  const inPlace = replaced(
    text,
    [...fresh].map(([{ span }, name]) => ({ span, text: name })),
  );
  if (reads(inPlace)) return inPlace;
  const anew = replaced(
    text,
    trees.map(({ span }, i) => ({ span, text: meant[i] ?? '' })),
  );
  return reads(anew) ? anew : undefined;
}

function replaced(text: string, changes: readonly { span: Span; text: string }[]): string {
  let out = text;
  for (const change of [...changes].sort((a, b) => b.span.start - a.span.start))
    out = out.slice(0, change.span.start) + change.text + out.slice(change.span.end);
  return out;
}

/** A formula that cannot be read: names that are the cell's, not after a point. */
function rewrittenWords({ subject, wanted }: Renaming, text: string): string {
  if (subject.column !== undefined) return text;
  const found: { span: Span; text: string }[] = [];
  for (const token of tokenize(text, context)) {
    if (token.kind !== 'name') continue;
    const name = text.slice(token.span.start, token.span.end);
    if (nameKey(name) !== subject.key || /[.]\s*$/u.test(text.slice(0, token.span.start))) continue;
    found.push({ span: token.span, text: wanted });
  }
  return replaced(text, found);
}

// ── pieces of an item ───────────────────────────────────────────────────────────────────────────

/** Where the subject gets its name: its cell, its table, its column, its answers. */
function definitionsIn(item: Item, { key, column }: Subject): readonly Piece[] {
  if (column !== undefined) {
    if (item.kind !== 'table' || nameKey(item.name.text) !== key) return [];
    return item.columns.filter((c) => nameKey(c.name.text) === column).map((c) => c.name);
  }
  if (item.kind !== 'cell' && item.kind !== 'table' && item.kind !== 'answer') return [];
  return nameKey(item.name.text) === key ? [item.name] : [];
}

function formulasOf(item: Item): readonly (readonly [Piece, Sort])[] {
  switch (item.kind) {
    case 'cell':
    case 'check':
    case 'answer':
      return [[item.formula, 'formula']];
    case 'table':
      return [
        ...item.columns.flatMap((c) => (c.formula ? [[c.formula, 'formula'] as const] : [])),
        ...item.rows.flatMap((row) =>
          row.entries
            .filter((entry) => entry.text.trimStart().startsWith('='))
            .map((entry) => [entry, 'entry'] as const),
        ),
      ];
    case 'chart':
      return [[item.body, 'chart']];
    case 'scenario':
      return item.overrides.flatMap((o) => [
        [o.target, 'target'] as const,
        [o.value, 'formula'] as const,
      ]);
    default:
      return [];
  }
}
