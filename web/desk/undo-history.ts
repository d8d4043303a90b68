// Undo and redo of one notebook: the texts before and after each deliberate action, and what the
// action is called.

interface Step {
  readonly before: string;
  readonly after: string;
  readonly label: string;
}

const LIMIT = 300;

export class UndoHistory {
  #done: Step[] = [];
  #undone: Step[] = [];

  /** What undoing would take back; empty when there is nothing. */
  get undoLabel(): string {
    return this.#done.at(-1)?.label ?? '';
  }
  get redoLabel(): string {
    return this.#undone.at(-1)?.label ?? '';
  }

  record(before: string, after: string, label: string): void {
    if (after === before) return;
    this.#done.push({ before, after, label });
    if (this.#done.length > LIMIT) this.#done.shift();
    this.#undone = [];
  }

  clear(): void {
    this.#done = [];
    this.#undone = [];
  }

  /** The text to go back to. */
  undo(): string | undefined {
    const step = this.#done.pop();
    if (step) this.#undone.push(step);
    return step?.before;
  }

  /** The text to go forward to. */
  redo(): string | undefined {
    const step = this.#undone.pop();
    if (step) this.#done.push(step);
    return step?.after;
  }
}
