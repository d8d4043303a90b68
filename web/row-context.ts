// What every row needs to be drawn: the desk, the strips in view, and the one editor.

import { html, nothing, type TemplateResult } from 'lit';
import type { Preview } from '../engine/index.ts';
import type { Desk } from './desk.ts';

export type Part = TemplateResult | typeof nothing;

export interface RowContext {
  readonly desk: Desk;
  /** The strips in view, the plan first; one alone on a narrow page. */
  readonly columns: readonly number[];
  readonly names: readonly string[];
  readonly theme: string;
  /** The one editor, once it is loaded. */
  readonly editor: HTMLElement | undefined;
  readonly preview: Preview | undefined;
}

/** The editor, or what it will hold until it is loaded. */
export function editorHere(context: RowContext): Part | HTMLElement {
  return context.editor ?? html`<div class="field">${context.desk.editing?.text ?? ''}</div>`;
}

/** What is being typed is worth so much; below the editor. */
export function runningLine(context: RowContext): Part {
  const value = context.preview?.value;
  const words =
    value && value.state === 'value'
      ? `${value.text} while you type`
      : (context.preview?.description ?? '');
  return words === '' ? nothing : html`<p class="running">${words}</p>`;
}
