// A circle of cells stepped along its axis, made ready for runs in which no member is replaced: what
// a place reads of series is read together before its instructions, and members' numbers go straight
// into their rows. The values are those of the instructions as written, to the bit.

import { execute } from './kernels.ts';
import type { Memory, Operand } from './memory.ts';
import { type CodeRange, opNumber, type Program, type Unit, WIDTH } from './program.ts';

type Loop = NonNullable<Unit['loop']>;

interface Read {
  readonly to: Operand;
  readonly row: Operand;
}

export interface Circle {
  /** Numbers of series at the present place. */
  readonly here: readonly Read[];
  /** Numbers of series at the place before; at the first place another number stands for them. */
  readonly before: readonly (Read & { readonly first: Operand })[];
  readonly code: Int32Array;
  readonly range: CodeRange;
  /** Where the members' numbers stand after a place, and the rows they belong in. */
  readonly results: readonly { readonly from: Operand; readonly row: Operand }[];
}

export function circleOf(program: Program, loop: Loop): Circle {
  const here: Read[] = [];
  const before: (Read & { first: Operand })[] = [];
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
    if (op === opNumber.here) here.push({ to, row: a });
    else if (op === opNumber.before) before.push({ to, row: a, first: b });
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
    here,
    before,
    code,
    range: { from: 0, to: code.length },
    results: loop.members.flatMap(({ now, rows }) =>
      rows.map((row, j) => ({ from: at(now[j] as Operand), row })),
    ),
  };
}

/** Works all places; the members' rows are this memory's own. */
export function runCircle(circle: Circle, length: number, m: Memory, program: Program): void {
  const { here, before, code, range, results } = circle;
  const { steps, shapes } = program;
  const s = m.scalars;
  const rowOf = ({ row }: { readonly row: Operand }): Float64Array => m.rows[~row] as Float64Array;
  const now = here.map(rowOf);
  const past = before.map(rowOf);
  const out = results.map(rowOf);
  const nowTo = Int32Array.from(here, ({ to }) => to);
  const pastTo = Int32Array.from(before, ({ to }) => to);
  const from = Int32Array.from(results, (result) => result.from);
  for (let i = 0; i < length; i++) {
    m.index = i;
    for (let j = 0; j < now.length; j++)
      s[nowTo[j] as number] = (now[j] as Float64Array)[i] as number;
    if (i === 0) for (const { to, first } of before) s[to] = s[first] as number;
    else
      for (let j = 0; j < past.length; j++)
        s[pastTo[j] as number] = (past[j] as Float64Array)[i - 1] as number;
    execute(code, range, m, steps, shapes);
    for (let j = 0; j < out.length; j++)
      (out[j] as Float64Array)[i] = s[from[j] as number] as number;
  }
  m.index = 0;
}
