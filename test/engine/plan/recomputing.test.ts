// What an edit makes the machine work again: the cone of the cell, each unit once, no further than a
// value that stays as it was. Units are counted at the machine's own door. Every graph holds a series,
// for cells that are single numbers alone are worked together and not unit by unit.

import { expect, test } from 'vitest';
import { checkNotebook } from '../../../engine/check/check.ts';
import { parseContext } from '../../../engine/check/scope.ts';
import { parseFormula } from '../../../engine/language/parser.ts';
import { setFormula } from '../../../engine/notebook/edit-notebook.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { Evaluation } from '../../../engine/run/evaluation.ts';
import { notebook } from '../run/evaluated.ts';

interface Counted {
  /** Moves a given; the cells worked, in order. A circle is one unit, its members joined by +. */
  put(name: string, value: number): readonly string[];
  /** Gives a cell another formula where it stands; the cells worked, in order. */
  formula(name: string, text: string): readonly string[];
  value(name: string, column?: number): number;
}

function counted(body: string): Counted {
  const evaluation = new Evaluation(checkNotebook(readNotebook(notebook(body))));
  evaluation.run(false);
  const { machine, program } = evaluation.compiled;
  const worked: string[] = [];
  const runUnit = machine.runUnit.bind(machine);
  machine.runUnit = (unit, memory, held) => {
    worked.push(unit.nodes.map((id) => program.nodes[id]?.name ?? '').join('+'));
    return runUnit(unit, memory, held);
  };
  const idOf = (name: string): number => {
    const node = program.nodes.find((one) => one.kind === 'cell' && one.name === name);
    if (!node) throw new RangeError(`no cell ${name}`);
    return node.id;
  };
  return {
    put(name, value) {
      worked.length = 0;
      evaluation.put(idOf(name), value);
      return [...worked];
    },
    formula(name, text) {
      const edited = setFormula(evaluation.checked.scope.notebook, name, text);
      if (!edited) throw new RangeError(name);
      worked.length = 0;
      const { node } = parseFormula(text, parseContext);
      const done = evaluation.changeFormula(idOf(name), node, edited.notebook);
      if (!done) throw new RangeError(`${name} does not take ${text} where it stands`);
      return [...worked];
    },
    value(name, column = 0) {
      const place = program.operands[idOf(name)]?.[0];
      const memory = evaluation.columns[column]?.memory;
      if (place === undefined || memory === undefined) throw new RangeError(name);
      return memory.at(place, 0);
    },
  };
}

const CLOCK = 'clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)';

//          power        other
//         /     \         |
//     double   series   apart
//         \     /
//         outcome
test('a cell that is reached by two ways is worked once, and what stands apart not at all', () => {
  const graph = counted(
    `power = 10 W\nother = 1 W\ndouble = power × 2\nseries = power × during(clock, 00:00..24:00)\noutcome = double + mean(series)\napart = other × during(clock, 00:00..24:00)\n${CLOCK}`,
  );
  expect([...graph.put('power', 20)].sort()).toEqual(['double', 'outcome', 'series']);
  expect(graph.value('outcome')).toBe(60); // 2 × 20 W + 20 W
  expect(graph.put('other', 2)).toEqual(['apart']);
});

//     power → capped → series → outcome        capped = min(power, 10 W)
test('the work stops where a value stays as it was', () => {
  const graph = counted(
    `power = 20 W\ncapped = min(power, 10 W)\nseries = capped × during(clock, 00:00..24:00)\noutcome = mean(series)\n${CLOCK}`,
  );
  expect(graph.put('power', 30)).toEqual(['capped']);
  expect(graph.value('outcome')).toBe(10);
  expect(graph.put('power', 5)).toEqual(['capped', 'series', 'outcome']);
  expect(graph.value('outcome')).toBe(5);
  expect(graph.put('power', 5)).toEqual(['capped']);
});

//     left  → first ─┐
//                    series → outcome        scenario: right = 7 W
//     right → second ┘
test('a scenario works what a moved given reaches in it and keeps the rest', () => {
  const graph = counted(
    `left = 1 W\nright = 2 W\nfirst = left × 2\nsecond = right × 2\nseries = (first + second) × during(clock, 00:00..24:00)\noutcome = mean(series)\n${CLOCK}\nscenario More\n  right = 7 W`,
  );
  const worked = graph.put('left', 3);
  // The plan, then the scenario: its own second, 14 W, is not worked again.
  expect(worked).toEqual(['first', 'series', 'outcome', 'series', 'outcome']);
  expect(graph.value('outcome')).toBe(10); // 2 × 3 W + 2 × 2 W
  expect(graph.value('outcome', 1)).toBe(20); // 2 × 3 W + 2 × 7 W
  // What the scenario puts in stands still when the plan's moves.
  expect(graph.put('right', 5)).toEqual(['second', 'series', 'outcome']);
  expect(graph.value('outcome')).toBe(16); // 2 × 3 W + 2 × 5 W
  expect(graph.value('outcome', 1)).toBe(20);
});

//     reserve ─────────────→ gain               gain = low with reserve = 1 W, less low
//     power → spare → low ──┘                   low = max(spare, 0 W), spare = power - reserve
test('a formula with its own what-if follows what lies beneath, where its cell stands still', () => {
  const graph = counted(
    'power = 2 W\nreserve = 9 W\nspare = power - reserve\nlow = max(spare, 0 W)\ngain = (low with reserve = 1 W) - low',
  );
  expect(graph.value('gain')).toBe(1); // max(2 − 1, 0) − max(2 − 9, 0)
  expect(graph.put('power', 5)).toContain('gain');
  expect(graph.value('low')).toBe(0);
  expect(graph.value('gain')).toBe(4); // max(5 − 1, 0) − 0
});

//     start → charge ⇄ on → outcome        charge looks back at on, on at charge
test('a circle through previous is one unit', () => {
  const graph = counted(
    `start = 100 Wh\non = previous(charge, first: start) ≥ 60 Wh\ncharge = previous(charge, first: start) + (if on then -20 W else 0 W) × clock.step\noutcome = last(charge)\n${CLOCK}`,
  );
  const worked = graph.put('start', 200 * 3600);
  expect(worked).toHaveLength(2);
  expect(worked[0]?.split('+').sort()).toEqual(['charge', 'on']);
  expect(worked[1]).toBe('outcome');
  // 200 − 120 = 80, 80 − 120 = −40, then it is off: −40 Wh, in joules.
  expect(graph.value('outcome')).toBeCloseTo(-40 * 3600, 6);
});

//     left ──→ turn ──→ series → outcome       turn draws on left, then on right
//     right ─→ other → apart
test('another formula makes its cell and what follows it work, and draws on what it names now', () => {
  const graph = counted(
    `left = 1 W\nright = 2 W\nturn = left × 2\nother = right × 2\nseries = turn × during(clock, 00:00..24:00)\noutcome = mean(series)\napart = other × during(clock, 00:00..24:00)\n${CLOCK}`,
  );
  expect(graph.formula('turn', 'right × 5')).toEqual(['turn', 'series', 'outcome']);
  expect(graph.value('outcome')).toBe(10); // 5 × 2 W
  expect(graph.put('left', 3)).toEqual([]);
  expect([...graph.put('right', 4)].sort()).toEqual([
    'apart',
    'other',
    'outcome',
    'series',
    'turn',
  ]);
  expect(graph.value('outcome')).toBe(20); // 5 × 4 W
});

//     power → turn → series → outcome          turn = power × 2, then power + power
test('another formula with the same value stops at its cell', () => {
  const graph = counted(
    `power = 20 W\nturn = power × 2\nseries = turn × during(clock, 00:00..24:00)\noutcome = mean(series)\n${CLOCK}`,
  );
  expect(graph.formula('turn', 'power + power')).toEqual(['turn']);
  expect(graph.value('outcome')).toBe(40);
  expect(graph.formula('series', 'turn × during(clock, 00:00..12:00)')).toEqual([
    'series',
    'outcome',
  ]);
  expect(graph.value('outcome')).toBe(20); // two of four steps
});

//     left ──→ turn ─→ series → outcome        scenario: turn = 7 W
//     right ─→ base ──┘                        the scenario keeps its own turn
test('a scenario that replaces the cell does not work its other formula', () => {
  const graph = counted(
    `left = 1 W\nright = 2 W\nturn = left × 2\nbase = right × 2\nseries = (turn + base) × during(clock, 00:00..24:00)\noutcome = mean(series)\n${CLOCK}\nscenario Own\n  turn = 7 W`,
  );
  expect(graph.value('outcome', 1)).toBe(11); // 7 W + 4 W
  expect(graph.formula('turn', 'left × 9')).toEqual(['turn', 'series', 'outcome']);
  expect(graph.value('outcome')).toBe(13); // 9 W + 4 W
  expect(graph.value('outcome', 1)).toBe(11);
  // What both draw on is worked in both.
  expect(graph.formula('base', 'right × 3')).toEqual([
    'base',
    'series',
    'outcome',
    'series',
    'outcome',
  ]);
  expect(graph.value('outcome', 1)).toBe(13); // 7 W + 6 W
});

//     power → turn → again                     again = turn with power = 20 W
test('another formula with the same value moves what asks it with something else put in', () => {
  const graph = counted('power = 2 W\nturn = power + power\nagain = turn with power = 20 W');
  expect(graph.value('again')).toBe(40);
  // Followed as a whole: what draws on the cell is worked whether or not it moved.
  graph.formula('turn', 'if power > 7 W then 7 W else power × 2');
  expect(graph.value('turn')).toBe(4);
  expect(graph.value('again')).toBe(7);
});
