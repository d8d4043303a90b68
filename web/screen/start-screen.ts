// The first page: questions to start from, the notebooks kept on this device, a file to open, or an
// empty page.

import { html, nothing, svg, type TemplateResult } from 'lit';
import { type KeptContext, keptList } from '../keep/kept-list.ts';
import { logo } from '../parts/shapes.ts';
import { STARTERS } from './starters.ts';

export interface StartContext extends KeptContext {
  readonly themeButton: TemplateResult;
  readonly openFile: () => void;
  /** All notebooks kept here as one file. */
  readonly saveAll: () => void;
  readonly empty: () => void;
  readonly help: () => void;
}

const PICTURES: Readonly<Record<string, TemplateResult>> = {
  harvest: svg`<rect class="tile-n" width="20" height="50"/><rect class="tile-n" x="96" width="20" height="50"/><path class="tile-f" d="M24 48C40 48 44 12 58 12S76 48 92 48z"/><path class="tile-s" d="M0 48H116"/>`,
  battery: svg`<path class="tile-l" d="M0 38H116"/><path class="tile-s" d="M0 8C10 10 16 26 22 28S32 10 40 10 56 34 62 34 70 14 80 14 98 32 104 30 112 16 116 16"/>`,
  cable: svg`<path class="tile-h" d="M0 14C40 16 80 26 116 44"/><path class="tile-s" d="M0 10C40 11 80 15 116 22"/><path class="tile-l" d="M0 30H116"/>`,
  'cool-box': svg`<path class="tile-s" d="M0 22l8-12 6 20 8-20 6 20 8-20 6 20 8-20 6 20 8-20 6 20 8-20 6 20 8-20 6 16"/><path class="tile-l" d="M0 42H116"/>`,
  'quiet-hours': svg`<rect class="tile-n" x="60" width="40" height="50"/><path class="tile-s" d="M0 30l4-8 4 10 4-12 4 10 4-6 4 8 4-12 4 10 4-6 4 8 4-10 4 8 4-4 4 6 4-4M60 40h40M100 32l4-8 4 8 4-10 4 6"/>`,
  trial: svg`${[0, 1, 2, 3, 4, 5, 6, 7, 8, 9].map((n) => svg`<circle class="tile-d" cx=${14 + n * 10} cy="20" r="3.6"/>${n < 8 ? svg`<circle class="tile-d" cx=${14 + n * 10} cy="33" r="3.6"/>` : svg`<circle class="tile-l" cx=${14 + n * 10} cy="33" r="3"/>`}`)}`,
  trip: svg`<rect class="tile-n" x="8" width="12" height="50"/><rect class="tile-n" x="42" width="12" height="50"/><rect class="tile-n" x="76" width="12" height="50"/><path class="tile-s" d="M0 10C8 12 16 26 20 26S30 12 36 12 50 34 56 34 66 22 70 22 84 40 90 40 104 14 116 12"/>`,
  workshop: svg`<path class="tile-s" d="M8 14h44M8 26h64M8 38h30"/><circle class="tile-f" cx="94" cy="26" r="13"/><path class="tile-s" d="M86 26h16M94 18v16"/>`,
  tour: svg`<path class="tile-l" d="M40 4v44"/><path class="tile-s" d="M50 12h48M50 26h34M50 40h56"/><circle class="tile-d" cx="40" cy="12" r="3.6"/><circle class="tile-d" cx="40" cy="26" r="3.6"/><circle class="tile-d" cx="40" cy="40" r="3.6"/>`,
  rules: svg`<path class="tile-s" d="M8 18h100v18H8zM20 18v9M32 18v6M44 18v9M56 18v6M68 18v9M80 18v6M92 18v9"/>`,
};

/** A jagged edge of crowns from height to height; ornament only. */
function crowns(base: number, depth: number, tooth: number): string {
  let path = 'M0 190';
  for (let x = 0, n = 0; x <= 1440; x += tooth, n++) {
    const valley = base + depth * Math.sin((Math.PI * x) / 1440) ** 2;
    const jitter = ((n * 7919) % 13) - 6;
    path += `L${x} ${(valley + jitter).toFixed(0)}L${x + tooth / 2} ${(valley + 20 + jitter).toFixed(0)}`;
  }
  return `${path}L1440 190z`;
}

function treeline(): TemplateResult {
  const suns = [330, 440, 545, 720, 880, 1000, 1110];
  const height = (x: number): number => 14 + ((x - 720) / 400) ** 2 * 42;
  return html`<svg class="treeline" viewBox="0 0 1440 190" preserveAspectRatio="xMidYMax slice" aria-hidden="true">
    <path class="trk0 mid" d=${`M${Array.from({ length: 45 }, (_, i) => 280 + i * 20)
      .map((x) => `${x} ${height(x).toFixed(1)}`)
      .join('L')}`}></path>
    ${suns.map((x) => svg`<circle class="sunm" cx=${x} cy=${height(x)} r=${x === 720 ? 11 : 6}></circle>`)}
    <path class="crown" d=${crowns(28, 92, 15)}></path><path class="crown2" d=${crowns(54, 92, 22)}></path>
  </svg>`;
}

export function startScreen(context: StartContext): TemplateResult {
  const mine = new Set([...context.kept, ...context.away].map((entry) => entry.id));
  return html`<div class="start">
    <header>${logo()}<div><h1>Dapple</h1>
      <p>Plan small solar power where trees leave only a window of sky. Change one number and see at once what it does.</p></div>
      <div class="right"><button class="tool" @click=${context.help}>Help</button>${context.themeButton}</div></header>
    <main class="starters" id="starters"><h2 class="qh">Start from a question</h2>
      <ul>${STARTERS.map(
        (
          starter,
        ) => html`<li><a class="starter" href=${mine.has(starter.id) ? `#/new/${starter.id}` : `#/${starter.id}`}>
          <span class="nm">${starter.name}</span><span class="m"></span>
          <span class="q"><span class="ti">${starter.title}</span><small>${starter.line}</small></span>
          <svg class="pic" viewBox="0 0 116 52" aria-hidden="true">${PICTURES[starter.id] ?? nothing}</svg></a></li>`,
      )}</ul></main>
    <aside class="side" aria-label="Your notebooks">
      ${keptList(context)}
      <section class="drop"><p class="by-hand">Drop a .dapple file or an archive of notebooks here</p>
        <button class="btn2" @click=${context.openFile}>Open a file</button>
        <button class="btn2" @click=${context.empty}>Begin with an empty page</button>
        ${
          context.kept.length > 0
            ? html`<button class="btn2" @click=${context.saveAll}>Save all as one archive</button>`
            : nothing
        }</section>
      <p class="hint">Everything stays on this device. Nothing is sent anywhere unless you send it.</p>
    </aside></div>${treeline()}`;
}
