// Chance in the bench: a result's values over the trials as dots, and the uncertain givens ranked by
// how far each alone moves it, a ring at the given's low and a dot at its high.

import { html, nothing, svg, type TemplateResult } from 'lit';
import type { CellRow, ShownInfluence, ShownValue } from '../../engine/index.ts';
import { stackedDots } from '../chart/chart-study.ts';
import { figure } from '../chart/chart-words.ts';
import type { Desk } from '../desk/desk.ts';

type Part = TemplateResult | typeof nothing;

const WIDTH = 330;
const DOT = 5.5;
const SLOTS = 24;
const LINE = 200;

function withUnit(value: number | undefined, unit: string): string {
  return `${figure(value)}\u00a0${unit}`.trim();
}

/** Twenty dots, each one trial in twenty, stacked where they fall together. */
function dots(value: ShownValue, spread: readonly number[]): Part {
  const placed = stackedDots(spread, SLOTS);
  const low = spread[0] ?? 0;
  const span = (spread.at(-1) ?? 0) - low || 1;
  const x = (at: number): number => DOT + 1 + ((at - low) / span) * (WIDTH - 2 * DOT - 2);
  const tall = Math.max(...placed.map(({ y }) => y ?? 1)) * 2 * DOT + 6;
  const plan = value.number >= low && value.number <= low + span ? x(value.number) : undefined;
  return html`<svg class="over-trials" viewBox=${`0 0 ${WIDTH} ${tall + 8}`} aria-hidden="true">
    ${svg`<path class="ground" d=${`M0 ${tall}H${WIDTH}`}></path>`}
    ${plan === undefined ? nothing : svg`<path class="plan-at" d=${`M${plan.toFixed(1)} ${tall - 4}v11`}></path>`}
    ${placed.map(
      (dot) =>
        svg`<circle cx=${x(dot.x).toFixed(1)} cy=${(tall - ((dot.y ?? 1) - 0.5) * 2 * DOT - 1).toFixed(1)} r=${DOT - 0.6}></circle>`,
    )}</svg>`;
}

function influenceLine(one: ShownInfluence, low: number, span: number): TemplateResult {
  const x = (at: number): number => 7 + ((at - low) / span) * (LINE - 14);
  const [from, to] = [x(one.low), x(one.high)];
  return html`<li><span class="given">${one.name}</span>
    <svg viewBox=${`0 0 ${LINE} 14`} aria-hidden="true">${
      Number.isFinite(from) && Number.isFinite(to)
        ? svg`<path d=${`M${from.toFixed(1)} 7H${to.toFixed(1)}`}></path>`
        : nothing
    }${Number.isFinite(from) ? svg`<circle class="low-end" cx=${from.toFixed(1)} cy="7" r="5"></circle>` : nothing}${
      Number.isFinite(to)
        ? svg`<circle class="high-end" cx=${to.toFixed(1)} cy="7" r="5.5"></circle>`
        : nothing
    }</svg>
    <small>at ${one.lowText}: ${withUnit(one.low, one.unit)}; at ${one.highText}: ${withUnit(one.high, one.unit)}</small></li>`;
}

function movers(desk: Desk, row: CellRow, column: number): Part {
  const { list, working } = desk.influence(row.key, column);
  // An end that could not be worked out is not drawn.
  const ends = list.flatMap(({ low, high }) => [low, high]).filter(Number.isFinite);
  const low = Math.min(...ends);
  const span = Math.max(...ends) - low || 1;
  if (list.length === 0 && !working) return nothing;
  return html`<section class="movers"><h3>What moves it most ${working ? html`<span>working …</span>` : nothing}</h3>
    ${
      list.length === 0
        ? nothing
        : html`<ol>${list.map((one) => influenceLine(one, low, span))}</ol>
          <p class="legend">ring: the given at its low; dot: at its high</p>`
    }</section>`;
}

/** Both sections, for a result that trials move; nothing otherwise. */
export function chanceSections(desk: Desk, row: CellRow, column: number): Part {
  const value = row.values[column];
  const spread = value?.spread ?? [];
  if (!value || spread.length === 0) return nothing;
  const { unit } = value.shown;
  const total = desk.snapshot.verdicts[column]?.trials?.total ?? desk.snapshot.trials;
  const [from, to] = [withUnit(spread[0], unit), withUnit(spread.at(-1), unit)];
  return html`<section class="chance"><h3>Over ${total} trials</h3>
    ${dots(value, spread)}
    <p class="between">19 in 20 between ${from} and ${to}</p></section>
    ${row.role === 'derived' ? movers(desk, row, column) : nothing}`;
}
