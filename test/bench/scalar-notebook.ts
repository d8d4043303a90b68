// A made-up notebook of many scalar cells with units, and the same notebook in the words of every
// opponent. Formulas are made from a seed: powers, energies and shares that are weighed, added and
// divided, each drawing on cells shortly before it.

import { writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** A formula: a cell by its place, a plain number, or two parts and an operation. */
export type Formula =
  | { readonly cell: number }
  | { readonly number: number }
  | { readonly op: '+' | '-' | '*' | '/'; readonly a: Formula; readonly b: Formula };

export interface ScalarCell {
  readonly name: string;
  /** A given: its amount, and the unit with how much of SI it is. */
  readonly given?: { readonly amount: number; readonly unit: string; readonly factor: number };
  readonly formula?: Formula;
}

type Sort = 'power' | 'energy' | 'share' | 'time';

const GIVENS: readonly { sort: Sort; unit: string; factor: number; low: number; high: number }[] = [
  { sort: 'power', unit: 'W', factor: 1, low: 20, high: 200 },
  { sort: 'energy', unit: 'Wh', factor: 3600, low: 100, high: 900 },
  { sort: 'time', unit: 'h', factor: 3600, low: 2, high: 8 },
  { sort: 'power', unit: 'W', factor: 1, low: 20, high: 200 },
];

/** Numbers from 0 to 1 in an order that only the seed decides (Park and Miller 1988). */
export function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

const cell = (at: number): Formula => ({ cell: at });
const number = (value: number): Formula => ({ number: value });
const make = (op: '+' | '-' | '*' | '/', a: Formula, b: Formula): Formula => ({ op, a, b });

/** Givens are one cell in ten. */
export function scalarCells(count: number, seed = 7): readonly ScalarCell[] {
  const draw = chance(seed);
  const cells: ScalarCell[] = [];
  const bySort: Record<Sort, number[]> = { power: [], energy: [], share: [], time: [] };
  const pick = (sort: Sort): Formula => {
    const list = bySort[sort];
    const back = Math.min(list.length, 120);
    return cell(list[list.length - 1 - Math.floor(draw() * back)] ?? 0);
  };
  const weight = (): number => Math.round(20 + 60 * draw()) / 100;
  for (let i = 0; i < count; i++) {
    const from = GIVENS[i % GIVENS.length];
    if (from && (i < 12 || i % 10 === 0)) {
      const { sort, unit, factor, low, high } = GIVENS[i < 12 ? i % 4 : (i / 10) % 4] ?? from;
      const amount = Math.round(low + (high - low) * draw());
      cells.push({ name: `given ${i}`, given: { amount, unit, factor } });
      bySort[sort].push(i);
      continue;
    }
    const w = weight();
    const mixed = (sort: Sort): Formula =>
      make(
        '+',
        make('*', number(w), pick(sort)),
        make('*', number(Math.round(100 - 100 * w) / 100), pick(sort)),
      );
    const kinds: readonly [Sort, () => Formula][] = [
      ['power', () => mixed('power')],
      ['share', () => make('/', pick('power'), make('+', pick('power'), pick('power')))],
      [
        'power',
        () =>
          make('*', pick('power'), make('+', number(0.75), make('/', pick('share'), number(2)))),
      ],
      [
        'energy',
        () =>
          make('+', make('*', number(w), pick('energy')), make('*', pick('power'), pick('time'))),
      ],
      ['energy', () => mixed('energy')],
      ['share', () => make('/', pick('energy'), make('+', pick('energy'), pick('energy')))],
      ['energy', () => make('-', pick('energy'), make('*', number(0.1), pick('energy')))],
      ['power', () => make('+', pick('power'), make('*', number(0.01), pick('power')))],
      ['energy', () => make('*', pick('energy'), number(0.6))],
    ];
    const allowed = kinds.filter(
      ([, make]) => bySort.share.length > 0 || kinds.findIndex((k) => k[1] === make) !== 2,
    );
    const [sort, formula] = allowed[Math.floor(draw() * allowed.length)] ?? [
      'power',
      () => mixed('power'),
    ];
    cells.push({ name: `cell ${i}`, formula: formula() });
    bySort[sort].push(i);
  }
  return cells;
}

/** An expression in words; `leaf` writes cells and numbers, `sign` the operations. */
export function written(
  formula: Formula,
  name: (at: number) => string,
  sign: (op: string) => string = (op) => op,
): string {
  if ('cell' in formula) return name(formula.cell);
  if ('number' in formula) return String(formula.number);
  const part = (inner: Formula): string =>
    'op' in inner ? `(${written(inner, name, sign)})` : written(inner, name, sign);
  return `${part(formula.a)} ${sign(formula.op)} ${part(formula.b)}`;
}

/** Operations as the notebook writes them. */
export const SIGNS = (op: string): string => (op === '*' ? '×' : op);

export function notebookText(cells: readonly ScalarCell[]): string {
  const lines = cells.map(({ name, given, formula }) =>
    given
      ? `${name} = ${given.amount} ${given.unit}`
      : formula
        ? `${name} = ${written(formula, (at) => cells[at]?.name ?? '', SIGNS)}`
        : name,
  );
  return `dapple 1\ntitle: Bench\n\n${lines.join('\n')}\n`;
}

/** A formula as one function over plain numbers. */
export type Read = (at: number) => number;
export function closureOf(formula: Formula): (read: Read) => number {
  if ('cell' in formula) {
    const at = formula.cell;
    return (read) => read(at);
  }
  if ('number' in formula) {
    const { number: value } = formula;
    return () => value;
  }
  const [a, b] = [closureOf(formula.a), closureOf(formula.b)];
  switch (formula.op) {
    case '+':
      return (read) => a(read) + b(read);
    case '-':
      return (read) => a(read) - b(read);
    case '*':
      return (read) => a(read) * b(read);
    case '/':
      return (read) => a(read) / b(read);
  }
}

/** What an author would write by hand for these cells, as a module of the language itself. */
export interface Handwritten {
  /** Fills in every derived cell of the array. */
  readonly whole: (s: Float64Array) => void;
  /** One function a cell over getters, for signals. */
  readonly cells: readonly (((g: readonly (() => number)[]) => number) | undefined)[];
}

/** Statements a function: beyond some hundreds the engine no longer optimises it. */
const PIECE = 100;

/** Writes the module beside other temporary files, imports it and takes the file away again. */
export async function handwritten(cells: readonly ScalarCell[]): Promise<Handwritten> {
  const pieces: string[] = [];
  const derived = cells.flatMap(({ formula }, i) => (formula ? [{ formula, i }] : []));
  for (let k = 0; k < derived.length; k += PIECE) {
    const body = derived
      .slice(k, k + PIECE)
      .map(({ formula, i }) => `  s[${i}] = ${written(formula, (at) => `s[${at}]`)};`);
    pieces.push(`function piece${k / PIECE}(s) {\n${body.join('\n')}\n}`);
  }
  const calls = pieces.map((_, i) => `  piece${i}(s);`).join('\n');
  const list = cells.map(({ formula }) =>
    formula ? `(g) => ${written(formula, (at) => `g[${at}]()`)}` : 'undefined',
  );
  const text = `${pieces.join('\n')}\nexport function whole(s) {\n${calls}\n}\nexport const cells = [\n${list.join(',\n')}\n];\n`;
  const folder = await mkdtemp(join(tmpdir(), 'dapple-bench-'));
  try {
    const file = join(folder, 'handwritten.mjs');
    writeFileSync(file, text);
    return (await import(/* @vite-ignore */ pathToFileURL(file).href)) as Handwritten;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
