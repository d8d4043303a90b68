// A question with a few answers, each a button that says what it does.

import { html, type TemplateResult } from 'lit';
import type { OpenDialog } from './page-tools.ts';
import { icon } from './shapes.ts';

export interface Answer {
  readonly label: string;
  readonly act: () => void;
}

export interface Question {
  readonly title: string;
  readonly words: readonly string[];
  /** The first is the one that loses nothing. */
  readonly answers: readonly Answer[];
}

export function questionDialog(question: Question, closed: () => void): OpenDialog {
  const shut = (event: Event): void => {
    if (event.target instanceof Element) event.target.closest('dialog')?.close();
  };
  const view =
    (): TemplateResult => html`<dialog id="question" class="dialog reading question" aria-labelledby="question-title" @close=${closed}>
    <div class="top"><h2 id="question-title">${question.title}</h2>
      <button class="close" aria-label="Close" @click=${shut}>${icon('close')}</button></div>
    ${question.words.map((words) => html`<p>${words}</p>`)}
    <p class="act">${question.answers.map(
      (answer, n) =>
        html`<button class=${n === 0 ? 'btn2 fill' : 'btn2'} ?autofocus=${n === 0} @click=${(
          event: Event,
        ): void => {
          shut(event);
          answer.act();
        }}>${answer.label}</button>`,
    )}</p></dialog>`;
  return { selector: '#question', view };
}
