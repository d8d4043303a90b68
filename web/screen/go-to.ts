// Go to: one field that finds cells, headings, charts and commands by a few letters of their name,
// and any words of the notebook. Empty, it lists the headings first: the contents of the notebook.

import { html, nothing, type TemplateResult } from 'lit';
import type { Row } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { rowName, WORDS } from '../parts/place.ts';

export interface Goal {
  readonly label: string;
  readonly kind: string;
  readonly detail: string;
  /** What is searched besides the label: formulas, notes, words. */
  readonly letters?: string;
  /** The row it leads to; a command has none. */
  readonly item?: number;
  readonly go: () => void;
}

/** So many are listed; more words find fewer. */
const MOST = 120;

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

/**
 * Every row one may want to go to. `settle` keeps what is being written; false when it does not fit,
 * and then the hand stays with it.
 */
export function placesIn(desk: Desk, settle: () => boolean): readonly Goal[] {
  return desk.rows
    .filter((row) => row.kind !== 'remark')
    .map((row) => ({
      label:
        row.kind === 'prose' || row.kind === 'safety' ? `${row.text.slice(0, 60)} …` : rowName(row),
      kind: row.kind === 'prose' ? 'words' : row.kind,
      letters: lettersOf(row),
      detail: row.kind === 'cell' ? (row.values[0]?.text ?? '') : '',
      item: row.item,
      go: () => {
        const written = desk.editing?.place.item ?? Number.POSITIVE_INFINITY;
        const before = desk.rows.length;
        if (!settle()) return;
        // What was kept may be more lines, or fewer, than stood there.
        const moved = row.item > written ? desk.rows.length - before : 0;
        desk.select(row.item + moved, WORDS);
      },
    }));
}

/** How well a goal answers words: its name begins with them, has them, or its text has them. */
function fitOf(goal: Goal, asked: string, words: readonly string[]): number {
  const label = goal.label.toLowerCase();
  const holds = (text: string): boolean => words.every((word) => text.includes(word));
  if (label.startsWith(asked)) return 0;
  if (holds(label)) return 1;
  return holds(`${label} ${goal.letters?.toLowerCase() ?? ''}`) ? 2 : Number.POSITIVE_INFINITY;
}

/** What answers these words, the best first; with no words the headings, commands, all else. */
export function answersTo(goals: readonly Goal[], query: string): readonly Goal[] {
  const asked = query.trim().toLowerCase();
  if (asked === '') {
    const place = ({ kind }: Goal): number => (kind === 'heading' ? 0 : kind === 'command' ? 1 : 2);
    return goals.toSorted((a, b) => place(a) - place(b));
  }
  const words = asked.split(/\s+/u);
  return goals
    .map((goal) => ({ goal, fit: fitOf(goal, asked, words) }))
    .filter(({ fit }) => Number.isFinite(fit))
    .toSorted((a, b) => a.fit - b.fit)
    .map(({ goal }) => goal);
}

export interface GoToActs {
  readonly draw: () => void;
  readonly closed: () => void;
  /** A row was gone to by these words; the others they name can be stepped through. */
  readonly found: (query: string) => void;
}

/** The field while it is open: what is asked and which answer is marked. */
export class GoTo {
  readonly #goals: readonly Goal[];
  readonly #acts: GoToActs;
  #query = '';
  #marked = 0;
  #answers: readonly Goal[];

  constructor(goals: readonly Goal[], acts: GoToActs) {
    this.#goals = goals;
    this.#acts = acts;
    this.#answers = answersTo(goals, '');
  }

  readonly #ask = (event: Event): void => {
    if (!(event.target instanceof HTMLInputElement)) return;
    this.#query = event.target.value;
    this.#answers = answersTo(this.#goals, this.#query);
    this.#mark(0, event.target);
  };

  get #shown(): number {
    return Math.min(MOST, this.#answers.length);
  }

  #mark(index: number, within: Element): void {
    const count = this.#shown;
    this.#marked = count === 0 ? 0 : (index + count) % count;
    this.#acts.draw();
    const dialog = within.closest('dialog');
    requestAnimationFrame(() =>
      dialog?.querySelector('[aria-selected="true"]')?.scrollIntoView({ block: 'nearest' }),
    );
  }

  readonly #key = (event: KeyboardEvent): void => {
    if (!(event.target instanceof Element)) return;
    if (event.key === 'ArrowDown') this.#mark(this.#marked + 1, event.target);
    else if (event.key === 'ArrowUp') this.#mark(this.#marked - 1, event.target);
    else if (event.key === 'Enter') this.#go(this.#answers[this.#marked], event.target);
    else return;
    event.preventDefault();
  };

  #go(goal: Goal | undefined, within: Element): void {
    if (!goal) return;
    within.closest('dialog')?.close();
    goal.go();
    const query = this.#query.trim();
    if (query !== '' && goal.item !== undefined) this.#acts.found(query);
  }

  #told(): string {
    const found = this.#answers.length;
    if (this.#query.trim() === '') return '';
    return `${found} found${found > MOST ? `; the first ${MOST} are listed` : ''}`;
  }

  #option(goal: Goal, index: number): TemplateResult {
    const on = index === this.#marked;
    return html`<div role="option" id=${`goal-${index}`} aria-selected=${on ? 'true' : 'false'}
      @click=${(event: Event): void => {
        if (event.target instanceof Element) this.#go(goal, event.target);
      }}><span>${goal.label}</span><small>${goal.kind}</small><span class="q">${goal.detail}</span></div>`;
  }

  view(): TemplateResult {
    const shown = this.#answers.slice(0, MOST).map((goal, index) => this.#option(goal, index));
    const contents =
      this.#query.trim() === '' ? this.#goals.filter(({ kind }) => kind === 'heading').length : 0;
    return html`<dialog id="go-to" class="dialog" aria-label="Go to" @keydown=${this.#key} @close=${this.#acts.closed}>
      <input type="text" role="combobox" aria-expanded="true" aria-controls="goals" aria-label="Name of a cell, a heading or a command"
        aria-activedescendant=${shown.length > 0 ? `goal-${this.#marked}` : nothing}
        placeholder="cell, heading, words or command" autocomplete="off" spellcheck="false" @input=${this.#ask} />
      <p class="found" role="status">${this.#told()}</p>
      <div id="goals" role="listbox" aria-label="Places and commands">${
        contents > 0
          ? html`<div role="group" aria-label="Contents"><p class="goals-head" aria-hidden="true">Contents</p>${shown.slice(0, contents)}</div>
              <div role="group" aria-label="Commands and places"><p class="goals-head" aria-hidden="true">Commands and places</p>${shown.slice(contents)}</div>`
          : shown
      }</div>
    </dialog>`;
  }
}
