// Series cells along one timeline, and how their cost grows with its length.

import { evaluationOf, seriesOf } from './engine-under-test.ts';
import { difference, race, ratioOf, type Timing } from './measure.ts';
import { handSeries, SERIES, seriesText } from './series-notebook.ts';
import { agree, type Measure, measure, timesOf } from './table.ts';

export async function series(): Promise<{
  timings: readonly string[];
  measures: readonly Measure[];
}> {
  const sizes = [1008, 10_080, 100_800];
  const contenders = sizes.flatMap((points) => {
    const evaluation = evaluationOf(seriesText(points));
    const hand = handSeries(points);
    hand.run();
    SERIES.forEach((name, i) => {
      agree(
        `${name} at ${points} points`,
        difference(seriesOf(evaluation, name), hand.rows[i] ?? []),
        // Phases are counted from the timeline's own moments, decades of seconds from their origin.
        1e-6,
      );
    });
    return [
      {
        name: `engine, ${points} points`,
        run: (): number => {
          evaluation.run(true);
          return seriesOf(evaluation, 'score')[points - 1] as number;
        },
      },
      { name: `fused by hand, ${points} points`, run: hand.run },
    ];
  });
  const timings = race(contenders);
  const at = (i: number): Timing => timings[i] as Timing;
  return {
    timings: timesOf('29 series', timings),
    measures: [
      measure(
        '29 series x 1008 points, slower than the fused loop',
        ratioOf(at(0), at(1)),
        'lower',
        1.4,
      ),
      measure('cost per point, 1008 to 10080 points', ratioOf(at(2), at(0), 10), 'lower', 2),
      measure('cost per point, 1008 to 100800 points', ratioOf(at(4), at(0), 100), 'lower', 4),
    ],
  };
}
