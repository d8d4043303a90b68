// Single numbers worked together: every operation and every pair of operations, alone, in twos and
// threes and feeding each other, against the same arithmetic written in the test, to the last bit.

import { expect, test } from 'vitest';
import { checkNotebook } from '../../../engine/check/check.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { executeRuns, packed, widthOf } from '../../../engine/plan/batch-kernels.ts';
import { MUL_MUL_ADD, PAIRS } from '../../../engine/plan/pairs.ts';
import { opNumber } from '../../../engine/plan/program.ts';
import { Evaluation } from '../../../engine/run/evaluation.ts';
import { notebook } from '../run/evaluated.ts';

/** Sums and products are the same either way round: these pairs are never made. */
const SAME_PAIRS: ReadonlySet<number> = new Set(
  Array.from({ length: 4 }, (_, first) =>
    [0, 2].map((second) => PAIRS + (second * 4 + first) * 2 + 1),
  ).flat(),
);

type Sign = '+' | '-' | '×' | '/';
const SIGNS: readonly Sign[] = ['+', '-', '×', '/'];
const WORK: Readonly<Record<Sign, (x: number, y: number) => number>> = {
  '+': (x, y) => x + y,
  '-': (x, y) => x - y,
  '×': (x, y) => x * y,
  '/': (x, y) => x / y,
};

interface Cells {
  value(name: string): number;
  fails(name: string): boolean;
  put(name: string, value: number): void;
}

function cells(body: string): Cells {
  const evaluation = new Evaluation(checkNotebook(readNotebook(notebook(body))));
  evaluation.run(true);
  const { program, plan } = evaluation;
  const idOf = (name: string): number => {
    const node = program.nodes.find((one) => one.kind === 'cell' && one.name === name);
    if (!node) throw new RangeError(`no cell ${name}`);
    return node.id;
  };
  return {
    value: (name) => plan.at(program.operands[idOf(name)]?.[0] ?? 0, 0),
    fails: (name) => plan.faults[idOf(name)] !== undefined,
    put: (name, value) => evaluation.put(idOf(name), value),
  };
}

const [B, C, D] = [0.7, 1.3, 0.19];
const GIVENS = `b = ${B}\nc = ${C}\nd = ${D}`;

/** Cells that each draw on the one before, and cells beside them that draw on the given alone. */
function agrees(written: (a: string) => string, worked: (a: number) => number): void {
  for (const count of [1, 2, 3, 4]) {
    const chain = Array.from({ length: count }, (_, i) => `link${i + 1} = ${written(`link${i}`)}`);
    const beside = Array.from({ length: count }, (_, i) => `side${i} = ${written('link0')}`);
    const made = cells([GIVENS, 'link0 = 1.1', ...chain, ...beside].join('\n'));
    for (const start of [1.1, 2.3]) {
      if (start !== 1.1) made.put('link0', start);
      let x = start;
      for (let i = 1; i <= count; i++) {
        x = worked(x);
        expect(made.value(`link${i}`), `${written('a')}, link ${i}`).toBe(x);
        expect(made.value(`side${i - 1}`), written('a')).toBe(worked(start));
      }
    }
  }
}

test('the four operations', () => {
  for (const sign of SIGNS)
    agrees(
      (a) => `${a} ${sign} b`,
      (a) => WORK[sign](a, B),
    );
});

test('two operations, the first on the left of the second or on its right', () => {
  for (const first of SIGNS)
    for (const second of SIGNS) {
      agrees(
        (a) => `(${a} ${first} b) ${second} c`,
        (a) => WORK[second](WORK[first](a, B), C),
      );
      agrees(
        (a) => `c ${second} (${a} ${first} b)`,
        (a) => WORK[second](C, WORK[first](a, B)),
      );
    }
});

test('a sum of two products', () => {
  agrees(
    (a) => `${a} × b + c × d`,
    (a) => a * B + C * D,
  );
});

test('a product or quotient with a sum or difference, times another number', () => {
  for (const inner of ['×', '/'] as const)
    for (const outer of ['+', '-'] as const) {
      agrees(
        (a) => `(${a} ${inner} b ${outer} c) × d`,
        (a) => WORK[outer](WORK[inner](a, B), C) * D,
      );
      agrees(
        (a) => `d × (c ${outer} ${a} ${inner} b)`,
        (a) => D * WORK[outer](C, WORK[inner](a, B)),
      );
    }
});

test('places that do not fit two in a number give the same bits', () => {
  const random = ((state) => () => {
    // Park and Miller 1988.
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  })(11);
  const operations = [
    ...(['add', 'sub', 'mul', 'div', 'min', 'max', 'lt', 'select', 'neg'] as const).map(
      (op) => opNumber[op],
    ),
    ...Array.from({ length: 32 }, (_, pair) => PAIRS + pair),
    MUL_MUL_ADD,
    ...Array.from({ length: 6 }, (_, k) => MUL_MUL_ADD + 1 + k),
  ].filter((op) => !SAME_PAIRS.has(op));
  for (let round = 0; round < 20; round++) {
    const runs: number[] = [];
    const places: number[] = [];
    for (const op of operations) {
      const count = 1 + Math.floor(8 * random());
      for (let k = 0; k < count * widthOf(op); k++) places.push(Math.floor(60 * random()));
      runs.push(op, places.length);
    }
    const start = Float64Array.from({ length: 60 }, () => 4 * random() - 2);
    const [narrow, wide] = [start.slice(), start.slice()];
    const fine = executeRuns(packed(runs, places), narrow);
    expect(executeRuns(packed(runs, places, true), wide)).toBe(fine);
    expect(narrow).toEqual(wide);
    expect(narrow).not.toEqual(start);
  }
  expect(packed([opNumber.add, 3], [70_000, 1, 2]).wide).toBe(true);
  expect(packed([opNumber.add, 3], [65_535, 1, 2]).wide).toBe(false);
});

test('choices, and operations that stand alone', () => {
  agrees(
    (a) => `if ${a} > 1.2 then ${a} - b else ${a} + c`,
    (a) => (a > 1.2 ? a - B : a + C),
  );
  agrees(
    (a) => `min(${a}, b)`,
    (a) => Math.min(a, B),
  );
  agrees(
    (a) => `max(${a}, c)`,
    (a) => Math.max(a, C),
  );
});

test('a branch that is not taken may divide by zero; a cell may not', () => {
  const made = cells(
    'n = 2\nshare = if n > 0 then 6 / n else 5\nafter = share + 1\nwhole = 6 / (n + 1)',
  );
  expect([made.value('share'), made.value('after'), made.value('whole')]).toEqual([3, 4, 2]);
  made.put('n', 0);
  expect(made.fails('share')).toBe(false);
  expect([made.value('share'), made.value('after'), made.value('whole')]).toEqual([5, 6, 6]);
  made.put('n', -1);
  expect(made.fails('whole')).toBe(true);
  expect([made.fails('share'), made.value('after')]).toEqual([false, 6]);
  made.put('n', 3);
  expect(made.fails('whole')).toBe(false);
  expect([made.value('share'), made.value('after'), made.value('whole')]).toEqual([2, 3, 1.5]);
});
