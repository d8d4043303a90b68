// The sky seen from the site: the sun's tracks for the notebook's dates over the outline of the
// trees. Where the outline is a table of the notebook, its points can be moved, by hand or by key;
// the table itself is the full alternative.

import { html, nothing, svg, type TemplateResult } from 'lit';
import type { ChartData, SkyTrack } from '../../engine/index.ts';
import { outlineAt, type Place, toDisc } from './sky-geometry.ts';
import { CENTRE, RADIUS, SIZE, type Sky, type SkyHand } from './sky-hand.ts';

const DEGREE = Math.PI / 180;
/** The view along the horizon: from north-east by south to north-west. */
const WIDE = 460;
const TALL = 150;
/** Where the panorama's scale of heights ends. */
const LEFT = 44;
const FROM = 40 * DEGREE;
const TO = 320 * DEGREE;
const TOP = 75 * DEGREE;

function pathOf(places: readonly Place[]): string {
  return places
    .map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`)
    .join('');
}

function ring(sky: Sky, lower: (index: number) => number, step: number): string {
  const places: Place[] = [];
  for (let degree = 0, index = 0; degree < 360; degree += step, index++) {
    const azimuth = degree * DEGREE;
    const height = outlineAt(sky.azimuth, sky.height, azimuth) - lower(index) * DEGREE;
    places.push(toDisc(azimuth, height, CENTRE, RADIUS));
  }
  return `${pathOf(places)}Z`;
}

/** A track's stretches that clear the outline, and those that do not. */
export function stretches(
  sky: Pick<Sky, 'azimuth' | 'height'>,
  track: SkyTrack,
): { readonly clear: boolean; readonly from: number; readonly to: number }[] {
  const found: { clear: boolean; from: number; to: number }[] = [];
  track.azimuth.forEach((azimuth, index) => {
    const clear = (track.elevation[index] ?? 0) > outlineAt(sky.azimuth, sky.height, azimuth);
    const last = found.at(-1);
    if (last && last.clear === clear) last.to = index;
    else found.push({ clear, from: last ? index - 1 : index, to: index });
  });
  return found;
}

const DASH = ['', 'mid', 'lastd'];

function tracks(sky: Sky, place: (azimuth: number, elevation: number) => Place): TemplateResult[] {
  return sky.tracks.flatMap((track, number) => {
    const dash = DASH[Math.min(number, 2)] ?? '';
    return stretches(sky, track).map(({ clear, from, to }) => {
      const places = track.azimuth
        .slice(from, to + 1)
        .map((azimuth, index) => place(azimuth, track.elevation[from + index] ?? 0));
      const path = pathOf(places);
      return clear
        ? svg`<path class="trk-edge" d=${path}></path><path class=${`trk-sun ${dash}`} d=${path}></path>`
        : svg`<path class=${`trk-low ${dash}`} d=${path}></path>`;
    });
  });
}

function hours(
  sky: Sky,
  place: (azimuth: number, elevation: number) => Place,
  up: number,
): TemplateResult[] {
  const track = sky.tracks[Math.floor(sky.tracks.length / 2)];
  if (!track) return [];
  const marks: TemplateResult[] = [];
  for (let hour = 1; hour < 24; hour++) {
    const index = track.hour.findIndex(
      (at, n) => at >= hour - 1e-6 && (track.hour[n - 1] ?? 99) < hour,
    );
    if (index < 1) continue;
    const [azimuth, elevation] = [track.azimuth[index] ?? 0, track.elevation[index] ?? 0];
    const clear = elevation > outlineAt(sky.azimuth, sky.height, azimuth);
    const { x, y } = place(azimuth, elevation);
    if (clear) marks.push(svg`<circle class="sunm" cx=${x} cy=${y} r="5.5"></circle>`);
    marks.push(svg`<text class=${clear ? 'hour' : 'hour low'} x=${x} y=${y - up}>${hour}</text>`);
  }
  return marks;
}

function handle(hand: SkyHand, sky: Sky, index: number): TemplateResult {
  const azimuth = sky.azimuth[index] ?? 0;
  const height = sky.height[index] ?? 0;
  const { x, y } = toDisc(azimuth, height, CENTRE, RADIUS);
  const words = `point ${index + 1}: ${Math.round(azimuth / DEGREE)}°, ${Math.round(height / DEGREE)}° high`;
  return svg`<g class=${`handle-at ${hand.selected === index ? 'held' : ''}`} data-grip tabindex="0" role="button" aria-label=${words}
    aria-keyshortcuts="ArrowLeft ArrowRight ArrowUp ArrowDown Insert Delete"
    @keydown=${(event: KeyboardEvent): void => hand.key(event, sky, index)}
    @focus=${(): void => hand.select(index)}
    @pointerdown=${(event: PointerEvent): void => hand.take(event, index)}
    @pointermove=${(event: PointerEvent): void => hand.drag(event, sky, index)}
    @pointerup=${(): void => hand.end()} @pointercancel=${(): void => hand.end()}>
    <circle class="handle-hit" cx=${x} cy=${y} r="17"></circle><circle class="handle" cx=${x} cy=${y} r="7"></circle></g>`;
}

function disc(sky: Sky, hand: SkyHand, spoken: string, editable: boolean): TemplateResult {
  const place = (azimuth: number, elevation: number): Place =>
    toDisc(azimuth, elevation, CENTRE, RADIUS);
  const rings = [30, 60].map(
    (degree) =>
      svg`<circle class="ring" cx=${CENTRE} cy=${CENTRE} r=${RADIUS * (1 - degree / 90)}></circle>`,
  );
  return html`<svg class=${`disc ${hand.drawing ? 'drawing' : ''}`} viewBox=${`0 0 ${SIZE} ${SIZE}`} role=${editable ? 'group' : 'img'} aria-label=${spoken}
    @mousedown=${(event: MouseEvent): void => {
      // The focus stays in the chart: the sheet would take it, and scroll to its own row.
      if (hand.drawing) event.preventDefault();
    }}
    @pointerdown=${(event: PointerEvent): void => hand.begin(event, sky)}
    @pointermove=${(event: PointerEvent): void => hand.draw(event)}
    @pointerup=${(): void => hand.end()} @pointercancel=${(): void => hand.end()}>
    <circle class="crown2" cx=${CENTRE} cy=${CENTRE} r=${RADIUS}></circle>
    <path class="crown" d=${ring(sky, (n) => (n % 2 === 0 ? 7 + ((n * 31) % 6) : 12 + ((n * 17) % 5)), 2)}></path>
    <path class="sky-fill" d=${ring(sky, (n) => (n % 2 === 0 ? 0 : 2.4), 2)}></path>
    ${rings}${tracks(sky, place)}
    <path class="outl" d=${ring(sky, () => 0, 1)}></path>
    ${hours(sky, place, 11)}
    ${editable ? sky.azimuth.map((_, index) => handle(hand, sky, index)) : nothing}
    <text class="side" x=${CENTRE} y="18">North</text><text class="side" x=${CENTRE} y=${SIZE - 8}>South</text>
    <text class="side" transform=${`translate(16 ${CENTRE}) rotate(-90)`}>East</text>
    <text class="side" transform=${`translate(${SIZE - 16} ${CENTRE}) rotate(90)`}>West</text>
  </svg>`;
}

function around(sky: Sky): TemplateResult {
  const place = (azimuth: number, elevation: number): Place => ({
    x: LEFT + ((azimuth - FROM) / (TO - FROM)) * (WIDE - LEFT),
    y: TALL * (1 - Math.max(0, Math.min(TOP, elevation)) / TOP),
  });
  const outline = (lower: (n: number) => number): Place[] =>
    Array.from({ length: 141 }, (_, n) => {
      const azimuth = FROM + (n * (TO - FROM)) / 140;
      return place(azimuth, outlineAt(sky.azimuth, sky.height, azimuth) - lower(n) * DEGREE);
    });
  const ground = `L${WIDE} ${TALL}L${LEFT} ${TALL}Z`;
  const inView = {
    ...sky,
    tracks: sky.tracks.map((track) => {
      const keep = track.azimuth.map((azimuth) => azimuth >= FROM && azimuth <= TO);
      const only = (values: readonly number[]): readonly number[] =>
        values.filter((_, n) => keep[n] === true);
      return {
        ...track,
        azimuth: only(track.azimuth),
        elevation: only(track.elevation),
        hour: only(track.hour),
      };
    }),
  };
  const names = [
    ['East', 90],
    ['South', 180],
    ['West', 270],
  ] as const;
  return html`<svg class="around" viewBox=${`0 -14 ${WIDE} ${TALL + 46}`} role="img" aria-label="The same outline, looking round from east to west.">
    <rect class="sky-fill" x=${LEFT} y="0" width=${WIDE - LEFT} height=${TALL}></rect>
    ${[30, 60].map((degree) => {
      const { y } = place(FROM, degree * DEGREE);
      return svg`<path class="ring" d=${`M${LEFT} ${y}H${WIDE}`}></path><text text-anchor="end" x=${LEFT - 5} y=${y + 7}>${degree}°</text>`;
    })}
    <path class="crown" d=${`${pathOf(outline((n) => (n % 2 === 0 ? 0 : 3)))}${ground}`}></path>
    <path class="crown2" d=${`${pathOf(outline((n) => (n % 2 === 0 ? 8 : 14)))}${ground}`}></path>
    ${tracks(inView, place)}<path class="outl" d=${pathOf(outline(() => 0))}></path>${hours(inView, place, 10)}
    ${names.map(([word, degree]) => svg`<text text-anchor="middle" x=${place(degree * DEGREE, 0).x} y=${TALL + 26}>${word}</text>`)}
  </svg>`;
}

/** What a hand may do to the outline besides moving its points. */
function outlineTools(sky: Sky, hand: SkyHand): TemplateResult {
  return html`<div class="sky-tools" role="group" aria-label="Outline">
    <button class="btn3" aria-pressed=${hand.drawing ? 'true' : 'false'} @click=${(): void => hand.toggleDrawing()}>${hand.drawing ? 'End drawing' : 'Draw along the trees'}</button>
    <button class="btn3" @click=${(): void => hand.putIn(sky)}>Put a point in</button>
    <button class="btn3" @click=${(): void => hand.takeOut(sky)}>Take the point out</button>
  </div>`;
}

export function skyView(data: ChartData, hand: SkyHand, tools: TemplateResult): TemplateResult {
  const stands = data.sky;
  if (!stands) return html`<div class="chart-wait">${data.text}</div>`;
  const editable = hand.tableOf(stands) !== undefined;
  const sky = hand.shown(stands);
  const samples = ['', 'mid', 'lastd'];
  const hint = hand.drawing
    ? 'Draw along the treetops with one stroke: the outline follows it. The part that you do not pass stays.'
    : 'Move a point by hand, or by the arrow keys: 1°, with Shift 5°. Insert puts one in, Delete takes it out.';
  return html`<div class="sky">
    ${disc(sky, hand, data.spoken || data.title, editable)}
    <div><p class="hint">Lie down with your feet to the south: this is what you see. East is on your left hand. The outline is what hides the sun.</p>
      ${editable ? html`<p class="hint">${hint}</p>${outlineTools(stands, hand)}` : nothing}
      <dl class="facts"><div><dt data-words>open sky</dt><dd data-words>${Math.round(sky.openShare * 100)} %</dd></div></dl>
      ${around(sky)}
      <ul class="sky-keys">${sky.tracks.map(
        (track, number) =>
          html`<li><svg viewBox="0 0 26 8" width="26" height="8" aria-hidden="true"><path class=${`trk-sun ${samples[Math.min(number, 2)] ?? ''}`} d="M2 4H24"></path></svg><span data-words>${track.label}</span></li>`,
      )}<li>numbers: hour of the clock</li></ul>${tools}</div>
  </div>`;
}
