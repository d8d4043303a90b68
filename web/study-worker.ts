// Off the page's thread: what was put off (solving, sweeps, chances) and the trials. It opens the
// same text, works in slices so that it can be told to stop, and sends what it has so far.

import { openSession, type SlowResults, type StudyResults, startStudies } from '../engine/index.ts';

export interface StudyTask {
  readonly generation: number;
  readonly text: string;
}

export type StudyNews =
  | {
      readonly kind: 'slow';
      readonly generation: number;
      readonly results: SlowResults;
      readonly more: boolean;
      /** How long the work has taken so far, ms. */
      readonly elapsed: number;
    }
  | {
      readonly kind: 'studies';
      readonly generation: number;
      readonly results: StudyResults;
      readonly more: boolean;
    };

const SLICE = 40;
/** Time between two pieces of news, ms. */
const NEWS = 500;

let current = 0;

function tell(news: StudyNews): void {
  postMessage(news);
}

function work(task: StudyTask): void {
  const began = performance.now();
  const session = openSession(task.text);
  let told = began;
  const due = (): boolean => {
    if (performance.now() - told < NEWS) return false;
    told = performance.now();
    return true;
  };
  const { generation } = task;
  const studies = (): void => {
    const run = startStudies(session);
    if (!run.alive) return;
    const step = (): void => {
      if (generation !== current) return;
      const end = performance.now() + SLICE;
      const more = run.step(() => performance.now() >= end);
      if (!more || due()) tell({ kind: 'studies', generation, results: run.result(), more });
      if (more) setTimeout(step);
    };
    step();
  };
  const slow = (): void => {
    if (generation !== current) return;
    const more = session.continue(SLICE, () => performance.now());
    if (!more || due()) {
      const elapsed = performance.now() - began;
      tell({ kind: 'slow', generation, results: session.slowResults(), more, elapsed });
    }
    if (more) setTimeout(slow);
    else studies();
  };
  slow();
}

addEventListener('message', (event: MessageEvent<StudyTask>) => {
  current = event.data.generation;
  work(event.data);
});
