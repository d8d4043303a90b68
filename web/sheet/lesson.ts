// A lesson: the blanks of a notebook that have an answer, how many are right, and whose answer the
// learner asked to see. What was asked for lives with the open page and is never written to the file.

import { html, nothing, type TemplateResult } from 'lit';
import type { CellRow, Row, ShownSolution } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';

/** Nothing was asked; once, so that it is asked back; the answer is shown. */
type Asked = 'no' | 'once' | 'shown';

const askedOf = new WeakMap<Desk, Map<string, Asked>>();

function asked(desk: Desk, row: CellRow): Asked {
  return askedOf.get(desk)?.get(row.key) ?? 'no';
}

function solutionShown(desk: Desk, row: CellRow): ShownSolution | undefined {
  const open = row.answer?.state === 'right' || asked(desk, row) === 'shown';
  return open ? desk.session.solution(row.key) : undefined;
}

/** Everything beyond the row itself that what stands under a blank depends on. */
export function answerNeeds(desk: Desk, row: CellRow): string {
  return row.answer ? `${asked(desk, row)} ${solutionShown(desk, row)?.text ?? ''}` : '';
}

/** One more request to see an answer: the first is asked back, the second shows it. */
export function ask(desk: Desk, row: CellRow, to: Asked): void {
  const known = askedOf.get(desk) ?? new Map<string, Asked>();
  askedOf.set(desk, known.set(row.key, to));
  desk.select(row.item);
}

export interface Progress {
  readonly right: number;
  readonly total: number;
  /** The first blank from the top that is not right yet. */
  readonly next: CellRow | undefined;
}

/** How far a learner has come; undefined in a notebook without answers. */
export function progressOf(rows: readonly Row[]): Progress | undefined {
  const questions = rows.filter((row): row is CellRow => row.kind === 'cell' && !!row.answer);
  if (questions.length === 0) return undefined;
  const open = questions.filter((row) => row.answer?.state !== 'right');
  return { right: questions.length - open.length, total: questions.length, next: open[0] };
}

/** `3 of 9 right`, and when all are, that they are. */
export function progressWords({ right, total }: Progress): string {
  return right === total ? `All ${total} right` : `${right} of ${total} right`;
}

function upper(words: string): string {
  return words.slice(0, 1).toUpperCase() + words.slice(1).replace(/\.$/, '');
}

function solutionWords(solution: ShownSolution): TemplateResult {
  return html`<b>${solution.formula}</b>${
    solution.text === ''
      ? ', once the blanks it names are filled in'
      : html` = <b>${solution.text}</b>`
  }`;
}

/** Under a blank: right or how far off, a hint, and the answer for one who asks. */
export function answerView(desk: Desk, row: CellRow): TemplateResult | typeof nothing {
  const { answer } = row;
  if (!answer) return nothing;
  const state = asked(desk, row);
  const solution = solutionShown(desk, row);
  const tab = desk.item === row.item ? '0' : '-1';
  const to = (next: Asked) => (): void => ask(desk, row, next);
  const words =
    answer.text === ''
      ? nothing
      : html`<p class="answer ${answer.state}">${answer.text}${
          answer.note === ''
            ? ''
            : answer.state === 'right'
              ? ` ${upper(answer.note)}.`
              : ` Hint: ${answer.note}.`
        }</p>`;
  const shown = solution
    ? html`<p class="answer solution">${
        answer.state === 'right' ? 'As expected: ' : 'The answer: '
      }${solutionWords(solution)}</p>`
    : nothing;
  if (answer.state === 'right') return html`${words}${shown}`;
  const label =
    state === 'no' ? 'Show the answer' : state === 'once' ? 'Show it now' : 'Hide the answer';
  const next = state === 'no' ? 'once' : state === 'once' ? 'shown' : 'no';
  return html`${words}${shown}<p class="act2 ask">${
    state === 'once' ? html`<span>Have you tried with a pencil?</span>` : nothing
  }<button class="btn3" tabindex=${tab} @click=${to(next)}>${label}</button>${
    state === 'once'
      ? html`<button class="btn3" tabindex=${tab} @click=${to('no')}>Keep trying</button>`
      : nothing
  }</p>`;
}

/** In place of a verdict where nothing is checked but questions are asked. */
export function lessonTells(desk: Desk, progress: Progress): TemplateResult {
  const { next } = progress;
  if (!next) return html`Change a given above and see whether your formulas follow.`;
  const go = (): void => {
    desk.select(next.item, 0);
    const line = document.querySelector<HTMLElement>(`.sheet [data-item="${next.item}"]`);
    line?.scrollIntoView({ block: 'center' });
    requestAnimationFrame(() => line?.querySelector<HTMLElement>('[data-col="0"]')?.focus());
  };
  return html`Next to fill in: <button class="link" @click=${go}>${next.name}</button>`;
}
