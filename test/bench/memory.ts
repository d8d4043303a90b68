// How much memory a large notebook and a large study keep, after everything unused was collected.

import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { openSession } from '../../engine/index.ts';
import { ColumnTrials } from '../../engine/study/trials.ts';
import { evaluationOf } from './engine-under-test.ts';
import { shareOf } from './measure.ts';
import { notebookText, scalarCells } from './scalar-notebook.ts';
import { trialsText } from './series-notebook.ts';
import { type Measure, timeText } from './table.ts';

function collector(): () => void {
  setFlagsFromString('--expose-gc');
  const collect: unknown = runInNewContext('gc');
  if (typeof collect !== 'function') throw new Error('memory cannot be collected on demand here');
  return () => {
    collect();
    collect();
  };
}

/** Megabytes that `make` keeps, three times over. */
function kept(collect: () => void, make: () => unknown): readonly number[] {
  const held: unknown[] = [];
  const used = (): number => {
    collect();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return (heapUsed + arrayBuffers) / 1e6;
  };
  make();
  const readings: number[] = [];
  for (let i = 0; i < 3; i++) {
    const before = used();
    held.push(make());
    readings.push(used() - before);
  }
  if (held.length !== 3) throw new Error('nothing was kept');
  return readings;
}

function megabytes(name: string, readings: readonly number[], target: number): Measure {
  return {
    name,
    ratio: shareOf(readings, 0.5),
    low: Math.min(...readings),
    high: Math.max(...readings),
    target,
    better: 'lower',
  };
}

export async function memory(): Promise<{
  timings: readonly string[];
  measures: readonly Measure[];
}> {
  const collect = collector();
  const text = notebookText(scalarCells(10_000));
  const began = performance.now();
  openSession(text).snapshot();
  const opened = performance.now() - began;
  const notebook = kept(collect, () => {
    const session = openSession(text);
    session.snapshot();
    return session;
  });
  const study = kept(collect, () => {
    const evaluation = evaluationOf(trialsText(1008, 1000));
    const work = new ColumnTrials(evaluation, 0, [], 1000);
    while (work.step(1000));
    return [evaluation, work, work.result()];
  });
  return {
    timings: [`10000 cells opened and shown, cold: ${timeText(opened)}`],
    measures: [
      megabytes('MB of an open notebook of 10000 cells', notebook, 50),
      megabytes('MB of 1000 trials x 1008 steps, statistics only', study, 100),
    ],
  };
}
