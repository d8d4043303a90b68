// A circle of cells stepped along its axis, made ready for runs in which no member is replaced: what
// a place reads of series is read together before its instructions, and members' numbers go straight
// into their rows. The values are those of the instructions as written, to the bit.

import { execute } from './kernels.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, opNumber, type Program, type Unit, WIDTH } from './program.ts';

type Loop = NonNullable<Unit['loop']>;

/** Numbers that go between series and single places, one after the other. */
interface Moves {
  readonly places: Int32Array;
  readonly rows: Int32Array;
}

export interface Circle {
  /** Numbers of series at the present place. */
  readonly here: Moves;
  /** Numbers of series at the place before. */
  readonly before: Moves;
  /** What stands for them at the first place. */
  readonly first: Int32Array;
  readonly code: Int32Array;
  readonly range: CodeRange;
  /** Where the members' numbers stand after a place, and the rows they belong in. */
  readonly results: Moves;
}

function movesOf(list: readonly { readonly place: Operand; readonly row: Operand }[]): Moves {
  return {
    places: Int32Array.from(list, ({ place }) => place),
    rows: Int32Array.from(list, ({ row }) => row),
  };
}

export function circleOf(program: Program, loop: Loop): Circle {
  const here: { place: Operand; row: Operand }[] = [];
  const before: { place: Operand; row: Operand; first: Operand }[] = [];
  const kept: number[][] = [];
  const maker = new Map<Operand, number[]>();
  /** Places whose number stands elsewhere. */
  const moved = new Map<Operand, Operand>();
  const at = (place: Operand): Operand => moved.get(place) ?? place;
  const members = new Set(loop.members.flatMap((member) => member.now));
  const instructions = loop.members.flatMap(({ code }) => {
    const list: number[][] = [];
    for (let pc = code.from; pc < code.to; pc += WIDTH)
      list.push([...program.code.subarray(pc, pc + WIDTH)]);
    return list;
  });
  const lastStep = instructions.findLastIndex(([op]) => op === opNumber.step);
  instructions.forEach((one, i) => {
    const [op, to, a, b, c] = one as [number, number, number, number, number];
    if (op === opNumber.here) here.push({ place: to, row: a });
    else if (op === opNumber.before) before.push({ place: to, row: a, first: b });
    else if (op === opNumber.step) kept.push(one);
    else if (op === opNumber.copy && members.has(to)) {
      const made = maker.get(at(a));
      // No step reads it any more: steps name their places themselves.
      if (i > lastStep) moved.set(to, at(a));
      else if (made && !members.has(at(a))) {
        moved.set(made[1] as number, to);
        made[1] = to;
        maker.set(to, made);
      } else kept.push([op, to, at(a), at(a), 0]);
    } else {
      const made = [op, to, at(a), at(b), op === opNumber.select ? at(c) : c];
      maker.set(to, made);
      kept.push(made);
    }
  });
  const code = Int32Array.from(kept.flat());
  return {
    here: movesOf(here),
    before: movesOf(before),
    first: Int32Array.from(before, (one) => one.first),
    code,
    range: { from: 0, to: code.length },
    results: movesOf(
      loop.members.flatMap(({ now, rows }) =>
        rows.map((row, j) => ({ place: at(now[j] as Operand), row })),
      ),
    ),
  };
}

function rowsOf({ rows }: Moves, m: Memory): readonly Float64Array[] {
  return Array.from(rows, (row) => m.rows[~row] as Float64Array);
}

/** Works all places; the members' rows are this memory's own. */
export function runCircle(circle: Circle, length: number, m: Memory, program: Program): void {
  const { here, before, results } = circle;
  workPlaces(circle, length, m, program, {
    now: rowsOf(here, m),
    past: rowsOf(before, m),
    out: rowsOf(results, m),
  });
}

interface Series {
  readonly now: readonly Float64Array[];
  readonly past: readonly Float64Array[];
  readonly out: readonly Float64Array[];
}

/**
 * Nothing but the loop: lists made in the same function had it compiled anew at every edit, 25 ms of
 * another thread each, and worked uncompiled meanwhile.
 */
function workPlaces(
  circle: Circle,
  length: number,
  m: Memory,
  program: Program,
  { now, past, out }: Series,
): void {
  const { code, range, first } = circle;
  const nowTo = circle.here.places;
  const pastTo = circle.before.places;
  const from = circle.results.places;
  const { steps, shapes } = program;
  const s = m.scalars;
  for (let i = 0; i < length; i++) {
    m.index = i;
    for (let j = 0; j < now.length; j++)
      s[nowTo[j] as number] = (now[j] as Float64Array)[i] as number;
    if (i === 0)
      for (let j = 0; j < first.length; j++)
        s[pastTo[j] as number] = s[first[j] as number] as number;
    else
      for (let j = 0; j < past.length; j++)
        s[pastTo[j] as number] = (past[j] as Float64Array)[i - 1] as number;
    execute(code, range, m, steps, shapes);
    for (let j = 0; j < out.length; j++)
      (out[j] as Float64Array)[i] = s[from[j] as number] as number;
  }
  m.index = 0;
}
