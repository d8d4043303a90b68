// Typed expressions to instructions. `vector` works on whole series; `scalar` on the present place
// of a circle. Arithmetic becomes instructions, all else steps.

import { Rejected } from '../check/rejected.ts';
import { type Axis, componentCount, type Type } from '../check/type.ts';
import type { BinaryOp, Expr, MapOp } from '../check/typed.ts';
import { visitExpr } from '../check/typed-walk.ts';
import { axisFieldStep, columnStep, stepsStep, timelineStep } from './axis-steps.ts';
import type { Compiling } from './compiling.ts';
import { costOf } from './cost.ts';
import { callStep, mapStep } from './element-steps.ts';
import type { Emitter, LoopFrame } from './emitter.ts';
import { duringStep, loadProfileStep, windowStep } from './hour-steps.ts';
import { lookupStep } from './lookup-steps.ts';
import type { Memory, Operand } from './memory.ts';
import { opNumber, type Step } from './program.ts';
import { dailyStep, reduceStep } from './reduce-steps.ts';
import { solveStep, withStep } from './run-steps.ts';
import { batteryStepOf, drawnSkyStep, previousStep, runningTotalStep } from './time-steps.ts';
import { chanceStep, percentileStep } from './trial-steps.ts';

/** A single number as a series along the axes of a value that it is part of, as `06:00..sunset` along the days. */
function spread(e: Emitter, place: Operand, { axes }: Type): Operand {
  if (place < 0 || axes.length === 0) return place;
  const row = e.newRow();
  e.emit('copy', row, place, place, e.shape(axes));
  return row;
}

export function vector(k: Compiling, expr: Expr): readonly Operand[] {
  const { e } = k;
  const { type } = expr;
  switch (expr.op) {
    case 'const':
      return expr.values.length === 1
        ? [e.constant(expr.values[0] as number)]
        : expr.values.map((v) => e.constant(v));
    case 'ref':
      return e.placesOf(expr.node);
    case 'slice':
      // The fields of one record are asked for one by one; it is worked for the first of them.
      return e
        .once(expr.of, () => vector(k, expr.of))
        .slice(expr.from, expr.from + componentCount(type));
    case 'pack':
      return expr.parts.flatMap((part) => vector(k, part)).map((place) => spread(e, place, type));
    case 'unary': {
      const a = vector(k, expr.a)[0] as Operand;
      const places = e.reserve(type);
      e.emit(expr.fn, places[0] as Operand, a, a, e.shape(type.axes));
      return places;
    }
    case 'binary': {
      const a = vector(k, expr.a)[0] as Operand;
      const b = vector(k, expr.b)[0] as Operand;
      const places = e.reserve(type);
      e.emit(expr.fn, places[0] as Operand, a, b, e.shape(type.axes));
      return places;
    }
    case 'select': {
      const [condition] = vector(k, expr.condition);
      const a = vector(k, expr.a);
      const b = vector(k, expr.b);
      return a.map((_, i) => {
        const dst = type.axes.length > 0 ? e.newRow() : e.newScalar();
        emitSelect(
          e,
          dst,
          condition as Operand,
          a[i] as Operand,
          b[i] as Operand,
          e.shape(type.axes),
        );
        return dst;
      });
    }
    case 'map':
      return stepped(e, expr, (out) =>
        mapStep(
          expr.fn,
          expr.args.map((a) => vector(k, a)[0] as Operand),
          out[0] as Operand,
          ids(type),
        ),
      );
    case 'call': {
      const args = expr.args.map((a) => vector(k, a)[0] as Operand);
      const windows = expr.windows.map((w) => vector(k, w)[0] as Operand);
      return stepped(e, expr, (out) =>
        callStep(expr.fn, args, windows, out, ids(type), expr.ranges, e.context),
      );
    }
    case 'reduce': {
      const a = vector(k, expr.a);
      const where = expr.where ? vector(k, expr.where)[0] : undefined;
      const otherwise = expr.otherwise ? vector(k, expr.otherwise) : undefined;
      return stepped(e, expr, (out) =>
        reduceStep(expr, a, where, otherwise, out, placesOf(k, expr.axis)),
      );
    }
    case 'daily': {
      const [a] = vector(k, expr.a);
      return stepped(e, expr, (out) =>
        dailyStep(expr.fn, a as Operand, out[0] as Operand, expr.axis.id, expr.days.id),
      );
    }
    case 'lookup': {
      const of = vector(k, expr.of);
      const [key] = vector(k, expr.key);
      return stepped(e, expr, (out) =>
        lookupStep(
          expr,
          of,
          key as Operand,
          out,
          ids(type),
          placesOf(k, expr.axis),
          e.context.context.textOf,
        ),
      );
    }
    case 'timeline': {
      const [from, until, by] = [expr.from, expr.until, expr.by].map(
        (p) => vector(k, p)[0] as Operand,
      );
      return stepped(e, expr, (out) =>
        timelineStep(
          expr.axis.id,
          from as Operand,
          until as Operand,
          by as Operand,
          out[0] as Operand,
        ),
      );
    }
    case 'axis field':
      return stepped(e, expr, (out) => axisFieldStep(expr.axis.id, expr.field, out[0] as Operand));
    case 'steps': {
      const parts = expr.parts.map((p) => vector(k, p));
      return stepped(e, expr, (out) => stepsStep(expr.axis.id, parts, expr.even, out));
    }
    case 'column': {
      const formula = expr.formula ? vector(k, expr.formula) : undefined;
      const entries = expr.entries.map((entry) =>
        typeof entry === 'string'
          ? entry
          : isNumbers(entry)
            ? { values: entry }
            : { operands: vector(k, entry) },
      );
      return stepped(e, expr, (out) => columnStep(formula, entries, out));
    }
    case 'with':
      return stepped(e, expr, (out) => withStep(k, expr, out));
    case 'solve':
      return stepped(e, expr, (out) => solveStep(k, expr, out[0] as Operand));
    case 'chance':
      return stepped(e, expr, (out) => chanceStep(k, expr.condition, out[0] as Operand));
    case 'percentile':
      return stepped(e, expr, (out) =>
        percentileStep(k, expr.value, expr.share, out[0] as Operand),
      );
    case 'previous': {
      const of = vector(k, expr.back.of);
      const first = vector(k, expr.first);
      return stepped(e, expr, (out) => previousStep(of, first, out));
    }
    case 'running total': {
      const [change] = vector(k, expr.change);
      const [start] = vector(k, expr.start);
      const least = expr.least ? vector(k, expr.least)[0] : undefined;
      const most = expr.most ? vector(k, expr.most)[0] : undefined;
      return stepped(
        e,
        expr,
        (out) =>
          runningTotalStep(
            change as Operand,
            start as Operand,
            least,
            most,
            out[0] as Operand,
            expr.axis.id,
            expr.perTime,
          ).whole,
      );
    }
    case 'battery run': {
      const args = expr.args.map((a) => vector(k, a)[0] as Operand);
      const readings = expr.readings
        ? {
            charge: vector(k, expr.readings.charge)[0] as Operand,
            moment: vector(k, expr.readings.moment)[0] as Operand,
            axis: expr.readings.axis.id,
          }
        : undefined;
      return stepped(e, expr, (out) => batteryStepOf(args, readings, out, expr.axis.id).whole);
    }
    case 'during': {
      vector(k, expr.at);
      const span = vector(k, expr.span);
      return stepped(e, expr, (out) =>
        duringStep(
          expr.axis.id,
          span[0] as Operand,
          span[1] as Operand,
          expr.daily,
          out[0] as Operand,
        ),
      );
    }
    case 'load profile': {
      vector(k, expr.at);
      const [power] = vector(k, expr.power);
      const hours = vector(k, expr.hours);
      return stepped(e, expr, (out) =>
        loadProfileStep(
          expr.axis.id,
          power as Operand,
          hours[0] as Operand,
          hours[1] as Operand,
          out[0] as Operand,
        ),
      );
    }
    case 'sky window': {
      const [azimuth, height, through] = [expr.azimuth, expr.height, expr.through].map(
        (p) => vector(k, p)[0] as Operand,
      );
      return stepped(e, expr, (out) =>
        windowStep(
          expr.rows.id,
          azimuth as Operand,
          height as Operand,
          through as Operand,
          out[0] as Operand,
        ),
      );
    }
    case 'open sky':
      return stepped(e, expr, (out) => windowStep(-1, 0, 0, 0, out[0] as Operand));
    case 'drawn sky': {
      vector(k, expr.at);
      const args = expr.args.map((a) => vector(k, a)[0] as Operand);
      return stepped(e, expr, (out) =>
        drawnSkyStep(expr.axis.id, args, out[0] as Operand, e.seed, k.sites.drawName(expr.node)),
      );
    }
    case 'blank':
      return stepped(e, expr, (out) => ({
        run(m: Memory): void {
          for (const o of out) if (o >= 0) m.scalars[o] = Number.NaN;
        },
      }));
  }
}

function isNumbers(entry: readonly number[] | Expr): entry is readonly number[] {
  return Array.isArray(entry);
}

function ids(type: Type): readonly number[] {
  return type.axes.map((axis) => axis.id);
}

function emitSelect(
  e: Emitter,
  dst: Operand,
  condition: Operand,
  a: Operand,
  b: Operand,
  shape: number,
): void {
  if (dst >= 0) {
    e.emit('select', dst, condition, a, b);
    return;
  }
  // A row's shape stands in a word of its own: selection already has three operands.
  e.code.push(...instruction(dst, condition, a, b), ...instruction(0, 0, 0, shape));
}

function instruction(dst: number, a: number, b: number, c: number): number[] {
  return [opNumber.select, dst, a, b, c];
}

function stepped(
  e: Emitter,
  expr: Expr,
  make: (out: readonly Operand[]) => Step,
): readonly Operand[] {
  const { type } = expr;
  const out = e.reserve(type);
  e.step(make(out), costOf(expr));
  return out;
}

/** Where the coordinates of a table's rows stand; timelines and steps keep theirs with the axis. */
function placesOf(k: Compiling, axis: Axis): Operand | undefined {
  if (axis.kind !== 'rows') return undefined;
  return k.e.placesOf(axis.node)[0];
}

// ── circles ─────────────────────────────────────────────────────────────────────────────────────

/** Nodes of the circle that an expression names. */
export function namesMember(expr: Expr, members: ReadonlySet<number>): boolean {
  let found = false;
  visitExpr(expr, (x) => {
    if (x.op === 'ref' && members.has(x.node)) found = true;
  });
  return found;
}

/** One place of an expression in a circle, in scalar slots. */
export function scalar(k: Compiling, expr: Expr, frame: LoopFrame): readonly Operand[] {
  const { e } = k;
  if (!namesMember(expr, frame.members)) return outside(k, expr, frame);
  const one = (x: Expr): Operand => scalar(k, x, frame)[0] as Operand;
  switch (expr.op) {
    case 'ref': {
      const now = frame.now.get(expr.node);
      if (!now) throw new RangeError('a member of a circle is read before it is made');
      return now;
    }
    case 'slice':
      return e
        .once(expr.of, () => scalar(k, expr.of, frame))
        .slice(expr.from, expr.from + componentCount(expr.type));
    case 'pack':
      return expr.parts.flatMap((part) => scalar(k, part, frame));
    case 'unary': {
      const dst = e.newScalar();
      const a = one(expr.a);
      e.emit(expr.fn, dst, a, a, 0);
      return [dst];
    }
    case 'binary': {
      const [a, b] = [one(expr.a), one(expr.b)];
      const dst = e.newScalar();
      e.emit(expr.fn as BinaryOp, dst, a, b, 0);
      return [dst];
    }
    case 'select': {
      const condition = one(expr.condition);
      const [a, b] = [scalar(k, expr.a, frame), scalar(k, expr.b, frame)];
      return a.map((_, i) => {
        const dst = e.newScalar();
        e.emit('select', dst, condition, a[i] as Operand, b[i] as Operand);
        return dst;
      });
    }
    case 'map': {
      const args = expr.args.map(one);
      const dst = e.newScalar();
      e.step(mapStep(expr.fn as MapOp, args, dst, []), costOf(expr));
      return [dst];
    }
    case 'call': {
      const args = expr.args.map(one);
      const windows = expr.windows.map((w) => vectorBefore(k, w, frame)[0] as Operand);
      const out = Array.from({ length: componentCount(expr.type) }, () => e.newScalar());
      e.step(callStep(expr.fn, args, windows, out, [], expr.ranges, e.context), costOf(expr));
      return out;
    }
    case 'lookup': {
      const of = vectorBefore(k, expr.of, frame);
      const key = one(expr.key);
      const out = of.map(() => e.newScalar());
      e.step(
        lookupStep(expr, of, key, out, [], placesOf(k, expr.axis), e.context.context.textOf),
        costOf(expr),
      );
      return out;
    }
    case 'previous': {
      const first = outside(k, expr.first, frame);
      const rows = rowsOf(k, expr.back.of, frame);
      const out = first.map(() => e.newScalar());
      out.forEach((dst, j) => {
        e.emit('before', dst, rows[j] as Operand, first[j] as Operand, 0);
      });
      return out;
    }
    case 'battery run': {
      const args = expr.args.map(one);
      const readings = expr.readings
        ? {
            charge: vectorBefore(k, expr.readings.charge, frame)[0] as Operand,
            moment: vectorBefore(k, expr.readings.moment, frame)[0] as Operand,
            axis: expr.readings.axis.id,
          }
        : undefined;
      const out = Array.from({ length: 5 }, () => e.newScalar());
      e.step(batteryStepOf(args, readings, out, expr.axis.id).place, costOf(expr));
      return out;
    }
    case 'running total': {
      const [change, start] = [one(expr.change), one(expr.start)];
      const least = expr.least ? one(expr.least) : undefined;
      const most = expr.most ? one(expr.most) : undefined;
      const out = e.newScalar();
      e.step(
        runningTotalStep(change, start, least, most, out, expr.axis.id, expr.perTime).place,
        costOf(expr),
      );
      return [out];
    }
    default:
      throw new Rejected({
        code: 'circle-steps',
        span: { start: 0, end: 1 },
        text: `This circle cannot be computed step by step: ${expr.op} works on a whole series. Only arithmetic, if, previous, running total and battery run can stand in a circle.`,
      });
  }
}

/** A part that does not turn in the circle: worked once before it, read here at the present place. */
function outside(k: Compiling, expr: Expr, frame: LoopFrame): readonly Operand[] {
  if (expr.op === 'const') return vector(k, expr);
  const operands = vectorBefore(k, expr, frame);
  return operands.map((operand) => {
    if (operand >= 0) return operand;
    const dst = k.e.newScalar();
    k.e.emit('here', dst, operand, 0, 0);
    return dst;
  });
}

function vectorBefore(k: Compiling, expr: Expr, frame: LoopFrame): readonly Operand[] {
  if (namesMember(expr, frame.members))
    throw new Rejected({
      code: 'circle-steps',
      span: { start: 0, end: 1 },
      text: 'This circle cannot be computed step by step: a whole series of it is needed at once.',
    });
  let operands: readonly Operand[] = [];
  const instructions = k.e.aside(() => {
    operands = vector(k, expr);
  });
  frame.before.push(...instructions);
  return operands;
}

/** Rows in which a member's past places stand. */
function rowsOf(k: Compiling, expr: Expr, frame: LoopFrame): readonly Operand[] {
  if (expr.op === 'ref') return k.e.placesOf(expr.node);
  if (expr.op === 'slice')
    return rowsOf(k, expr.of, frame).slice(expr.from, expr.from + componentCount(expr.type));
  throw new Rejected({
    code: 'circle-steps',
    span: { start: 0, end: 1 },
    text: 'Inside a circle previous(…) looks back at a cell by its name. Give what it looks back at a cell of its own.',
  });
}
