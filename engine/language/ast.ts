// The tree of one formula, as the parser leaves it. It says what was written, nothing of what it
// means: names are not looked up, units are text. Every node carries its place in the text it was
// read from. A part that could not be read is a `broken` node, so that there always is a tree.

import type { Span } from '../source/span.ts';

interface Placed {
  readonly span: Span;
}

/** A unit exactly as written, such as `W/m²`, with its place. */
export interface UnitText extends Placed {
  readonly text: string;
}

/** A name as written; `key` is its form for matching (lower case, one apostrophe form, single spaces). */
export interface Name extends Placed {
  readonly text: string;
  readonly key: string;
}

/** `12`, `12 V`, `-40 °F` (the sign belongs to the number only on a point scale). */
export interface NumberNode extends Placed {
  readonly kind: 'number';
  readonly value: number;
  /** The figures as written, without the sign, so that printing keeps `1.20` and `1.2e3`. */
  readonly figures?: string;
  readonly unit?: UnitText;
}
/** `10 AWG`, `4/0 AWG`; gauge 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0. */
export interface GaugeNode extends Placed {
  readonly kind: 'gauge';
  readonly gauge: number;
}
/** A date (`minutes` absent) or a moment: days since 1970-01-01 in the notebook's civil calendar. */
export interface MomentNode extends Placed {
  readonly kind: 'moment';
  readonly days: number;
  readonly minutes?: number;
}
/** `14:30`, minutes after midnight; 24:00 is 1440. */
export interface TimeOfDayNode extends Placed {
  readonly kind: 'time of day';
  readonly minutes: number;
}
export interface TextNode extends Placed {
  readonly kind: 'text';
  readonly value: string;
}
export interface PiNode extends Placed {
  readonly kind: 'pi';
}
export interface NoneNode extends Placed {
  readonly kind: 'none';
}
/** `? A`: still to be filled in. */
export interface BlankNode extends Placed {
  readonly kind: 'blank';
  readonly unit?: UnitText;
}
export interface NameNode extends Placed {
  readonly kind: 'name';
  readonly name: Name;
}
export interface PartNode extends Placed {
  readonly kind: 'part';
  readonly of: Node;
  readonly name: Name;
}
export interface Argument extends Placed {
  readonly label?: Name;
  readonly value: Node;
}
export interface CallNode extends Placed {
  readonly kind: 'call';
  readonly callee: Node;
  readonly arguments: readonly Argument[];
}
export type UnaryOperator = '-' | 'not';
export interface UnaryNode extends Placed {
  readonly kind: 'unary';
  readonly operator: UnaryOperator;
  readonly operand: Node;
}
export type BinaryOperator = '+' | '-' | '×' | '/' | '^' | 'and' | 'or' | 'within' | '≠';
/** `²` and `³` read as `^` with the number 2 or 3. */
export interface BinaryNode extends Placed {
  readonly kind: 'binary';
  readonly operator: BinaryOperator;
  readonly operatorSpan: Span;
  readonly left: Node;
  readonly right: Node;
}
export type ChainOperator = '<' | '≤' | '=' | '≥' | '>';
/** `10 V ≤ v ≤ 30 V`: one more operand than operators. */
export interface CompareNode extends Placed {
  readonly kind: 'compare';
  readonly operands: readonly Node[];
  readonly operators: readonly ChainOperator[];
}
/** `a..b` or `a..b..c`. */
export interface RangeNode extends Placed {
  readonly kind: 'range';
  readonly parts: readonly Node[];
}
export interface ToleranceNode extends Placed {
  readonly kind: 'tolerance';
  readonly centre: Node;
  readonly spread: Node;
}
export interface AsNode extends Placed {
  readonly kind: 'as';
  readonly value: Node;
  readonly unit: UnitText;
}
export interface IfNode extends Placed {
  readonly kind: 'if';
  readonly condition: Node;
  readonly then: Node;
  readonly otherwise: Node;
}
/** What an override names: a cell, a column, or one entry of a column. */
export interface Target extends Placed {
  readonly name: Name;
  readonly column?: Name;
  /** A literal node. */
  readonly entry?: Node;
}
export interface Override extends Placed {
  readonly target: Target;
  readonly value: Node;
}
export interface WithNode extends Placed {
  readonly kind: 'with';
  readonly value: Node;
  readonly overrides: readonly Override[];
}
/** A part that could not be read; its message is in the parser's diagnostics. */
export interface BrokenNode extends Placed {
  readonly kind: 'broken';
}

export type Node =
  | NumberNode
  | GaugeNode
  | MomentNode
  | TimeOfDayNode
  | TextNode
  | PiNode
  | NoneNode
  | BlankNode
  | NameNode
  | PartNode
  | CallNode
  | UnaryNode
  | BinaryNode
  | CompareNode
  | RangeNode
  | ToleranceNode
  | AsNode
  | IfNode
  | WithNode
  | BrokenNode;
