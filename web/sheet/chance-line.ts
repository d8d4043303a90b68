// The verdict's line of chance: twenty dots for all trials, filled where every check holds, mere
// points where no trial was run yet, and the words. While work is under way it can be stopped here,
// and begun again. The line stands there from the first, so that nothing moves when trials come.

import { html, nothing, svg, type TemplateResult } from 'lit';
import type { Verdict } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';

const DOTS = 20;

type Trials = NonNullable<Verdict['trials']>;

/** How many of the twenty dots are filled, and how many hollow. One trial that fails shows. */
export function dotsOf(
  trials: Trials | undefined,
  wanted: number,
): { readonly filled: number; readonly hollow: number } {
  if (!trials || trials.total === 0) return { filled: 0, hollow: 0 };
  const run = Math.max(1, Math.min(DOTS, Math.round((DOTS * trials.total) / wanted)));
  const { holding, total } = trials;
  const share = (run * holding) / total;
  const filled =
    holding === total ? run : holding === 0 ? 0 : Math.max(1, Math.min(run - 1, Math.round(share)));
  return { filled, hollow: run - filled };
}

function dots(trials: Trials | undefined, wanted: number): TemplateResult {
  const { filled, hollow } = dotsOf(trials, wanted);
  return html`<svg class="dots" viewBox="0 0 224 10" aria-hidden="true">${Array.from(
    { length: DOTS },
    (_, i) =>
      svg`<circle class=${i < filled ? 'yes' : i < filled + hollow ? 'no' : 'yet'} cx=${5 + i * 11.2} cy="5" r=${i < filled + hollow ? 4 : 2}/>`,
  )}</svg>`;
}

/** `in 957 of 1000 trials`, `in 287 of 300 so far`, `1000 trials to come`. */
export function chanceWords(
  trials: Trials | undefined,
  wanted: number,
  work: Desk['work'],
): string {
  if (trials && trials.total >= wanted) return `in ${trials.holding} of ${trials.total} trials`;
  if (trials)
    return `in ${trials.holding} of ${trials.total} ${work === 'working' ? 'so far' : 'trials'}`;
  return work === 'working' ? `${wanted} trials to come` : 'no trials run';
}

/** Stops what is under way, or begins it again; nothing when there is nothing to do. */
export function stopButton(desk: Desk): TemplateResult | typeof nothing {
  if (desk.work === 'working')
    return html`<button class="link stop" aria-label="Stop the trials and all that is being worked out"
      @click=${(): void => desk.stopWork()}>Stop</button>`;
  if (desk.work === 'stopped')
    return html`<button class="link stop" aria-label="Go on with the trials and all that is left to work out"
      @click=${(): void => desk.goOn()}>Go on</button>`;
  return nothing;
}

export function chanceLine(desk: Desk, trials: Trials | undefined, wanted: number): TemplateResult {
  return html`<p class="odds">${dots(trials, wanted)}<span>${chanceWords(trials, wanted, desk.work)}</span>
    ${stopButton(desk)}</p>`;
}
