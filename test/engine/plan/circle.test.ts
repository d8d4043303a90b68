// A circle stepped whole against the same circle with one member held at its own values.

import { expect, test } from 'vitest';
import { checkNotebook } from '../../../engine/check/check.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { Evaluation } from '../../../engine/run/evaluation.ts';

const TEXT = `dapple 1
title: Circle

clock = timeline(from: 2027-06-11 00:00, until: 2027-06-14 00:00, by: 30 min)
sun = max(0 W, 60 W × cos(360° × (time of day(clock) - 12:00) / 24 h))
first charge = 60 %
box on = previous(charge, first: first charge) ≥ 20 %
load = if box on then 20 W + sun / 10 else 2 W
store = battery run(charging: sun, load: load, capacity: 300 Wh, start: first charge)
charge = store.charge
warm = previous(warm, first: 18 °C) + (10 °C - previous(warm, first: 18 °C)) × clock.step / 6 h
free = sum(charge)
held = sum(charge) with load = load
switched = sum(charge) with box on = box on
spilled = energy(store.spilled)
spilled held = energy(store.spilled) with load = load
last warm = last(warm)
`;

function values(): Map<string, number> {
  const evaluation = new Evaluation(checkNotebook(readNotebook(TEXT)));
  evaluation.run(true);
  const [column] = evaluation.columns;
  if (!column) throw new RangeError('no column');
  return new Map(
    evaluation.program.nodes.flatMap(({ id, name }) => {
      const [operand] = evaluation.program.operands[id] ?? [];
      return operand === undefined || operand < 0 || column.memory.faults[id]
        ? []
        : [[name, column.memory.at(operand, 0)] as const];
    }),
  );
}

test('holding a member at the values it has changes no bit', () => {
  const found = values();
  expect(found.get('free')).toBeGreaterThan(0);
  expect(found.get('held')).toBe(found.get('free'));
  expect(found.get('switched')).toBe(found.get('free'));
  expect(found.get('spilled held')).toBe(found.get('spilled'));
});

test('a circle of one cell nears its end as 1 − step/6 h to the number of steps', () => {
  // 144 steps of half an hour, each taking a twelfth of what is left of 8 K.
  expect(values().get('last warm')).toBeCloseTo(10 + 8 * (11 / 12) ** 144, 12);
});
