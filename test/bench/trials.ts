// A thousand trials along a timeline, against a loop that works what no draw moves only once.

import { quantile, uniform } from '../../engine/plan/random.ts';
import { ColumnTrials } from '../../engine/study/trials.ts';
import { evaluationOf, nodeOf } from './engine-under-test.ts';
import { difference, race, ratioOf, type Timing } from './measure.ts';
import { handTrials, TRIAL_RESULTS, trialsText } from './series-notebook.ts';
import { agree, type Measure, measure, timesOf } from './table.ts';

const TRIALS = 1000;
const POINTS = 1008;

export async function trials(): Promise<{
  timings: readonly string[];
  measures: readonly Measure[];
}> {
  const evaluation = evaluationOf(trialsText(POINTS, TRIALS));
  const run = (): ColumnTrials => {
    const study = new ColumnTrials(evaluation, 0, [], TRIALS);
    while (study.step(TRIALS));
    return study;
  };
  const { samples } = run().result();
  // The draws are given to the loop by hand: what is compared is the work done with them.
  const draws = ['clear', 'rating', 'leak', 'size'].map((name) => {
    const { distribution } = evaluation.program.nodes[nodeOf(evaluation, name)] ?? {};
    if (!distribution) throw new RangeError(`${name} is not uncertain`);
    return Float64Array.from({ length: TRIALS }, (_, trial) =>
      quantile(
        distribution,
        uniform(
          evaluation.program.seed,
          trial,
          evaluation.compiled.sites.drawName(nodeOf(evaluation, name)),
          0,
        ),
      ),
    );
  });
  const hand = handTrials(POINTS, TRIALS, draws);
  hand.run();
  TRIAL_RESULTS.forEach((name, i) => {
    agree(
      `${name} in trials`,
      difference(samples.get(nodeOf(evaluation, name)) ?? [], hand.results[i] ?? []),
      1e-6,
    );
  });
  const timings = race(
    [
      {
        name: 'engine',
        run: (): number => {
          run();
          return 1;
        },
      },
      { name: 'hoisted by hand', run: hand.run },
    ],
    21,
  );
  return {
    timings: timesOf('1000 trials', timings),
    measures: [
      measure(
        '1000 trials x 1008 steps, slower than the hoisted loop',
        ratioOf(timings[0] as Timing, timings[1] as Timing),
        'lower',
        4,
      ),
    ],
  };
}
