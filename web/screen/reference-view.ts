// The reference inside the help: every function with its arguments, result, source, example and
// caution, and the joining words, found by a few letters. The entries come from the engine, where
// each stands beside its definition.

import { html, nothing, type TemplateResult } from 'lit';
import {
  type ReferenceEntry,
  referenceFunctions,
  referenceMessages,
  referenceUnits,
  referenceWords,
} from '../../engine/index.ts';
import { stemMark } from '../parts/shapes.ts';

/** Everything a search may find an entry by. */
function lettersOf(entry: ReferenceEntry): string {
  return [
    entry.name,
    entry.written,
    entry.meaning,
    entry.subject,
    ...entry.arguments.map((a) => a.name),
  ]
    .join(' ')
    .toLowerCase();
}

function search(event: Event): void {
  const input = event.target;
  if (!(input instanceof HTMLInputElement)) return;
  const words = input.value.toLowerCase().split(/\s+/).filter(Boolean);
  const list = input.closest('.reference');
  let found = 0;
  for (const entry of list?.querySelectorAll<HTMLElement>('[data-letters]') ?? []) {
    entry.hidden = !words.every((word) => entry.dataset.letters?.includes(word));
    if (!entry.hidden) found++;
  }
  for (const part of list?.querySelectorAll<HTMLDetailsElement>('.subject') ?? []) {
    part.hidden = part.querySelector('[data-letters]:not([hidden])') === null;
    part.open = words.length > 0;
  }
  const told = list?.querySelector('[role="status"]');
  if (told) told.textContent = words.length === 0 ? '' : `${found} found`;
}

function entryView(entry: ReferenceEntry): TemplateResult {
  return html`<details class="entry" data-letters=${lettersOf(entry)}><summary><b>${entry.written || entry.name}</b>
    <span>${entry.meaning}</span></summary>
    ${
      entry.arguments.length > 0
        ? html`<dl>${entry.arguments.map(({ name, text }) => html`<div><dt>${name}</dt><dd>${text}</dd></div>`)}</dl>`
        : nothing
    }
    ${entry.result ? html`<p>Gives ${entry.result}.</p>` : nothing}
    ${entry.example ? html`<pre>${entry.example}</pre>` : nothing}
    ${entry.caution ? html`<p class="care">${stemMark('safety')}<span>${entry.caution}</span></p>` : nothing}
    ${entry.source ? html`<p><small>Source: ${entry.source}</small></p>` : nothing}</details>`;
}

export function referenceView(): TemplateResult {
  const bySubject = grouped([
    ...referenceFunctions(),
    ...referenceWords(),
    ...referenceUnits(),
    ...referenceMessages(),
  ]);
  return html`<section class="reference" aria-labelledby="reference-title"><h3 id="reference-title">Functions, words, units and messages</h3>
    <input type="search" aria-label="Search the reference" placeholder="name, meaning or message" autocomplete="off" spellcheck="false" @input=${search} />
    <p class="vh" role="status"></p>
    ${[...bySubject].map(
      ([subject, entries]) =>
        html`<details class="subject"><summary>${subject} <small>${entries.length}</small></summary>${entries.map(entryView)}</details>`,
    )}</section>`;
}

function grouped(entries: readonly ReferenceEntry[]): Map<string, ReferenceEntry[]> {
  const map = new Map<string, ReferenceEntry[]>();
  for (const entry of entries) {
    const list = map.get(entry.subject);
    if (list) list.push(entry);
    else map.set(entry.subject, [entry]);
  }
  return map;
}
