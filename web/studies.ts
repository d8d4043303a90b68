// The page's side of the work that is put off: one worker, given the text of the last edit. A newer
// edit makes what is under way pointless, so a busy worker is ended rather than waited for.

import type { StudyNews, StudyTask } from './study-worker.ts';

/** An edit is followed up when no other came for this long, ms. */
const SETTLED = 120;

export class Studies {
  #worker: Worker | undefined;
  #busy = false;
  #generation = 0;
  #timer: ReturnType<typeof setTimeout> | undefined;
  readonly #news: (news: StudyNews) => void;
  readonly #failed: () => void;

  constructor(news: (news: StudyNews) => void, failed: () => void) {
    this.#news = news;
    this.#failed = failed;
  }

  /** Works on this text, and on nothing older. */
  start(text: string): void {
    this.stop();
    this.#timer = setTimeout(() => this.#send(text), SETTLED);
  }

  #send(text: string): void {
    const worker = this.#worker ?? this.#open();
    this.#worker = worker;
    this.#busy = true;
    const task: StudyTask = { generation: this.#generation, text };
    worker.postMessage(task);
  }

  #open(): Worker {
    const worker = new Worker(new URL('./study-worker.ts', import.meta.url), { type: 'module' });
    worker.addEventListener('message', (event: MessageEvent<StudyNews>) => {
      const news = event.data;
      if (news.generation !== this.#generation) return;
      if (news.kind === 'studies' && !news.more) this.#busy = false;
      this.#news(news);
    });
    worker.addEventListener('error', () => {
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
    if (!this.#busy) return;
    this.#worker?.terminate();
    this.#worker = undefined;
    this.#busy = false;
  }
}
