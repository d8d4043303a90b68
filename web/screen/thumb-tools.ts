// Five tools at the thumb of a narrow page.

import { html, type TemplateResult } from 'lit';
import type { Desk } from '../desk/desk.ts';
import { icon } from '../parts/shapes.ts';

export interface ThumbActs {
  readonly checks: () => void;
  readonly reading: () => void;
  readonly goTo: () => void;
}

export function thumbTools(desk: Desk, hasLog: boolean, acts: ThumbActs): TemplateResult {
  return html`<nav class="foot-bar" aria-label="Tools">
    <button ?disabled=${desk.undoLabel === ''} @click=${(): void => desk.undo()}>${icon('undo')}Undo</button>
    <button @click=${acts.checks}>${icon('tick')}Checks</button>
    <button aria-pressed=${desk.benchOpen ? 'true' : 'false'} @click=${(): void => desk.openBench(!desk.benchOpen)}>${icon('bench')}Bench</button>
    <button ?disabled=${!hasLog} @click=${acts.reading}>${icon('reading')}Reading</button>
    <button @click=${acts.goTo}>${icon('search')}Go to</button>
  </nav>`;
}
