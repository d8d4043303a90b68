// The page's side of the work that is put off: one worker, given the text of the last edit. A newer
// edit makes what is under way pointless, so a busy worker is ended rather than waited for.

import type { InfluenceAnswer, InfluenceQuestion, StudyNews, StudyTask } from './study-worker.ts';

/** An edit is followed up when no other came for this long, ms. */
const SETTLED = 120;

export class Studies {
  #worker: Worker | undefined;
  #busy = false;
  #generation = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;
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

  /** Works on this text, and on nothing older. */
  start(text: string): void {
    this.stop();
    this.#timer = setTimeout(() => this.#send(text), SETTLED);
  }

  /** Asks about a cell; the answer comes after what was asked before. A later question replaces it. */
  ask(question: InfluenceQuestion): void {
    this.#question = question;
    // One that waits to be started is asked when it is.
    if (this.#timer === undefined) this.#post(question);
  }

  #post(message: StudyTask | InfluenceQuestion): void {
    this.#worker ??= this.#open();
    this.#worker.postMessage(message);
  }

  #send(text: string): void {
    this.#timer = undefined;
    this.#busy = true;
    this.#post({ kind: 'task', generation: this.#generation, text });
    if (this.#question?.text === text) this.#post(this.#question);
    else this.#question = undefined;
  }

  #open(): Worker {
    const worker = new Worker(new URL('./study-worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<StudyNews | InfluenceAnswer>) => {
      const news = event.data;
      if (news.kind === 'influence') {
        if (news.question.cell === this.#question?.cell) this.#question = undefined;
        this.#answered(news);
        return;
      }
      if (news.generation !== this.#generation) return;
      if (news.kind === 'studies' && !news.more) this.#busy = false;
      this.#news(news);
    });
    worker.addEventListener('error', () => {
      this.#question = undefined;
      this.stop();
      this.#worker = undefined;
      this.#failed();
    });
    return worker;
  }

  /** Nothing under way is wanted any more. */
  stop(): void {
    this.#generation++;
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (!this.#busy && !this.#question) return;
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#busy = false;
  }
}
