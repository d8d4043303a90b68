// Every shape the page draws by hand: state marks, stem marks and the icons of the tools. A state
// always has a shape as well as a colour and a word.

import { html, svg, type TemplateResult } from 'lit';

export type StateWord =
  | 'holds'
  | 'tight'
  | 'fails'
  | 'do not'
  | 'waits'
  | 'pending'
  | 'error'
  | 'none';

const STATE_SHAPES: Readonly<Record<StateWord, TemplateResult>> = {
  holds: svg`<circle class="fillc" cx="10" cy="10" r="9"/><path class="cut" d="M5.6 10.4l3 3 5.6-6.4"/>`,
  tight: svg`<circle class="strokec" cx="10" cy="10" r="8.4"/><path class="strokec" d="M6.2 8.6l2.6 2.6 5-5.6M6 14.4h8"/>`,
  fails: svg`<path class="fillc" d="M10 .4L19.6 10 10 19.6.4 10z"/><path class="cut" d="M7 7l6 6M13 7l-6 6"/>`,
  'do not': svg`<path class="fillc" d="M6.2 .8h7.6l5.4 5.4v7.6l-5.4 5.4H6.2L.8 13.8V6.2z"/><path class="cut" d="M5.4 10h9.2"/>`,
  waits: svg`<circle class="strokec dashed" cx="10" cy="10" r="8.4"/><path class="strokec" d="M10 5.4V10l3 2.4"/>`,
  pending: svg`<circle class="strokec dashed" cx="10" cy="10" r="8.4"/><circle class="fillc" cx="10" cy="10" r="2"/>`,
  error: svg`<path class="strokec" d="M10 2.2L18.4 17H1.6z"/><path class="strokec" d="M10 7.6v4.4M10 14.4v.2"/>`,
  none: svg`<circle class="strokec dashed" cx="10" cy="10" r="8.4"/>`,
};

/** A state's shape, with a class for its size. */
export function stateShape(state: StateWord, size = 's'): TemplateResult {
  return html`<svg class=${size} viewBox="0 0 20 20" aria-hidden="true">${STATE_SHAPES[state]}</svg>`;
}

/** The class that colours a state. */
export function stateClass(state: StateWord): string {
  if (state === 'do not') return 'fails';
  if (state === 'error') return 'fails';
  return state === 'pending' || state === 'none' ? 'waits' : state;
}

const MARKS = {
  heading: svg`<path class="strokec" d="M4 10h12"/>`,
  chart: svg`<path class="strokec" d="M2.5 15.5c3-9 5-9 7.5-4.5s4.5 3 7.5-6"/>`,
  table: svg`<path class="strokec" d="M3.5 5h13M3.5 10h13M3.5 15h13"/>`,
  scenario: svg`<path class="strokec" d="M4 16c0-7 3-8 12-8M12.5 4.5L16 8l-3.5 3.5"/>`,
  safety: svg`<path class="strokec" d="M10 1.8l6.8 2.5v5.2c0 4.3-2.9 7.3-6.8 8.7-3.9-1.4-6.8-4.4-6.8-8.7V4.3zM10 6.2v4.2M10 13.3v.2"/>`,
} as const;

export function stemMark(kind: keyof typeof MARKS): TemplateResult {
  return html`<svg viewBox="0 0 20 20" aria-hidden="true">${MARKS[kind]}</svg>`;
}

const ICONS = {
  undo: 'M8.5 5L4 9.5 8.5 14M4.5 9.5H14a5.5 5.5 0 010 11h-3',
  redo: 'M15.5 5L20 9.5 15.5 14M19.5 9.5H10a5.5 5.5 0 000 11h3',
  search: 'M15 15l5.5 5.5M16.5 10.5a6 6 0 11-12 0 6 6 0 0112 0z',
  print: 'M7 8.5V3.5h10v5M7 17H4V8.5h16V17h-3M7 14h10v6.5H7z',
  eye: 'M2.5 12C6 6.5 18 6.5 21.5 12 18 17.5 6 17.5 2.5 12zM14.8 12a2.8 2.8 0 11-5.6 0 2.8 2.8 0 015.6 0z',
  file: 'M3.5 19V5.5h6l2 2.5h9v11z',
  save: 'M12 3.5v11M7.5 10l4.5 4.5 4.5-4.5M4.5 19.5h15',
  close: 'M6 6l12 12M18 6L6 18',
  tick: 'M4.5 12.5l5 5 10-11',
  bench: 'M4 8.5h16M6.5 8.5V19M17.5 8.5V19M9 8.5V6h6v2.5',
  reading: 'M6 3.5h12v17H6zM9 8h6M9 12h6M9 16h4',
  help: 'M9 9a3 3 0 116 .3c0 2-3 2.3-3 4.7M12 17.5v.3',
  left: 'M14.5 6L8.5 12l6 6',
  right: 'M9.5 6l6 6-6 6',
  plus: 'M12 5v14M5 12h14',
} as const;

export type IconName = keyof typeof ICONS;

export function icon(name: IconName): TemplateResult {
  return html`<svg class="ic" viewBox="0 0 24 24" aria-hidden="true"><path d=${ICONS[name]}></path></svg>`;
}

/** Sun through leaves: the sign of the house. */
export function logo(): TemplateResult {
  return html`<svg class="logo" viewBox="0 0 32 32" aria-hidden="true">
    <circle class="crown" cx="16" cy="16" r="15.5"></circle>
    <circle class="spot" cx="12" cy="12.5" r="5.6"></circle>
    <circle class="spot" cx="22" cy="17" r="3.3"></circle>
    <circle class="spot" cx="14.5" cy="23" r="2.2"></circle>
    <circle class="spot" cx="22.5" cy="9.2" r="1.5"></circle>
  </svg>`;
}
