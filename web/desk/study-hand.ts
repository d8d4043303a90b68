// The page's side of one worker, kept warm and given the text of the last edit with the parts it is
// to work out. A newer edit makes what is under way pointless; the worker hears of it between two
// slices. One that does not answer in time is in the middle of something long and is replaced.

import type { TrialShare } from '../../engine/index.ts';
import type {
  InfluenceAnswer,
  InfluenceQuestion,
  StudyNews,
  StudyPart,
  StudyTask,
} from './study-worker.ts';

/** A worker that has not begun a task after this is replaced, ms, unless a new one took longer to begin. */
const PATIENCE = 400;
const FRESH_PATIENCE = 10_000;

export class StudyHand {
  #worker: Worker | undefined;
  /** Whether the worker has ever answered: before that it is still being loaded. */
  #isWarm = false;
  #openedAt = 0;
  /** What the last new worker took to answer, ms: on a slow device it pays to wait longer for a warm one. */
  #freshTook = 0;
  #generation = 0;
  /** Whether the present task waits to be given out. */
  #isHeld = false;
  /** Whether the worker may be at a task that it has not been told to leave. */
  #isBusy = false;
  /** Ends the wait for a worker that was given the present task. */
  #waiting: ReturnType<typeof setTimeout> | undefined;
  #text = '';
  #parts: readonly StudyPart[] = [];
  /** Whether the worker is at a question, which it works through without a pause. */
  #isAnswering = false;
  /** Asked and not answered yet; asked again of the worker that takes the place of an ended one. */
  #question: InfluenceQuestion | undefined;
  readonly #news: (news: StudyNews) => void;
  readonly #answered: (answer: InfluenceAnswer) => void;
  readonly #failed: () => void;

  constructor(
    news: (news: StudyNews) => void,
    answered: (answer: InfluenceAnswer) => void,
    failed: () => void,
  ) {
    this.#news = news;
    this.#answered = answered;
    this.#failed = failed;
  }

  /**
   * Takes these parts of this text in hand, to be given out with `begin`. Work on an older text is left
   * at once: it would take the processors from the drawing.
   */
  hold(text: string, parts: readonly StudyPart[]): void {
    this.stop();
    this.#text = text;
    this.#parts = parts;
    this.#isHeld = true;
  }

  /** Gives out what is in hand. */
  begin(): void {
    if (!this.#isHeld) return;
    this.#isHeld = false;
    this.#send();
  }

  /** Asks about a cell; the answer comes after what was asked before. A later question replaces it. */
  ask(question: InfluenceQuestion): void {
    this.#question = question;
    // One that waits to be started is asked when it is.
    if (!this.#isHeld) this.#post(question);
  }

  /** Hands the worker trials of its column that another one worked, if it is at this text already. */
  accept(share: TrialShare): void {
    if (this.#isHeld) return;
    const buffers = [...share.samples.values(), ...share.rows.values()].map(({ buffer }) => buffer);
    this.#worker?.postMessage({ kind: 'share', generation: this.#generation, share }, buffers);
  }

  /** Nothing under way is wanted any more. */
  stop(): void {
    this.#leave();
    if (this.#isBusy) this.#worker?.postMessage({ kind: 'stop' });
    this.#isBusy = false;
  }

  /** The page is left: the worker goes too. */
  end(): void {
    this.#leave();
    this.#worker?.terminate();
    this.#worker = undefined;
  }

  #leave(): void {
    this.#generation++;
    clearTimeout(this.#waiting);
    this.#isHeld = false;
    if (!this.#isAnswering) return;
    this.#worker?.terminate();
    this.#worker = undefined;
  }

  #post(message: StudyTask | InfluenceQuestion): void {
    this.#worker ??= this.#open();
    this.#worker.postMessage(message);
    if (message.kind === 'influence') this.#isAnswering = true;
  }

  #send(): void {
    const text = this.#text;
    this.#isBusy = true;
    this.#post({ kind: 'task', generation: this.#generation, text, parts: this.#parts });
    if (this.#question?.text === text) this.#post(this.#question);
    else this.#question = undefined;
    const patience = this.#isWarm ? Math.max(PATIENCE, this.#freshTook) : FRESH_PATIENCE;
    this.#waiting = setTimeout(() => this.#replace(), patience);
  }

  #replace(): void {
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#send();
  }

  #open(): Worker {
    this.#isWarm = false;
    this.#isAnswering = false;
    this.#openedAt = performance.now();
    const worker = new Worker(new URL('./study-worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<StudyNews | InfluenceAnswer>) => {
      if (worker !== this.#worker) return;
      if (!this.#isWarm) this.#freshTook = performance.now() - this.#openedAt;
      this.#isWarm = true;
      this.#heard(event.data);
    });
    worker.addEventListener('error', () => {
      if (worker !== this.#worker) return;
      this.#question = undefined;
      this.end();
      this.#failed();
    });
    return worker;
  }

  #heard(news: StudyNews | InfluenceAnswer): void {
    if (news.kind === 'influence') {
      this.#isAnswering = false;
      if (news.question.cell === this.#question?.cell) this.#question = undefined;
      this.#answered(news);
      return;
    }
    if (news.generation !== this.#generation) return;
    clearTimeout(this.#waiting);
    if (news.kind !== 'begun') this.#news(news);
  }
}
