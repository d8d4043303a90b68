// What a screen reader hears when the verdict changes: its headline, at most once a second, the last
// words of a moving slider rather than all of them.

const PAUSE = 1000;

export class SpokenVerdict {
  readonly #root: ParentNode;
  #words = '';
  #at = 0;

  constructor(root: ParentNode) {
    this.#root = root;
  }

  say(words: string): void {
    if (words === this.#words) return;
    const wait = Math.max(0, this.#at + PAUSE - performance.now());
    this.#words = words;
    this.#at = performance.now() + wait;
    setTimeout(() => {
      const region = this.#root.querySelector('#spoken');
      if (region) region.textContent = this.#words;
    }, wait);
  }
}
