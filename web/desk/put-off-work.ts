// The work that an edit puts off: trials, sweeps, solving, and what moves a result. What takes less
// than a frame or two is worked on the page's own thread at once, everything else in the worker; a
// newer edit starts all of it over.

import {
  gathered,
  type Session,
  type ShownInfluence,
  type StudyResults,
} from '../../engine/index.ts';
import { Studies } from './studies.ts';
import type { InfluenceAnswer, StudyNews } from './study-worker.ts';

/** One slice of put-off work on the page's own thread, ms. */
const SLICE = 8;
/** Put-off work that takes less than this is done on the page's own thread, ms. */
const QUICK = 60;
/** Trials that rank the givens; more would not change their order that is shown. */
const INFLUENCE_TRIALS = 200;
/** A question about influence is asked when no edit came for this long, ms. */
const RESTING = 250;
/** Nothing more is on its way when nothing was heard of for this long, ms. */
const QUIET = 700;

export type WorkState = 'resting' | 'working' | 'stopped';

export interface BenchInfluence {
  readonly list: readonly ShownInfluence[];
  readonly working: boolean;
}

export class PutOffWork {
  readonly #session: Session;
  readonly #changed: () => void;
  readonly #studies: Studies;
  #slice: ReturnType<typeof setTimeout> | undefined;
  /** The last question about influence: cell, column and text. */
  #asked = '';
  #asking: ReturnType<typeof setTimeout> | undefined;
  #answer: InfluenceAnswer | undefined;
  /** By hand: what it told of trials, and how long what was put off took there, ms. */
  readonly #told = new Map<number, StudyResults>();
  readonly #elapsed = new Map<number, number>();
  /** What the put-off work took when it was last done, ms. */
  #lastElapsed = Number.POSITIVE_INFINITY;
  /** Whether the notebook has trials. */
  #wanted = false;
  #state: WorkState = 'working';
  #isBegun = false;
  #resting: ReturnType<typeof setTimeout> | undefined;

  constructor(session: Session, changed: () => void) {
    this.#session = session;
    this.#changed = changed;
    this.#studies = new Studies(
      (news, hand) => this.#heard(news, hand),
      (answer) => {
        this.#answer = answer;
        this.#changed();
      },
      () => {
        this.#lastElapsed = 0;
        this.#workHere();
      },
    );
  }

  get state(): WorkState {
    return this.#state;
  }

  /** Begins, unless it has begun, was stopped or is ended. */
  beginOnce(): void {
    if (!this.#isBegun) this.begin();
  }

  /** Begins over, on the session's text as it is now. */
  begin(): void {
    this.#isBegun = true;
    clearTimeout(this.#slice);
    this.#told.clear();
    this.#elapsed.clear();
    clearTimeout(this.#resting);
    this.#state = 'working';
    if (this.#lastElapsed < QUICK) this.#workHere();
    else this.#start();
  }

  /** Leaves what is under way; what was worked out so far stays. */
  stop(): void {
    this.#isBegun = true;
    clearTimeout(this.#slice);
    clearTimeout(this.#resting);
    this.#studies.stop();
    this.#state = 'stopped';
    this.#changed();
  }

  #start(): void {
    this.#studies.start(this.#session.text, this.#session.snapshot().verdicts.length);
  }

  /** At rest when all that is known of is done and nothing was heard of for a while. */
  #restSoon(): void {
    clearTimeout(this.#resting);
    const { done, wanted } = gathered([...this.#told.values()]);
    const left = this.#session.snapshot().pending > 0 || done < wanted;
    if (left || this.#elapsed.size < this.#studies.slowHands) return;
    this.#resting = setTimeout(() => {
      if (this.#state !== 'working') return;
      this.#state = 'resting';
      this.#changed();
    }, QUIET);
  }

  /** The notebook is left. */
  end(): void {
    this.#isBegun = true;
    clearTimeout(this.#asking);
    clearTimeout(this.#slice);
    clearTimeout(this.#resting);
    this.#studies.end();
  }

  #workHere(): void {
    const next = (): void => {
      const before = this.#session.snapshot();
      const more = this.#session.continue(SLICE, () => performance.now());
      if (this.#session.snapshot() !== before) this.#changed();
      if (more) this.#slice = setTimeout(next, 4);
      else if (this.#wanted) this.#start();
      else {
        this.#state = 'resting';
        this.#changed();
      }
    };
    this.#studies.stop();
    this.#slice = setTimeout(next, 0);
  }

  #heard(news: StudyNews, hand: number): void {
    if (news.kind === 'begun' || news.kind === 'share') return;
    if (news.kind === 'slow') {
      this.#elapsed.set(hand, news.elapsed);
      if (!news.more && this.#elapsed.size === this.#studies.slowHands)
        this.#lastElapsed = [...this.#elapsed.values()].reduce((sum, one) => sum + one, 0);
      this.#session.adopt(news.results);
    } else {
      this.#wanted = true;
      this.#told.set(hand, news.results);
      this.#session.adoptStudies(gathered([...this.#told.values()]));
    }
    this.#restSoon();
    this.#changed();
  }

  /**
   * What moves a result most, worked out in the worker when it is first asked for. While the answer
   * for a new text is on its way, the last one of the same cell stands, marked as old.
   */
  influence(cell: string, column: number): BenchInfluence {
    const text = this.#session.text;
    const asked = `${cell}|${column}|${text}`;
    if (asked !== this.#asked) {
      this.#asked = asked;
      clearTimeout(this.#asking);
      const trials = Math.min(INFLUENCE_TRIALS, this.#session.snapshot().trials);
      const question = { kind: 'influence', text, cell, column, trials } as const;
      this.#asking = setTimeout(() => this.#studies.ask(question), RESTING);
    }
    const last = this.#answer;
    const fits = last?.question.cell === cell && last.question.column === column;
    const settled = fits && last.question.text === text;
    return { list: fits ? last.influence : [], working: !settled };
  }
}
