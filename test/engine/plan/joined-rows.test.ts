// Operations on series that are worked in one pass, against the same arithmetic written in the test,
// to the last bit and with the sign of zeros; each formula must have been joined as it says.

import { expect, test } from 'vitest';
import { checkNotebook } from '../../../engine/check/check.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { JOINS, type Join, joinNumber } from '../../../engine/plan/joins.ts';
import { WIDTH } from '../../../engine/plan/program.ts';
import { Evaluation } from '../../../engine/run/evaluation.ts';
import { notebook } from '../run/evaluated.ts';

/** Seven places, so that some are left over after fours; two of them zero in `x`. */
const GIVENS = `begin = 2027-06-11 00:00
clock = timeline(from: begin, until: begin + 7 h, by: 1 h)
hours = (clock - begin) / 1 h
x = hours × (hours - 2.5) × (hours - 5.5)
y = 1.7 - hours
z = hours / 3
a = 0.7
b = 0.3
c = -1.9
low = -4
zero = 0`;

const HOURS = Array.from({ length: 7 }, (_, i) => ((i + 0.5) * 3600) / 3600);
const X = HOURS.map((h) => h * (h - 2.5) * (h - 5.5));
const Y = HOURS.map((h) => 1.7 - h);
const Z = HOURS.map((h) => h / 3);
const [A, B, C, LOW] = [0.7, 0.3, -1.9, -4];

/** Of two zeros the second is taken. */
function max(p: number, q: number): number {
  if (p > q) return p;
  return q;
}

function min(p: number, q: number): number {
  if (p < q) return p;
  return q;
}

type Work = (x: number, y: number, z: number) => number;
const FORMULAS: readonly (readonly [Join | 'none', string, Work])[] = [
  ['weighed sum', 'a × x + b × y', (x, y) => A * x + B * y],
  ['weighed sum', 'x × a - y × b', (x, y) => x * A - y * B],
  ['weighed sum', 'x - b × y', (x, y) => x - B * y],
  ['weighed sum', 'c × x - x', (x) => C * x - x],
  ['sum times', '0.95 × (x - y)', (x, y) => 0.95 * (x - y)],
  ['sum times', '(a × x + b × y) × c', (x, y) => (A * x + B * y) * C],
  ['line', 'a × x + b', (x) => A * x + B],
  ['line', 'x × a - b', (x) => x * A - B],
  ['line', 'b - a × x', (x) => B - A * x],
  ['line', 'zero - a × x', (x) => 0 - A * x],
  ['line', 'a × x - zero', (x) => A * x - 0],
  ['line times', '(a × x + b) × c', (x) => (A * x + B) * C],
  ['line times', 'c × (x - b)', (x) => C * (x - B)],
  ['line times', '(b - x) × c', (x) => (B - x) * C],
  ['line times', '(x × a) × c', (x) => x * A * C],
  ['line over', '(a × x + b) / c', (x) => (A * x + B) / C],
  ['line over', '(b - x) / c', (x) => (B - x) / C],
  ['line times row', '(1 - a × x) × y', (x, y) => (1 - A * x) * y],
  ['line times row', 'y × (x + b)', (x, y) => y * (x + B)],
  ['line times row', 'x × (zero - x)', (x) => x * (0 - x)],
  ['times times', 'a × x × y', (x, y) => A * x * y],
  ['times times', 'y × (x × c)', (x, y) => y * (x * C)],
  ['product times', 'x × y × c', (x, y) => x * y * C],
  ['product over', 'x × y / c', (x, y) => (x * y) / C],
  ['times over', 'c × x / a', (x) => (C * x) / A],
  ['over plus', 'x / a + y', (x, y) => x / A + y],
  ['over plus', 'x / c - b × y', (x, y) => x / C - B * y],
  ['over plus', 'a × y - x / c', (x, y) => A * y - x / C],
  ['product plus', 'x × y + c × z', (x, y, z) => x * y + C * z],
  ['product plus', 'x × x - y', (x, y) => x * x - y],
  ['product plus', 'z + x × y', (x, y, z) => z + x * y],
  ['three terms', 'x + y + z', (x, y, z) => x + y + z],
  ['three terms', 'x - y - z', (x, y, z) => x - y - z],
  ['three terms', 'a × x - y + c × z', (x, y, z) => A * x - y + C * z],
  ['max times', 'a × max(x, zero)', (x) => A * max(x, 0)],
  ['max times', 'max(x, b) × c', (x) => max(x, B) * C],
  ['least times', 'c × max(zero, x)', (x) => C * max(0, x)],
  ['min times', 'a × min(x, zero)', (x) => A * min(x, 0)],
  ['most times', 'min(zero, x) × c', (x) => min(0, x) * C],
  ['line max', 'max(zero - x, zero)', (x) => max(0 - x, 0)],
  ['line max', 'max(c × x, zero)', (x) => max(C * x, 0)],
  ['line least', 'max(zero, c × x)', (x) => max(0, C * x)],
  ['line least', 'max(zero, x - b)', (x) => max(0, x - B)],
  ['line min', 'min(a × x + b, low)', (x) => min(A * x + B, LOW)],
  ['line min', 'min(c × x, zero)', (x) => min(C * x, 0)],
  ['line most', 'min(zero, c × x)', (x) => min(0, C * x)],
  ['below', 'if x < b then a else c', (x) => (x < B ? A : C)],
  ['above', 'if x > zero then a else c', (x) => (x > 0 ? A : C)],
  // What is not joined, for the order of things would be another one.
  ['none', 'x - (y + z)', (x, y, z) => x - (y + z)],
  ['none', 'x - y × z', (x, y, z) => x - y * z],
  ['none', 'x / (y + 0.25)', (x, y) => x / (y + 0.25)],
];

function joinsOf(evaluation: Evaluation, id: number): readonly Join[] {
  const { program } = evaluation;
  const { from, to } = program.units[program.unitOf[id] as number]?.code ?? { from: 0, to: 0 };
  const found: Join[] = [];
  for (let pc = from; pc < to; pc += WIDTH) {
    const join = JOINS.find((one) => joinNumber[one] === program.code[pc]);
    if (join) found.push(join);
  }
  return found;
}

test('operations in one pass give the bits of operations one by one', () => {
  const cells = FORMULAS.map(([, formula], i) => `result ${i} = ${formula}`);
  const evaluation = new Evaluation(
    checkNotebook(readNotebook(notebook(`${GIVENS}\n${cells.join('\n')}`))),
  );
  evaluation.run(true);
  const { program, plan } = evaluation;
  expect(X.filter((x) => x === 0)).toHaveLength(2);
  const tried = new Set<Join | 'none'>();
  FORMULAS.forEach(([join, formula, work], i) => {
    const node = program.nodes.find(({ name }) => name === `result ${i}`);
    const id = node?.id ?? -1;
    expect(plan.faults[id], formula).toBeUndefined();
    if (join !== 'none') expect(joinsOf(evaluation, id), formula).toEqual([join]);
    tried.add(join);
    const row = plan.rows[~(program.operands[id]?.[0] ?? 0)];
    const expected = X.map((x, k) => work(x, Y[k] as number, Z[k] as number));
    // `toBe` of numbers tells 0 from −0.
    expected.forEach((value, k) => {
      expect(row?.[k], `${formula} at place ${k}`).toBe(value);
    });
    expect(row).toHaveLength(X.length);
  });
  for (const join of JOINS) expect(tried, join).toContain(join);
});

test('a value that another cell or a second operation needs keeps its place', () => {
  const evaluation = new Evaluation(
    checkNotebook(
      readNotebook(notebook(`${GIVENS}\nhalf = a × x\nsum = half + b\nfall = sum - half`)),
    ),
  );
  evaluation.run(true);
  const { program, plan } = evaluation;
  const rowOf = (name: string): Float64Array | undefined => {
    const id = program.nodes.find((node) => node.name === name)?.id ?? -1;
    return plan.rows[~(program.operands[id]?.[0] ?? 0)];
  };
  expect([...(rowOf('half') ?? [])]).toEqual(X.map((x) => A * x));
  expect([...(rowOf('sum') ?? [])]).toEqual(X.map((x) => A * x + B));
  expect([...(rowOf('fall') ?? [])]).toEqual(X.map((x) => A * x + B - A * x));
});

test('what went wrong in a joined pass is told as of operations one by one', () => {
  const evaluation = new Evaluation(
    checkNotebook(
      readNotebook(notebook(`${GIVENS}\nnil = a - a\nresult = x / nil + y\nother = 2 × x / nil`)),
    ),
  );
  evaluation.run(true);
  const { program, plan } = evaluation;
  for (const [name, join] of [
    ['result', 'over plus'],
    ['other', 'times over'],
  ] as const) {
    const id = program.nodes.find((node) => node.name === name)?.id ?? -1;
    expect(joinsOf(evaluation, id)).toEqual([join]);
    const fault = plan.faults[id];
    expect(fault).toMatchObject({ kind: 'error', code: 'divided-by-zero' });
    expect(fault?.kind === 'error' && fault.text).toContain('"nil" is 0');
  }
});
