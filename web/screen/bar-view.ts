// The bar over everything: whose notebook, where and when, whether it is saved, and the tools.

import { html, nothing, type TemplateResult } from 'lit';
import type { Snapshot } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import type { SavingState } from '../keep/storage.ts';
import { NARROW } from '../parts/page-widths.ts';
import { icon, logo } from '../parts/shapes.ts';
import { STARTERS } from './starters.ts';

export interface BarContext {
  readonly desk: Desk;
  readonly snapshot: Snapshot;
  readonly saving: { readonly state: SavingState; readonly why: string };
  readonly themeButton: TemplateResult;
  readonly goTo: () => void;
  readonly help: () => void;
  readonly open: () => void;
  readonly save: () => void;
  readonly saveAs: () => void;
  readonly versions: () => void;
  readonly send: () => void;
  readonly tableIn: () => void;
  readonly tableOut: () => void;
  readonly empty: () => void;
}

const SAVING_WORDS: Readonly<Record<SavingState, string>> = {
  saved: 'Saved on this device',
  saving: 'Saving',
  failed: 'Not saved',
};

function closing(act: () => void): (event: Event) => void {
  return (event) => {
    if (event.target instanceof Element)
      event.target.closest<HTMLElement>('[popover]')?.hidePopover();
    act();
  };
}

function menu(context: BarContext): TemplateResult {
  return html`<button class="tool" popovertarget="file-menu" aria-haspopup="menu">${icon('file')}<span>File</span></button>
    <div id="file-menu" class="menu" popover>
      <button @click=${closing(context.open)}>Open a file</button>
      <button @click=${closing(context.send)}>Send <kbd>Ctrl E</kbd></button>
      <button @click=${closing(context.save)}>Save to file <kbd>Ctrl S</kbd></button>
      <button @click=${closing(context.saveAs)}>Save as another file</button>
      <button @click=${closing(context.versions)}>Earlier versions</button>
      <button @click=${closing(context.tableIn)}>Take a table in</button>
      ${
        context.snapshot.rows.some((row) => row.kind === 'table')
          ? html`<button @click=${closing(context.tableOut)}>Take a table out</button>`
          : nothing
      }
      <button @click=${closing(() => print())}>Print <kbd>Ctrl P</kbd></button>
      <button @click=${closing(context.help)}>Help <kbd>F1</kbd></button>
      <h2>New from</h2>
      <button @click=${closing(context.empty)}>An empty page</button>
      ${STARTERS.map((starter) => html`<a href=${`#/new/${starter.id}`}>${starter.name}</a>`)}
      <h2>Leave</h2><a href="#/">To the first page</a>
    </div>`;
}

export function barView(context: BarContext): TemplateResult {
  const { desk, snapshot } = context;
  const place = [snapshot.place, snapshot.dates].filter((words) => words !== '').join(' · ');
  const rename = (event: Event): void => {
    if (!(event.target instanceof HTMLTextAreaElement)) return;
    const title = event.target.value.replace(/\s+/gu, ' ').trim();
    if (title !== snapshot.title) desk.run({ do: 'title', text: title }, 'title');
  };
  return html`<header class="bar">
    <a class="home" href="#/" aria-label="To the first page">${logo()}</a>
    <h1 class="vh">${snapshot.title}</h1>
    <textarea class="title" aria-label="Title" title="The notebook's title; write here to rename it" spellcheck="false"
      rows=${NARROW.matches && snapshot.title.length > 22 ? 2 : 1} .value=${snapshot.title}
      .cols=${Math.max(8, snapshot.title.length)}
      @change=${rename}
      @keydown=${(event: KeyboardEvent): void => {
        if (!(event.target instanceof HTMLTextAreaElement)) return;
        if (event.key === 'Escape') event.target.value = snapshot.title;
        if (event.key !== 'Enter' && event.key !== 'Escape') return;
        // A title is one line, however many it is shown on.
        event.preventDefault();
        event.target.blur();
      }}></textarea>
    <span class="place">${place}</span>
    <span class="grow"></span>
    <span class="saved">${SAVING_WORDS[context.saving.state]}</span>
    <button class="tool wide-only" ?disabled=${desk.undoLabel === ''} aria-label=${desk.undoLabel ? `Undo: ${desk.undoLabel}` : 'Undo'}
      title=${desk.undoLabel ? `Undo: ${desk.undoLabel}` : nothing} @click=${(): void => desk.undo()}>${icon('undo')}</button>
    <button class="tool wide-only" ?disabled=${desk.redoLabel === ''} aria-label=${desk.redoLabel ? `Redo: ${desk.redoLabel}` : 'Redo'}
      title=${desk.redoLabel ? `Redo: ${desk.redoLabel}` : nothing} @click=${(): void => desk.redo()}>${icon('redo')}</button>
    <button class="tool wide-only" @click=${context.goTo}>${icon('search')}<span>Go to</span> <kbd>Ctrl K</kbd></button>
    ${menu(context)}${context.themeButton}
  </header>`;
}
