// Earlier versions of the open notebook: when, what the verdict said, which lines were otherwise, and
// the way back, which is one step that can be undone.

import { html, nothing, type TemplateResult } from 'lit';
import { changedLines } from './changed-lines.ts';
import type { Desk } from './desk.ts';
import type { OpenDialog } from './page-tools.ts';
import { icon } from './shapes.ts';
import type { Earlier } from './versions.ts';

export interface VersionsContext {
  readonly desk: Desk;
  readonly versions: readonly Earlier[];
  readonly draw: () => void;
  readonly closed: () => void;
  /** Opens a version as a notebook of its own. */
  readonly openCopy: (version: Earlier) => void;
}

/** `Tuesday 8 June, 14:05`; the year when it is another one. */
export function momentWords(milliseconds: number, now: Date): string {
  const then = new Date(milliseconds);
  const sameYear = then.getFullYear() === now.getFullYear();
  return then.toLocaleString('en-GB', {
    weekday: 'long',
    day: 'numeric',
    month: 'long',
    ...(sameYear ? {} : { year: 'numeric' }),
    hour: '2-digit',
    minute: '2-digit',
  });
}

export function versionsDialog(context: VersionsContext): OpenDialog {
  const { desk, versions } = context;
  let chosen: Earlier | undefined = versions[0];
  const shut = (event: Event): void => {
    if (event.target instanceof Element) event.target.closest('dialog')?.close();
  };
  const list = (): TemplateResult =>
    html`<ul class="versions">${versions.map(
      (
        version,
      ) => html`<li><button aria-pressed=${version === chosen ? 'true' : 'false'} @click=${(): void => {
        chosen = version;
        context.draw();
      }}><b>${momentWords(version.when, new Date())}</b>
      <small>${version.headline || version.title}</small></button></li>`,
    )}</ul>`;
  const changes = (version: Earlier): TemplateResult => {
    const lines = changedLines(version.text, desk.text);
    const now = desk.snapshot.verdicts[0]?.headline ?? '';
    return html`<section aria-label="What changed since"><p>Then: ${version.headline || 'no verdict'}. Now: ${now}.</p>
      ${
        lines.length === 0
          ? html`<p>The text was the same.</p>`
          : html`<ol class="changed">${lines.map(
              ({ kind, text }) =>
                html`<li class=${kind === 'added' ? 'plus' : kind === 'same' ? 'same' : 'minus'}><span class="vh">${kind === 'same' ? '' : kind}</span><code>${text}</code></li>`,
            )}</ol>`
      }
      <p class="act"><button class="btn2 fill" ?disabled=${lines.length === 0 || desk.following} @click=${(
        event: Event,
      ): void => {
        shut(event);
        desk.run({ do: 'text', text: version.text }, 'back to an earlier version');
      }}>Go back to this</button>
      <button class="btn2" @click=${(event: Event): void => {
        shut(event);
        context.openCopy(version);
      }}>Open it as a copy</button></p></section>`;
  };
  const view =
    (): TemplateResult => html`<dialog id="versions" class="dialog wide" aria-labelledby="versions-title" @close=${context.closed}>
    <div class="top"><h2 id="versions-title">Earlier versions</h2>
      <button class="close" aria-label="Close" @click=${shut}>${icon('close')}</button></div>
    ${
      versions.length === 0
        ? html`<p>None yet. One is kept when a notebook is opened and changed, and one for every hour in which it changes.</p>`
        : html`<div class="then-now">${list()}${chosen ? changes(chosen) : nothing}</div>`
    }</dialog>`;
  return { selector: '#versions', view };
}
