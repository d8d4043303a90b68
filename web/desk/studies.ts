// The workers that work out what an edit puts off. The parts are dealt out among them: the plan's
// trials begin at once, a share of them in each, then in the second what the plan put off, then come the
// scenarios, and each worker tells what it has as it goes.

import { afterPaint } from '../parts/after-paint.ts';
import { StudyHand } from './study-hand.ts';
import type { InfluenceAnswer, InfluenceQuestion, StudyNews, StudyPart } from './study-worker.ts';

/** More workers than this would be slower to begin than they save. */
const MOST_HANDS = 4;
/** An edit by itself is followed up this long after what it shows was drawn, ms. */
const AT_ONCE = 4;
/** Edits further apart than this are not of one move, ms. */
const ONE_MOVE = 400;
/** While a hand moves, nothing is begun until it stood for so many times the pause between its moves. */
const STANDS = 1.5;
/** Whatever the pace, a hand that stood this long rests, ms. */
const RESTS = 120;

/**
 * The pace of a hand, ms between its moves, from the pause before its last move and the pace until
 * then: as slow as the slowest of late, since a page that is busy draws unevenly.
 */
export function paceAfter(gap: number, before: number): number {
  return gap < ONE_MOVE ? Math.max(gap, 0.8 * before) : 0;
}

/** How long after an edit was drawn its work begins, ms, for a hand that moves at `pace`; 0 is an edit by itself. */
export function waitAfter(pace: number): number {
  return Math.min(RESTS, Math.max(AT_ONCE, STANDS * pace));
}

/**
 * Which parts each of some hands works out, in order: the plan first, its trials before all else, and
 * every hand takes a share of those.
 */
export function dealt(columns: number, hands: number): readonly (readonly StudyPart[])[] {
  const parts = Array.from({ length: columns }, (_, column): readonly StudyPart[] => [
    { column, work: 'trials' },
    { column, work: 'slow' },
  ]).flat();
  const deal = Array.from({ length: Math.min(parts.length, hands) }, (_, nth): StudyPart[] =>
    nth === 0 ? [] : [{ column: 0, work: 'share', nth, parts: Math.min(parts.length, hands) }],
  );
  for (const [at, part] of parts.entries()) deal[at % deal.length]?.push(part);
  return deal;
}

export class Studies {
  readonly #hands: StudyHand[] = [];
  readonly #make: (index: number) => StudyHand;
  #slowHands = 0;
  /** The edit that is followed up, or is to be; one more with each. */
  #edit = 0;
  #waiting: ReturnType<typeof setTimeout> | undefined;
  #lastStart = Number.NEGATIVE_INFINITY;
  #pace = 0;

  constructor(
    news: (news: StudyNews, hand: number) => void,
    answered: (answer: InfluenceAnswer) => void,
    failed: () => void,
  ) {
    this.#make = (index): StudyHand =>
      new StudyHand(
        (heard) => {
          // The first hand puts the plan's trials together.
          if (heard.kind === 'share') this.#hands[0]?.accept(heard.share);
          else news(heard, index);
        },
        answered,
        failed,
      );
  }

  /** How many workers have put-off work, trials aside. */
  get slowHands(): number {
    return this.#slowHands;
  }

  #hand(index: number): StudyHand {
    const known = this.#hands[index];
    if (known) return known;
    const made = this.#make(index);
    this.#hands[index] = made;
    return made;
  }

  /** Works on this text once it is drawn and the hand that changes it rests, and on nothing older. */
  start(text: string, columns: number): void {
    const processors = navigator.hardwareConcurrency || 2;
    const deal = dealt(columns, Math.max(1, Math.min(MOST_HANDS, processors)));
    const now = performance.now();
    this.#pace = paceAfter(now - this.#lastStart, this.#pace);
    const wait = waitAfter(this.#pace);
    this.#lastStart = now;
    this.#slowHands = deal.filter((own) => own.some(({ work }) => work === 'slow')).length;
    deal.forEach((own, index) => {
      this.#hand(index).hold(text, own);
    });
    for (const idle of this.#hands.slice(deal.length)) idle.stop();
    this.#leave();
    const edit = this.#edit;
    afterPaint(() => {
      if (edit !== this.#edit) return;
      this.#waiting = setTimeout(() => {
        for (const hand of this.#hands) hand.begin();
      }, wait);
    });
  }

  #leave(): void {
    this.#edit++;
    clearTimeout(this.#waiting);
  }

  /** Asks about a cell; the answer comes after what was asked before. A later question replaces it. */
  ask(question: InfluenceQuestion): void {
    this.#hand(0).ask(question);
  }

  /** Nothing under way is wanted any more. */
  stop(): void {
    this.#leave();
    for (const hand of this.#hands) hand.stop();
  }

  /** The notebook is left: the workers go too. */
  end(): void {
    this.#leave();
    for (const hand of this.#hands) hand.end();
    this.#hands.length = 0;
  }
}
