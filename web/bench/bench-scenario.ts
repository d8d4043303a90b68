// A scenario in the bench: its verdict, what it puts in, and what comes of that, each result with
// the plan's value and the difference.

import { html, nothing, type TemplateResult } from 'lit';
import type { ScenarioRow } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { rowName, WORDS } from '../parts/place.ts';
import { stateClass, stateShape } from '../parts/shapes.ts';
import { changesList, scenarioTools } from '../sheet/scenario-row.ts';

/** Longer lists say how many more there are. */
const MOST = 40;

interface Consequence {
  readonly item: number;
  readonly name: string;
  readonly text: string;
}

/** Checks that are judged otherwise than in the plan, then values that differ from it. */
export function consequencesOf(desk: Desk, column: number): readonly Consequence[] {
  const checks: Consequence[] = [];
  const values: Consequence[] = [];
  for (const row of desk.rows) {
    if (row.kind === 'check') {
      const [plan, here] = [row.values[0]?.state, row.values[column]?.state];
      if (plan !== undefined && here !== undefined && plan !== here)
        checks.push({ item: row.item, name: rowName(row), text: `${plan} → ${here}` });
    }
    if (row.kind !== 'cell') continue;
    const value = row.values[column];
    if (!value?.changed || value.overridden) continue;
    const { figure = '', unit = '' } = value.difference ?? {};
    const difference = figure === '' ? '' : ` (${`${figure} ${unit}`.trim()})`;
    values.push({ item: row.item, name: row.name, text: `${value.text}${difference}` });
  }
  return [...checks, ...values];
}

export function scenarioBench(desk: Desk, row: ScenarioRow): TemplateResult {
  const verdict = desk.snapshot.verdicts[row.column];
  const all = consequencesOf(desk, row.column);
  const state = verdict?.state ?? 'none';
  return html`${
    verdict && state !== 'none'
      ? html`<section><h3>Verdict</h3><p><span class="st ${stateClass(state)}">${stateShape(state)}${verdict.headline}</span></p>
          <p class="q">${verdict.tightest}</p></section>`
      : nothing
  }
  <section><h3>What it changes</h3>${changesList(desk, row)}</section>
  ${
    all.length === 0
      ? nothing
      : html`<section><h3>What comes of it</h3><ul class="links">${all.slice(0, MOST).map(
          (
            one,
          ) => html`<li><button @click=${(): void => desk.select(one.item, WORDS)}><span>${one.name}</span></button
            ><span class="q">${one.text}</span></li>`,
        )}</ul>${all.length > MOST ? html`<p class="q">and ${all.length - MOST} more</p>` : nothing}</section>`
  }
  <section><h3>The scenario</h3>${scenarioTools(desk, row, false)}</section>`;
}
