// A mistake of ours on the page: what is told, and the report that a reader may copy and send on if
// they wish. It holds no text of the notebook unless the reader ticks that.

import { html, nothing, type TemplateResult } from 'lit';

export interface Trouble {
  readonly why: string;
  /** Where in the code, as far as the browser tells. */
  readonly trace: string;
}

export function troubleOf(reason: unknown): Trouble {
  if (reason instanceof Error)
    return { why: `${reason.name}: ${reason.message}`, trace: reason.stack ?? '' };
  return { why: String(reason), trace: '' };
}

/** The report as plain text. */
export function reportOn(trouble: Trouble, browser: string, when: Date, text: string): string {
  const lines = [
    'Dapple report',
    `when: ${when.toISOString()}`,
    `browser: ${browser}`,
    `what: ${trouble.why}`,
    '',
    trouble.trace,
  ];
  if (text !== '') lines.push('', '--- the notebook ---', text);
  return lines.join('\n');
}

export interface TroubleContext {
  readonly trouble: Trouble;
  /** The notebook's text; empty when none is open. */
  readonly text: () => string;
  readonly saveFile: () => void;
  readonly tell: (sentence: string) => void;
  /** Absent where nothing can be carried on with. */
  readonly carryOn?: () => void;
}

export function troubleNotice(context: TroubleContext): TemplateResult {
  const copy = (event: Event): void => {
    const notice = event.target instanceof Element ? event.target.closest('.notice') : null;
    const wanted = notice?.querySelector<HTMLInputElement>('input')?.checked === true;
    const report = reportOn(
      context.trouble,
      navigator.userAgent,
      new Date(),
      wanted ? context.text() : '',
    );
    navigator.clipboard.writeText(report).then(
      () => context.tell('The report is copied. It goes nowhere unless you send it.'),
      () => context.tell('The browser does not let the page copy. The words above are the report.'),
    );
  };
  return html`<div class="notice trouble" role="alert"><div><p><b>Something in the page went wrong; your text is safe.</b>
    Save the file, then load the page again. <small>${context.trouble.why}</small></p>
    <label><input type="checkbox" /> The report may hold the notebook’s text</label></div>
    <button class="btn2 fill" @click=${context.saveFile}>Save the file</button>
    <button class="btn2" @click=${copy}>Copy a report</button>
    ${context.carryOn ? html`<button class="btn2" @click=${context.carryOn}>Carry on</button>` : nothing}</div>`;
}

/** In place of a notebook that cannot be drawn: its text, to read, copy and save. */
export function plainText(text: string): TemplateResult {
  return html`<main class="page plain-text"><h1>The notebook as text</h1>
    <textarea readonly rows="30" aria-label="The notebook’s text" .value=${text}></textarea></main>`;
}
