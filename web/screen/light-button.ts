// The button that goes through the three lights.

import { html, type TemplateResult } from 'lit';
import { icon } from '../parts/shapes.ts';
import { nextTheme, type Theme, wordOf } from '../parts/theme.ts';

export function lightButton(theme: Theme, change: () => void): TemplateResult {
  const next = wordOf(nextTheme(theme));
  return html`<button class="tool" aria-label=${`Light: ${wordOf(theme)}. Change to ${next}.`}
    @click=${change}>${icon('eye')}<span class="light-word">${wordOf(theme)}</span></button>`;
}
