// What stands in the value strips: figures and units meeting on one axis, differences from the
// plan, sparks of series, gauges of bounded givens, the words of checks.

import { html, nothing, svg, type TemplateResult } from 'lit';
import type { CellRow, ShownBounds, ShownCheck, ShownValue } from '../../engine/index.ts';
import { stateClass, stateShape } from '../parts/shapes.ts';

const SPARK_WIDTH = 104;
const SPARK_HEIGHT = 18;
const TALLEST = 16;
const DOTS_HEIGHT = TALLEST + 4;

/** A series in miniature, from its lowest to its highest. */
export function spark(values: readonly number[]): TemplateResult | typeof nothing {
  const known = values.filter(Number.isFinite);
  if (known.length < 2) return nothing;
  const low = Math.min(...known);
  const span = Math.max(...known) - low || 1;
  let path = '';
  let pen = false;
  values.forEach((value, index) => {
    if (!Number.isFinite(value)) {
      pen = false;
      return;
    }
    const x = (index / (values.length - 1)) * SPARK_WIDTH;
    const y = SPARK_HEIGHT - 2 - ((value - low) / span) * (SPARK_HEIGHT - 4);
    path += `${pen ? 'L' : 'M'}${x.toFixed(1)} ${y.toFixed(1)}`;
    pen = true;
  });
  return html`<svg class="spark" width=${SPARK_WIDTH} height=${SPARK_HEIGHT}
    viewBox=${`0 0 ${SPARK_WIDTH} ${SPARK_HEIGHT}`} aria-hidden="true">${svg`<path d=${path}></path>`}</svg>`;
}

/**
 * Twenty of a result's trials as dots; every row the same scale, ±40 % of the value. The picture is
 * as tall with few dots as with many, and with none yet when they are `awaited`.
 */
export function twentyDots(value: ShownValue, awaited: boolean): TemplateResult | typeof nothing {
  const dots = value.spread ?? [];
  // A moment has no share of itself to be spread over.
  if (!(Math.abs(value.number) > 0) || /[a-z]/i.test(value.shown.figure)) return nothing;
  if (dots.length === 0 && !awaited) return nothing;
  const heights = new Map<number, number>();
  const reach = 0.4 * Math.abs(value.number);
  const slots = dots.map((dot) => {
    const share = Math.max(-1, Math.min(1, (dot - value.number) / reach));
    const slot = Math.round(share * 15);
    const stacked = heights.get(slot) ?? 0;
    heights.set(slot, stacked + 1);
    return { slot, stacked };
  });
  // A stack never grows taller than a line of text: the dots move closer together.
  const rise = Math.min(3.4, TALLEST / Math.max(...heights.values()));
  const places = slots.map(({ slot, stacked }) => ({
    x: SPARK_WIDTH / 2 + slot * 3.3,
    y: -2.5 - stacked * rise,
  }));
  return html`<svg class="twenty" width=${SPARK_WIDTH} height=${DOTS_HEIGHT}
    viewBox=${`0 ${1 - DOTS_HEIGHT} ${SPARK_WIDTH} ${DOTS_HEIGHT}`}
    aria-hidden="true">${svg`<path d=${`M0 0H${SPARK_WIDTH}`}></path>`}${places.map(
      ({ x, y }) => svg`<circle cx=${x.toFixed(1)} cy=${y.toFixed(1)} r="1.5"></circle>`,
    )}</svg>`;
}

/** Whether a given has a slider. */
export function hasSlider(row: CellRow): boolean {
  const bounds = row.bounds;
  return (
    bounds?.kind === 'range' &&
    row.role === 'given' &&
    row.shape === 'scalar' &&
    Number.isFinite(bounds.low) &&
    Number.isFinite(bounds.high) &&
    bounds.high > bounds.low &&
    Number.isFinite(row.values[0]?.number ?? Number.NaN)
  );
}

export function stepOf(bounds: ShownBounds): number {
  return bounds.step > 0 ? bounds.step : bounds.defaultStep;
}

/** A number as a person would write it, with its unit. */
export function written(value: number, bounds: ShownBounds): string {
  const step = stepOf(bounds);
  const places = Math.min(6, Math.max(0, -Math.floor(Math.log10(step || 1) + 1e-9)) + 1);
  const figure = Number(value.toFixed(places)).toString();
  return bounds.unit === '' ? figure : `${figure} ${bounds.unit}`;
}

/** Whether this is what a given of choices has, in the plan or in a scenario. */
export function isChosen(row: CellRow, choice: string, column: number): boolean {
  const plain = (text: string | undefined): string | undefined =>
    text?.replaceAll('\u00a0', ' ').replace(/^"(.*)"$/u, '$1');
  if (column === 0 && choice === row.formula) return true;
  return plain(choice) === plain(row.values[column]?.text);
}

/** The slider that stands under a bounded given. */
export function gauge(
  row: CellRow,
  bounds: ShownBounds,
  slide: (text: string) => void,
  end: () => void,
): TemplateResult {
  const value = row.values[0]?.number ?? bounds.low;
  const position = ((value - bounds.low) / (bounds.high - bounds.low)) * 100;
  const moved = (event: Event): void => {
    if (event.target instanceof HTMLInputElement) {
      slide(written(event.target.valueAsNumber, bounds));
    }
  };
  return html`<input
    class="gauge"
    type="range"
    tabindex="-1"
    aria-label=${row.name}
    aria-valuetext=${row.values[0]?.text ?? ''}
    min=${bounds.low}
    max=${bounds.high}
    step=${stepOf(bounds)}
    .value=${String(value)}
    .style=${`--at:${Math.max(0, Math.min(100, position)).toFixed(2)}%`}
    @input=${moved}
    @change=${end}
  />`;
}

/** The words a screen reader says for a value. */
export function spokenValue(name: string, column: string, value: ShownValue): string {
  const { figure, unit } = value.shown;
  const seen = { pending: 'working …', blank: 'fill in' } as const;
  const shown =
    value.state === 'pending' || value.state === 'blank'
      ? seen[value.state]
      : `${figure} ${unit}`.trim();
  const difference = value.difference;
  const parts = [name, column];
  // What is seen comes first and unbroken, so that the name holds the visible words.
  parts.push(
    difference ? `${shown} ${difference.figure} ${difference.unit} against the plan` : shown,
  );
  if (value.text !== shown) parts.push(value.text);
  if (value.overridden) parts.push('put in for this scenario');
  return parts.filter((part) => part !== '').join(', ');
}

/** A span of moments takes two lines, one for each end. */
function brokenAtDots(words: string): TemplateResult {
  const [from = '', to] = words.split('..');
  if (to === undefined || words.length <= 20) return html`${words}`;
  return html`<span class="end">${from}..</span><wbr /><span class="end">${to}</span>`;
}

/** The inside of one strip. */
export function valueContent(
  value: ShownValue,
  column: number,
  extra: TemplateResult | typeof nothing,
  comes: { readonly dots: boolean; readonly difference: boolean },
): TemplateResult {
  const room =
    comes.difference && column > 0
      ? html` <span class="d" aria-hidden="true"><s>\u00a0</s></span>`
      : nothing;
  if (value.state === 'pending') return html`<span class="waitw">working …</span>${room}`;
  if (value.state === 'blank') return html`<span class="blankw">fill in</span>`;
  const { figure, unit } = value.shown;
  // What does not fit on the axis of figures stands across the strip.
  // A span is long whatever its ends, so that one column has one size of spans.
  const long = figure.length > 7 || unit.length > 5 || figure.includes(' to ');
  const size = figure.length > 20 ? 'words long' : 'words';
  const figures = long
    ? html`<b class=${size}>${brokenAtDots(`${figure} ${unit}`.trim())}</b>`
    : html`<b>${figure}</b> <i>${unit}</i>`;
  const line = value.spark && column === 0 ? spark(value.spark) : nothing;
  const chance = column === 0 ? twentyDots(value, comes.dots) : nothing;
  const difference = value.difference
    ? html` <span class="d"><s>${value.difference.figure}</s> <span>${value.difference.unit}</span></span>`
    : room;
  return html`${figures}${difference}${line}${chance}${extra}`;
}

const CHECK_WORD: Readonly<Record<ShownCheck['state'], string>> = {
  holds: 'holds',
  fails: 'fails',
  waits: 'waits',
  pending: 'working',
  error: 'cannot be judged',
};

export function checkContent(check: ShownCheck, must: boolean): TemplateResult {
  const state = must && check.state === 'fails' ? 'do not' : check.state;
  const margin = check.state === 'holds' || check.state === 'fails' ? check.marginText : '';
  return html`<span class="st ${stateClass(state)}">${stateShape(state)}${
    state === 'do not' ? 'do not' : CHECK_WORD[check.state]
  }</span>${margin ? html` <span class="when">${margin}</span>` : nothing}`;
}

/** The words a screen reader says for a check in one strip. */
export function spokenCheck(
  name: string,
  column: string,
  check: ShownCheck,
  must: boolean,
): string {
  const failing = must && check.state === 'fails';
  const margin = check.state === 'holds' || check.state === 'fails' ? check.marginText : '';
  const seen = `${failing ? 'do not' : CHECK_WORD[check.state]} ${margin}`.trim();
  return [name, column, seen, check.text].filter((part) => part !== '').join(', ');
}
