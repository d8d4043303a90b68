// From a tree back to text: canonical symbols and spaces, and no parenthesis that is not needed.
// What is printed reads back as the same tree.

import type { Name, Node, NumberNode, Target } from './ast.ts';
import { dateText, timeText } from './calendar.ts';
import { LEVEL, OPERATORS } from './operators.ts';
import type { UnitContext } from './token.ts';

const BINARY = new Map<string, { readonly level: number; readonly spaced: boolean }>(
  OPERATORS.filter(({ shape }) => shape !== 'prefix').map((row) => [row.symbol, row]),
);

export interface PrintContext extends Pick<UnitContext, 'isPointUnit'> {
  /** Puts another name in place of one, as renaming does. */
  readonly nameText?: (name: Name, role: 'cell' | 'part' | 'label' | 'target') => string;
}

/** The canonical text of a formula. A broken part prints as nothing. */
export function printFormula(node: Node, context: PrintContext): string {
  return print(node, LEVEL.with, context);
}

/** `weather.high`, `loads.hours("lamp")`. */
export function printTarget(target: Target, context: PrintContext): string {
  const name = (one: Name, role: 'target' | 'part'): string =>
    context.nameText?.(one, role) ?? one.text;
  const column = target.column === undefined ? '' : `.${name(target.column, 'part')}`;
  const entry = target.entry === undefined ? '' : `(${print(target.entry, LEVEL.sum, context)})`;
  return `${name(target.name, 'target')}${column}${entry}`;
}

function print(node: Node, least: number, context: PrintContext): string {
  const text = bare(node, context);
  return levelOf(node, context) < least ? `(${text})` : text;
}

function bare(node: Node, context: PrintContext): string {
  const name = (one: Name, role: 'cell' | 'part' | 'label'): string =>
    context.nameText?.(one, role) ?? one.text;
  switch (node.kind) {
    case 'number':
      return numberText(node);
    case 'gauge':
      return node.gauge < 0 ? `${1 - node.gauge}/0 AWG` : `${plain(node.gauge)} AWG`;
    case 'moment':
      return node.minutes === undefined
        ? dateText(node.days)
        : `${dateText(node.days)} ${timeText(node.minutes)}`;
    case 'time of day':
      return timeText(node.minutes);
    case 'text':
      return quoted(node.value);
    case 'pi':
      return 'π';
    case 'none':
      return 'none';
    case 'blank':
      return node.unit === undefined ? '?' : `? ${node.unit.text}`;
    case 'name':
      return name(node.name, 'cell');
    case 'part':
      return `${print(node.of, LEVEL.primary, context)}.${name(node.name, 'part')}`;
    case 'call': {
      const args = node.arguments.map(({ label, value }) => {
        const text = print(value, LEVEL.if, context);
        return label === undefined ? text : `${name(label, 'label')}: ${text}`;
      });
      return `${print(node.callee, LEVEL.primary, context)}(${args.join(', ')})`;
    }
    case 'unary':
      return unaryText(node.operator, node.operand, context);
    case 'binary':
      return binaryText(node, context);
    case 'compare':
      return node.operands
        .map((operand, index) => {
          const text = print(operand, LEVEL.range, context);
          return index === 0 ? text : `${node.operators[index - 1] ?? '='} ${text}`;
        })
        .join(' ');
    case 'range':
      return node.parts.map((part) => print(part, LEVEL.as, context)).join('..');
    case 'tolerance':
      return `${print(node.centre, LEVEL.as, context)} ± ${print(node.spread, LEVEL.as, context)}`;
    case 'as':
      return `${print(node.value, LEVEL.as, context)} as ${node.unit.text}`;
    case 'if': {
      const condition = print(node.condition, LEVEL.with, context);
      const then = print(node.then, LEVEL.with, context);
      return `if ${condition} then ${then} else ${print(node.otherwise, LEVEL.if, context)}`;
    }
    case 'with': {
      const changes = node.overrides.map(
        ({ target, value }) =>
          `${printTarget(target, context)} = ${print(value, LEVEL.range, context)}`,
      );
      return `${print(node.value, LEVEL.if, context)} with ${changes.join(', ')}`;
    }
    case 'broken':
      return '';
  }
}

function unaryText(operator: string, operand: Node, context: PrintContext): string {
  if (operator === 'not') return `not ${print(operand, LEVEL.not, context)}`;
  // `--` would begin a note, and `-40 °F` would be a number.
  const inner = print(operand, LEVEL.minus, context);
  const isPoint =
    operand.kind === 'number' &&
    operand.unit !== undefined &&
    context.isPointUnit(operand.unit.text);
  return isPoint || inner.startsWith('-') ? `-(${inner})` : `-${inner}`;
}

function binaryText(
  node: Extract<Node, { readonly kind: 'binary' }>,
  context: PrintContext,
): string {
  const { operator, left, right } = node;
  if (operator === '^') {
    const base = print(left, LEVEL.postfix, context);
    const raised = isRaised(right);
    if (raised !== undefined) return base + raised;
    const exponent =
      right.kind === 'number' && right.unit !== undefined
        ? `(${bare(right, context)})`
        : print(right, LEVEL.minus, context);
    return `${base}^${exponent}`;
  }
  const level = BINARY.get(operator)?.level ?? LEVEL.compare;
  const groups = level !== LEVEL.compare;
  const before = print(left, groups ? level : level + 1, context);
  return `${before} ${operator} ${print(right, level + 1, context)}`;
}

function isRaised(node: Node): '²' | '³' | undefined {
  if (node.kind !== 'number' || node.unit !== undefined) return undefined;
  if (node.value === 2 && (node.figures ?? '2') === '2') return '²';
  return node.value === 3 && (node.figures ?? '3') === '3' ? '³' : undefined;
}

function levelOf(node: Node, context: PrintContext): number {
  switch (node.kind) {
    case 'with':
      return LEVEL.with;
    case 'if':
      return LEVEL.if;
    case 'unary':
      return node.operator === 'not' ? LEVEL.not : LEVEL.minus;
    case 'binary':
      return BINARY.get(node.operator)?.level ?? LEVEL.compare;
    case 'compare':
      return LEVEL.compare;
    case 'range':
    case 'tolerance':
      return LEVEL.range;
    case 'as':
      return LEVEL.as;
    case 'number': {
      // What cannot be raised, called or have parts without parentheses. A bare negative number is
      // read as a minus unless it is the end of a span on a point scale.
      if (node.unit === undefined) return node.value < 0 ? LEVEL.minus : LEVEL.postfix;
      return node.value < 0 && !context.isPointUnit(node.unit.text) ? LEVEL.minus : LEVEL.power;
    }
    case 'name':
    case 'part':
    case 'call':
      return LEVEL.primary;
    case 'text':
    case 'pi':
    case 'none':
    case 'broken':
      return LEVEL.postfix;
    default:
      return LEVEL.power;
  }
}

/** Figures as they were written, if they still say the value; then the unit, `°` and `′` touching. */
function numberText(node: NumberNode): string {
  const size = Math.abs(node.value);
  const figures =
    node.figures !== undefined && Number(node.figures) === size ? node.figures : plain(size);
  const number = node.value < 0 || Object.is(node.value, -0) ? `-${figures}` : figures;
  if (node.unit === undefined) return number;
  return node.unit.text === '°' ? `${number}°` : `${number} ${node.unit.text}`;
}

function plain(value: number): string {
  return String(value);
}

/** A text in the quotes that it does not hold itself. */
function quoted(value: string): string {
  if (!value.includes('"')) return `"${value}"`;
  return /[“”„‟]/u.test(value) ? `"${value.replaceAll('"', "''")}"` : `“${value}”`;
}
