// The samples beside a chart's names: how a line, a bar or a mark looks there, and where a swept
// check begins to hold.

import { html, nothing, svg, type TemplateResult } from 'lit';
import type { ChartData } from '../../engine/index.ts';
import { STRIPES } from './chart-bars.ts';
import type { NamedLine } from './chart-panel.ts';

const MARKS = [
  'M8 6a5 5 0 1010 0a5 5 0 10-10 0z',
  'M8.5 1.5h9v9h-9z',
  'M13 .5l5.5 10h-11z',
  'M13 0l5 6-5 6-5-6z',
  'M11.5 1h3v3.5h3.5v3h-3.5V11h-3V7.5H8v-3h3.5z',
];

/** A bar as it is filled, 12 wide from 6; as in chart-bars.ts. */
function barSample(style: number): TemplateResult {
  const index = style % 5;
  if (index === 0) return svg`<rect class="bar-fill" x="6" y="0" width="12" height="12"></rect>`;
  if (index === 1) return svg`<rect class="bar-out" x="6" y="1" width="11" height="10"></rect>`;
  const edges = STRIPES[index - 2] ?? [];
  const stripes = edges.flatMap((from, at) =>
    at % 2 === 0 ? [{ from, to: edges[at + 1] ?? 1 }] : [],
  );
  return svg`${stripes.map(
    ({ from, to }) =>
      svg`<rect class=${`f${index + 1}`} x=${6 + 12 * from} y="0" width=${12 * (to - from)} height="12"></rect>`,
  )}<rect class=${`o${index + 1}`} x="6.5" y=".5" width="11" height="11"></rect>`;
}

function markSample(style: number): TemplateResult {
  const index = style % 5;
  return svg`<path class=${index === 0 ? 'mark-ink' : `f${index + 1}`} d=${MARKS[index] ?? ''}></path>`;
}

/** A sample of a line or mark beside its name. */
export function sample(line: NamedLine): TemplateResult {
  const style = (line.style % 5) + 1;
  const inside = {
    line: svg`<path class=${`s${style}`} d="M0 6H26"></path>`,
    limit: svg`<path class="tile-l" d="M0 6H26"></path>`,
    rails: svg`<path class="tile-l rails" d="M0 4.5H26M0 7.5H26"></path>`,
    fill: barSample(line.style),
    middle: svg`<path class="middle-line" d="M0 6H26"></path>`,
    ring: svg`<circle class="ring-mark" cx="13" cy="6" r="4.6"></circle>`,
    cross: svg`<path class="cross-mark" d="M9 2l8 8M17 2l-8 8"></path>`,
    outline: svg`<rect class="bar-out" x="6" y="1" width="11" height="10"></rect>`,
    mark: markSample(line.style),
    square: svg`<circle class=${`f${style}`} cx="13" cy="6" r="5"></circle>`,
    tile: svg`<rect class=${`f${style}`} x="6" y="0" width="12" height="12"></rect>`,
    band: svg`<rect class="bandf" x="0" y="0" width="26" height="12"></rect>`,
    half: svg`<rect class="bandf half" x="0" y="0" width="26" height="12"></rect>`,
  }[line.kind];
  return html`<svg viewBox="0 0 26 12" aria-hidden="true">${inside}</svg>`;
}

/** Where the checks of a sweep are crossed, in words. */
export function crossingWords(data: ChartData): TemplateResult | typeof nothing {
  const crossings = data.crossings ?? [];
  if (crossings.length === 0) return nothing;
  return html`<ul class="chart-crossings">${crossings.map(
    ({ words }) =>
      html`<li><svg viewBox="0 0 26 12" aria-hidden="true">${svg`<circle class="ring-mark" cx="13" cy="6" r="4.6"></circle>`}</svg><span data-words>${words}</span></li>`,
  )}</ul>`;
}
