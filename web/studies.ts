// The workers that work out what an edit puts off. The columns are dealt out among them: the plan
// begins at once in the first, the scenarios in the others, and each tells what it has as it goes.

import { StudyHand } from './study-hand.ts';
import type { InfluenceAnswer, InfluenceQuestion, StudyNews } from './study-worker.ts';

/** More workers than this would be slower to begin than they save. */
const MOST_HANDS = 4;

/** Which columns each of some hands works out: the plan's hand takes the fewest of the others. */
export function dealt(columns: number, hands: number): readonly (readonly number[])[] {
  const deal = Array.from({ length: Math.min(columns, hands) }, (): number[] => []);

  for (let column = 0; column < columns; column++) deal[column % deal.length]?.push(column);
  return deal;
}

export class Studies {
  readonly #hands: StudyHand[] = [];
  readonly #make: (index: number) => StudyHand;
  #used = 0;

  constructor(
    news: (news: StudyNews, hand: number) => void,
    answered: (answer: InfluenceAnswer) => void,
    failed: () => void,
  ) {
    this.#make = (index): StudyHand =>
      new StudyHand((heard) => news(heard, index), answered, failed);
  }

  /** How many workers are at it. */
  get hands(): number {
    return this.#used;
  }

  #hand(index: number): StudyHand {
    const known = this.#hands[index];
    if (known) return known;
    const made = this.#make(index);
    this.#hands[index] = made;
    return made;
  }

  /** Works on this text, and on nothing older. */
  start(text: string, columns: number): void {
    const processors = navigator.hardwareConcurrency || 2;
    const deal = dealt(columns, Math.max(1, Math.min(MOST_HANDS, processors)));
    this.#used = deal.length;
    deal.forEach((own, index) => {
      this.#hand(index).start(text, own);
    });
    for (const idle of this.#hands.slice(deal.length)) idle.stop();
  }

  /** Asks about a cell; the answer comes after what was asked before. A later question replaces it. */
  ask(question: InfluenceQuestion): void {
    this.#hand(0).ask(question);
  }

  /** Nothing under way is wanted any more. */
  stop(): void {
    for (const hand of this.#hands) hand.stop();
  }

  /** The notebook is left: the workers go too. */
  end(): void {
    for (const hand of this.#hands) hand.end();
    this.#hands.length = 0;
  }
}
