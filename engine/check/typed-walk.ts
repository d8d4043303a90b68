// Walking a typed formula.

import type { Expr } from './typed.ts';

/** Every expression of a tree, parents first. */
export function visitExpr(expr: Expr, visit: (expr: Expr) => void): void {
  visit(expr);
  for (const child of childrenOf(expr)) visitExpr(child, visit);
}

/** Of how many parts an expression is made, one that stands in it twice counted twice. */
export function partsOf(expr: Expr): number {
  let parts = 0;
  visitExpr(expr, () => {
    parts++;
  });
  return parts;
}

export function childrenOf(x: Expr): readonly Expr[] {
  switch (x.op) {
    case 'slice':
      return [x.of];
    case 'pack':
    case 'steps':
      return x.parts;
    case 'unary':
    case 'daily':
      return [x.a];
    case 'binary':
      return [x.a, x.b];
    case 'map':
      return x.args;
    case 'drawn sky':
      return [x.at, ...x.args];
    case 'select':
      return [x.condition, x.a, x.b];
    case 'call':
      return [...x.args, ...x.windows];
    case 'reduce':
      return [x.a, ...(x.where ? [x.where] : []), ...(x.otherwise ? [x.otherwise] : [])];
    case 'lookup':
      return [x.of, x.key];
    case 'timeline':
      return [x.from, x.until, x.by];
    case 'column':
      return [
        ...(x.formula ? [x.formula] : []),
        ...x.entries.filter((en): en is Expr => typeof en !== 'string' && !Array.isArray(en)),
      ];
    case 'with':
      return [x.value, ...x.overrides.map((o) => o.value)];
    case 'solve':
      return [x.left, x.right, x.low, x.high];
    case 'chance':
      return [x.condition];
    case 'percentile':
      return [x.value, x.share];
    case 'previous':
      return x.back.of === x.first ? [x.first] : [x.back.of, x.first];
    case 'running total':
      return [x.change, x.start, ...(x.least ? [x.least] : []), ...(x.most ? [x.most] : [])];
    case 'battery run':
      return [...x.args, ...(x.readings ? [x.readings.charge, x.readings.moment] : [])];
    case 'during':
      return [x.at, x.span];
    case 'load profile':
      return [x.at, x.power, x.hours];
    case 'sky window':
      return [x.azimuth, x.height, x.through];
    default:
      return [];
  }
}
