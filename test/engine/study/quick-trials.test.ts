// Trials are worked in one stream of instructions; each must leave every cell as it is in a notebook
// that has the drawn numbers as plain ones, cells that fail in some trials and not in others included.

import { expect, test } from 'vitest';
import { checkNotebook } from '../../../engine/check/check.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { Evaluation } from '../../../engine/run/evaluation.ts';
import { TrialRun } from '../../../engine/study/trials.ts';
import { notebook } from '../run/evaluated.ts';

const BODY = (least: string, most: string): string => `begin = 2027-06-11 00:00
clock = timeline(from: begin, until: begin + 9 h, by: 1 h)
hours = (clock - begin) / 1 h
least = ${least}
most = ${most}
slices = round(least, to: 1)
over = hours / slices
chain = 0.5 × over + 1
capped = min(over, 2)
weighed = 0.3 × capped - most × hours
gap = highest(weighed) - lowest(weighed)
root = sqrt(slices - 1)
total = running total(if hours > 4 then capped else weighed, start: most, least: 0, most: 40)
left = last(total)
plain = hours × (most + 2)
check left > 5`;

function evaluationOf(body: string): Evaluation {
  const evaluation = new Evaluation(checkNotebook(readNotebook(notebook(body))));
  evaluation.run(true);
  return evaluation;
}

test('each trial leaves what a notebook of plain numbers has', () => {
  const drawn = evaluationOf(BODY('0..1..3', '2..3..7'));
  const { program } = drawn;
  const cells = program.nodes.filter(({ kind }) => kind === 'cell');
  const run = new TrialRun(
    drawn,
    0,
    cells.map(({ id }) => id),
  );
  const [least, most] = ['least', 'most'].map(
    (name) => cells.find((cell) => cell.name === name)?.id,
  );
  let failed = 0;
  for (let trial = 0; trial < 60; trial++) {
    const m = run.run(trial);
    const numbers = [least, most].map((id) => m.at(program.operands[id ?? -1]?.[0] ?? 0, 0));
    const [low = 0, high = 0] = numbers;
    const fresh = evaluationOf(BODY(String(low), String(high)));
    for (const { id, name, type } of cells) {
      const at = `${name} in trial ${trial}`;
      const [mine, other] = [m.faults[id], fresh.plan.faults[id]];
      expect(mine, at).toEqual(other);
      if (mine) failed++;
      if (mine || !type) continue;
      const length = type.axes.length > 0 ? 9 : 1;
      for (let place = 0; place < length; place++)
        expect(m.at(program.operands[id]?.[0] ?? 0, place), at).toBe(
          fresh.plan.at(fresh.program.operands[id]?.[0] ?? 0, place),
        );
    }
  }
  // Some trials divide by nothing, or take the root of less than nothing; most do not.
  expect(failed).toBeGreaterThan(20);
  expect(failed).toBeLessThan(60 * 6);
});
