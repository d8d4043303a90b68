// The other ways to compute the same cells: a library of quantities, two libraries of signals. Each is
// used as its own documentation shows: formulas compiled once, values kept by name or by cell.

import { computed as preactComputed, signal as preactSignal } from '@preact/signals-core';
import { computed, signal } from 'alien-signals';
import { all, create, type EvalFunction } from 'mathjs';
import { type Handwritten, type ScalarCell, written } from './scalar-notebook.ts';

export const math = create(all ?? {});

/** Names of mathjs have no spaces. */
export const symbolOf = (cell: ScalarCell): string => cell.name.replaceAll(' ', '');

export interface QuantityCells {
  readonly scope: Map<string, unknown>;
  readonly compiled: readonly { readonly symbol: string; readonly code: EvalFunction }[];
  /** Evaluates every derived cell once. */
  readonly run: () => number;
  /** Stored values in SI, in the order of the cells. */
  readonly values: () => readonly number[];
}

/** A quantity's number in SI: value of a unit as mathjs keeps it (watts and joules both count from kilograms). */
export function plainOf(value: unknown): number {
  if (typeof value === 'number') return value;
  if (math.isUnit(value)) {
    const units = value.toSI();
    return units.toNumber(units.formatUnits());
  }
  throw new TypeError('neither a number nor a quantity');
}

export function quantityCells(cells: readonly ScalarCell[]): QuantityCells {
  const scope = new Map<string, unknown>();
  const compiled: { symbol: string; code: EvalFunction }[] = [];
  for (const one of cells) {
    const symbol = symbolOf(one);
    if (one.given) scope.set(symbol, math.unit(one.given.amount, one.given.unit));
    else if (one.formula) {
      const text = written(one.formula, (at) => symbolOf(cells[at] as ScalarCell));
      compiled.push({ symbol, code: math.compile(text) });
    }
  }
  return {
    scope,
    compiled,
    run: () => {
      for (const { symbol, code } of compiled) scope.set(symbol, code.evaluate(scope));
      return compiled.length;
    },
    values: () => cells.map((one) => plainOf(scope.get(symbolOf(one)))),
  };
}

export interface SignalCells {
  /** Gives every given a new value and reads every cell. */
  readonly whole: (factor: number) => number;
  readonly set: (at: number, value: number) => void;
  readonly read: (at: number) => number;
}

const amountOf = (one: ScalarCell): number => (one.given ? one.given.amount * one.given.factor : 0);

export function alienCells(cells: readonly ScalarCell[], hand: Handwritten): SignalCells {
  const getters: (() => number)[] = [];
  const setters = new Map<number, (value: number) => void>();
  cells.forEach((one, i) => {
    const formula = hand.cells[i];
    if (formula) {
      getters.push(computed(() => formula(getters)));
      return;
    }
    const source = signal(amountOf(one));
    getters.push(source);
    setters.set(i, source);
  });
  return signalsOver(cells, getters, setters);
}

export function preactCells(cells: readonly ScalarCell[], hand: Handwritten): SignalCells {
  const getters: (() => number)[] = [];
  const setters = new Map<number, (value: number) => void>();
  cells.forEach((one, i) => {
    const formula = hand.cells[i];
    if (formula) {
      const made = preactComputed(() => formula(getters));
      getters.push(() => made.value);
      return;
    }
    const source = preactSignal(amountOf(one));
    getters.push(() => source.value);
    setters.set(i, (value) => {
      source.value = value;
    });
  });
  return signalsOver(cells, getters, setters);
}

function signalsOver(
  cells: readonly ScalarCell[],
  getters: readonly (() => number)[],
  setters: ReadonlyMap<number, (value: number) => void>,
): SignalCells {
  const givens = [...setters].map(([at, set]) => ({
    set,
    amount: amountOf(cells[at] as ScalarCell),
  }));
  return {
    whole: (factor) => {
      for (const { set, amount } of givens) set(amount * factor);
      let sum = 0;
      for (const get of getters) sum += get();
      return sum;
    },
    set: (at, value) => setters.get(at)?.(value),
    read: (at) => getters[at]?.() ?? Number.NaN,
  };
}
