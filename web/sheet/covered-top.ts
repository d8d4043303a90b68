// How much of the window's top the bar and the verdict cover, told to the style sheets as `--covered`:
// what the hand goes to stands below it, and a bench from below leaves room for the row it is about.

export class CoveredTop {
  readonly #seen: ResizeObserver;
  #verdict: HTMLElement | undefined;

  constructor() {
    this.#seen = new ResizeObserver(() => this.#tell());
  }

  /** Watches the verdict that is drawn in `root` now. */
  watch(root: HTMLElement): void {
    const verdict = root.querySelector<HTMLElement>('.verdict') ?? undefined;
    if (verdict === this.#verdict) return;
    this.#seen.disconnect();
    this.#verdict = verdict;
    if (verdict) this.#seen.observe(verdict);
  }

  end(): void {
    this.#seen.disconnect();
    this.#verdict = undefined;
    document.documentElement.style.removeProperty('--covered');
  }

  #tell(): void {
    if (!this.#verdict) return;
    const stuck = Number.parseFloat(getComputedStyle(this.#verdict).top);
    const covered = Math.ceil((Number.isFinite(stuck) ? stuck : 0) + this.#verdict.offsetHeight);
    document.documentElement.style.setProperty('--covered', `${covered}px`);
  }
}
