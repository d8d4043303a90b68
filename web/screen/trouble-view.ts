// What the page shows when it made a mistake: that the text is safe, the file, a report to copy, and
// the ways on. It needs nothing of what may be broken.

import { html, nothing, render, type TemplateResult } from 'lit';
import { reportText, type Trouble } from '../parts/report.ts';

export interface TroubleContext {
  readonly trouble: Trouble;
  /** The text of the open notebook, empty when there is none. */
  readonly text: string;
  readonly saveFile: () => void;
  /** Missing where there is nothing to carry on with. */
  readonly carryOn?: () => void;
}

function written(root: Element, context: TroubleContext): string {
  const box = root.querySelector<HTMLInputElement>('input[type="checkbox"]');
  const notebook = box?.checked === true ? context.text : undefined;
  return reportText(context.trouble, navigator.userAgent, notebook);
}

/** Shows the report as it stands now; copies it where the browser lets it. */
function refresh(event: Event, context: TroubleContext, copied: boolean): void {
  const root = event.target instanceof Element ? event.target.closest('.trouble') : null;
  const area = root?.querySelector('textarea');
  if (!root || !area) return;
  area.value = written(root, context);
  if (!copied) return;
  area.select();
  const told = root.querySelector('[role="status"]');
  const say = (words: string): void => {
    if (told) told.textContent = words;
  };
  const byHand = 'Copy the marked text by hand.';
  if (!navigator.clipboard) {
    say(byHand);
    return;
  }
  navigator.clipboard.writeText(area.value).then(
    () => say('Copied.'),
    () => say(byHand),
  );
}

export function troubleNotice(context: TroubleContext): TemplateResult {
  const { trouble, text } = context;
  return html`<section class="notice trouble" role="alert" aria-label="Something went wrong">
    <p><b>Something in the page went wrong while ${trouble.doing}.</b>
      ${text === '' ? 'Nothing of yours was changed.' : 'Your text is safe. Save it as a file to be sure, then load the page again.'}
      <small>${trouble.message}</small></p>
    ${text === '' ? nothing : html`<button class="btn2 fill" @click=${context.saveFile}>Save the file</button>`}
    <button class="btn2" @click=${(): void => location.reload()}>Load the page again</button>
    ${context.carryOn ? html`<button class="btn2" @click=${context.carryOn}>Carry on</button>` : nothing}
    <details><summary>A report to send</summary>
      <textarea readonly rows="6" aria-label="Report" .value=${reportText(trouble, navigator.userAgent)}></textarea>
      <p>${
        text === ''
          ? nothing
          : html`<label><input type="checkbox" @change=${(event: Event): void => refresh(event, context, false)} />
              With the notebook’s text</label>`
      } <button class="btn2" @click=${(event: Event): void => refresh(event, context, true)}>Copy the report</button>
        <span role="status"></span></p></details></section>`;
}

/** A notebook that cannot be shown: its text, so that it can be read, copied and saved. */
export function rawNotebook(context: TroubleContext): TemplateResult {
  return html`<main class="raw">${troubleNotice(context)}
    <h1>The notebook as it is written</h1>
    <textarea readonly aria-label="Text of the notebook" spellcheck="false" .value=${context.text}></textarea>
    <p><a href="#/" @click=${(): void => {
      setTimeout(() => location.reload());
    }}>To the first page</a></p></main>`;
}

/** The text and nothing else, for when not even the notice can be drawn. */
function plainFault(place: HTMLElement, context: TroubleContext): void {
  const words = document.createElement('p');
  words.setAttribute('role', 'alert');
  words.textContent = `Something in the page went wrong while ${context.trouble.doing}. Load the page again. ${context.trouble.message}`;
  const area = document.createElement('textarea');
  area.readOnly = true;
  area.setAttribute('aria-label', 'Text of the notebook');
  area.value = context.text;
  const save = document.createElement('button');
  save.className = 'btn2';
  save.textContent = 'Save the file';
  save.addEventListener('click', context.saveFile);
  place.className = 'raw';
  place.replaceChildren(words, save, area);
}

/** Takes the place of a page that cannot be drawn any more; loading it again is the way on. */
export function showFault(page: HTMLElement, context: TroubleContext): void {
  const place = document.createElement('div');
  page.hidden = true;
  page.after(place);
  try {
    const raw = rawNotebook(context);
    render(
      context.text === '' ? html`<main class="raw">${troubleNotice(context)}</main>` : raw,
      place,
    );
  } catch {
    plainFault(place, context);
  }
}
