// Off the page's thread: what was put off (solving, sweeps, chances) and the trials. It has a session
// of its own on the page's text, works in slices so that it hears of a newer text, and sends what it
// has so far.

import {
  gathered,
  influenceOf,
  openSession,
  type Session,
  type ShownInfluence,
  type SlowResults,
  type StudyResults,
  startStudies,
} from '../engine/index.ts';

/** Work out what was put off and the trials, column by column. */
export interface StudyTask {
  readonly kind: 'task';
  readonly generation: number;
  readonly text: string;
  /** The columns to work out, one after the other. */
  readonly columns: readonly number[];
}

/** Leave what is under way. */
export interface StudyStop {
  readonly kind: 'stop';
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
  /** The text is taken over and the work has begun. */
  | { readonly kind: 'begun'; readonly generation: number }
  | {
      readonly kind: 'slow';
      readonly generation: number;
      readonly results: SlowResults;
      readonly more: boolean;
      /** How long what was put off has taken so far, without the trials, ms. */
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

/** The first news of trials comes sooner, ms: an early spread says much. */
const FIRST_NEWS = 30;

let current = 0;
/** The session of the last text; a newer text is an edit of it. */
let open: Session | undefined;

/** A session on this text, warm from the last one. */
function sessionOn(text: string): Session {
  if (open) open.do({ do: 'text', text });
  else open = openSession(text);
  return open;
}

function tell(news: StudyNews | InfluenceAnswer): void {
  postMessage(news);
}

function work(task: StudyTask): void {
  const { generation } = task;
  let began = performance.now();
  const session = sessionOn(task.text);
  tell({ kind: 'begun', generation });
  const left = [...task.columns];
  const done: StudyResults[] = [];
  let elapsed = 0;
  let told = began;
  let pause = FIRST_NEWS;
  const due = (): boolean => {
    if (performance.now() - told < pause) return false;
    told = performance.now();
    pause = NEWS;
    return true;
  };
  const nextColumn = (): void => {
    const column = left.shift();
    if (column !== undefined) slow(column);
  };
  const trials = (column: number): void => {
    const run = startStudies(session, undefined, new Set([column]));
    if (!run.alive) {
      nextColumn();
      return;
    }
    told = performance.now();
    pause = FIRST_NEWS;
    const step = (): void => {
      if (generation !== current) return;
      const end = performance.now() + Math.min(SLICE, pause);
      const more = run.step(() => performance.now() >= end);
      if (!more || due()) {
        const own = run.result();
        const results = gathered([...done, own]);
        const wanted = own.wanted * task.columns.length;
        const isLast = !more && left.length === 0;
        tell({ kind: 'studies', generation, results: { ...results, wanted }, more: !isLast });
        if (!more) done.push(own);
      }
      if (more) setTimeout(step);
      else nextColumn();
    };
    step();
  };
  const slow = (column: number): void => {
    began = performance.now();
    const columns = new Set([column]);
    const step = (): void => {
      if (generation !== current) return;
      const more = session.continue(SLICE, () => performance.now(), columns);
      const isLast = !more && left.length === 0;
      if (!more || due()) {
        const so = elapsed + performance.now() - began;
        tell({
          kind: 'slow',
          generation,
          results: session.slowResults(columns),
          more: !isLast,
          elapsed: so,
        });
      }
      if (more) {
        setTimeout(step);
        return;
      }
      elapsed += performance.now() - began;
      trials(column);
    };
    step();
  };
  nextColumn();
}

function answer(question: InfluenceQuestion): void {
  const { text, cell, column, trials } = question;
  const session = open?.text === text ? open : openSession(text);
  tell({ kind: 'influence', question, influence: influenceOf(session, cell, column, trials) });
}

addEventListener('message', (event: MessageEvent<StudyTask | StudyStop | InfluenceQuestion>) => {
  const asked = event.data;
  if (asked.kind === 'influence') {
    answer(asked);
    return;
  }
  if (asked.kind === 'stop') {
    current = -1;
    return;
  }
  current = asked.generation;
  work(asked);
});
