// What rows of every kind are made of: the stem with its mark and threads, the place of the name,
// and the place of the words.

import { html, nothing, type TemplateResult } from 'lit';
import type { Row } from '../../engine/index.ts';
import { type Column, NAME, WORDS } from '../parts/place.ts';
import type { Part, RowContext } from './row-context.ts';
import type { Piece } from './threads.ts';

export function stem(mark: Part, left: Piece, right: Piece): TemplateResult {
  const thread = (side: 'l' | 'r', piece: Piece): Part | readonly Part[] => {
    if (piece === '') return nothing;
    if (piece === 'join') {
      return [
        html`<span class="th ${side} pass"></span>`,
        html`<span class="th ${side} join"></span>`,
      ];
    }
    return html`<span class="th ${side} ${piece}"></span>`;
  };
  return html`<div class="stem" aria-hidden="true">${thread('l', left)}${thread('r', right)}${mark}</div>`;
}

export function plainMark(): Part {
  return html`<span class="mk"></span>`;
}
export function shapedMark(inside: Part): Part {
  return html`<span class="mk shaped">${inside}</span>`;
}

export function isActive(context: RowContext, row: Row, column: Column): boolean {
  return context.desk.item === row.item && context.desk.column === column;
}

/** Attributes every focusable place of a row has. */
export function tab(context: RowContext, row: Row, column: Column): '0' | '-1' {
  return isActive(context, row, column) ? '0' : '-1';
}

export function nameCell(context: RowContext, row: Row, content: unknown): TemplateResult {
  return html`<div class="name ${isActive(context, row, NAME) ? 'active' : ''}" role="rowheader"
    tabindex=${tab(context, row, NAME)} data-col=${NAME}>${content}</div>`;
}

export function wordsCell(
  context: RowContext,
  row: Row,
  names: string,
  content: unknown,
): TemplateResult {
  return html`<div class="${names} ${isActive(context, row, WORDS) ? 'active' : ''}" role="gridcell"
    tabindex=${tab(context, row, WORDS)} data-col=${WORDS}>${content}</div>`;
}
