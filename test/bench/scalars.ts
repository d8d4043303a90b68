// Whole notebooks of scalar cells: everything evaluated anew.

import { evaluationOf, slotOf } from './engine-under-test.ts';
import { type Contender, difference, race, ratioOf, type Timing } from './measure.ts';
import { alienCells, preactCells, quantityCells } from './opponents.ts';
import { handwritten, notebookText, type ScalarCell, scalarCells } from './scalar-notebook.ts';
import { agree, type Measure, measure, timesOf } from './table.ts';

/** Givens in SI at their places, nothing else filled in. */
export function givenNumbers(cells: readonly ScalarCell[]): Float64Array {
  return Float64Array.from(cells, ({ given }) => (given ? given.amount * given.factor : 0));
}

interface Sized {
  readonly engine: Timing;
  readonly quantities: Timing | undefined;
  readonly signals: readonly Timing[];
  readonly hand: Timing;
  readonly lines: readonly string[];
}

async function sized(count: number, opponents: boolean): Promise<Sized> {
  const cells = scalarCells(count);
  const evaluation = evaluationOf(notebookText(cells));
  const hand = await handwritten(cells);
  const numbers = givenNumbers(cells);
  hand.whole(numbers);
  const slots = cells.map(({ name }) => slotOf(evaluation, name));
  const { scalars } = evaluation.plan;
  const own = (): number[] => slots.map((slot) => scalars[slot] as number);
  agree(`${count} cells by hand`, difference(own(), numbers), 1e-12);

  const last = slots[count - 1] as number;
  const contenders: Contender[] = [
    {
      name: 'engine',
      run: (): number => {
        evaluation.run(true);
        return scalars[last] as number;
      },
    },
    {
      name: 'straight-line by hand',
      warmFor: 3000,
      run: (): number => {
        hand.whole(numbers);
        return numbers[count - 1] as number;
      },
    },
  ];
  if (opponents) {
    const [alien, preact] = [alienCells(cells, hand), preactCells(cells, hand)];
    const quantities = quantityCells(cells);
    quantities.run();
    agree(`${count} cells with units`, difference(own(), quantities.values()), 1e-9);
    for (const [name, signals] of [
      ['alien-signals', alien],
      ['preact signals-core', preact],
    ] as const) {
      signals.whole(1.125);
      signals.whole(1);
      agree(
        `${count} cells, ${name}`,
        difference(
          own(),
          cells.map((_, i) => signals.read(i)),
        ),
        1e-12,
      );
    }
    // Signals do nothing when no given changes: each run gives all of them another value.
    const turns = (): (() => number) => {
      let turn = 0;
      return () => 1 + (++turn % 2) * 0.125;
    };
    const [first, second] = [turns(), turns()];
    contenders.push(
      { name: 'mathjs with units', run: quantities.run },
      { name: 'alien-signals', run: (): number => alien.whole(first()) },
      { name: 'preact signals-core', run: (): number => preact.whole(second()) },
    );
  }
  const [engine, straight, quantities, ...signals] = race(contenders);
  const timings = [engine, straight, quantities, ...signals].filter((t) => t !== undefined);
  return {
    engine: engine as Timing,
    hand: straight as Timing,
    quantities,
    signals,
    lines: timesOf(`${count} cells`, timings),
  };
}

export async function scalars(): Promise<{
  timings: readonly string[];
  measures: readonly Measure[];
}> {
  const measures: Measure[] = [];
  const lines: string[] = [];
  for (const count of [200, 10_000]) {
    const s = await sized(count, true);
    lines.push(...s.lines);
    if (s.quantities)
      measures.push(
        measure(
          `${count} scalar cells, faster than mathjs with units`,
          ratioOf(s.quantities, s.engine),
          'higher',
          1000,
        ),
      );
    const [better] = [...s.signals].sort((a, b) => a.median - b.median);
    if (better)
      measures.push(
        measure(
          `${count} scalar cells, faster than the better signals`,
          ratioOf(better, s.engine),
          'higher',
          15,
        ),
      );
    if (count === 10_000)
      measures.push(
        measure(
          '10000 scalar cells, slower than straight-line code',
          ratioOf(s.engine, s.hand),
          'lower',
          4,
        ),
      );
  }
  // Growth is measured in one race, so that all sizes meet the same machine.
  const sizes = [100, 1000, 10_000, 100_000];
  const grown = race(
    sizes.map((count) => {
      const cells = scalarCells(count);
      const evaluation = evaluationOf(notebookText(cells));
      const slot = slotOf(evaluation, (cells[count - 1] as ScalarCell).name);
      return {
        name: `engine, ${count} cells`,
        run: (): number => {
          evaluation.run(true);
          return evaluation.plan.scalars[slot] as number;
        },
      };
    }),
  ) as [Timing, Timing, Timing, Timing];
  lines.push(...timesOf('growth', grown));
  measures.push(
    measure('cost per cell, 1000 to 10000 cells', ratioOf(grown[2], grown[1], 10), 'lower', 2),
    measure('cost per cell, 100 to 100000 cells', ratioOf(grown[3], grown[0], 1000), 'lower', 4),
  );
  return { timings: lines, measures };
}
