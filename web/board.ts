// The board: one cell at a time, large enough for the last row of a room. Its formula, the numbers
// put in and the result stand as a teacher writes them; the verdict stays at the foot. Arrow keys and
// the keys of a presenter's remote step on; a given may be changed here; Escape leaves.

import { html, nothing, type TemplateResult } from 'lit';
import type { CellRow, CheckRow, Row } from '../engine/index.ts';
import type { Desk } from './desk.ts';
import { progressOf, progressWords } from './lesson.ts';
import { plainPhrase } from './phrase.ts';
import { WORDS } from './place.ts';
import { icon, stateClass, stateShape } from './shapes.ts';
import { stepGiven } from './sheet-keys.ts';
import { hasSlider, stepOf, written } from './strip-view.ts';
import './theme/board.css';

type Shown = CellRow | CheckRow;

const BACK = new Set(['ArrowUp', 'ArrowLeft', 'PageUp']);
const ON = new Set(['ArrowDown', 'ArrowRight', 'PageDown']);
/** What a remote sends; these step even while a field has the focus. */
const REMOTE = new Set(['PageUp', 'PageDown']);

function shownOnBoard(row: Row): row is Shown {
  return row.kind === 'cell' || row.kind === 'check';
}

/** The row on the board: the selected one, or the first below it that can stand there. */
function rowOnBoard(desk: Desk): Shown | undefined {
  const rows = desk.rows.filter(shownOnBoard);
  const here = desk.selected;
  if (here && shownOnBoard(here)) return here;
  return rows.find((row) => row.line >= (here?.line ?? 0)) ?? rows.at(-1);
}

function step(desk: Desk, by: -1 | 1): void {
  const rows = desk.rows.filter(shownOnBoard);
  const here = rowOnBoard(desk);
  const at = rows.findIndex((row) => row === here);
  const next = rows[Math.max(0, Math.min(rows.length - 1, at + by))];
  if (next) desk.select(next.item, WORDS);
}

function headingAbove(desk: Desk, row: Shown): string {
  const above = desk.rows.findLast((other) => other.kind === 'heading' && other.line < row.line);
  return above?.kind === 'heading' ? above.text : '';
}

/** The field a given is changed in. A plain number takes the unit that stands there. */
function field(desk: Desk, row: CellRow): TemplateResult | typeof nothing {
  if (row.role === 'derived' || row.shape !== 'scalar') return nothing;
  const choices = row.bounds?.kind === 'choices' ? row.bounds.choices : [];
  const keep = (text: string): void => {
    if (text.trim() !== '' && text !== row.formula)
      desk.run({ do: 'formula', cell: row.key, text: withUnit(text, row) }, row.name);
  };
  if (choices.length > 0) {
    return html`<div class="chips" role="group" aria-label=${row.name}>${choices.map(
      (choice) => html`<button class="chip ${choice === row.formula ? 'on' : ''}"
        aria-pressed=${choice === row.formula ? 'true' : 'false'} @click=${(): void => keep(choice)}
        >${choice.replace(/^"(.*)"$/, '$1')}</button>`,
    )}</div>`;
  }
  return html`<div class="board-field">
    ${stepButton(desk, row, -1)}
    <input type="text" aria-label=${`${row.name}, value`} autocomplete="off" spellcheck="false"
      .value=${row.role === 'blank' ? '' : row.formula} placeholder=${row.role === 'blank' ? 'fill in' : ''}
      @change=${(event: Event): void => {
        if (event.target instanceof HTMLInputElement) keep(event.target.value);
      }}
      @keydown=${(event: KeyboardEvent): void => {
        if (!(event.target instanceof HTMLInputElement)) return;
        if (event.key === 'Enter') keep(event.target.value);
        else if (event.key === 'Escape') {
          event.target.value = row.role === 'blank' ? '' : row.formula;
          event.preventDefault();
        } else return;
        event.target.closest<HTMLElement>('dialog')?.focus();
      }} />
    ${stepButton(desk, row, 1)}
  </div>`;
}

function withUnit(text: string, row: CellRow): string {
  const unit = row.values[0]?.shown.unit ?? '';
  return /^\s*[-+]?\d+([.]\d+)?\s*$/.test(text) && unit !== '' ? `${text.trim()} ${unit}` : text;
}

function stepButton(desk: Desk, row: CellRow, by: -1 | 1): TemplateResult | typeof nothing {
  if (!row.bounds || !hasSlider(row)) return nothing;
  const amount = written(stepOf(row.bounds), row.bounds);
  return html`<button class="step" aria-label=${`${by < 0 ? 'Less' : 'More'} by ${amount}`}
    @click=${(): void => void stepGiven(desk, row, by)}>${by < 0 ? '−' : '+'}</button>`;
}

function cellOnBoard(desk: Desk, row: CellRow): TemplateResult {
  const column = Math.max(0, desk.column);
  const value = row.values[column] ?? row.values[0];
  const worked = row.role === 'derived' ? desk.session.worked(row.key, column) : undefined;
  const broken = value?.state === 'error' || row.messages.length > 0;
  const result = worked && worked.result !== '' ? worked.result : (value?.text ?? '');
  return html`${(worked?.lines ?? []).map(
    (line) =>
      html`<p class="board-line"><span class="eq">=</span><span>${plainPhrase(line)}</span></p>`,
  )}
  ${
    broken
      ? html`<p class="board-line fails"><span class="eq">${stateShape('error')}</span><span>${row.messages[0]?.text ?? value?.text}</span></p>`
      : html`<p class="board-line board-result"><span class="eq">=</span><span>${result}</span></p>`
  }
  ${field(desk, row)}
  ${row.answer?.text ? html`<p class="board-note answer ${row.answer.state}">${row.answer.text}</p>` : nothing}
  ${row.note ? html`<p class="board-note">${row.note}</p>` : nothing}`;
}

function checkOnBoard(row: CheckRow): TemplateResult {
  const plan = row.values[0];
  const state = row.must && plan?.state === 'fails' ? 'do not' : (plan?.state ?? 'none');
  return html`<p class="board-line"><span class="eq"></span><span>${plainPhrase(row.parts)}</span></p>
    <p class="board-line board-result"><span class="eq ${stateClass(state)}">${stateShape(state)}</span><span>${state}</span></p>
    <p class="board-note">${row.messages[0]?.text ?? plan?.text ?? ''}</p>
    ${row.note ? html`<p class="board-note">${row.note}</p>` : nothing}`;
}

function foot(desk: Desk): TemplateResult | typeof nothing {
  const plan = desk.snapshot.verdicts[0];
  if (!plan) return nothing;
  const lesson = plan.state === 'none' ? progressOf(desk.rows) : undefined;
  return html`<p class="board-foot" role="status"><span class="st ${stateClass(plan.state)}">${stateShape(plan.state)}</span>
    <b>${lesson ? progressWords(lesson) : plan.headline}</b> <span>${plan.state === 'none' ? '' : plan.tightest}</span></p>`;
}

export function boardView(desk: Desk, closed: () => void): TemplateResult {
  const row = rowOnBoard(desk);
  const key = (event: KeyboardEvent): void => {
    const inField = event.target instanceof HTMLInputElement;
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
    if (inField && !REMOTE.has(event.key)) return;
    if (BACK.has(event.key)) step(desk, -1);
    else if (ON.has(event.key)) step(desk, 1);
    else return;
    event.preventDefault();
  };
  const shut = (event: Event): void => {
    if (event.target instanceof Element) event.target.closest('dialog')?.close();
  };
  return html`<dialog id="board" class="board" aria-label="Board" tabindex="-1" @keydown=${key} @close=${closed}>
    <header><p>${row ? headingAbove(desk, row) : ''}</p>
      <button class="step" aria-label="The cell before" @click=${(): void => step(desk, -1)}>${icon('left')}</button>
      <button class="step" aria-label="The next cell" @click=${(): void => step(desk, 1)}>${icon('right')}</button>
      <button class="step" aria-label="Leave the board" @click=${shut}>${icon('close')}</button></header>
    <div class="board-middle">${
      row
        ? html`<h2>${row.kind === 'cell' ? row.name : row.must ? 'must hold' : 'check'}</h2>
            ${row.kind === 'cell' ? cellOnBoard(desk, row) : checkOnBoard(row)}`
        : html`<p class="board-note">Nothing to show yet: this page has no cells.</p>`
    }</div>
    ${foot(desk)}
  </dialog>`;
}
