// A chart as a plain table: the full alternative to looking at it, and the `list` kind of chart.

import { html, type TemplateResult } from 'lit';
import type { ChartData } from '../engine/index.ts';
import { axisLabel, figure } from './chart-words.ts';

const LONGEST = 400;

function influenceTable(data: ChartData): TemplateResult {
  return html`<table><thead><tr><th scope="col">given</th><th scope="col" class="n">at its low</th><th scope="col" class="n">at its high</th></tr></thead>
    <tbody>${(data.influence ?? []).map(
      (row) =>
        html`<tr><td>${row.name}</td><td class="n">${row.lowText}</td><td class="n">${row.highText}</td></tr>`,
    )}</tbody></table>`;
}

/** The plan's series, and the scenarios' in view for the first of them. */
function seriesInView(data: ChartData, columns: readonly number[]): ChartData['series'] {
  const first = data.series[0]?.key;
  return data.series.filter(
    ({ column, key }) => column === 0 || (key === first && columns.includes(column)),
  );
}

export function chartTable(
  data: ChartData,
  columnNames: readonly string[],
  columns: readonly number[],
): TemplateResult {
  if (data.influence) return influenceTable(data);
  const bands = data.bands;
  const series = bands
    ? [
        { name: 'low', unit: bands.unit, values: bands.low, column: 0 },
        { name: 'quarter', unit: bands.unit, values: bands.quarter, column: 0 },
        { name: 'middle', unit: bands.unit, values: bands.middle, column: 0 },
        { name: 'three quarters', unit: bands.unit, values: bands.threeQuarter, column: 0 },
        { name: 'high', unit: bands.unit, values: bands.high, column: 0 },
      ]
    : seriesInView(data, columns);
  const length = Math.max(data.axis.values.length, data.axis.labels.length);
  const step = Math.max(1, Math.ceil(length / LONGEST));
  const places = Array.from({ length: Math.ceil(length / step) }, (_, index) => index * step);
  return html`<table>
    <thead><tr><th scope="col">${data.axis.name}</th>${series.map(
      (one) =>
        html`<th scope="col" class="n">${one.name}${one.column > 0 ? `, ${columnNames[one.column] ?? ''}` : ''}${one.unit ? `, ${one.unit}` : ''}</th>`,
    )}</tr></thead>
    <tbody>${places.map(
      (index) =>
        html`<tr><td>${axisLabel(data.axis, index)}</td>${series.map((one) => html`<td class="n">${figure(one.values[index])}</td>`)}</tr>`,
    )}</tbody></table>`;
}
