// Go to: one field that finds cells, headings, charts and commands by a few letters of their name.

import { html, type TemplateResult } from 'lit';
import type { Row } from '../engine/index.ts';
import type { Desk } from './desk.ts';
import { rowName, WORDS } from './place.ts';

export interface Goal {
  readonly label: string;
  readonly kind: string;
  readonly detail: string;
  /** What is searched besides the label: formulas, notes, words. */
  readonly letters?: string;
  readonly go: () => void;
}

/** Words of a row that a search may be for. */
function lettersOf(row: Row): string {
  switch (row.kind) {
    case 'cell':
      return `${row.formula} ${row.note}`;
    case 'check':
    case 'chart':
      return row.note;
    case 'prose':
    case 'safety':
    case 'remark':
    case 'heading':
    case 'unread':
      return row.text;
    case 'scenario':
      return `${row.prose} ${row.overrides.map((o) => `${o.target} ${o.value} ${o.note}`).join(' ')}`;
    case 'table':
      return `${row.note} ${row.entries.map((entries) => entries[0]?.text ?? '').join(' ')}`;
  }
}

/** Every row one may want to go to. */
export function placesIn(desk: Desk, settle: () => void): readonly Goal[] {
  return desk.rows
    .filter((row) => row.kind !== 'remark')
    .map((row) => ({
      label:
        row.kind === 'prose' || row.kind === 'safety' ? `${row.text.slice(0, 60)} …` : rowName(row),
      kind: row.kind === 'prose' ? 'words' : row.kind,
      letters: lettersOf(row),
      detail: row.kind === 'cell' ? (row.values[0]?.text ?? '') : '',
      go: () => {
        settle();
        desk.select(row.item, WORDS);
      },
    }));
}

function options(dialog: HTMLElement): readonly HTMLElement[] {
  return [...dialog.querySelectorAll<HTMLElement>('[role="option"]:not([hidden])')];
}

function filter(event: Event): void {
  const input = event.target;
  if (!(input instanceof HTMLInputElement)) return;
  const dialog = input.closest('dialog');
  if (!dialog) return;
  const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
  for (const option of dialog.querySelectorAll<HTMLElement>('[role="option"]')) {
    option.hidden = !words.every((word) => option.dataset.label?.includes(word));
  }
  const found = options(dialog).length;
  const told = dialog.querySelector('[role="status"]');
  if (told) told.textContent = words.length === 0 ? '' : found === 1 ? '1 found' : `${found} found`;
  mark(dialog, 0);
}

function mark(dialog: HTMLElement, index: number): void {
  const shown = options(dialog);
  const at = shown.length === 0 ? -1 : (index + shown.length) % shown.length;
  for (const option of dialog.querySelectorAll('[role="option"]')) {
    option.setAttribute('aria-selected', 'false');
  }
  const chosen = shown[at];
  chosen?.setAttribute('aria-selected', 'true');
  chosen?.scrollIntoView({ block: 'nearest' });
  const input = dialog.querySelector('input');
  if (chosen) input?.setAttribute('aria-activedescendant', chosen.id);
  else input?.removeAttribute('aria-activedescendant');
}

function key(event: KeyboardEvent): void {
  const dialog = event.target instanceof Element ? event.target.closest('dialog') : null;
  if (!dialog) return;
  const shown = options(dialog);
  const at = shown.findIndex((option) => option.getAttribute('aria-selected') === 'true');
  if (event.key === 'ArrowDown') mark(dialog, at + 1);
  else if (event.key === 'ArrowUp') mark(dialog, at - 1);
  else if (event.key === 'Enter') shown[Math.max(0, at)]?.click();
  else return;
  event.preventDefault();
}

export function goToDialog(goals: readonly Goal[], closed: () => void): TemplateResult {
  return html`<dialog id="go-to" class="dialog" aria-label="Go to" @keydown=${key} @close=${closed}>
    <input type="text" role="combobox" aria-expanded="true" aria-controls="goals" aria-label="Name of a cell, a heading or a command"
      placeholder="cell, heading, words or command" autocomplete="off" spellcheck="false" @input=${filter} />
    <p class="found" role="status"></p>
    <div id="goals" role="listbox" aria-label="Places and commands">${goals.map(
      (
        goal,
        index,
      ) => html`<div role="option" id=${`goal-${index}`} aria-selected=${index === 0 ? 'true' : 'false'}
        data-label=${`${goal.label} ${goal.letters ?? ''}`.toLowerCase()}
        @click=${(event: Event): void => {
          if (event.target instanceof Element) event.target.closest('dialog')?.close();
          goal.go();
        }}><span>${goal.label}</span><small>${goal.kind}</small><span class="q">${goal.detail}</span></div>`,
    )}</div>
  </dialog>`;
}
