// Off the page's thread: what was put off (solving, sweeps, chances) and the trials. It opens the
// same text, works in slices so that it can be told to stop, and sends what it has so far.

import {
  influenceOf,
  openSession,
  type Session,
  type ShownInfluence,
  type SlowResults,
  type StudyResults,
  startStudies,
} from '../engine/index.ts';

/** Work out what was put off, then the trials. */
export interface StudyTask {
  readonly kind: 'task';
  readonly generation: number;
  readonly text: string;
}

/** Which uncertain givens move this cell, and how far. */
export interface InfluenceQuestion {
  readonly kind: 'influence';
  readonly text: string;
  readonly cell: string;
  readonly column: number;
  readonly trials: number;
}

export interface InfluenceAnswer {
  readonly kind: 'influence';
  readonly question: InfluenceQuestion;
  readonly influence: readonly ShownInfluence[];
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
/** The session of the last text, so that a question about it opens none. */
let open: Session | undefined;

function tell(news: StudyNews | InfluenceAnswer): void {
  postMessage(news);
}

function work(task: StudyTask): void {
  const began = performance.now();
  const session = openSession(task.text);
  open = session;
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

function answer(question: InfluenceQuestion): void {
  const { text, cell, column, trials } = question;
  const session = open?.text === text ? open : openSession(text);
  tell({ kind: 'influence', question, influence: influenceOf(session, cell, column, trials) });
}

addEventListener('message', (event: MessageEvent<StudyTask | InfluenceQuestion>) => {
  const asked = event.data;
  if (asked.kind === 'influence') {
    answer(asked);
    return;
  }
  current = asked.generation;
  work(asked);
});
