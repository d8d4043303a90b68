// Another title for a notebook kept here, from the list of them. The title is a line of the
// notebook's text; all other lines stay as they are.

import { html, type TemplateResult } from 'lit';
import { openSession } from '../../engine/index.ts';
import type { OpenDialog } from '../parts/page-tools.ts';
import { icon } from '../parts/shapes.ts';

/** The text with another title; nothing when it may not be changed. */
export function retitled(text: string, title: string): string | undefined {
  const session = openSession(text);
  if (session.snapshot().readOnly !== '') return undefined;
  return session.do({ do: 'title', text: title }) ? session.text : undefined;
}

export function renameDialog(
  title: string,
  keep: (title: string) => void,
  closed: () => void,
): OpenDialog {
  const shut = (event: Event): void => {
    if (event.target instanceof Element) event.target.closest('dialog')?.close();
  };
  const submit = (event: SubmitEvent): void => {
    event.preventDefault();
    if (!(event.target instanceof HTMLFormElement)) return;
    const typed = new FormData(event.target).get('title');
    shut(event);
    const fresh = typeof typed === 'string' ? typed.replace(/\s+/gu, ' ').trim() : '';
    if (fresh !== '' && fresh !== title) keep(fresh);
  };
  const view =
    (): TemplateResult => html`<dialog id="rename" class="dialog reading" aria-labelledby="rename-title" @close=${closed}>
    <div class="top"><h2 id="rename-title">Rename the notebook</h2>
      <button class="close" aria-label="Close" @click=${shut}>${icon('close')}</button></div>
    <form @submit=${submit}>
      <label><span>Title</span><input name="title" value=${title} autocomplete="off" autofocus maxlength="200" /></label>
      <div class="act"><button class="btn2 fill" type="submit">Keep</button>
        <button class="btn2" type="button" @click=${shut}>Drop</button></div>
    </form></dialog>`;
  return { selector: '#rename', view };
}
