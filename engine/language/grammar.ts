// The grammar as a recursive descent over tokens, one method a rule; the operators between two operands
// are read in one loop, by their level in the table, tightest first. After the first message the parser takes everything that follows as
// read: one good message a formula is worth more than a chain of echoes. It always yields a tree.

import { nameKey } from '../source/name.ts';
import { covering, type Span } from '../source/span.ts';
import type {
  Argument,
  BinaryOperator,
  ChainOperator,
  Name,
  Node,
  Override,
  Target,
  UnitText,
} from './ast.ts';
import { INFIX, LEVEL, operatorsOf } from './operators.ts';
import { cannotFollow, operandMissing, unknownUnit } from './syntax-message.ts';
import type { NameToken, NumberToken, OperatorToken, Token, WordToken } from './token.ts';
import { broken, isOperator, isPunctuation, symbolOf, TokenReader } from './token-reader.ts';
import { isLiteral } from './walk.ts';

const CHAIN = operatorsOf('chain');
const COMPARISONS = operatorsOf('chain', 'single');
const TIGHTER_THAN_AS: ReadonlySet<string> = new Set(
  [...operatorsOf('left', 'right', 'raised').values()]
    .filter(({ level }) => level > LEVEL.as)
    .map(({ symbol }) => symbol),
);

export class Grammar extends TokenReader {
  /** formula = cond [ "with" set { "," set } ] */
  formula(): Node {
    const value = this.condition();
    if (!this.takeWord('with')) return value;
    const overrides = this.overrides();
    const last = overrides.at(-1)?.span ?? this.before().span;
    return { kind: 'with', value, overrides, span: covering(value.span, last) };
  }

  /** set { "," set }, and what may follow the last one. */
  overrides(): readonly Override[] {
    const overrides: Override[] = [];
    do {
      const target = this.target();
      if (target === undefined) break;
      if (!this.takeOperator('=')) {
        this.fail('target-equals', this.peek().span, []);
        break;
      }
      const value = this.range();
      overrides.push({ target, value, span: covering(target.span, value.span) });
    } while (this.takeSign(','));
    const next = this.peek();
    const ends =
      next.kind === 'end' ||
      next.kind === 'bad' ||
      (next.kind === 'punctuation' && [')', '[', '('].includes(next.sign)) ||
      (next.kind === 'word' && (next.word === 'then' || next.word === 'else'));
    if (!ends && !this.operandFollows(next)) this.fail('with-ends', next.span, [next.text]);
    return overrides;
  }

  /** target = name [ "." name ] [ "(" literal ")" ] */
  target(): Target | undefined {
    const first = this.peek();
    if (first.kind !== 'name') {
      if (first.kind === 'bad') this.failWith(first.diagnostic);
      else this.fail('target-missing', first.span, []);
      return undefined;
    }
    const name = nameOf(first);
    this.next();
    let column: Name | undefined;
    if (this.takeSign('.')) {
      column = this.partName();
      if (column === undefined) return undefined;
    }
    let entry: Node | undefined;
    if (this.isCallHere()) {
      this.next();
      entry = this.sum();
      if (!this.failed && !isLiteral(entry)) this.fail('target-entry', entry.span, []);
      this.closeParenthesis();
    }
    const span = covering(first.span, this.before().span);
    return {
      name,
      span,
      ...(column === undefined ? {} : { column }),
      ...(entry === undefined ? {} : { entry }),
    };
  }

  /** cond = "if" cond "then" cond "else" cond | or */
  condition(): Node {
    const start = this.peek();
    if (start.kind !== 'word' || start.word !== 'if') return this.operation(LEVEL.or);
    if (!this.deeper(start.span)) return broken(start.span);
    this.next();
    const condition = this.formula();
    if (!this.takeWord('then')) this.missing('then-missing');
    const then = this.formula();
    if (!this.takeWord('else')) this.missing('else-missing');
    const otherwise = this.condition();
    this.depth -= 1;
    return { kind: 'if', condition, then, otherwise, span: covering(start.span, otherwise.span) };
  }

  /** range = shown [ ".." shown [ ".." shown ] | "±" shown ] */
  range(): Node {
    return this.operation(LEVEL.range);
  }

  /** sum = product { ("+"|"-") product } */
  sum(): Node {
    return this.operation(LEVEL.sum);
  }

  /** Complains about the first token that is left over. */
  finish(): void {
    const token = this.peek();
    if (token.kind === 'end') return;
    this.failWith(cannotFollow(this.before(), token, this.context));
  }

  /**
   * Operands with the operators between them that bind at least as tightly as a level:
   *
   *     or = and { "or" and }
   *     and = not { "and" not }
   *     not = "not" not | compare
   *     compare = range { chain range } | range ("≠" | "within") range
   *     range, sum as above; shown = sum { "as" unit }
   *     product = unary { ("×"|"/") unary }
   */
  private operation(level: number): Node {
    let left = level <= LEVEL.not ? this.negation() : this.unary();
    for (;;) {
      const token = this.peek();
      if (token.kind !== 'operator' && token.kind !== 'word') return left;
      const operator = INFIX.get(symbolOf(token));
      if (operator === undefined || operator.level < level) return left;
      this.next();
      if (operator.level === LEVEL.compare) left = this.compare(left, token);
      else if (operator.level === LEVEL.as) left = this.shown(left);
      else if (operator.level === LEVEL.range)
        left = operator.symbol === '±' ? this.tolerance(left) : this.span(left);
      else {
        const right = this.operation(operator.level + 1);
        left = binary(operator.symbol as BinaryOperator, token.span, left, right);
      }
    }
  }

  /** not = "not" not | compare */
  private negation(): Node {
    const start = this.peek();
    if (start.kind !== 'word' || start.word !== 'not') return this.unary();
    if (!this.deeper(start.span)) return broken(start.span);
    this.next();
    const operand = this.operation(LEVEL.not);
    this.depth -= 1;
    return { kind: 'unary', operator: 'not', operand, span: covering(start.span, operand.span) };
  }

  /** What follows the first sign of a comparison. */
  private compare(first: Node, start: OperatorToken | WordToken): Node {
    let operator = symbolOf(start);
    if (!CHAIN.has(operator)) {
      const node = binary(operator as BinaryOperator, start.span, first, this.range());
      if (COMPARISONS.has(symbolOf(this.peek()))) this.fail('compare-chain', start.span, []);
      return node;
    }
    const operands: Node[] = [first];
    const operators: ChainOperator[] = [];
    while (CHAIN.has(operator)) {
      operators.push(operator as ChainOperator);
      operands.push(this.range());
      operator = symbolOf(this.peek());
      if (CHAIN.has(operator)) this.next();
    }
    if (COMPARISONS.has(operator)) this.fail('compare-chain', start.span, []);
    const span = covering(first.span, operands.at(-1)?.span ?? first.span);
    return { kind: 'compare', operands, operators, span };
  }

  /** What follows `±`. */
  private tolerance(centre: Node): Node {
    const spread = this.operation(LEVEL.as);
    this.notMixed();
    return { kind: 'tolerance', centre, spread, span: covering(centre.span, spread.span) };
  }

  /** What follows the first `..`. */
  private span(first: Node): Node {
    const parts: Node[] = [first];
    do parts.push(this.operation(LEVEL.as));
    while (this.takeOperator('..'));
    const last = parts.at(-1) ?? first;
    if (parts.length > 3) this.fail('range-many', parts[3]?.span ?? last.span, []);
    this.notMixed();
    return { kind: 'range', parts: this.withSigns(parts), span: covering(first.span, last.span) };
  }

  /** A span with a tolerance, or two tolerances, say nothing. */
  private notMixed(): void {
    const next = this.peek();
    if (isOperator(next, '..') || isOperator(next, '±')) this.fail('range-mixed', next.span, []);
  }

  /** What follows `as`. */
  private shown(value: Node): Node {
    const token = this.peek();
    if (token.kind !== 'unit') {
      if (token.kind === 'bad') return this.failWith(token.diagnostic);
      return this.fail('as-unit-missing', token.span, []);
    }
    this.next();
    if (!token.known) this.diagnostics.push(unknownUnit(token, 'as', this.context));
    const next = this.peek();
    const tighter = TIGHTER_THAN_AS.has(symbolOf(next)) || this.operandFollows(next);
    if (tighter) return this.fail('as-ends', next.span, []);
    return { kind: 'as', value, unit: unitText(token), span: covering(value.span, token.span) };
  }

  /** unary = "-" unary | power; a touching sign belongs to a number on a point scale. */
  private unary(): Node {
    const start = this.peek();
    if (!isOperator(start, '-')) return this.power();
    if (!this.deeper(start.span)) return broken(start.span);
    this.next();
    const number = this.peek();
    const unit = this.tokens[this.position + 1];
    const signed =
      number.kind === 'number' &&
      number.gauge === undefined &&
      number.span.start === start.span.end &&
      unit?.kind === 'unit' &&
      this.context.isPointUnit(unit.text);
    const operand = signed ? this.power(start.span) : this.unary();
    this.depth -= 1;
    if (signed) return operand;
    return { kind: 'unary', operator: '-', operand, span: covering(start.span, operand.span) };
  }

  /** power = postfix { "²" | "³" } [ "^" unary ] */
  private power(sign?: Span): Node {
    let base = this.postfix(sign);
    for (;;) {
      const token = this.peek();
      const symbol = symbolOf(token);
      if (symbol === '²' || symbol === '³') {
        if (this.before().span.end !== token.span.start) {
          return this.fail('power-space', token.span, []);
        }
        this.next();
        const value = symbol === '²' ? 2 : 3;
        base = binary('^', token.span, base, { kind: 'number', value, span: token.span });
      } else if (symbol === '^') {
        if (!this.deeper(token.span)) return base;
        this.next();
        const exponent = this.unary();
        this.depth -= 1;
        return binary('^', token.span, base, exponent);
      } else {
        return base;
      }
    }
  }

  /** postfix = primary { "." name | "(" [ arg { "," arg } ] ")" } */
  private postfix(sign?: Span): Node {
    const first = this.peek();
    let node = this.primary(sign);
    const callable = first.kind === 'name' ? node.kind === 'name' : isPunctuation(first, '(');
    for (;;) {
      const token = this.peek();
      if (isPunctuation(token, '.')) {
        if (!callable) return this.fail('part-of', token.span, []);
        this.next();
        const name = this.partName();
        if (name === undefined) return node;
        node = { kind: 'part', of: node, name, span: covering(node.span, name.span) };
      } else if (callable && this.isCallHere()) {
        this.next();
        const args = this.arguments();
        const span = covering(node.span, this.before().span);
        node = { kind: 'call', callee: node, arguments: args, span };
      } else {
        return node;
      }
    }
  }

  private arguments(): readonly Argument[] {
    const args: Argument[] = [];
    if (this.takeSign(')')) return args;
    if (!this.deeper(this.before().span)) return args;
    do {
      const token = this.peek();
      let label: Name | undefined;
      if (token.kind === 'label') {
        label = nameOf(token);
        this.next();
        this.takeSign(':');
      }
      const value = this.condition();
      const next = this.peek();
      if (next.kind === 'word' && next.word === 'with') this.fail('with-inside', next.span, []);
      const span = covering(label?.span ?? value.span, value.span);
      args.push(label === undefined ? { value, span } : { label, value, span });
    } while (this.takeSign(','));
    this.closeParenthesis();
    this.depth -= 1;
    return args;
  }

  private primary(sign?: Span): Node {
    const token = this.peek();
    switch (token.kind) {
      case 'number':
        this.next();
        return this.number(token, sign);
      case 'text':
        this.next();
        return { kind: 'text', value: token.value, span: token.span };
      case 'time':
        this.next();
        return { kind: 'time of day', minutes: token.minutes, span: token.span };
      case 'moment': {
        this.next();
        const { days, minutes, span } = token;
        return { kind: 'moment', days, span, ...(minutes === undefined ? {} : { minutes }) };
      }
      case 'name': {
        this.next();
        const name = nameOf(token);
        if (name.key === 'pi' || name.key === 'π') return { kind: 'pi', span: token.span };
        return { kind: 'name', name, span: token.span };
      }
      case 'word':
        if (token.word !== 'none') return this.failWith(operandMissing(token));
        this.next();
        return { kind: 'none', span: token.span };
      case 'punctuation':
        if (token.sign === '(') return this.parenthesis();
        if (token.sign === '?') return this.blank();
        return this.failWith(operandMissing(token));
      default:
        return this.failWith(operandMissing(token));
    }
  }

  private number(token: NumberToken, sign: Span | undefined): Node {
    const unit = this.peek();
    const start = sign ?? token.span;
    const factor = sign === undefined ? 1 : -1;
    if (unit.kind !== 'unit') {
      const value = factor * token.value;
      return { kind: 'number', value, figures: token.text, span: covering(start, token.span) };
    }
    this.next();
    if (!unit.known) this.diagnostics.push(unknownUnit(unit, 'number', this.context));
    const span = covering(start, unit.span);
    if (unit.text === 'AWG') return { kind: 'gauge', gauge: token.gauge ?? token.value, span };
    const value = factor * token.value;
    return { kind: 'number', value, figures: token.text, unit: unitText(unit), span };
  }

  private parenthesis(): Node {
    const open = this.peek().span;
    if (!this.deeper(open)) return broken(open);
    this.next();
    const node = this.formula();
    this.closeParenthesis();
    this.depth -= 1;
    // Made just now and nobody else's yet.
    (node as { span: Span }).span = covering(open, covering(node.span, this.before().span));
    return node;
  }

  private blank(): Node {
    const mark = this.next();
    const unit = this.peek();
    if (unit.kind !== 'unit') {
      if (unit.kind === 'name')
        this.diagnostics.push(unknownUnit(this.next(), 'number', this.context));
      return { kind: 'blank', span: mark.span };
    }
    this.next();
    if (!unit.known) this.diagnostics.push(unknownUnit(unit, 'number', this.context));
    return { kind: 'blank', unit: unitText(unit), span: covering(mark.span, unit.span) };
  }

  private partName(): Name | undefined {
    const token = this.peek();
    if (token.kind !== 'name') {
      if (token.kind === 'bad') this.failWith(token.diagnostic);
      else this.fail('part-missing', token.span, []);
      return undefined;
    }
    this.next();
    return nameOf(token);
  }

  private closeParenthesis(): void {
    if (this.takeSign(')')) return;
    const token = this.peek();
    if (token.kind !== 'end') this.failWith(cannotFollow(this.before(), token, this.context));
    else this.missing('parenthesis-missing', ')');
  }

  /** Whether a token begins an operand, so that the complaint is about what stands before it. */
  private operandFollows(token: Token): boolean {
    return (
      ['name', 'number', 'text', 'time', 'moment'].includes(token.kind) || isPunctuation(token, '(')
    );
  }

  /** In a span on a point scale the sign of a bare low end belongs to its number: `-5..5 °C`. */
  private withSigns(parts: readonly Node[]): readonly Node[] {
    const last = parts.at(-1);
    if (last?.kind !== 'number' || last.unit === undefined) return parts;
    if (!this.context.isPointUnit(last.unit.text)) return parts;
    return parts.map((part) => {
      const isBare =
        part.kind === 'unary' &&
        part.operator === '-' &&
        part.operand.kind === 'number' &&
        part.operand.unit === undefined;
      if (!isBare || part.operand.kind !== 'number') return part;
      return { ...part.operand, value: -part.operand.value, span: part.span };
    });
  }
}

function binary(operator: BinaryOperator, operatorSpan: Span, left: Node, right: Node): Node {
  const span = covering(left.span, right.span);
  return { kind: 'binary', operator, operatorSpan, left, right, span };
}

function nameOf(token: NameToken | { readonly text: string; readonly span: Span }): Name {
  return { text: token.text, key: nameKey(token.text), span: token.span };
}

function unitText(token: { readonly text: string; readonly span: Span }): UnitText {
  return { text: token.text, span: token.span };
}
