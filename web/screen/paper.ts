// The first page on paper: what one needs in hand away from the screen. Title and day, the verdict,
// the checks in the plan and in every scenario, what was put in, what each scenario changes, the
// cautions, and what the notebook could not say. The sheet follows as the working.

import { html, nothing, type TemplateResult } from 'lit';
import type { CellRow, CheckRow, Row, ScenarioRow, Snapshot } from '../../engine/index.ts';
import { plainPhrase } from '../parts/phrase.ts';
import { proseParts } from '../parts/prose.ts';
import { stateClass, stateShape } from '../parts/shapes.ts';

type Part = TemplateResult | typeof nothing;

function checks(snapshot: Snapshot): Part {
  const rows = snapshot.rows.filter((row): row is CheckRow => row.kind === 'check');
  if (rows.length === 0) return nothing;
  return html`<h2>Checks</h2><table class="paper-checks"><thead><tr><th>must hold</th>${snapshot.verdicts.map(
    (verdict) => html`<th>${verdict.name || 'Plan'}</th>`,
  )}</tr></thead><tbody>${rows.map(
    (row) =>
      html`<tr><th scope="row">${row.must ? html`<b>Must: </b>` : nothing}${plainPhrase(row.parts)}</th>${row.values.map(
        (
          value,
        ) => html`<td><span class="st ${stateClass(value.state)}">${stateShape(value.state, 'tiny')}</span>
        ${value.state} ${value.state === 'holds' || value.state === 'fails' ? html`<small>${value.marginText}</small>` : nothing}</td>`,
      )}</tr>`,
  )}</tbody></table>`;
}

function givens(rows: readonly Row[]): Part {
  const given = rows.filter(
    (row): row is CellRow =>
      row.kind === 'cell' && row.role !== 'derived' && row.shape === 'scalar',
  );
  if (given.length === 0) return nothing;
  return html`<h2>What was put in</h2><dl class="paper-givens">${given.map(
    (row) =>
      html`<div><dt>${row.name}</dt><dd><b>${row.role === 'blank' ? '________' : (row.values[0]?.text ?? '')}</b>${
        row.note ? html` <small>${row.note}</small>` : nothing
      }</dd></div>`,
  )}</dl>`;
}

function scenarios(snapshot: Snapshot): Part {
  const rows = snapshot.rows.filter((row): row is ScenarioRow => row.kind === 'scenario');
  if (rows.length === 0) return nothing;
  return html`<h2>If it turns out otherwise</h2><table class="paper-scenarios"><thead><tr><th>scenario</th><th>verdict</th><th>what differs</th></tr></thead
    ><tbody>${rows.map((row) => {
      const verdict = snapshot.verdicts[row.column];
      return html`<tr><th scope="row">${row.name}</th><td>${verdict?.headline ?? ''}${
        verdict?.tightest ? html`<br /><small>${verdict.tightest}</small>` : nothing
      }</td><td>${row.overrides.map(
        (override) => html`<div>${override.target} = <b>${override.value}</b></div>`,
      )}${row.prose ? html`<small>${proseParts(row.prose)}</small>` : nothing}</td></tr>`;
    })}</tbody></table>`;
}

function cautions(rows: readonly Row[]): TemplateResult {
  const notes = rows.flatMap((row) => (row.kind === 'safety' ? [row.text] : []));
  return html`<div class="paper-care"><h2>Before you connect</h2><ul>${notes.map(
    (text) => html`<li>${proseParts(text)}</li>`,
  )}<li>Local rules, the makers’ instructions and licensed trades come first; this is arithmetic, not an approval.</li></ul></div>`;
}

function messages(snapshot: Snapshot): Part {
  if (snapshot.messages.length === 0) return nothing;
  return html`<h2>Not understood</h2><ul class="paper-messages">${snapshot.messages.map(
    (message) => html`<li>Line ${message.line}: ${message.text}</li>`,
  )}</ul>`;
}

/** The day it was printed, as `25 November 2026`. */
export function printedOn(now: Date): string {
  return now.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
}

export function paperView(snapshot: Snapshot, now: Date): TemplateResult {
  const plan = snapshot.verdicts[0];
  const where = [snapshot.place, snapshot.dates].filter((words) => words !== '').join(' · ');
  const trials = plan?.trials ? ` In ${plan.trials.holding} of ${plan.trials.total} trials.` : '';
  return html`<section class="paper" aria-label="On paper">
    <h1>${snapshot.title || 'Untitled'}</h1>
    <p class="paper-where"><span>${where}</span><span>Printed ${printedOn(now)}</span></p>
    ${
      plan
        ? html`<div class="paper-verdict"><span class="st ${stateClass(plan.state)}">${stateShape(plan.state, 'big')}</span>
          <div><h2>${plan.headline}${plan.total > 0 ? `: ${plan.holding} of ${plan.total} checks hold` : ''}</h2>
          <p>${plan.tightest}${trials}</p></div></div>`
        : nothing
    }
    ${checks(snapshot)}${givens(snapshot.rows)}${scenarios(snapshot)}${cautions(snapshot.rows)}${messages(snapshot)}
    <h2 class="paper-working">The working</h2>
  </section>`;
}
