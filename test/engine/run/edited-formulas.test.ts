// Edits of every kind, one after another: the session they were made in must be, to the bit, one
// opened on the text they lead to. A formula of the same kind of value is put in where it stands and
// nothing else is checked or compiled, so the truth is a session that knows nothing of before.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Command, openSession, type Session } from '../../../engine/index.ts';

const RUNS = Number(process.env.EDIT_RUNS ?? 150);
const SEED = process.env.EDIT_SEED === undefined ? {} : { seed: Number(process.env.EDIT_SEED) };

const plain = `dapple 1
title: Plain
seed: 3
trials: 5
place: 52 °N, 13 °E, 60 m, UTC+1

a = 10 W
b = 3 W [0 W..9 W]
hours = 4 h
c = a + b
d = c × 2 -- twice
e = if d > a then c else b
f = d × hours
clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)
light = e × (if clock within 06:00..18:00 then 1 else 0)
sum of it = mean(light) + c
loads = table
  thing | power | hours | energy = power × hours
  box | 40 W | 8 h |
  lamp | 5 W | 4 h |
use = sum(loads.energy)
scaled = loads.power × (d / a)
question = c > b and e > 0 W
left = f - use
check left ≥ 0 Wh
check light ≤ 40 W

scenario Thin
  a = 6 W
scenario Own
  c = b × 3
  loads.hours("lamp") = 6 h
`;

/** The same with runs of the notebook within it and a circle. */
const deep = plain.replace(
  'check left',
  `start = 50 Wh
charge = previous(charge, first: start) + light × clock.step
end of it = last(charge)
again = c with a = 20 W
needed = solve(a, so that: c ≥ 5 W, over: 0 W..400 W)
unsure = 40..50..60 %
lucky = chance(a × unsure > b)
check left`,
);

const powers = ['a', 'b', 'c', 'd', 'e'] as const;
const others = ['f', 'light', 'sum of it', 'use', 'scaled', 'question', 'left', 'hours'] as const;
const number = fc.constantFrom('0', '1', '2', '-3', '0.5', '1e308', '2.5');

/** A formula of these powers that is a power again, a single number. */
function single(names: readonly string[]): fc.Arbitrary<string> {
  const power = fc.constantFrom(...names, '7 W');
  return fc.oneof(
    number.map((n) => `${n} W`),
    fc.tuple(power, power).map(([x, y]) => `${x} + ${y}`),
    fc.tuple(power, number).map(([x, n]) => `${x} × ${n}`),
    fc.tuple(power, power, number).map(([x, y, n]) => `${x} - ${y} × ${n} + 1 W`),
    fc.tuple(power, power, power).map(([x, y, z]) => `if ${x} > ${y} then ${z} else ${x}`),
    fc.tuple(power, power).map(([x, y]) => `${x} × (${y} / ${x})`),
    fc.tuple(power, power).map(([x, y]) => `max(${x}, ${y})`),
  );
}

/** Formulas of other kinds, some of them wrong. */
const any: fc.Arbitrary<string> = fc.oneof(
  single(powers),
  fc.constantFrom(
    'mean(light)',
    'c × during(clock, 06:00..18:00)',
    'c × hours',
    'c > d',
    'sum(loads.power)',
    'loads.power("box")',
    'loads.power × 2',
    'highest(light)',
    'a + missing',
    '? W',
    '40..50..60 W',
    'a +',
    '"text"',
    'a with b = 5 W',
    'use / 2 h',
    '3 h',
    'use × 2',
    'sum(loads.energy) - 5 Wh',
    '12 kW',
    'a as kW',
  ),
);

/** What keeps the kind of value of its cell. */
const kept: fc.Arbitrary<{ readonly cell: string; readonly text: string }> = fc.oneof(
  ...powers.map((cell, at) =>
    single(at === 0 ? ['2 W', '9 W'] : powers.slice(0, at)).map((text) => ({ cell, text })),
  ),
  fc.constantFrom(
    { cell: 'f', text: 'd × hours × 2' },
    { cell: 'f', text: 'c × hours' },
    { cell: 'light', text: 'c × during(clock, 06:00..18:00)' },
    { cell: 'light', text: 'd × (if clock within 00:00..18:00 then 1 else 0)' },
    { cell: 'light', text: 'd / b × (if clock within 00:00..18:00 then a else 0 W)' },
    { cell: 'sum of it', text: 'mean(light)' },
    { cell: 'sum of it', text: 'highest(light) + a' },
    { cell: 'use', text: 'sum(loads.energy) + f' },
    { cell: 'use', text: 'highest(loads.energy)' },
    { cell: 'scaled', text: 'loads.power × 2' },
    { cell: 'scaled', text: 'loads.power × (d / b) + c' },
    { cell: 'question', text: 'a > e or c > 3 W' },
    { cell: 'left', text: 'use - f' },
    { cell: 'left', text: 'f - 2 Wh' },
  ),
);

type Step = Command | { readonly do: 'undo' };

const cell = fc.constantFrom<string>(...powers, ...powers, ...powers, ...others, 'again', 'charge');
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 14,
    arbitrary: kept.map((one) => ({ do: 'formula' as const, ...one })),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(cell, any)
      .map(([name, text]) => ({ do: 'formula' as const, cell: name, text })),
  },
  { weight: 4, arbitrary: fc.constant({ do: 'undo' as const }) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(cell, fc.constantFrom('renamed', 'other'))
      .map(([name, to]) => ({ do: 'rename' as const, cell: name, name: to })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.nat(20), any)
      .map(([item, text]) => ({ do: 'insert' as const, item, text: `put in = ${text}` })),
  },
  { weight: 1, arbitrary: fc.nat(20).map((item) => ({ do: 'remove' as const, item })) },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.nat(20), fc.nat(20))
      .map(([item, to]) => ({ do: 'move' as const, item, to })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.constantFrom('Thin', 'Own'), fc.constantFrom<string>(...powers), any)
      .map(([scenario, target, text]) => ({ do: 'override' as const, scenario, target, text })),
  },
  {
    weight: 1,
    arbitrary: fc
      .tuple(fc.nat(1), fc.constantFrom('9 W', '1 W', '= a', ''))
      .map(([row, text]) => ({ do: 'entry' as const, table: 'loads', row, column: 1, text })),
  },
);

/** Every value and fault of every node in every column. */
function held(session: Session): readonly unknown[] {
  const { program, columns, compiled } = session.evaluation;
  return columns.flatMap(({ memory }) =>
    program.nodes.map(({ id, key, type }) => ({
      key,
      fault: memory.faults[id],
      values: (program.operands[id] ?? []).map((place) => {
        // A node with a fault has no value; what stands in its place means nothing.
        if (memory.faults[id] !== undefined) return [];
        const values = place >= 0 ? [memory.scalars[place] as number] : [...memory.array(place)];
        return type?.kind === 'text' ? values.map(compiled.textOf) : values;
      }),
    })),
  );
}

function finish(session: Session): Session {
  while (session.continue(1e9, () => 0));
  return session;
}

interface Course {
  readonly session: Session;
  /** How many edits left the evaluation as it is. */
  readonly quick: number;
  readonly all: number;
}

function course(text: string, steps: readonly Step[]): Course {
  const session = openSession(text);
  const texts: string[] = [];
  let [quick, all] = [0, 0];
  for (const one of steps) {
    const { text: before, evaluation } = session;
    // Rows that may be kept are those of a snapshot that was made.
    session.snapshot();
    if (one.do === 'undo') {
      const last = texts.pop();
      if (last !== undefined) session.do({ do: 'text', text: last });
    } else if (session.do(one)) texts.push(before);
    if (session.text === before) continue;
    all++;
    if (session.evaluation === evaluation) quick++;
  }
  return { session, quick, all };
}

function compare(text: string, steps: readonly Step[]): Course {
  const made = course(text, steps);
  const { session } = made;
  const fresh = openSession(session.text);
  expect(session.snapshot().pending > 0).toBe(fresh.snapshot().pending > 0);
  expect(finish(session).snapshot()).toEqual(finish(fresh).snapshot());
  expect(held(session)).toEqual(held(fresh));
  return made;
}

test('the samples read without a message', () => {
  for (const text of [plain, deep]) expect(openSession(text).snapshot().messages).toEqual([]);
});

test.each([
  ['cells, a series, a table, scenarios', plain],
  ['with runs of the notebook within it and a circle', deep],
])('edits one after another equal a notebook opened afresh: %s', (_, text) => {
  let [quick, all] = [0, 0];
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 8 }), (steps) => {
      const made = compare(text, steps);
      quick += made.quick;
      all += made.all;
    }),
    { numRuns: RUNS, ...SEED },
  );
  // The quick way is there to be taken: else this would compare full evaluations.
  expect(quick).toBeGreaterThan(all / 10);
});

test('put-off values pass between a session that was edited and one opened on its text', () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 5 }), (steps) => {
      const truth = finish(course(deep, steps).session).snapshot();
      const edited = course(deep, steps).session;
      const fresh = openSession(edited.text);
      edited.adopt(finish(openSession(edited.text)).slowResults());
      fresh.adopt(finish(course(deep, steps).session).slowResults());
      expect(edited.snapshot()).toEqual(truth);
      expect(fresh.snapshot()).toEqual(truth);
    }),
    { numRuns: Math.ceil(RUNS / 5), ...SEED },
  );
});

test('rows that another formula does not reach are the same objects', () => {
  const session = openSession(plain);
  const before = session.snapshot().rows;
  session.do({ do: 'formula', cell: 'question', text: 'c > b or e > 3 W' });
  const after = session.snapshot().rows;
  const other = after.filter((row, i) => row !== before[i] && row.kind === 'cell');
  expect(other.map((row) => (row.kind === 'cell' ? row.name : ''))).toEqual(['question']);
});

test('a what-if that ends a circle follows a cell that the circle draws on', () => {
  compare(deep, [
    { do: 'formula', cell: 'a', text: 'if a > a then c else a' },
    { do: 'formula', cell: 'b', text: 'if 7 W > 7 W then 7 W else 7 W' },
  ]);
});

// A row is kept while it waits for the same cell. A scenario's own value that waited for another one
// stood between, and that other one could change behind it.
test.each([
  [
    'a scenario puts in what waits for a power beyond every number',
    [
      { do: 'override', scenario: 'Thin', target: 'a', text: 'e × 0' },
      { do: 'formula', cell: 'e', text: 'a - a × 1e308 + 1 W' },
      { do: 'formula', cell: 'e', text: '7 W × 1e308' },
      { do: 'formula', cell: 'c', text: 'a × 0' },
    ],
  ],
  [
    'a scenario puts in a mean of what waits',
    [
      { do: 'override', scenario: 'Own', target: 'a', text: 'mean(light)' },
      { do: 'formula', cell: 'a', text: '1e308 W' },
      { do: 'formula', cell: 'd', text: '7 W - c × 1e308 + 1 W' },
    ],
  ],
] as readonly (readonly [string, readonly Command[]])[])(
  'what it waits for is told anew: %s',
  (_, steps) => void compare(plain, steps),
);

test('an amount for every row is put in as many, after something else had none', () => {
  compare(deep, [
    { do: 'override', scenario: 'Own', target: 'loads.power', text: 'a × (a / a)' },
    { do: 'formula', cell: 'b', text: '1e308 W' },
    { do: 'formula', cell: 'b', text: '3 W' },
  ]);
});
