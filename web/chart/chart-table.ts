// A chart as a plain table: the full alternative to looking at it, and the `list` kind of chart.

import { html, type TemplateResult } from 'lit';
import type { ChartReading, Entry } from './chart-reading.ts';
import { figure } from './chart-words.ts';

/** More rows than this are shown in part; the file of values has them all. */
const LONGEST = 400;

function shown(entry: Entry): string {
  return typeof entry === 'number' ? figure(entry) : entry;
}

export function chartTable({ heads, rows }: ChartReading): TemplateResult {
  const step = Math.max(1, Math.ceil(rows.length / LONGEST));
  const kept = rows.filter((_, index) => index % step === 0);
  return html`<table>
    <thead><tr>${heads.map(
      ({ name, unit, numeric }) =>
        html`<th scope="col" class=${numeric ? 'n' : ''}>${name}${unit ? `, ${unit}` : ''}</th>`,
    )}</tr></thead>
    <tbody>${kept.map(
      ({ entries }) =>
        html`<tr>${entries.map((entry, c) => html`<td class=${heads[c]?.numeric ? 'n' : ''}>${shown(entry)}</td>`)}</tr>`,
    )}</tbody></table>${step > 1 ? html`<p class="hint">One row in ${step} of ${rows.length} is shown; the CSV has them all.</p>` : ''}`;
}
