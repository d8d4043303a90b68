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
  type StudyWork,
  startShare,
  startStudies,
  type TrialShare,
} from '../../engine/index.ts';

/** One column's trials, a share of those for the worker that puts them together, or what the column put off. */
export type StudyPart =
  | { readonly column: number; readonly work: 'trials' | 'slow' }
  | {
      readonly column: number;
      readonly work: 'share';
      readonly nth: number;
      readonly parts: number;
    };

/** Work out these parts, one after the other. */
export interface StudyTask {
  readonly kind: 'task';
  readonly generation: number;
  readonly text: string;
  readonly parts: readonly StudyPart[];
}

/** Trials that another worker worked for this one's column. */
export interface StudyShare {
  readonly kind: 'share';
  readonly generation: number;
  readonly share: TrialShare;
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
      /** Whether this worker still has put-off work of this task, trials aside. */
      readonly more: boolean;
      /** How long what was put off has taken so far, without the trials, ms. */
      readonly elapsed: number;
    }
  | StudyShare
  | {
      readonly kind: 'studies';
      readonly generation: number;
      readonly results: StudyResults;
    };

const SLICE = 40;
/** The first news comes soon, ms: an early spread says much. The time to the next grows threefold, up to the last. */
const FIRST_NEWS = 10;
const LAST_NEWS = 500;

let current = 0;
/** The session of the last text; a newer text is an edit of it. */
let open: Session | undefined;

/** The trials under way here, for what others work of them. */
let trials: StudyWork | undefined;

/** A session on this text, warm from the last one. */
function sessionOn(text: string): Session {
  if (open) open.do({ do: 'text', text });
  else open = openSession(text);
  return open;
}

function tell(news: StudyNews | InfluenceAnswer, handedOver: readonly ArrayBuffer[] = []): void {
  postMessage(news, { transfer: [...handedOver] });
}

/** Calls back once messages that came meanwhile were heard; a timer would wait some milliseconds longer. */
const soon = ((): ((call: () => void) => void) => {
  const { port1, port2 } = new MessageChannel();
  const waiting: (() => void)[] = [];
  port1.addEventListener('message', () => waiting.shift()?.());
  port1.start();
  return (call) => {
    waiting.push(call);
    port2.postMessage(undefined);
  };
})();

/** When news is due: soon at first, then less and less often. */
class Pace {
  #told = performance.now();
  #pause = FIRST_NEWS;

  /** Until the next news, ms. */
  get left(): number {
    return Math.max(0, this.#told + this.#pause - performance.now());
  }

  /** Whether news is due; it then counts as told. */
  isDue(): boolean {
    if (this.left > 0) return false;
    this.#told = performance.now();
    this.#pause = Math.min(LAST_NEWS, 3 * this.#pause);
    return true;
  }
}

/** Carries out a slice of a part, tells what there is to tell, and says whether some is left. */
type Slice = () => boolean;

/** The trials of one column. `done` are the results of this task's columns before it. */
function trialsOf(session: Session, task: StudyTask, column: number, done: StudyResults[]): Slice {
  const run = startStudies(session, undefined, new Set([column]));
  const pace = new Pace();
  const columns = task.parts.filter(({ work }) => work === 'trials').length;
  // Shares are dealt of the plan's trials alone.
  trials = column === 0 ? run : undefined;
  return () => {
    if (!run.alive) return false;
    const end = performance.now() + Math.min(SLICE, pace.left);
    const were = run.trialsLeft;
    const more = run.step(() => performance.now() >= end);
    const isWhole = were && !run.trialsLeft;
    if (!more || isWhole || pace.isDue()) {
      const own = run.result();
      const results = { ...gathered([...done, own]), wanted: own.wanted * columns };
      tell({ kind: 'studies', generation: task.generation, results });
      if (!more) done.push(own);
    }
    return more;
  };
}

/** Some trials of a column whose others are worked, and all put together, by the first worker. */
function shareOf(
  session: Session,
  { generation }: StudyTask,
  column: number,
  nth: number,
  parts: number,
): Slice {
  const next = startShare(session, column, nth, parts);
  return () => {
    const share = next();
    if (share === undefined) return false;
    const arrays = [...share.samples.values(), ...share.rows.values()];
    tell(
      { kind: 'share', generation, share },
      arrays.map(({ buffer }) => buffer as ArrayBuffer),
    );
    return true;
  };
}

/** What one column put off. `before` is the time that this took for the columns before it, ms. */
function slowOf(
  session: Session,
  task: StudyTask,
  part: StudyPart,
  before: number,
  took: (elapsed: number) => void,
): Slice {
  const pace = new Pace();
  const columns = new Set([part.column]);
  const isLast = task.parts.findLast(({ work }) => work === 'slow') === part;
  const began = performance.now();
  return () => {
    const more = session.continue(SLICE, () => performance.now(), columns);
    if (!more || pace.isDue()) {
      const elapsed = before + performance.now() - began;
      const results = session.slowResults(columns);
      const { generation } = task;
      tell({ kind: 'slow', generation, results, more: more || !isLast, elapsed });
      took(elapsed);
    }
    return more;
  };
}

function work(task: StudyTask): void {
  const session = sessionOn(task.text);
  tell({ kind: 'begun', generation: task.generation });
  const left = [...task.parts];
  const done: StudyResults[] = [];
  let elapsed = 0;
  const next = (): Slice | undefined => {
    const part = left.shift();
    if (part === undefined) return undefined;
    if (part.work === 'share') return shareOf(session, task, part.column, part.nth, part.parts);
    return part.work === 'trials'
      ? trialsOf(session, task, part.column, done)
      : slowOf(session, task, part, elapsed, (so) => {
          elapsed = so;
        });
  };
  let slice = next();
  const step = (): void => {
    if (task.generation !== current || slice === undefined) return;
    if (!slice()) slice = next();
    if (slice !== undefined) soon(step);
  };
  step();
}

function answer(question: InfluenceQuestion): void {
  const { text, cell, column, trials } = question;
  const session = open?.text === text ? open : openSession(text);
  tell({ kind: 'influence', question, influence: influenceOf(session, cell, column, trials) });
}

type Asked = StudyTask | StudyShare | StudyStop | InfluenceQuestion;

addEventListener('message', (event: MessageEvent<Asked>) => {
  const asked = event.data;
  if (asked.kind === 'share') {
    if (asked.generation === current) trials?.accept(0, asked.share);
    return;
  }
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
