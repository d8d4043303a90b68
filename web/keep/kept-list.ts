// The notebooks kept on this device, on the first page: go on with one, copy it, take it away and
// put it back; what is damaged, and how much room is left.

import { html, nothing, type TemplateResult } from 'lit';
import type { Kept, KeptList, Room } from './storage.ts';

export interface KeptContext extends KeptList {
  readonly room: Room | undefined;
  /** What went wrong with reading them; empty when nothing did. */
  readonly trouble: string;
  /** Taken away just now. */
  readonly justAway: Kept | undefined;
  readonly rename: (id: string) => void;
  readonly copy: (id: string) => void;
  readonly takeAway: (id: string) => void;
  readonly putBack: (id: string) => void;
}

/** So many are shown before the rest is asked for. */
const FIRST = 12;

/** `today 14:02`, `3 May`, `3 May 2024` */
export function dayOf(milliseconds: number): string {
  if (milliseconds === 0) return 'at an unknown time';
  const then = new Date(milliseconds);
  const now = new Date();
  if (now.toDateString() === then.toDateString()) {
    return `today ${then.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })}`;
  }
  const year = now.getFullYear() === then.getFullYear() ? {} : ({ year: 'numeric' } as const);
  return then.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', ...year });
}

/** `31 kB`, `2.4 MB`, `12 GB` */
export function sizeOf(bytes: number): string {
  for (const [unit, size] of [
    ['GB', 1e9],
    ['MB', 1e6],
  ] as const) {
    if (bytes >= size) return `${(bytes / size).toFixed(bytes < 10 * size ? 1 : 0)} ${unit}`;
  }
  return `${Math.ceil(bytes / 1000)} kB`;
}

function titleOf(entry: Kept): string {
  return entry.title || 'Untitled';
}

function entryView(entry: Kept, context: KeptContext): TemplateResult {
  const title = titleOf(entry);
  return html`<li><a href=${`#/${entry.id}`}>${title}</a>
    <span class="acts"><button class="btn3" aria-label=${`Rename ${title}`} @click=${(): void => context.rename(entry.id)}>Rename</button>
    <button class="btn3" aria-label=${`Make a copy of ${title}`} @click=${(): void => context.copy(entry.id)}>Copy</button>
    <button class="btn3" aria-label=${`Take ${title} away`} @click=${(): void => context.takeAway(entry.id)}>Take away</button></span>
    <small>${dayOf(entry.when)}${entry.headline ? ` · ${entry.headline}` : ''}</small></li>`;
}

function awayView(entry: Kept, context: KeptContext): TemplateResult {
  const title = titleOf(entry);
  return html`<li><span>${title}</span>
    <button class="btn3" aria-label=${`Put ${title} back`} @click=${(): void => context.putBack(entry.id)}>Put back</button>
    <small>taken away ${dayOf(entry.deleted ?? 0)}</small></li>`;
}

export function keptList(context: KeptContext): TemplateResult {
  const { kept, away, damaged, room, trouble, justAway } = context;
  const rest = kept.slice(FIRST);
  return html`${
    trouble === ''
      ? nothing
      : html`<section role="alert"><p><b>What is kept here cannot be reached: ${trouble}.</b> Files can be opened and saved as ever.</p></section>`
  }${
    justAway
      ? html`<section role="status"><p>${titleOf(justAway)} is taken away.
          <button class="btn2" @click=${(): void => context.putBack(justAway.id)}>Put back</button></p></section>`
      : nothing
  }${
    kept.length > 0
      ? html`<section><h2>Carry on</h2><ul class="recent">${kept.slice(0, FIRST).map((entry) => entryView(entry, context))}</ul>
          ${
            rest.length > 0
              ? html`<details><summary>${rest.length} older</summary><ul class="recent">${rest.map((entry) => entryView(entry, context))}</ul></details>`
              : nothing
          }</section>`
      : nothing
  }${
    away.length > 0
      ? html`<details class="away"><summary>Taken away (${away.length})</summary><p class="hint">Each stays for 30 days.</p>
          <ul class="recent">${away.map((entry) => awayView(entry, context))}</ul></details>`
      : nothing
  }${
    damaged > 0
      ? html`<p class="hint">${damaged === 1 ? 'One record' : `${damaged} records`} kept here cannot be read. The others are whole.</p>`
      : nothing
  }${
    room && kept.length > 0
      ? html`<p class="hint">${sizeOf(room.used)} of ${sizeOf(room.available)} used on this device${
          room.lasting ? '; the browser keeps it until you clear it' : ''
        }.</p>`
      : nothing
  }`;
}
