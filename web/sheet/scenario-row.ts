// The row of a scenario: its name and words, its verdict, what it changes with the plan's value
// beside it, and what can be done with the whole of it.

import { html, nothing, type TemplateResult } from 'lit';
import type { ScenarioRow } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { proseParts } from '../parts/prose.ts';
import { stateClass, stateShape, stemMark } from '../parts/shapes.ts';
import { editorHere, type Part, type RowContext } from './row-context.ts';
import { nameCell, shapedMark, stem, wordsCell } from './row-parts.ts';
import type { Piece } from './threads.ts';
import { countWords } from './verdict-view.ts';

/** What stands in the plan where a scenario puts something in: `plan 320 W`. */
function planWords(desk: Desk, target: string): string {
  const row = desk.cells.get(target.trim().toLowerCase().replace(/\s+/g, ' '));
  const text = row?.kind === 'cell' ? (row.values[0]?.text ?? '') : '';
  return text === '' ? '' : `plan ${text}`;
}

/** The changes of a scenario, each with the plan's value and a way back. */
export function changesList(desk: Desk, row: ScenarioRow): TemplateResult {
  return html`<ul class="changes">${row.overrides.map((override) => {
    const plan = planWords(desk, override.target);
    return html`<li><span class="dot1"></span><span><b>${override.target}</b> = <span class="num"
        >${override.value}</span>${plan ? html` <span class="q">${plan}</span>` : nothing}${
          override.note ? html` <span class="note">${override.note}</span>` : nothing
        }</span>
      <button class="btn3" tabindex="-1" aria-label=${`Put back ${override.target}`} @click=${(
        event: Event,
      ): void => {
        event.stopPropagation();
        desk.putBack(row.name, override.target);
      }}>Put back</button></li>`;
  })}</ul>${row.overrides.length === 0 ? html`<p class="note">As the plan. Change a value in its strip to make it differ.</p>` : nothing}`;
}

/** What can be done with the whole scenario; also shown in the bench, where keys reach it. */
export function scenarioTools(desk: Desk, row: ScenarioRow, inSheet: boolean): TemplateResult {
  const all = desk.rows.filter((other) => other.kind === 'scenario');
  const at = all.findIndex((other) => other.item === row.item);
  const button = (label: string, act: () => void, off = false): TemplateResult =>
    html`<button class="btn3" tabindex=${inSheet ? '-1' : '0'} ?disabled=${off} @click=${(
      event: Event,
    ): void => {
      event.stopPropagation();
      act();
    }}>${label}</button>`;
  const { item, name, prose } = row;
  return html`<p class="act2">
    ${button('Name', () => desk.edit({ kind: 'scenario', item, name, part: 'name' }, name))}
    ${button('Describe', () => desk.edit({ kind: 'scenario', item, name, part: 'words' }, prose, 'end'))}
    ${button('Copy it', () => desk.addScenario(name))}
    ${button('Earlier', () => void desk.moveScenario(row, -1), at === 0)}
    ${button('Later', () => void desk.moveScenario(row, 1), at === all.length - 1)}
    ${button('Show its strip', () => desk.showScenario(row.column))}
    ${button('Take the scenario away', () => void desk.run({ do: 'remove scenario', name }, `take ${name} away`))}</p>`;
}

function verdictLine(desk: Desk, row: ScenarioRow): Part {
  const verdict = desk.snapshot.verdicts[row.column];
  if (!verdict || verdict.state === 'none') return nothing;
  return html`<p><span class="st ${stateClass(verdict.state)}">${stateShape(verdict.state)}${countWords(verdict)}</span>${
    verdict.tightest ? html` <span class="q">${verdict.tightest}</span>` : nothing
  }</p>`;
}

/** What of the notebook besides itself a scenario's row shows: it is drawn again when this differs. */
export function scenarioNeeds(desk: Desk, row: ScenarioRow): string {
  const verdict = desk.snapshot.verdicts[row.column];
  const plans = row.overrides.map(({ target }) => planWords(desk, target));
  const state = verdict ? [verdict.state, countWords(verdict), verdict.tightest] : [];
  return [desk.snapshot.verdicts.length, ...state, ...plans].join('|');
}

export function scenarioRow(
  context: RowContext,
  row: ScenarioRow,
  left: Piece,
  right: Piece,
): TemplateResult {
  const { desk } = context;
  const place = desk.editing?.place;
  const part = place?.kind === 'scenario' && place.item === row.item ? place.part : undefined;
  const words =
    part === 'words'
      ? html`${editorHere(context)}<p class="running">Enter keeps, Escape drops, Shift and Enter begins another line.</p>`
      : row.prose
        ? html`<p>${proseParts(row.prose)}</p>`
        : nothing;
  return html`${nameCell(context, row, part === 'name' ? editorHere(context) : html`${row.name}<small>scenario</small>`)}
    ${stem(shapedMark(stemMark('scenario')), left, right)}
    ${wordsCell(
      context,
      row,
      'words2',
      html`${words}${verdictLine(desk, row)}${changesList(desk, row)}${scenarioTools(desk, row, true)}`,
    )}`;
}
