// Random choices that are the same everywhere for the same number.

/** Mulberry32: small, quick, and the same everywhere. */
export function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Choices from one stream of numbers. */
export class Hand {
  readonly next: () => number;

  constructor(seed: number) {
    this.next = dice(seed);
  }

  pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.next() * list.length)] as T;
  }

  chance(share: number): boolean {
    return this.next() < share;
  }

  /** A whole number from 0, less than `most`. */
  whole(most: number): number {
    return Math.floor(this.next() * most);
  }

  shuffled<T>(list: readonly T[]): T[] {
    const out = [...list];
    for (let i = out.length - 1; i > 0; i--) {
      const k = this.whole(i + 1);
      [out[i], out[k]] = [out[k] as T, out[i] as T];
    }
    return out;
  }
}
