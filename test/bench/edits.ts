// Edits in a notebook of two hundred cells: a given moved, ten cells following; a formula typed anew,
// itself and eleven cells following.

import { parseContext } from '../../engine/check/scope.ts';
import { openSession, type Session } from '../../engine/index.ts';
import { parseFormula } from '../../engine/language/parser.ts';
import { evaluationOf, nodeOf, slotOf } from './engine-under-test.ts';
import { difference, race, ratioOf, type Timing } from './measure.ts';
import { alienCells, math, quantityCells, symbolOf } from './opponents.ts';
import {
  type Formula,
  handwritten,
  notebookText,
  type ScalarCell,
  SIGNS,
  scalarCells,
  written,
} from './scalar-notebook.ts';
import { agree, type Measure, measure, timesOf } from './table.ts';

const BEFORE = 200;

/** Two hundred cells, one more (`dial`), and some that follow it: two on each. */
function withFollowers(dial: ScalarCell, followers: number): readonly ScalarCell[] {
  const cells = [...scalarCells(BEFORE), dial];
  const powers = cells.flatMap(({ given }, i) => (given?.unit === 'W' && i < BEFORE ? [i] : []));
  for (let k = 0; k < followers; k++) {
    const other: Formula = { cell: powers[k % powers.length] ?? 0 };
    cells.push({
      name: `follower ${k}`,
      formula: {
        op: '+',
        a: { op: '*', a: { number: 0.5 }, b: { cell: BEFORE + ((k + 1) >> 1) } },
        b: { op: '*', a: { number: 0.5 }, b: other },
      },
    });
  }
  return cells;
}

async function givenMoved(): Promise<{ lines: readonly string[]; measures: readonly Measure[] }> {
  const cells = withFollowers({ name: 'dial', given: { amount: 100, unit: 'W', factor: 1 } }, 10);
  const text = notebookText(cells);
  const evaluation = evaluationOf(text);
  const alien = alienCells(cells, await handwritten(cells));
  const [dial, end] = [BEFORE, cells.length - 1];
  const id = nodeOf(evaluation, 'dial');
  const slots = cells.map(({ name }) => slotOf(evaluation, name));
  const { scalars } = evaluation.plan;
  const session = openSession(text);
  for (const watts of [150, 60]) {
    evaluation.put(id, watts);
    alien.set(dial, watts);
    agree(
      'followers of a moved given',
      difference(
        slots.map((slot) => scalars[slot] as number),
        cells.map((_, i) => alien.read(i)),
      ),
      1e-12,
    );
  }
  const turns = (): (() => number) => {
    let turn = 0;
    return () => 100 + (++turn % 64);
  };
  const [first, second, third] = [turns(), turns(), turns()];
  const readEnd = slots[end] as number;
  const timings = race([
    {
      name: 'engine, the value alone',
      run: (): number => {
        evaluation.put(id, first());
        return scalars[readEnd] as number;
      },
    },
    {
      name: 'alien-signals',
      run: (): number => {
        alien.set(dial, second());
        let sum = 0;
        for (let i = dial; i <= end; i++) sum += alien.read(i);
        return sum;
      },
    },
    {
      name: 'engine, typed as text, the text kept',
      run: (): number =>
        session.do({ do: 'formula', cell: 'dial', text: `${third()} W` }) ? 1 : 0,
    },
  ]);
  return {
    lines: timesOf('a given moved, 10 follow', timings),
    measures: [
      measure(
        'one edit, 10 dependents, faster than alien-signals',
        ratioOf(timings[1] as Timing, timings[0] as Timing),
        'higher',
        5,
      ),
    ],
  };
}

/** Sixty-four formulas of the same shape, so that none is met twice in a row. */
function formulas(cells: readonly ScalarCell[]): readonly Formula[] {
  const powers = cells.flatMap(({ given }, i) => (given?.unit === 'W' && i < BEFORE ? [i] : []));
  return Array.from(
    { length: 64 },
    (_, k): Formula => ({
      op: '-',
      a: {
        op: '+',
        a: { op: '*', a: { number: (30 + k) / 100 }, b: { cell: powers[0] ?? 0 } },
        b: { op: '*', a: { number: 0.5 }, b: { cell: powers[1] ?? 0 } },
      },
      b: { op: '*', a: { number: 0.1 }, b: { cell: powers[2] ?? 0 } },
    }),
  );
}

async function formulaTyped(): Promise<{ lines: readonly string[]; measures: readonly Measure[] }> {
  const start = scalarCells(BEFORE);
  const list = formulas(start);
  const cells = withFollowers({ name: 'dial', formula: list[0] as Formula }, 11);
  const quantities = quantityCells(cells);
  quantities.run();
  const session: Session = openSession(notebookText(cells));
  const typed = list.map((formula) => written(formula, (at) => cells[at]?.name ?? '', SIGNS));
  const plain = list.map((formula) => written(formula, (at) => symbolOf(cells[at] as ScalarCell)));
  const following = quantities.compiled.slice(-11);
  const end = cells[cells.length - 1] as ScalarCell;
  const byHand = (k: number): void => {
    quantities.scope.set('dial', math.evaluate(plain[k] ?? '', quantities.scope));
    for (const { symbol, code } of following)
      quantities.scope.set(symbol, code.evaluate(quantities.scope));
  };
  const { evaluation } = session;
  const dial = nodeOf(evaluation, 'dial');
  /** Parsed, checked, put in and worked with what follows it; the notebook's text stays as it was. */
  const alone = (k: number): number => {
    const { node } = parseFormula(typed[k] ?? '', parseContext);
    if (!evaluation.changeFormula(dial, node, evaluation.checked.scope.notebook))
      throw new Error('The typed formula did not take the quick way.');
    return evaluation.plan.scalars[slotOf(evaluation, 'dial')] as number;
  };
  const keepingText = (k: number): number =>
    session.do({ do: 'formula', cell: 'dial', text: typed[k] ?? '' }) ? 1 : 0;
  for (const [k, way] of [
    [5, keepingText],
    [9, alone],
    [12, keepingText],
  ] as const) {
    way(k);
    byHand(k);
    const shown = session.report(0, false).cells[end.name]?.value;
    agree(
      'the last follower of a typed formula',
      difference(
        [Number(shown)],
        [math.number(quantities.scope.get(symbolOf(end)) as never, 'W' as never)],
      ),
      1e-9,
    );
  }
  if (session.evaluation !== evaluation) throw new Error('The notebook was evaluated anew.');
  let [turn, other, third] = [0, 0, 0];
  const timings = race([
    { name: 'engine, parse to values', run: (): number => alone(++turn % 64) },
    {
      name: 'mathjs, parse and evaluate',
      run: (): number => {
        byHand(++other % 64);
        return 1;
      },
    },
    {
      name: 'engine, typed as text, the text kept',
      run: (): number => keepingText(++third % 64),
    },
  ]);
  return {
    lines: timesOf('a formula typed, 12 worked', timings),
    measures: [
      measure(
        'one formula edit, faster than mathjs',
        ratioOf(timings[1] as Timing, timings[0] as Timing),
        'higher',
        50,
      ),
      measure(
        'the same, the text kept, faster than mathjs',
        ratioOf(timings[1] as Timing, timings[2] as Timing),
        'higher',
        50,
      ),
    ],
  };
}

export async function edits(): Promise<{
  timings: readonly string[];
  measures: readonly Measure[];
}> {
  const [given, formula] = [await givenMoved(), await formulaTyped()];
  return {
    timings: [...given.lines, ...formula.lines],
    measures: [...given.measures, ...formula.measures],
  };
}
