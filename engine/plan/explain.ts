// Why a value came out as no number: the instruction that made one out of numbers that were all right,
// found backwards from the result. It is only looked for when there is something to explain, so that
// working a notebook costs nothing more.

import type { GraphNode } from '../check/scope.ts';
import type { Node } from '../language/ast.ts';
import { children } from '../language/walk.ts';
import type { Code } from '../source/catalogue.ts';
import type { Span } from '../source/span.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, OPS, type Op, type Program, WIDTH } from './program.ts';

export interface Explained {
  readonly code: Code;
  readonly text: string;
  readonly span?: Span;
}

export interface Culprit {
  readonly op: Op;
  /** Which of this operation it is in the formula, from 0, and how many there are. */
  readonly nth: number;
  readonly count: number;
  /** What it worked on. */
  readonly a: number;
  readonly b: number;
  /** What a step says of itself. */
  readonly said: Explained | undefined;
}

const isFit = (v: number): boolean => v - v === 0;

/**
 * The instruction of a range that made no number out of numbers, going back from one place of a
 * result; nothing when the way leads out of the range, to what is absent for example.
 */
export function culpritOf(
  program: Program,
  range: CodeRange,
  m: Memory,
  result: Operand,
  place: number,
): Culprit | undefined {
  const { code, steps } = program;
  const maker = new Map<Operand, number>();
  const counts = new Map<number, number>();
  const nth = new Map<number, number>();
  for (let pc = range.from; pc < range.to; pc += WIDTH) {
    const op = code[pc] as number;
    nth.set(pc, counts.get(op) ?? 0);
    counts.set(op, (counts.get(op) ?? 0) + 1);
    if (OPS[op] === 'step')
      for (const to of steps[code[pc + 2] as number]?.writes ?? []) maker.set(to, pc);
    else maker.set(code[pc + 1] as number, pc);
    // The shape of a selection of series stands in a word of its own.
    if (OPS[op] === 'select' && (code[pc + 1] as number) < 0) pc += WIDTH;
  }
  const at = (o: Operand, i: number): number => m.at(o, i);
  let [o, i] = [result, place];
  for (let guard = 0; guard < 100_000; guard++) {
    const pc = maker.get(o);
    if (pc === undefined) return undefined;
    maker.delete(o);
    const [opNumber, , a, b, c] = code.subarray(pc, pc + WIDTH) as unknown as [
      number,
      number,
      number,
      number,
      number,
    ];
    const op = OPS[opNumber] as Op;
    const made = { op, nth: nth.get(pc) ?? 0, count: counts.get(opNumber) ?? 0 };
    if (op === 'step') {
      const step = steps[a];
      const from = (step?.reads ?? []).flatMap((read) => {
        if (read >= 0 || !step?.isWhole) return isFit(at(read, i)) ? [] : [{ read, place: i }];
        const first = m.array(read).findIndex((v) => !isFit(v));
        return first < 0 ? [] : [{ read, place: first }];
      });
      const [first] = from;
      if (first) [o, i] = [first.read, first.place];
      else if (step?.why) return { ...made, a: 0, b: 0, said: step.why };
      else return undefined;
      continue;
    }
    if (op === 'here' || op === 'before') return undefined;
    if (op === 'select') {
      const condition = at(a, i);
      if (!isFit(condition)) o = a;
      else o = condition !== 0 ? b : c;
      continue;
    }
    const [x, y] = [at(a, i), at(b, i)];
    if (!isFit(x)) o = a;
    else if (!isFit(y)) o = b;
    else return { ...made, a: x, b: y, said: undefined };
  }
  return undefined;
}

/** Any instruction of a range that made no number out of numbers, when no way back was found. */
export function anyCulprit(program: Program, range: CodeRange, m: Memory): Culprit | undefined {
  const { code } = program;
  for (let pc = range.from; pc < range.to; pc += WIDTH) {
    const op = OPS[code[pc] as number] as Op;
    const to = code[pc + 1] as number;
    if (op === 'select' && to < 0) pc += WIDTH;
    if (op === 'step' || op === 'select' || op === 'here' || op === 'before') continue;
    const row = m.array(to);
    const places = to >= 0 ? 1 : row.length;
    for (let i = 0; i < places; i++) {
      if (isFit(m.at(to, i))) continue;
      const found = culpritOf(program, { from: range.from, to: pc + WIDTH }, m, to, i);
      if (found) return found;
      break;
    }
  }
  return undefined;
}

// ── in words ────────────────────────────────────────────────────────────────────────────────────

/** The formula that gives a node's value at a place: its own, or that of a table's entry. */
function treeAt(node: GraphNode, place: number): Node | undefined {
  const entry = node.table?.entries[place]?.[node.column];
  return entry?.formula ? entry.node : node.tree;
}

/** Where a value is wrong, for people. */
function whereOf(node: GraphNode, place: number): string {
  const axis = node.type?.axes[0];
  if (!axis) return '';
  if (axis.kind !== 'rows') return ` (first at place ${place + 1} along ${axis.name})`;
  const first = node.table?.entries[place]?.[0]?.node;
  const name = first?.kind === 'text' ? `"${first.value}"` : `row ${place + 1}`;
  return ` (first at ${name})`;
}

/** Operations of one sort in a formula, in the order in which they are worked. */
function operationsOf(tree: Node, op: Op): readonly Node[] {
  const found: Node[] = [];
  const isOne = (node: Node): boolean => {
    if (node.kind === 'binary')
      return (op === 'div' && node.operator === '/') || (op === 'pow' && node.operator === '^');
    return (
      op === 'sqrt' &&
      node.kind === 'call' &&
      node.callee.kind === 'name' &&
      node.callee.name.key === 'sqrt'
    );
  };
  const waiting: { readonly node: Node; readonly isLeaving: boolean }[] = [
    { node: tree, isLeaving: false },
  ];
  for (let one = waiting.pop(); one !== undefined; one = waiting.pop()) {
    const { node, isLeaving } = one;
    if (isLeaving) found.push(node);
    else {
      if (isOne(node)) waiting.push({ node, isLeaving: true });
      // What is run again within a formula has instructions of its own.
      const inner =
        node.kind === 'with' ? node.overrides.map(({ value }) => value) : children(node);
      for (const child of [...inner].reverse()) waiting.push({ node: child, isLeaving: false });
    }
  }
  return found;
}

/** The fault in words, at the part of the formula that it comes from when that can be told. */
export function explained(
  program: Program,
  node: GraphNode,
  place: number,
  culprit: Culprit | undefined,
): Explained {
  const tree = treeAt(node, place);
  const base = tree && tree !== node.tree ? { span: tree.span } : {};
  const name = node.kind === 'cell' || node.kind === 'column' ? `"${node.name}"` : 'This';
  const where = whereOf(node, place);
  if (culprit?.said) return { ...base, ...culprit.said };
  if (!culprit)
    return {
      ...base,
      code: 'no-number',
      text: `${name} comes out as no number${where}: what goes into it lies outside what can be worked. Give parts of it cells of their own, to see which.`,
    };
  const { op, a, b } = culprit;
  const list = tree ? operationsOf(tree, op) : [];
  const part = list.length === culprit.count ? list[culprit.nth] : undefined;
  const operand = (which: 0 | 1): Node | undefined =>
    part?.kind === 'binary'
      ? which === 0
        ? part.left
        : part.right
      : part?.kind === 'call'
        ? part.arguments[0]?.value
        : undefined;
  const at = (which: 0 | 1): { readonly span?: Span } => {
    const found = operand(which);
    return found ? { span: found.span } : base;
  };
  const quoted = (which: 0 | 1): string | undefined => {
    const found = operand(which);
    if (!found || found.kind === 'number' || found.kind === 'unary') return undefined;
    return program
      .textOf(node.item)
      .slice(found.span.start, found.span.end)
      .replace(/\s+/gu, ' ')
      .replace(/^\((.*)\)$/u, '$1');
  };
  if ((op === 'div' && b === 0) || (op === 'pow' && a === 0 && b < 0)) {
    const which = op === 'div' ? 1 : 0;
    const what = quoted(which);
    return {
      ...at(which),
      code: 'divided-by-zero',
      text:
        what === undefined
          ? `${name} divides by zero${where}. Divide by something else.`
          : `${name} divides by zero: "${what}" is 0${where}. Give it another value, or ask first: if ${what} ≠ 0 then … else ….`,
    };
  }
  if (op.startsWith('round') && b === 0)
    return {
      ...base,
      code: 'divided-by-zero',
      text: `${name} rounds to steps of 0${where}. Give "to:" a step that is not zero.`,
    };
  if ((op === 'sqrt' && a < 0) || (op === 'pow' && a < 0 && !Number.isInteger(b))) {
    const what = quoted(0);
    return {
      ...at(0),
      code: 'root-negative',
      text: `${name} takes a root of something below zero${what === undefined ? where : `: "${what}" is negative${where}`}. Only 0 and what is above it have one; max(0, …) keeps it there.`,
    };
  }
  return {
    ...base,
    code: 'too-large',
    text: `${name} becomes larger than any number that can be kept, about 10³⁰⁸${where}. Look for a power, or a unit, that is out of measure.`,
  };
}
