// What the reader must know of an open notebook before reading it: that another tab writes it, that
// it could not be kept, that it may only be read, that lines of it cannot be read.

import { html, nothing, type TemplateResult } from 'lit';
import type { Desk } from '../desk/desk.ts';
import type { PageTools } from '../parts/page-tools.ts';
import { WORDS } from '../parts/place.ts';

export function notebookNotices(desk: Desk, tools: PageTools, settle: () => void): TemplateResult {
  const { snapshot } = desk;
  const unread = snapshot.rows.filter((row) => row.kind === 'unread');
  const saving = tools.saving();
  return html`${
    desk.following
      ? html`<div class="notice" role="status"><p>Open in another tab; this one follows.</p>
          <button class="btn2" @click=${tools.writeHere}>Work here instead</button></div>`
      : nothing
  }${
    saving.state === 'failed'
      ? html`<div class="notice" role="alert"><p>Not saved: ${saving.why || 'the device keeps nothing'}. Save a file now. Work goes on here,
          and keeping it is tried again.</p>
          <button class="btn2" @click=${tools.saveFile}>Save the file</button></div>`
      : nothing
  }${snapshot.readOnly ? html`<div class="notice"><p>${snapshot.readOnly}</p></div>` : nothing}${
    unread.length > 0
      ? html`<div class="notice"><p>${unread.length === 1 ? 'One line' : `${unread.length} lines`} of this file cannot be read.
          What is written there stays exactly as it is, here and in the saved file.</p>
          <button class="btn2" @click=${(): void => {
            settle();
            desk.select(unread[0]?.item ?? -1, WORDS);
          }}>Go to line ${unread[0]?.line}</button></div>`
      : nothing
  }`;
}
