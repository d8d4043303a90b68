// Steps that run part of the notebook again: `with` and `solve`; trials are in trial-steps.ts. Each is a
// *site*: some nodes replaced, the cone between them and what is wanted worked once more in a child
// memory, then the site's own body. Cones are worked out when all nodes are compiled (link.ts).

import type { Type } from '../check/type.ts';
import type { Expr } from '../check/typed.ts';
import { formatQuantity } from '../dimension/quantity.ts';
import { preferredUnit } from '../dimension/unit.ts';
import type { Code } from '../source/catalogue.ts';
import type { Compiling } from './compiling.ts';
import type { AxisValue, Memory, Operand } from './memory.ts';
import { readsOf } from './needs.ts';
import type { Step } from './program.ts';
import type { RunContext } from './sites.ts';
import { APART, contextKey } from './trial-pool.ts';

/** Copies a result into the place of the caller. */
function deliver(
  m: Memory,
  child: Memory,
  from: readonly Operand[],
  out: readonly Operand[],
  offset: number,
  total: number,
): void {
  for (let j = 0; j < out.length; j++) {
    const source = from[j] as Operand;
    const o = out[j] as Operand;
    if (o >= 0) {
      m.scalars[o] = child.at(source, 0);
      continue;
    }
    if (source >= 0) {
      (offset === 0 ? m.own(~o, total) : (m.rows[~o] as Float64Array))[offset] = child.scalars[
        source
      ] as number;
      continue;
    }
    const part = child.rows[~source] as Float64Array;
    const row = offset === 0 ? m.own(~o, total * part.length) : (m.rows[~o] as Float64Array);
    if ((offset + 1) * part.length <= row.length) row.set(part, offset * part.length);
  }
}

/** Gives up: the places get no number, the memory the reason. */
export function fail(m: Memory, out: readonly Operand[], code: Code, problem: string): void {
  m.say(code, problem);
  for (const o of out) {
    if (o >= 0) m.scalars[o] = Number.NaN;
    else m.own(~o, 1)[0] = Number.NaN;
  }
}

/** The same, with the reason that a run within this one has. */
export function failWith(m: Memory, out: readonly Operand[], child: Memory): void {
  m.passOn(child);
  fail(m, out, child.code, child.problem);
}

export function withStep(
  k: Compiling,
  expr: Extract<Expr, { op: 'with' }>,
  out: readonly Operand[],
): Step {
  const values = expr.overrides.map((o) => k.vector(k, o.value));
  let results: readonly Operand[] = [];
  const context: RunContext = {
    key: contextKey(k.context, expr.overrides),
    outer: k.context,
    site: undefined,
  };
  const instructions = k.e.aside(() => {
    results = k.vector({ ...k, context }, expr.value);
  });
  const { sites } = k;
  const site = sites.add({
    kind: 'with',
    owner: k.owner,
    targets: expr.overrides.map((o) => ({ node: o.node, row: o.row })),
    reads: readsOf(expr.value),
    instructions,
    resultAxes: expr.value.type.axes,
  });
  context.site = site;
  const sweeps = expr.sweeps.map((axis) => axis.id);
  const axesOf = expr.overrides.map((o) => o.value.type.axes.map((axis) => axis.id));
  return {
    run(m: Memory): void {
      if (site.invalid !== '') {
        fail(m, out, 'axis-moved', site.invalid);
        return;
      }
      const machine = sites.machine;
      const child = machine.childOf(m);
      const lengths = sweeps.map((id) => (m.axes[id] as AxisValue).length);
      const total = lengths.reduce((n, length) => n * length, 1);
      const at = new Array<number>(sweeps.length).fill(0);
      for (let n = 0; n < total; n++) {
        let rest = n;
        for (let s = sweeps.length - 1; s >= 0; s--) {
          at[s] = rest % (lengths[s] as number);
          rest = Math.floor(rest / (lengths[s] as number));
        }
        expr.overrides.forEach((o, i) => {
          const operands = values[i] as readonly Operand[];
          const axes = axesOf[i] as readonly number[];
          const swept = sweeps.indexOf(axes[0] ?? -1);
          const step = swept < 0 ? 0 : (at[swept] as number);
          const inner = swept < 0 ? axes.length > 0 : axes.length > 1;
          const length =
            swept < 0
              ? 0
              : inner
                ? m.array(operands[0] as Operand).length / (lengths[swept] as number)
                : 1;
          machine.replace(child, o.node, o.row, (component, place) =>
            m.at(operands[component] as Operand, (inner ? place : 0) + step * length),
          );
        });
        if (!machine.runCone(site, child, total - n)) {
          failWith(m, out, child);
          return;
        }
        child.problem = '';
        machine.execute(site.body, child);
        if (child.problem !== '') {
          failWith(m, out, child);
          return;
        }
        deliver(m, child, results, out, n, total);
      }
    },
  };
}

/** How many places between the ends are tried before a root is bracketed. */
const PLACES = 32;

export function solveStep(k: Compiling, expr: Extract<Expr, { op: 'solve' }>, out: Operand): Step {
  const [low] = k.vector(k, expr.low);
  const [high] = k.vector(k, expr.high);
  let left: Operand = 0;
  let right: Operand = 0;
  const inner: Compiling = { ...k, context: APART };
  const instructions = k.e.aside(() => {
    left = k.vector(inner, expr.left)[0] as Operand;
    right = k.vector(inner, expr.right)[0] as Operand;
  });
  const { sites } = k;
  const site = sites.add({
    kind: 'solve',
    owner: k.owner,
    targets: [{ node: expr.node, row: undefined }],
    reads: readsOf(expr.left, expr.right),
    instructions,
    resultAxes: [],
  });
  const sign = expr.relation === '≤' ? -1 : 1;
  return {
    run(m: Memory): void {
      if (site.invalid !== '') {
        fail(m, [out], 'axis-moved', site.invalid);
        return;
      }
      const machine = sites.machine;
      const child = machine.childOf(m);
      const [a, b] = [m.at(low as Operand, 0), m.at(high as Operand, 0)];
      let failed = false;
      let passes = 0;
      /** left − right, positive where the condition holds. */
      const g = (x: number): number => {
        machine.replace(child, expr.node, undefined, () => x);
        // What went wrong once is told; the other places need not be worked.
        if (failed) return Number.NaN;
        // All the places that are looked at in any case are refused at the first of them.
        const toCome = Math.max(1, PLACES + 1 - passes++);
        if (!machine.runCone(site, child, toCome)) {
          m.passOn(child);
          failed = true;
          return Number.NaN;
        }
        child.problem = '';
        machine.execute(site.body, child);
        if (child.problem !== '') {
          m.passOn(child);
          failed = true;
        }
        const [l, r] = [child.at(left, 0), child.at(right, 0)];
        const d = l - r;
        // What counts as equal in a check counts as equal here.
        return Math.abs(d) <= 1e-9 * Math.max(Math.abs(l), Math.abs(r)) ? 0 : sign * d;
      };
      const sideAt = (x: number): number => {
        g(x);
        return child.at(left, 0);
      };
      const found = findRoot(g, a, b, expr.relation);
      if (failed) {
        m.scalars[out] = Number.NaN;
        return;
      }
      if (typeof found === 'number') {
        m.scalars[out] = found;
        return;
      }
      const [l0, l1] = [sideAt(a), sideAt(b)];
      fail(
        m,
        [out],
        'no-solution',
        `Nothing in the range fits: at ${shown(a, expr.type)} it is ${shown(l0, expr.left.type)}, at ${shown(b, expr.type)} ${shown(l1, expr.left.type)}. Widen the range.`,
      );
    },
  };
}

/** A stored amount in the unit of its type, for a message. */
function shown(x: number, type: Type): string {
  if (type.kind !== 'quantity') return String(x);
  const unit = type.unit ?? preferredUnit(type.dimension, [], { point: type.stance !== 'plain' });
  return formatQuantity(x, unit);
}

/**
 * `=`: the first root. `≥ ≤`: the smallest value from which on it holds to the end of the range; if
 * it holds only below, the largest. The range is looked at in 33 places, then bracketed.
 */
export function findRoot(
  g: (x: number) => number,
  a: number,
  b: number,
  relation: '=' | '≥' | '≤',
): number | { readonly low: number; readonly high: number } {
  const at = (i: number): number => a + ((b - a) * i) / PLACES;
  const values = Array.from({ length: PLACES + 1 }, (_, i) => g(at(i)));
  const first = values[0] as number;
  const last = values[PLACES] as number;
  if (relation === '=') {
    for (let i = 0; i <= PLACES; i++) {
      const v = values[i] as number;
      if (v === 0) return at(i);
      const next = values[i + 1];
      if (next !== undefined && v * next < 0) return bisect(g, at(i), at(i + 1), v);
    }
    return { low: first, high: last };
  }
  if (last >= 0) {
    for (let i = PLACES - 1; i >= 0; i--)
      if (!((values[i] as number) >= 0)) return holdingEnd(g, at(i), at(i + 1));
    return a;
  }
  if (first >= 0) {
    for (let i = 1; i <= PLACES; i++)
      if (!((values[i] as number) >= 0)) return holdingEnd(g, at(i), at(i - 1));
  }
  return { low: first, high: last };
}

/** The end of the bracket at which the condition holds, to 1e-9 of the range. */
function holdingEnd(g: (x: number) => number, fails: number, holds: number): number {
  let [bad, good] = [fails, holds];
  for (
    let i = 0;
    i < 60 && Math.abs(good - bad) > 1e-10 * Math.max(Math.abs(good), Math.abs(bad));
    i++
  ) {
    const middle = (bad + good) / 2;
    if (g(middle) >= 0) good = middle;
    else bad = middle;
  }
  return good;
}

function bisect(g: (x: number) => number, from: number, to: number, atFrom: number): number {
  let [a, b, ga] = [from, to, atFrom];
  for (let i = 0; i < 80 && Math.abs(b - a) > 1e-12 * Math.max(Math.abs(a), Math.abs(b)); i++) {
    const middle = (a + b) / 2;
    const gm = g(middle);
    if (gm === 0) return middle;
    if (gm * ga < 0) b = middle;
    else [a, ga] = [middle, gm];
  }
  return (a + b) / 2;
}
