// Lines that can be read and whose formulas are sound, but that cannot do what they are for: a check
// that is no question, an answer to no blank, bounds of another kind than their cell, units of the
// header that are none.

import { findUnit, isPointUnit } from '../dimension/unit.ts';
import type { Node } from '../language/ast.ts';
import { printFormula } from '../language/printer.ts';
import type { Code } from '../source/catalogue.ts';
import type { Diagnostic } from '../source/diagnostic.ts';
import { nearest } from '../source/nearest.ts';
import type { Span } from '../source/span.ts';
import { placeOf } from './check-node.ts';
import { sameKind } from './check-with.ts';
import type { Checker } from './checker.ts';
import { describeKind } from './describe.ts';
import { lowEnd, stepOf } from './literal-amount.ts';
import { Rejected } from './rejected.ts';
import type { GraphNode } from './scope.ts';
import { along, type Type } from './type.ts';

export interface LineProblem {
  /** −1 for the header, whose spans count from the start of the file. */
  readonly item: number;
  readonly diagnostic: Diagnostic;
}

export function lineProblems(c: Checker): readonly LineProblem[] {
  const found: LineProblem[] = [];
  const say = (item: number, code: Code, span: Span, text: string): void => {
    found.push({ item, diagnostic: { code, span, text } });
  };
  headerUnits(c, say);
  for (const { node: id } of c.scope.checks) {
    const node = c.node(id);
    meantAsName(c, node);
    if (!node.tree || !node.type || node.type.kind === 'truth') continue;
    const written = c.quote(node.tree, placeOf(c, node));
    say(
      node.item,
      'check-question',
      node.tree.span,
      `"${written}" is ${describeKind(node.type)}, not a question with yes or no. Write what must hold, such as ${written} ≥ ….`,
    );
  }
  for (const [key, id] of c.scope.answers) answerProblem(c, key, c.node(id), say);
  for (const node of c.scope.nodes) if (node.bounds) boundsProblem(c, node, say);
  return found;
}

/** `check voltage = 5 V`, where no cell is called voltage: most likely meant as a name. */
function meantAsName(c: Checker, node: GraphNode): void {
  const { problem, tree } = node;
  if (problem?.code !== 'unknown-name' || problem.span.start !== tree?.span.start) return;
  const { source } = placeOf(c, node);
  if (!/^\s*=(?!=)/u.test(source.slice(problem.span.end))) return;
  const word = /^\S*/u.exec(source)?.[0] ?? '';
  node.problem = {
    ...problem,
    text: `${problem.text} If this is to be a cell: "${word}" begins a check and cannot be the first word of a name.`,
  };
}

type Say = (item: number, code: Code, span: Span, text: string) => void;

function headerUnits(c: Checker, say: Say): void {
  const { units, unitSpans } = c.scope.notebook.header;
  units.forEach((word, i) => {
    const span = unitSpans[i] ?? { start: 0, end: 1 };
    if (/^(?:metric|imperial|us)$/iu.test(word) || findUnit(word)) return;
    say(
      -1,
      'units-wrong',
      span,
      `"${word}" is no unit to show results in. Write metric, imperial, or units with commas between, such as metric, Wh, °C.`,
    );
  });
}

function answerProblem(c: Checker, key: string, answer: GraphNode, say: Say): void {
  const line = c.scope.notebook.items[answer.item];
  const span = line?.kind === 'answer' ? line.name.span : { start: 0, end: 1 };
  const cell = c.scope.cells.get(key);
  if (cell === undefined) {
    const meant = nearest(
      answer.name,
      [...c.scope.cells.values()].map((id) => c.node(id).name),
    );
    const remedy =
      meant === undefined
        ? `Give the blank a line: ${answer.name} = ?`
        : `Did you mean "${meant}"?`;
    say(
      answer.item,
      'answer-cell',
      span,
      `This answers "${answer.name}", and no cell is called that. ${remedy}`,
    );
    return;
  }
  const blank = c.node(cell);
  // What a reader has put in place of a blank may be anything; it is judged, not a fault.
  if (blank.role !== 'blank' || !blank.type || !answer.type || !answer.tree) return;
  if (sameKind(blank.type, answer.type)) return;
  say(
    answer.item,
    'answer-kind',
    answer.tree.span,
    `The answer is ${describeKind(answer.type)}, the blank "${blank.name}" ${describeKind(blank.type)}: nobody could be right. Write both in one kind.`,
  );
}

function boundsProblem(c: Checker, node: GraphNode, say: Say): void {
  const { bounds, type } = node;
  if (!bounds || !type) return;
  // The hours of a span lie between hours.
  const scalar = along(type.kind === 'span' && bounds.kind === 'range' ? type.of : type, []);
  const wrong = (tree: Node, wanted: Type): boolean => {
    const kind = kindOf(c, node, tree);
    return kind !== undefined && !sameKind(kind, wanted);
  };
  const tell = (tree: Node, what: string): void => {
    const kind = kindOf(c, node, tree);
    const written = printFormula(tree, { isPointUnit });
    const bare = tree.kind === 'number' && !tree.unit && type.kind === 'quantity';
    const unit = bare && type.unit ? type.unit.symbol : '';
    const remedy =
      unit === ''
        ? 'Write them in its kind.'
        : `Write the unit: ${written}${unit === '°' ? '' : ' '}${unit}.`;
    say(
      node.item,
      'bounds-kind',
      tree.span,
      `"${node.name}" is ${describeKind(scalar)}, ${what} ${kind ? describeKind(kind) : written}. ${remedy}`,
    );
    node.bounds = undefined;
  };
  if (bounds.kind === 'choices') {
    const odd = bounds.choices.find((choice) => wrong(choice, scalar));
    if (odd) tell(odd, 'this choice');
    return;
  }
  const end = [lowEnd(bounds), bounds.high].find((one) => wrong(one, scalar));
  if (end) {
    tell(end, 'this bound');
    return;
  }
  const step = stepOf(bounds);
  if (!step || type.kind !== 'quantity') return;
  const kind = kindOf(c, node, step);
  if (kind?.kind === 'quantity' && kind.dimension !== type.dimension) tell(step, 'this step');
}

/** The kind of a written amount; nothing when it says itself that it is broken. */
function kindOf(c: Checker, node: GraphNode, tree: Node): Type | undefined {
  try {
    return c.expression(tree, placeOf(c, node)).type;
  } catch (error) {
    if (!(error instanceof Rejected)) throw error;
    return undefined;
  }
}
