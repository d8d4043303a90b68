// The verdict: in words at the left, and at the head of every strip its scenario's name, verdict
// and margin line. One sticky band over the sheet.

import { html, nothing, svg, type TemplateResult } from 'lit';
import type { Snapshot, Verdict } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { icon, stateClass, stateShape } from '../parts/shapes.ts';
import { chanceLine, stopButton } from './chance-line.ts';
import { lessonTells, progressOf, progressWords } from './lesson.ts';

const WIDTH = 112;
const MIDDLE = 40;

/** Each check a mark at its relative margin; left of the tick it fails. */
function marginLine(verdict: Verdict): TemplateResult {
  const heights = new Map<number, number>();
  const marks = verdict.marks
    .filter(({ relative }) => Number.isFinite(relative))
    .map((mark) => {
      const room = mark.relative < 0 ? MIDDLE - 6 : WIDTH - MIDDLE - 6;
      const x = MIDDLE + Math.max(-1, Math.min(1, mark.relative)) * room;
      const slot = Math.round(x / 8);
      const stacked = heights.get(slot) ?? 0;
      heights.set(slot, stacked + 1);
      const y = 18 - Math.min(stacked, 2) * 7;
      return mark.state === 'fails'
        ? svg`<path class="bad" d=${`M${x} ${y - 5}l5 5-5 5-5-5z`}></path>`
        : svg`<circle class="good" cx=${x} cy=${y} r="4"></circle>`;
    });
  return html`<svg class="marg" width=${WIDTH} height="26" viewBox=${`0 0 ${WIDTH} 26`} aria-hidden="true">
    <path class="axis" d=${`M2 18H${WIDTH - 2}`}></path>
    <path class="axis limx" d=${`M${MIDDLE} 8v15`}></path>${marks}</svg>`;
}

function stateOf(verdict: Verdict): Verdict['state'] {
  return verdict.state;
}

/** `Holds 5 of 6`, `Fails 1 of 6`, `1 of 6 waits`. */
export function countWords(verdict: Verdict): string {
  const { holding, total } = verdict;
  switch (verdict.state) {
    case 'none':
      return 'no checks';
    case 'holds':
      return `Holds ${holding} of ${total}`;
    case 'tight':
      return `Tight ${holding} of ${total}`;
    case 'do not':
      return `Do not: ${total - holding} of ${total}`;
    case 'waits':
      return `${total - holding} of ${total} waits`;
    default: {
      const failing = verdict.marks.filter((mark) => mark.state === 'fails').length;
      return `Fails ${failing || total - holding} of ${total}`;
    }
  }
}

function shortWord(verdict: Verdict): string {
  return verdict.state === 'none' ? 'no checks' : verdict.state;
}

function trialsWords({ trials }: Verdict): string {
  return trials ? `${trials.holding} of ${trials.total} trials` : '\u00a0';
}

function head(verdict: Verdict, column: number, chance: boolean): TemplateResult {
  const state = stateOf(verdict);
  return html`<div class="vhd ${column === 0 ? 'plan' : ''}">
    <h3 title=${verdict.prose || nothing}>${verdict.name || 'Plan'}</h3>
    <span class="st ${stateClass(state)}">${stateShape(state)}${countWords(verdict)}</span>
    ${chance ? html`<span class="trials">${trialsWords(verdict)}</span>` : nothing}
    ${verdict.marks.length > 0 ? marginLine(verdict) : nothing}
  </div>`;
}

function pager(
  desk: Desk,
  columns: readonly number[],
  total: number,
): TemplateResult | typeof nothing {
  const shown = columns.length - 1;
  if (shown < 1 || shown >= total - 1) return nothing;
  const first = columns[1] ?? 1;
  const go = (to: number) => (): void => {
    desk.firstScenario = Math.max(1, Math.min(total - shown, to));
    desk.showScenario(desk.firstScenario);
  };
  return html`<div class="pager" role="group" aria-label="Scenarios">
    <button class="tool" ?disabled=${first <= 1} aria-label="Scenarios before" @click=${go(first - shown)}>
      ${icon('left')}
    </button>
    <span>${shown === 1 ? `scenario ${first}` : `scenarios ${first}–${first + shown - 1}`} of ${total - 1}</span>
    <button class="tool" ?disabled=${first + shown >= total} aria-label="More scenarios" @click=${go(first + shown)}>
      ${icon('right')}
    </button>
  </div>`;
}

/** The whole band. `columns` are the strips in view, the plan first; `chance`: trials will tell. */
export function verdictBand(
  desk: Desk,
  snapshot: Snapshot,
  columns: readonly number[],
  narrow: boolean,
  chance: boolean,
  openChecks: () => void,
  addScenario: () => void,
): TemplateResult {
  // A narrow page shows one strip, and speaks of that one.
  const plan = snapshot.verdicts[narrow ? desk.scenario : 0] ?? snapshot.verdicts[0];
  if (!plan) return html``;
  const state = stateOf(plan);
  const lesson = progressOf(snapshot.rows);
  const onlyLesson = plan.state === 'none' ? lesson : undefined;
  const words = html`<p class="tightest">${
    onlyLesson
      ? lessonTells(desk, onlyLesson)
      : plan.state === 'none'
        ? html`Add a check, such as <em>lowest charge ≥ 20 %</em>, and the verdict stands here.`
        : plan.tightest
  }</p>`;
  // On a narrow page what stays the same goes first, so that the words that come with trials push no
  // link from under a finger.
  const links = html`<p class="more">
          ${
            plan.total > 0
              ? html`<button class="link" @click=${openChecks}>${plan.holding} of ${plan.total} checks hold</button>`
              : nothing
          }
          ${narrow ? nothing : pager(desk, columns, snapshot.verdicts.length)}
          ${lesson && !onlyLesson ? html`<span>${progressWords(lesson)}</span>` : nothing}
          ${
            // On a narrow page the line of chance alone says that work is under way.
            snapshot.pending > 0 && !(narrow && chance)
              ? html`<span class="waitw">${desk.work === 'stopped' ? `${snapshot.pending} values not worked out` : `working on ${snapshot.pending} values …`}</span>`
              : nothing
          }
          ${snapshot.pending > 0 && !chance ? stopButton(desk) : nothing}
          ${
            snapshot.verdicts.length === 1 && !(narrow && onlyLesson)
              ? html`<button class="link" @click=${addScenario}>Add a scenario</button>`
              : nothing
          }
        </p>`;
  return html`<section class="verdict" aria-label="Verdict" tabindex="-1">
    <div class="say">
      <span class="st ${stateClass(state)}">${stateShape(state, 'big')}</span>
      <div class="words">
        <h2 class=${plan.state === 'waits' ? 'waits' : ''}>${onlyLesson ? progressWords(onlyLesson) : plan.headline}</h2>
        <div class="tells">
        ${narrow ? [links, words] : [words, links]}</div>
        ${chance ? chanceLine(desk, plan.trials, snapshot.trials) : nothing}
      </div>
    </div>
    ${
      narrow
        ? nothing
        : columns.map((column) => {
            const verdict = snapshot.verdicts[column];
            return verdict ? head(verdict, column, chance) : nothing;
          })
    }
  </section>
  ${
    narrow && snapshot.verdicts.length > 1
      ? html`<div class="switch" role="group" aria-label="Scenario">
          ${snapshot.verdicts.map(
            (verdict, column) => html`<button
              aria-pressed=${desk.scenario === column ? 'true' : 'false'}
              @click=${(): void => desk.showScenario(column)}
            ><span class="nm">${verdict.name || 'Plan'}</span><span class="st ${stateClass(stateOf(verdict))}">
              ${stateShape(stateOf(verdict))}${shortWord(verdict)}</span></button>`,
          )}
        </div>`
      : nothing
  }`;
}
