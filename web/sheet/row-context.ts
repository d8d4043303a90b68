// What every row needs to be drawn: the desk, the strips in view, and the one editor.

import { html, nothing, type TemplateResult } from 'lit';
import type { Preview, ShownSignature } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import type { RoomWanted } from './kept-room.ts';

export type Part = TemplateResult | typeof nothing;

export interface RowContext {
  readonly desk: Desk;
  /** The strips in view, the plan first; one alone on a narrow page. */
  readonly columns: readonly number[];
  readonly names: readonly string[];
  readonly theme: string;
  /** Room that rows keep for what comes later. */
  readonly room: RoomWanted;
  /** The one editor, once it is loaded. */
  readonly editor: HTMLElement | undefined;
  readonly preview: Preview | undefined;
  /** The call in which the caret stands. */
  readonly signature: ShownSignature | undefined;
}

/** The editor, or what it will hold until it is loaded. */
export function editorHere(context: RowContext): Part | HTMLElement {
  return context.editor ?? html`<div class="field">${context.desk.editing?.text ?? ''}</div>`;
}

/** The call being written: its arguments, and what the one at the caret means. */
export function signatureLine(context: RowContext): Part {
  const { signature } = context;
  if (!signature) return nothing;
  const active = signature.parameters[signature.active];
  const list = signature.parameters.map(
    ({ name }, index) =>
      html`${index > 0 ? ', ' : ''}${index === signature.active ? html`<b>${name}</b>` : name}`,
  );
  return html`<p class="signature" role="status">${signature.name}(${list})<small>${
    active ? `${active.name.replace(/:$/, '')}: ${active.text}` : signature.meaning
  }</small></p>`;
}

/** What is being typed is worth so much; below the editor. */
export function runningLine(context: RowContext): Part {
  const value = context.preview?.value;
  const words =
    value && value.state === 'value'
      ? `${value.text} while you type`
      : (context.preview?.description ?? '');
  return html`${signatureLine(context)}${words === '' ? nothing : html`<p class="running">${words}</p>`}`;
}
