// A row that does not exist yet: the editor, and the kinds of row one may begin.

import { html, nothing, type TemplateResult } from 'lit';
import { stateShape } from '../parts/shapes.ts';
import { editorHere, type RowContext, runningLine } from './row-context.ts';

const KINDS: readonly (readonly [string, string])[] = [
  ['Heading', '# '],
  ['Words', '| '],
  ['Safety note', '! '],
  ['Table', 'loads = table\n  item | power\n  lamp | 6 W'],
  ['Check', 'check '],
  ['Chart', 'chart '],
  ['Scenario', 'scenario '],
];

export function newRowView(
  context: RowContext,
  put: (text: string) => void,
  begin?: () => void,
): TemplateResult {
  const writing = context.desk.editing?.place.kind === 'new';
  const message = context.preview?.messages[0];
  const choose = (text: string) => (): void => {
    if (!writing) begin?.();
    setTimeout(() => put(text), writing ? 0 : 150);
  };
  return html`<div class="row cell new edit">
    <div class="name">new</div><div class="stem" aria-hidden="true"><span class="mk"></span></div>
    <div class="words2">${
      writing
        ? html`${editorHere(context)}${runningLine(context)}`
        : html`<button class="field-button" @click=${begin}>panel rating = 320 W</button>`
    }
      <p class="hint">Write what you know, such as <span class="num">panel rating = 320 W</span>. Anything you name can be used in the next
        line.<span class="wide-only"> Enter keeps it, Ctrl Enter begins another.</span></p>
      ${message ? html`<p class="aside-block">${stateShape('error')}<span>${message.text}</span></p>` : nothing}
      <div class="chips">${KINDS.map(
        ([
          word,
          text,
        ]) => html`<button class="chip" @mousedown=${(event: Event): void => event.preventDefault()}
        @click=${choose(text)}>${word}</button>`,
      )}</div>
    </div></div>`;
}
