// Runs the cases of test/reference/checks.json that belong to one topic. Each becomes a test named
// by its id, quantity and source; a quantity without a function, or a function without a case,
// fails.

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

type Input = number | string | readonly number[] | readonly (readonly number[])[];

interface Case {
  readonly id: string;
  readonly topic: string;
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, Input>>;
  readonly expected: number;
  readonly tolerance: number;
  readonly tolerance_kind: 'abs' | 'rel';
  readonly source: string;
  readonly provenance: string;
}

const file = new URL('../../reference/checks.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { readonly cases: readonly Case[] };

/** The inputs of one case, by name. A name that is not there is a mistake in the test. */
export class Inputs {
  readonly #inputs: Readonly<Record<string, Input>>;

  constructor(inputs: Readonly<Record<string, Input>>) {
    this.#inputs = inputs;
  }

  has(name: string): boolean {
    return name in this.#inputs;
  }

  /** A number in the unit of its name. */
  number(name: string): number {
    const value = this.#inputs[name];
    if (typeof value !== 'number') throw new TypeError(`${name} is ${String(value)}, no number`);
    return value;
  }

  /** An angle named in degrees, in radians. */
  angle(name: string): number {
    return (this.number(name) * Math.PI) / 180;
  }

  text(name: string): string {
    const value = this.#inputs[name];
    if (typeof value !== 'string') throw new TypeError(`${name} is ${String(value)}, no text`);
    return value;
  }

  /** A date or a moment named in UTC, s since 1970. */
  moment(name: string): number {
    return Date.parse(this.text(name)) / 1000;
  }

  list(name: string): readonly number[] {
    const value = this.#inputs[name];
    if (!Array.isArray(value)) throw new TypeError(`${name} is ${String(value)}, no list`);
    return value.map(Number);
  }

  rows(name: string): readonly (readonly number[])[] {
    const value = this.#inputs[name];
    if (!Array.isArray(value)) throw new TypeError(`${name} is ${String(value)}, no table`);
    return value.map((row: unknown) => {
      if (!Array.isArray(row)) throw new TypeError(`${name} has a row ${String(row)}`);
      return row.map(Number);
    });
  }
}

/** Quantity → its value, in the unit of the quantity's name, from a case's inputs. */
export type Quantities = Readonly<Record<string, (inputs: Inputs) => number>>;

/** Declares the tests of one topic. `count` guards against cases that went missing. */
export function checkTopic(topic: string, count: number, quantities: Quantities): void {
  const mine = cases.filter((each) => each.topic === topic);

  describe(`reference cases: ${topic}`, () => {
    test(`are ${count}`, () => {
      expect(mine).toHaveLength(count);
    });

    test('have a function for every quantity and no function to spare', () => {
      const wanted = [...new Set(mine.map(({ quantity }) => quantity))].sort();
      expect(Object.keys(quantities).sort()).toEqual(wanted);
    });

    for (const each of mine) {
      const { id, quantity, expected, tolerance } = each;
      test(`${id} ${quantity} is ${expected} (${each.source || each.provenance})`, () => {
        const found = quantities[quantity]?.(new Inputs(each.inputs));
        const relative = each.tolerance_kind === 'rel';
        const allowed = relative ? tolerance * Math.abs(expected) : tolerance;
        expect(found).toBeTypeOf('number');
        expect(Math.abs((found ?? Number.NaN) - expected)).toBeLessThanOrEqual(allowed);
      });
    }
  });
}
