// Single numbers worked together: every operation and every pair of operations, alone, in twos and
// threes and feeding each other, against the same arithmetic written in the test, to the last bit.

import { expect, test } from 'vitest';
import { checkNotebook } from '../../../engine/check/check.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { Evaluation } from '../../../engine/run/evaluation.ts';
import { notebook } from '../run/evaluated.ts';

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
