// The board: one cell at a time, large enough for the last row of a room. Its formula, the numbers
// put in and the result stand as a teacher writes them; the verdict stays at the foot. Arrow keys and
// the keys of a presenter's remote step on; a given may be changed here, in the plan or in the
// scenario that is chosen above; Escape leaves.

import { html, nothing, type TemplateResult } from 'lit';
import { type CellRow, type CheckRow, checkWords, type Row } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { NARROW } from '../parts/page-widths.ts';
import { plainPhrase } from '../parts/phrase.ts';
import { WORDS } from '../parts/place.ts';
import { icon, stateClass, stateShape } from '../parts/shapes.ts';
import { progressOf, progressWords } from '../sheet/lesson.ts';
import { givenCommand, stepGiven } from '../sheet/sheet-keys.ts';
import { hasSlider, stepOf, written } from '../sheet/strip-view.ts';
import '../theme/board.css';

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
function field(desk: Desk, row: CellRow, column: number): TemplateResult | typeof nothing {
  if (row.role === 'derived' || row.shape !== 'scalar') return nothing;
  const value = row.values[column] ?? row.values[0];
  const choices = row.bounds?.kind === 'choices' ? row.bounds.choices : [];
  const now = value?.overridden ? value.text : row.formula;
  const keep = (text: string): void => {
    if (text.trim() !== '' && text !== now)
      desk.run(givenCommand(desk, row, withUnit(text, row), column), row.name);
  };
  if (choices.length > 0) {
    const chosen = (choice: string): boolean => choice === now || plain(choice) === now;
    return html`<div class="chips" role="group" aria-label=${row.name}>${choices.map(
      (choice) => html`<button class="chip ${chosen(choice) ? 'on' : ''}"
        aria-pressed=${chosen(choice) ? 'true' : 'false'} @click=${(): void => keep(choice)}>${plain(choice)}</button>`,
    )}</div>`;
  }
  const shown = row.role === 'blank' && !value?.overridden ? '' : now;
  return html`<div class="board-field">
    ${stepButton(desk, row, -1, column)}
    <input type="text" aria-label=${`${row.name}, value`} autocomplete="off" spellcheck="false"
      .value=${shown} placeholder=${row.role === 'blank' ? 'fill in' : ''}
      @change=${(event: Event): void => {
        if (event.target instanceof HTMLInputElement) keep(event.target.value);
      }}
      @keydown=${(event: KeyboardEvent): void => {
        if (!(event.target instanceof HTMLInputElement)) return;
        if (event.key === 'Enter') keep(event.target.value);
        else if (event.key === 'Escape') {
          event.target.value = shown;
          event.preventDefault();
        } else return;
        event.target.closest<HTMLElement>('dialog')?.focus();
      }} />
    ${stepButton(desk, row, 1, column)}
  </div>`;
}

function plain(choice: string): string {
  return choice.replace(/^"(.*)"$/, '$1');
}

function withUnit(text: string, row: CellRow): string {
  const unit = row.values[0]?.shown.unit ?? '';
  return /^\s*[-+]?\d+([.]\d+)?\s*$/.test(text) && unit !== '' ? `${text.trim()} ${unit}` : text;
}

function stepButton(
  desk: Desk,
  row: CellRow,
  by: -1 | 1,
  column: number,
): TemplateResult | typeof nothing {
  if (!row.bounds || !hasSlider(row)) return nothing;
  const amount = written(stepOf(row.bounds), row.bounds);
  const where = column > 0 ? ` in ${desk.snapshot.verdicts[column]?.name}` : '';
  return html`<button class="step" aria-label=${`${by < 0 ? 'Less' : 'More'} by ${amount}${where}`}
    @click=${(): void => void stepGiven(desk, row, by, column)}>${by < 0 ? '−' : '+'}</button>`;
}

/** What the plan has, where a scenario has something else. */
function besidePlan(desk: Desk, row: CellRow, column: number): TemplateResult | typeof nothing {
  const value = row.values[column];
  const scenario = desk.snapshot.verdicts[column]?.name;
  if (column === 0 || !value || scenario === undefined) return nothing;
  if (!value.changed && !value.overridden) return html`<p class="board-note">as in the plan</p>`;
  const { figure = '', unit = '' } = value.difference ?? {};
  const difference = figure === '' ? '' : `, ${`${figure} ${unit}`.trim()}`;
  return html`<p class="board-note">plan ${row.values[0]?.text ?? ''}${difference}</p>
    ${
      value.overridden
        ? html`<div><button class="btn2" @click=${(): void => void desk.putBack(scenario, row.name)}
            >Put back the plan’s value</button></div>`
        : nothing
    }`;
}

function cellOnBoard(desk: Desk, row: CellRow, column: number): TemplateResult {
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
  ${field(desk, row, column)}
  ${besidePlan(desk, row, column)}
  ${row.answer?.text ? html`<p class="board-note answer ${row.answer.state}">${row.answer.text}</p>` : nothing}
  ${row.note ? html`<p class="board-note">${row.note}</p>` : nothing}`;
}

function checkOnBoard(row: CheckRow, column: number): TemplateResult {
  const value = row.values[column] ?? row.values[0];
  const state = row.must && value?.state === 'fails' ? 'do not' : (value?.state ?? 'none');
  return html`<p class="board-line"><span class="eq"></span><span>${plainPhrase(row.parts)}</span></p>
    <p class="board-line board-result ${stateClass(state)}"><span class="eq">${stateShape(state)}</span><span>${state}</span></p>
    <p class="board-note">${row.messages[0]?.text ?? (value ? checkWords(value) : '')}</p>
    ${row.note ? html`<p class="board-note">${row.note}</p>` : nothing}`;
}

function foot(desk: Desk, column: number): TemplateResult | typeof nothing {
  const verdict = desk.snapshot.verdicts[column];
  if (!verdict) return nothing;
  const lesson = verdict.state === 'none' ? progressOf(desk.rows) : undefined;
  return html`<p class="board-foot" role="status"><span class="st ${stateClass(verdict.state)}">${stateShape(verdict.state)}</span>
    <b>${lesson ? progressWords(lesson) : verdict.headline}</b> <span>${verdict.state === 'none' ? '' : verdict.tightest}</span></p>`;
}

export class Board {
  readonly #desk: Desk;
  readonly #closed: () => void;
  /** Whose values are shown and changed: a scenario's, or with 0 the plan's. */
  #column: number;

  constructor(desk: Desk, closed: () => void) {
    this.#desk = desk;
    this.#closed = closed;
    this.#column = desk.column > 0 ? desk.column : NARROW.matches ? desk.scenario : 0;
  }

  readonly #key = (event: KeyboardEvent): void => {
    const inField = event.target instanceof HTMLInputElement;
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
    if (inField && !REMOTE.has(event.key)) return;
    if (BACK.has(event.key)) step(this.#desk, -1);
    else if (ON.has(event.key)) step(this.#desk, 1);
    else return;
    event.preventDefault();
  };

  /** Plan and scenarios, one of them chosen. */
  #whose(column: number): TemplateResult | typeof nothing {
    const { verdicts } = this.#desk.snapshot;
    if (verdicts.length < 2) return nothing;
    return html`<div class="chips board-whose" role="group" aria-label="Whose values">${verdicts.map(
      (
        { name },
        at,
      ) => html`<button class="chip ${at === column ? 'on' : ''}" aria-pressed=${at === column ? 'true' : 'false'}
        @click=${(): void => {
          this.#column = at;
          this.#desk.showScenario(at);
        }}>${name || 'Plan'}</button>`,
    )}</div>`;
  }

  view(): TemplateResult {
    const desk = this.#desk;
    const column = Math.min(this.#column, desk.snapshot.verdicts.length - 1);
    const row = rowOnBoard(desk);
    const shut = (event: Event): void => {
      if (event.target instanceof Element) event.target.closest('dialog')?.close();
    };
    return html`<dialog id="board" class="board" aria-label="Board" tabindex="-1" @keydown=${this.#key} @close=${this.#closed}>
      <header><p>${row ? headingAbove(desk, row) : ''}</p>
        <button class="step" aria-label="The cell before" @click=${(): void => step(desk, -1)}>${icon('left')}</button>
        <button class="step" aria-label="The next cell" @click=${(): void => step(desk, 1)}>${icon('right')}</button>
        <button class="step" aria-label="Leave the board" @click=${shut}>${icon('close')}</button>
        ${this.#whose(column)}</header>
      <div class="board-middle">${
        row
          ? html`<h2>${row.kind === 'cell' ? row.name : row.must ? 'must hold' : 'check'}</h2>
              ${row.kind === 'cell' ? cellOnBoard(desk, row, column) : checkOnBoard(row, column)}`
          : html`<p class="board-note">Nothing to show yet: this page has no cells.</p>`
      }</div>
      ${foot(desk, column)}
    </dialog>`;
  }
}
