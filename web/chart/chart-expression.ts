// Expressions of a chart, compiled once from their syntax trees to closures. The page's policy
// forbids making code from text, and walking a tree anew for every mark is slow; closures are
// neither. Vega hands over the trees when a specification is parsed with `ast: true`.

interface Scope {
  readonly params: Readonly<Record<string, unknown>> | undefined;
  readonly datum: unknown;
  readonly item: unknown;
  readonly event: unknown;
}
type Closure = (scope: Scope) => unknown;

/** A node of an expression's tree, as far as it is used here. */
export interface ExpressionNode {
  readonly type: string;
  readonly name?: string;
  readonly value?: unknown;
  readonly operator?: string;
  readonly computed?: boolean;
  readonly object?: ExpressionNode;
  readonly property?: ExpressionNode;
  readonly callee?: ExpressionNode;
  readonly arguments?: readonly ExpressionNode[];
  readonly elements?: readonly ExpressionNode[];
  readonly properties?: readonly { readonly key: ExpressionNode; readonly value: ExpressionNode }[];
  readonly left?: ExpressionNode;
  readonly right?: ExpressionNode;
  readonly argument?: ExpressionNode;
  readonly test?: ExpressionNode;
  readonly consequent?: ExpressionNode;
  readonly alternate?: ExpressionNode;
}

type Callable = (...values: readonly unknown[]) => unknown;
type Functions = Readonly<Record<string, unknown>>;

const BINARY: Readonly<Record<string, (a: number, b: number) => unknown>> = {
  '*': (a, b) => a * b,
  '+': (a, b) => a + b,
  '-': (a, b) => a - b,
  '/': (a, b) => a / b,
  '%': (a, b) => a % b,
  '>': (a, b) => a > b,
  '<': (a, b) => a < b,
  '<=': (a, b) => a <= b,
  '>=': (a, b) => a >= b,
  '==': (a, b) => a === b || (a ?? null) === (b ?? null),
  '!=': (a, b) => a !== b && (a ?? null) !== (b ?? null),
  '===': (a, b) => a === b,
  '!==': (a, b) => a !== b,
};

const UNARY: Readonly<Record<string, (a: number) => unknown>> = {
  '+': (a) => +a,
  '-': (a) => -a,
  '!': (a) => !a,
};

const PLAIN: Readonly<Record<string, (...values: number[]) => unknown>> = {
  isNaN: (a) => Number.isNaN(a),
  isFinite: (a) => Number.isFinite(a),
  abs: Math.abs,
  ceil: Math.ceil,
  floor: Math.floor,
  round: Math.round,
  max: Math.max,
  min: Math.min,
  pow: Math.pow,
  sqrt: Math.sqrt,
  log: Math.log,
  exp: Math.exp,
  clamp: (a = 0, low = 0, high = 0) => Math.max(low, Math.min(high, a)),
};

const CONSTANTS: Readonly<Record<string, unknown>> = {
  PI: Math.PI,
  E: Math.E,
  NaN: Number.NaN,
  MIN_VALUE: Number.MIN_VALUE,
  MAX_VALUE: Number.MAX_VALUE,
};

/** Names through which code could be reached; no chart of ours uses them. */
const FORBIDDEN = new Set(['constructor', '__proto__', 'prototype']);

function need(node: ExpressionNode | undefined): ExpressionNode {
  if (!node) throw new RangeError('a chart expression lacks a part');
  return node;
}

function member(object: unknown, key: unknown): unknown {
  if (object === null || object === undefined) return undefined;
  if (typeof key === 'string' && FORBIDDEN.has(key)) return undefined;
  return Reflect.get(Object(object), key as PropertyKey);
}

function identifier(name: string): Closure {
  if (name === 'datum') return (scope) => scope.datum;
  if (name === 'item') return (scope) => scope.item;
  if (name === 'event') return (scope) => scope.event;
  if (name in CONSTANTS) return () => CONSTANTS[name];
  const parameter = `$${name}`;
  return (scope) => scope.params?.[parameter];
}

function call(node: ExpressionNode, functions: Functions): Closure {
  const name = (need(node.callee).name ?? '').replace(/^_/, '');
  const parts = (node.arguments ?? []).map((part) => closureOf(part, functions));
  if (name === 'if') {
    const [test, yes, no] = parts;
    return (scope) => (test?.(scope) ? yes?.(scope) : no?.(scope));
  }
  const given = functions[name];
  const called = typeof given === 'function' ? (given as Callable) : (PLAIN[name] as Callable);
  if (!called) throw new RangeError(`a chart expression calls ${name}, which is not known`);
  const [first, second] = parts;
  if (parts.length === 1 && first) return (scope) => called.call(functions, first(scope));
  if (parts.length === 2 && first && second) {
    return (scope) => called.call(functions, first(scope), second(scope));
  }
  return (scope) =>
    called.apply(
      functions,
      parts.map((part) => part(scope)),
    );
}

/** The closure of one tree. */
export function closureOf(node: ExpressionNode, functions: Functions): Closure {
  const of = (part: ExpressionNode | undefined): Closure => closureOf(need(part), functions);
  switch (node.type) {
    case 'Literal': {
      const { value } = node;
      return () => value;
    }
    case 'Identifier':
      return identifier(node.name ?? '');
    case 'MemberExpression': {
      const object = of(node.object);
      if (node.computed !== true) {
        const key = need(node.property).name ?? '';
        return (scope) => member(object(scope), key);
      }
      const key = of(node.property);
      return (scope) => member(object(scope), key(scope));
    }
    case 'CallExpression':
      return call(node, functions);
    case 'ArrayExpression': {
      const parts = (node.elements ?? []).map(of);
      return (scope) => parts.map((part) => part(scope));
    }
    case 'BinaryExpression': {
      const apply = BINARY[node.operator ?? ''];
      if (!apply) throw new RangeError(`a chart expression uses ${node.operator}`);
      const [left, right] = [of(node.left), of(node.right)];
      return (scope) => apply(left(scope) as number, right(scope) as number);
    }
    case 'UnaryExpression': {
      const apply = UNARY[node.operator ?? ''];
      if (!apply) throw new RangeError(`a chart expression uses ${node.operator}`);
      const argument = of(node.argument);
      return (scope) => apply(argument(scope) as number);
    }
    case 'ConditionalExpression': {
      const [test, yes, no] = [of(node.test), of(node.consequent), of(node.alternate)];
      return (scope) => (test(scope) ? yes(scope) : no(scope));
    }
    case 'LogicalExpression': {
      const [left, right] = [of(node.left), of(node.right)];
      return node.operator === '&&'
        ? (scope) => left(scope) && right(scope)
        : (scope) => left(scope) || right(scope);
    }
    case 'ObjectExpression': {
      const parts = (node.properties ?? []).map(({ key, value }) => ({
        key: String(key.name ?? key.value),
        value: of(value),
      }));
      return (scope) => Object.fromEntries(parts.map(({ key, value }) => [key, value(scope)]));
    }
    default:
      throw new RangeError(`a chart expression holds a ${node.type}`);
  }
}

interface Context {
  readonly functions: Functions;
}
interface Expression {
  readonly ast: ExpressionNode;
}
interface Encoding {
  readonly marktype: string;
  readonly channels: Readonly<Record<string, Expression>>;
}
type Item = Record<string, unknown> & { datum?: unknown };
type Parameters = Readonly<Record<string, unknown>>;

/** A mark's box from the edges it was given: end before start is turned round for areas. */
function settleBox(item: Item, channels: Encoding['channels'], turn: boolean): void {
  const axes = [
    ['x', 'x2', 'xc', 'width'],
    ['y', 'y2', 'yc', 'height'],
  ] as const;
  for (const [near, far, centre, size] of axes) {
    const extent = (): number => Number(item[size] ?? 0);
    if (channels[far]) {
      if (channels[near]) {
        const [start, end] = [Number(item[near]), Number(item[far])];
        if (turn && start > end) {
          item[near] = end;
          item[far] = start;
        }
        item[size] = Number(item[far]) - Number(item[near]);
      } else item[near] = Number(item[far]) - extent();
    }
    if (channels[centre]) item[near] = Number(item[centre]) - extent() / 2;
  }
}

/** What Vega asks for behind its `expr` option. */
export const chartExpressions = {
  operator(context: Context, expression: Expression) {
    const run = closureOf(expression.ast, context.functions);
    return (params: Parameters): unknown =>
      run({ params, datum: undefined, item: undefined, event: undefined });
  },
  parameter(context: Context, expression: Expression) {
    const run = closureOf(expression.ast, context.functions);
    return (datum: unknown, params: Parameters): unknown =>
      run({ params, datum, item: undefined, event: undefined });
  },
  event(context: Context, expression: Expression) {
    const run = closureOf(expression.ast, context.functions);
    return (event: unknown): unknown =>
      run({ params: undefined, datum: undefined, item: undefined, event });
  },
  handler(context: Context, expression: Expression) {
    const run = closureOf(expression.ast, context.functions);
    return (params: Parameters, event: unknown): unknown =>
      run({ params, datum: member(member(event, 'item'), 'datum'), item: undefined, event });
  },
  encode(context: Context, encoding: Encoding) {
    const { channels, marktype } = encoding;
    const list = Object.entries(channels).map(([name, { ast }]) => ({
      name,
      run: closureOf(ast, context.functions),
    }));
    const turn = marktype === 'group' || marktype === 'image' || marktype === 'rect';
    return (item: Item, params: Parameters): 0 | 1 => {
      const scope: Scope = { params, datum: item.datum, item, event: undefined };
      let changed: 0 | 1 = 0;
      for (const { name, run } of list) {
        const value = run(scope);
        if (item[name] === value) continue;
        item[name] = value;
        changed = 1;
      }
      if (marktype !== 'rule') settleBox(item, channels, turn);
      return changed;
    };
  },
} as const;
