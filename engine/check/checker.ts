// The checker's state while it works through a notebook: which node is being checked, in which
// scope names are looked up, and how nodes are typed on demand. Expressions are checked in
// check-expression.ts, calls in check-call.ts and check-form.ts.

import { type Dimension, plain, time } from '../dimension/dimension.ts';
import type { Node } from '../language/ast.ts';
import { abridged } from '../source/abridged.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import { nameKey } from '../source/name.ts';
import { NameIndex } from '../source/nearest.ts';
import type { Span } from '../source/span.ts';
import { meantByName } from './meant-name.ts';
import { Rejected, reject } from './rejected.ts';
import { type GraphNode, noteId, type Scope, type TableScope } from './scope.ts';
import {
  type Axis,
  along,
  type Coordinate,
  componentCount,
  plainNumber,
  quantity,
  type Type,
} from './type.ts';
import type { Expr } from './typed.ts';

/** Where a formula stands: the node it belongs to and, in a table, the columns it may name. */
export interface Place {
  readonly node: GraphNode;
  readonly table: TableScope | undefined;
  /** Inside `previous(…)`. */
  readonly lookingBack: boolean;
  /** Text of the item, for quoting. */
  readonly source: string;
  /** What is put in here, when it is put in by `with`: steps are called after it. */
  readonly puttingIn?: string;
}

/** A kind of value, and the axis it runs along by what made that. */
export interface AssumedType {
  readonly type: Type;
  readonly along:
    | { readonly timeline: number; readonly isDays: boolean }
    | { readonly table: string }
    | undefined;
}

/** The rules themselves, handed in so that they can call each other without importing in a circle. */
export interface Rules {
  expression(c: Checker, node: Node, place: Place): Expr;
  node(c: Checker, node: GraphNode): void;
}

export class Checker {
  readonly scope: Scope;
  readonly rules: Rules;
  /** Keys of columns and cells somewhere replaced by `none`. */
  readonly maybeNone: ReadonlySet<string>;
  readonly #days = new Map<Axis, Axis>();
  /** Nodes of circles that some formula replaces: the kind of value they are taken to have. */
  readonly assumed: ReadonlyMap<number, AssumedType>;
  /** Names of cells and tables, once one is not known. */
  #names: NameIndex | undefined;
  /** Timelines in the order of the file, for formulas that look back before their own axis is known. */
  readonly timelines: readonly number[];

  constructor(
    scope: Scope,
    rules: Rules,
    maybeNone: ReadonlySet<string>,
    timelines: readonly number[],
    assumed: ReadonlyMap<number, AssumedType> = new Map(),
  ) {
    this.scope = scope;
    this.rules = rules;
    this.maybeNone = maybeNone;
    this.timelines = timelines;
    this.assumed = assumed;
  }

  node(id: number): GraphNode {
    const node = this.scope.nodes[id];
    if (!node) throw new RangeError(`no node ${id}`);
    return node;
  }

  expression(node: Node, place: Place): Expr {
    return this.rules.expression(this, node, place);
  }

  newAxis(kind: Axis['kind'], name: string, coordinate: Coordinate, node = -1, of?: Axis): Axis {
    const base = { id: this.scope.nextAxis++, kind, name, coordinate, node };
    return of ? { ...base, of } : base;
  }

  daysOf(timeline: Axis): Axis {
    const known = this.#days.get(timeline);
    if (known) return known;
    const made = this.newAxis(
      'days',
      `the days of ${timeline.name}`,
      { kind: 'quantity', dimension: time, stance: 'moment' },
      timeline.node,
      timeline,
    );
    this.#days.set(timeline, made);
    return made;
  }

  /** The type of a node that a formula names, checking that node first if need be. */
  typeOf(id: number, place: Place, span: Span): Type {
    const node = this.node(id);
    if (place.lookingBack && !place.node.draws.has(id)) noteId(place.node, 'looksBack', id);
    else if (!place.lookingBack) {
      place.node.looksBack.delete(id);
    }
    noteId(place.node, 'draws', id);
    const assumed = this.assumed.get(id);
    if (assumed) return this.#typeAssumed(id, assumed, place, span);
    if (node.state === 'new') this.rules.node(this, node);
    if (node.state === 'checking') {
      if (node.type) return node.type;
      throw new Rejected(circleMessage(span, this.#circle(id)));
    }
    if (!node.type) {
      noteId(place.node, 'waits', id);
      throw new Rejected(undefined, id);
    }
    return node.type;
  }

  #typeAssumed(id: number, { type, along: of }: AssumedType, place: Place, span: Span): Type {
    // What is wrong with the cell itself is found when it is checked in its turn.
    if (this.node(id).parseProblems.length > 0) {
      noteId(place.node, 'waits', id);
      throw new Rejected(undefined, id);
    }
    if (!of) return type;
    if ('table' in of) {
      const table = this.scope.tables.get(of.table);
      return table ? along(type, [table.rows]) : type;
    }
    const clock = this.typeOf(of.timeline, place, span);
    const axis = clock.kind === 'quantity' ? clock.timeline : undefined;
    if (!axis) return type;
    return along(type, [of.isDays ? this.daysOf(axis) : axis]);
  }

  /** Names of the cells from `id` round to itself, as far as they are known. */
  #circle(id: number): readonly string[] {
    const from = new Map<number, number>();
    const waiting = [id];
    for (let at = waiting.shift(); at !== undefined; at = waiting.shift())
      for (const next of this.node(at).draws) {
        if (next === id) {
          const trail = [id];
          for (let back: number | undefined = at; back !== undefined; back = from.get(back))
            trail.push(back);
          return (at === id ? [id, id] : trail).reverse().map((n) => this.node(n).name);
        }
        if (from.has(next)) continue;
        from.set(next, at);
        waiting.push(next);
      }
    return [this.node(id).name, '…', this.node(id).name];
  }

  ref(id: number, type: Type): Expr {
    return { op: 'ref', type, node: id };
  }

  /** The cell or column a name means here, if any. */
  lookUp(key: string, place: Place): { readonly node?: number; readonly table?: TableScope } {
    const column = place.table?.columnByKey.get(key);
    if (column !== undefined) return { node: column };
    const cell = this.scope.cells.get(key);
    if (cell !== undefined) return { node: cell };
    const table = this.scope.tables.get(key);
    return table ? { table } : {};
  }

  unknownName(text: string, key: string, span: Span, place: Place): never {
    this.#names ??= new NameIndex([
      ...[...this.scope.cells.values()].map((id) => this.node(id).name),
      ...[...this.scope.tables.values()].map((table) => table.name),
    ]);
    const meant = meantByName(text, span, (word) => {
      const found = this.lookUp(nameKey(word), place);
      return found.node !== undefined || found.table !== undefined;
    });
    if (meant) throw new Rejected(meant);
    const table = [...this.scope.tables.values()].find((one) => one.columnByKey.has(nameKey(text)));
    if (table) {
      const written = `${table.name}.${text}`;
      reject(
        'unknown-name',
        span,
        `No cell is called "${text}"; it is a column of "${table.name}". Write ${written}, or ${written}(…) for one row.`,
        [{ label: `Use ${written}`, span, text: written }],
      );
    }
    const own = place.table?.columns.map((id) =>
      this.node(id).name.slice((place.table?.name.length ?? 0) + 1),
    );
    const near = this.#names.nearest(text, own ?? []);
    const shown = abridged(text);
    if (near === undefined)
      reject(
        'unknown-name',
        span,
        `No cell is called "${shown}". Give it a line of its own: ${shown} = ….`,
      );
    reject('unknown-name', span, `No cell is called "${shown}". Did you mean "${near}"?`, [
      { label: `Use ${near}`, span, text: near },
    ]);
    throw new RangeError(key);
  }

  /** A part of the formula as written, to stand between quotation marks; a text brings its own. */
  quote(node: Node, place: Place): string {
    if (node.kind === 'text') return abridged(node.value);
    return abridged(place.source.slice(node.span.start, node.span.end).replace(/\s+/g, ' ').trim());
  }
}

const CIRCLE_NAMES = 9;

/** The message about a circle, given the names round it, the first one again at the end. */
export function circleMessage(span: Span, names: readonly string[]): Diagnostic {
  const half = Math.floor(CIRCLE_NAMES / 2);
  const shown =
    names.length <= CIRCLE_NAMES ? names : [...names.slice(0, half), '…', ...names.slice(-half)];
  return {
    code: 'circle',
    span,
    text: `"${names[0] ?? ''}" goes round in a circle: ${shown.join(' → ')}. A step may look back with previous(…).`,
  };
}

/** A piece of a value: components `from` up to the size of `type`. */
export function slice(of: Expr, from: number, type: Type): Expr {
  if (from === 0 && componentCount(of.type) === componentCount(type))
    return { ...of, type } as Expr;
  if (of.op === 'pack') {
    let at = 0;
    for (const part of of.parts) {
      const count = componentCount(part.type);
      if (at === from && count === componentCount(type)) return part;
      at += count;
    }
  }
  return { op: 'slice', type, of, from };
}

export function constant(value: number, dimension: Dimension): Expr {
  const type = dimension === plain ? plainNumber : quantity(dimension);
  return { op: 'const', type, values: [value] };
}
