// Help: what the keys do, the language in one screen, and what this page is not.

import { html, type TemplateResult } from 'lit';
import { icon, stemMark } from '../parts/shapes.ts';
import { referenceView } from './reference-view.ts';

/** Keys and what they do; `keys.test.ts` holds every command's keys against it. */
export const KEYS: readonly (readonly [string, string])[] = [
  ['↑ ↓ ← →', 'move: rows; name, formula, strips'],
  ['Enter, F2 or typing', 'edit; Enter keeps, Esc drops'],
  ['Alt ← / Alt →', 'to what it draws on / what draws on it'],
  ['Ctrl Enter', 'a new row below'],
  ['Space', 'the slider or the choices in the bench'],
  ['+ −', 'one step of a bounded given; with Shift five'],
  ['Alt ↑ / Alt ↓', 'move the row'],
  ['Shift Delete', 'take the row away'],
  ['Delete in a scenario', 'put the plan’s value back'],
  ['Shift ↑ / Shift ↓', 'several rows in hand'],
  ['Ctrl C, X, V, D', 'copy, cut, paste rows; the same once more'],
  ['Ctrl .', 'mend the marked words'],
  ['Page ↑ / Page ↓, Ctrl Home / Ctrl End', 'ten rows on; the first and the last row'],
  ['Ctrl Space', 'in a formula: all that can stand here'],
  ['Ctrl Z, Ctrl Shift Z, Ctrl Y', 'undo, redo, redo'],
  ['Ctrl K', 'go to a cell, a heading, any words, or a command'],
  ['F3, Shift F3', 'the next one found, the one before'],
  ['Ctrl O', 'open a file'],
  ['Ctrl S, Ctrl Shift S', 'save to a file, save as another file'],
  ['Ctrl E, Ctrl P', 'send, print'],
  ['Ctrl C, Ctrl V on a table', 'copy it or an entry; put rows in from here on'],
  ['F9', 'the board: one cell large, for a room; arrows step on, Esc leaves'],
  ['F6', 'verdict, sheet, bench in turn'],
  ['F1', 'this help'],
];

const LANGUAGE: readonly (readonly [string, string])[] = [
  ['panel rating = 320 W', 'a given: a name and a number with its unit'],
  [
    'panel rating = 320 W [50..800 W by 10 W] -- on the label',
    'with bounds, which make a slider, and a note',
  ],
  ['label honesty = 85..90..95 %', 'uncertain: low, likely, high'],
  ['cable drop = panel current × cable resistance as V', 'derived; as chooses the unit'],
  ['with less = lowest charge with panel rating = 200 W', 'the same sum with something different'],
  [
    'panel needed = solve(panel rating, so that: lowest charge ≥ 20 %, over: 50 W..800 W)',
    'the value that just suffices',
  ],
  ['check lowest charge ≥ reserve', 'must hold for the plan to hold'],
  ['chart charge, harvest', 'a chart; also against a given, as bars, as bands, as sky'],
  ['# Heading, | words, ! safety note', 'how a notebook reads'],
];

/** The version in package.json, put in when the page is built. */
declare const __DAPPLE_VERSION__: string;

export function helpDialog(closed: () => void): TemplateResult {
  return html`<dialog id="help" class="dialog help" aria-label="Help" @close=${closed}>
    <div class="top"><h2>Help</h2><button class="close" aria-label="Close help" @click=${(
      event: Event,
    ): void => {
      if (event.target instanceof Element) event.target.closest('dialog')?.close();
    }}>${icon('close')}</button></div>
    <p>A filled dot marks a number a person put in; a ring marks one that follows from others. Change any filled dot and
      everything that draws on it changes at once.</p>
    <h3>What may be written</h3>
    <dl class="pairs wide">${LANGUAGE.map(([text, meaning]) => html`<div><dt>${text}</dt><dd>${meaning}</dd></div>`)}</dl>
    <h3>Keys</h3><dl class="pairs">${KEYS.map(([key, meaning]) => html`<div><dt>${key}</dt><dd>${meaning}</dd></div>`)}</dl>
    <p>Ctrl K finds in the whole notebook. Beyond 3,000 rows the browser’s own search sees only those near the window.</p>
    ${referenceView()}
    <h3>Take care</h3>
    <p class="care">${stemMark('safety')}<span>Local rules, the makers’ instructions and licensed trades come first; this is
      arithmetic, not an approval. Batteries, fuses, cold charging and panels in series can hurt: read the safety notes where they stand.</span></p>
    <p>Dapple ${__DAPPLE_VERSION__}. Everything is worked out on this device; nothing is sent anywhere unless you send it.</p>
    <p><a class="link" href="./licences.txt" target="_blank" rel="noopener">What this page is built from, and its licences</a></p>
  </dialog>`;
}
