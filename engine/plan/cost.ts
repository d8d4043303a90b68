// What work costs, told before it is done: a run of part of the notebook is bounded by counting, so
// that the same notebook has the same answer on every machine. Rough figures of one machine do, for
// they only have to tell a sunrise from a sum.

import type { Expr } from '../check/typed.ts';
import { FIRST_JOIN } from './joins.ts';
import { lengthOf } from './kernels.ts';
import type { Memory } from './memory.ts';
import {
  type CodeRange,
  opNumber,
  type Program,
  type StepCost,
  type Unit,
  WIDTH,
} from './program.ts';

/** Of a pass of a unit, which is the measure of all: it stands for so many nanoseconds. */
const NANOSECONDS_A_PASS = 2500;
/** Of an operation of arithmetic at one place of a series, and of one in a circle, worked place by place. */
const IN_A_ROW = 2;
const IN_A_CIRCLE = 8;
/** Of a function that says nothing of itself. */
const FUNCTION = 50;

const STEPS: Partial<Readonly<Record<Expr['op'], number>>> = {
  map: 15,
  reduce: 4,
  daily: 15,
  lookup: 20,
  timeline: 3,
  steps: 3,
  column: 5,
  previous: 3,
  'running total': 5,
  'battery run': 50,
  during: 20,
  'load profile': 30,
  'drawn sky': 10,
};

/** What an expression's own step takes; nothing for what runs the notebook again, which counts its own passes. */
export function costOf(expr: Expr): StepCost | undefined {
  const nanoseconds = expr.op === 'call' ? (expr.fn.cost ?? FUNCTION) : STEPS[expr.op];
  if (nanoseconds === undefined) return undefined;
  const { type } = expr.op === 'reduce' || expr.op === 'daily' ? expr.a : expr;
  return { axes: type.axes.map((axis) => axis.id), nanoseconds };
}

/** Work of some instructions, added up by the axes along which it is done. */
export type Cost = readonly StepCost[];

function add(to: Map<string, StepCost>, axes: readonly number[], nanoseconds: number): void {
  const key = axes.join();
  to.set(key, { axes, nanoseconds: (to.get(key)?.nanoseconds ?? 0) + nanoseconds });
}

function addRange(
  program: Program,
  { from, to }: CodeRange,
  along: readonly number[],
  found: Map<string, StepCost>,
): void {
  const { code, shapes, stepCosts } = program;
  for (let pc = from; pc < to; pc += WIDTH) {
    const op = code[pc] as number;
    if (op === opNumber.step) {
      const cost = stepCosts[code[pc + 2] as number];
      // In a circle a step works one place at a time, whatever its expression runs along.
      if (cost) add(found, along.length > 0 ? along : cost.axes, cost.nanoseconds);
      continue;
    }
    const isRow = (code[pc + 1] as number) < 0;
    // A join, and a selection of series, take two instructions' room.
    if (op >= FIRST_JOIN || (op === opNumber.select && isRow)) pc += WIDTH;
    if (isRow) add(found, shapes[code[pc + 4] as number] as readonly number[], IN_A_ROW);
    else if (along.length > 0) add(found, along, IN_A_CIRCLE);
  }
}

/** What working these instructions takes. */
export function costOfCode(program: Program, range: CodeRange): Cost {
  const found = new Map<string, StepCost>();
  addRange(program, range, [], found);
  return [...found.values()];
}

export function costOfUnit(program: Program, unit: Unit): Cost {
  const found = new Map<string, StepCost>();
  if (unit.loop) {
    addRange(program, unit.loop.before, [], found);
    for (const { code } of unit.loop.members) addRange(program, code, [unit.loop.axis.id], found);
  } else addRange(program, unit.code, [], found);
  return [...found.values()];
}

/** The same in passes, with the axes as long as they are in this memory. */
export function passesOf(cost: Cost, m: Memory): number {
  let nanoseconds = 0;
  for (let k = 0; k < cost.length; k++) {
    const { axes, nanoseconds: each } = cost[k] as StepCost;
    nanoseconds += each * lengthOf(m, axes);
  }
  return nanoseconds / NANOSECONDS_A_PASS;
}
