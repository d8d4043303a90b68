// Studies begun from the bench: a result against any given it comes from, as a chart of its own, and
// the value of a given that makes a check hold. The search works on a copy of the text in short
// slices, says that it works, can be stopped, and offers to put its answer in.

import { html, nothing, type TemplateResult } from 'lit';
import { type CellRow, type CheckRow, openSession, type Row } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { hasSlider, written } from '../sheet/strip-view.ts';

/** One slice of a search, ms. */
const SLICE = 8;

interface Search {
  readonly item: number;
  readonly text: string;
  readonly given: CellRow;
  state: 'working' | 'stopped' | 'found' | 'none';
  /** The answer as a formula, or why there is none. */
  words: string;
}

const searches = new WeakMap<Desk, Search>();

/** The plain numbers that a row comes from, however far back. */
export function givensOf(desk: Desk, row: CellRow | CheckRow): readonly CellRow[] {
  const found = new Map<string, CellRow>();
  const seen = new Set<string>();
  const open = [...row.drawsOn];
  for (let key = open.pop(); key !== undefined; key = open.pop()) {
    if (seen.has(key)) continue;
    seen.add(key);
    const source = desk.rowOf(key);
    if (!source) continue;
    open.push(...source.drawsOn);
    if (source.kind === 'cell' && source.role === 'given' && rangeOf(source) !== '')
      found.set(source.key, source);
  }
  return desk.rows.filter((one): one is CellRow => one.kind === 'cell' && found.has(one.key));
}

/** From where to where a given is tried: its bounds, or from half to twice its value. */
export function rangeOf(row: CellRow): string {
  const { bounds } = row;
  if (bounds?.kind === 'range' && hasSlider(row))
    return `${written(bounds.low, bounds)}..${written(bounds.high, bounds)}`;
  const value = row.values[0];
  if (row.shape !== 'scalar' || !value || !(value.number > 0)) return '';
  const { unit } = value.shown;
  // Half of a gauge or of a point on a scale says nothing.
  if (/^(AWG|°C|°F|dBm)$/.test(unit)) return '';
  const figure = (number: number): string => `${Number(number.toPrecision(6))} ${unit}`.trim();
  return `${figure(value.number / 2)}..${figure(value.number * 2)}`;
}

function redraw(desk: Desk): void {
  desk.openBench(desk.benchOpen);
}

function begin(desk: Desk, row: CheckRow, given: CellRow): void {
  let name = 'sought value';
  for (let number = 2; desk.rowOf(name) !== undefined; number++) name = `sought value ${number}`;
  const line = `${name} = solve(${given.name}, so that: ${row.formula.replace(/\s*\n\s*/g, ' ')}, over: ${rangeOf(given)})`;
  const session = openSession(`${desk.text.replace(/\s*$/, '')}\n\n${line}\n`);
  const search: Search = {
    item: row.item,
    text: desk.text,
    given,
    state: 'working',
    words: '',
  };
  searches.set(desk, search);
  const next = (): void => {
    if (search.state !== 'working' || searches.get(desk) !== search) return;
    // A newer edit makes the answer pointless.
    if (desk.text !== search.text) {
      search.state = 'stopped';
      redraw(desk);
      return;
    }
    if (session.continue(SLICE, () => performance.now(), new Set([0]))) {
      setTimeout(next, 4);
      return;
    }
    const cell = session.snapshot().rows.find((one) => one.kind === 'cell' && one.name === name);
    const value = cell?.kind === 'cell' ? cell.values[0] : undefined;
    search.state = value?.state === 'value' ? 'found' : 'none';
    search.words = (value?.text ?? 'It cannot be searched for.').replaceAll('\u00a0', ' ');
    redraw(desk);
  };
  setTimeout(next, 0);
  redraw(desk);
}

function chosen(event: Event): string {
  const section = event.target instanceof Element ? event.target.closest('section') : null;
  return section?.querySelector('select')?.value ?? '';
}

function givenList(givens: readonly CellRow[], label: string): TemplateResult {
  return html`<select aria-label=${label}>${givens.map(
    (given) => html`<option value=${given.key}>${given.name}</option>`,
  )}</select>`;
}

function answer(desk: Desk, row: Row): TemplateResult | typeof nothing {
  const search = searches.get(desk);
  if (search?.item !== row.item) return nothing;
  const { given, words, state } = search;
  if (state === 'working')
    return html`<p role="status">working …
      <button class="btn3" @click=${(): void => {
        search.state = 'stopped';
        redraw(desk);
      }}>Stop</button></p>`;
  if (state === 'stopped') return html`<p role="status">Stopped.</p>`;
  if (state === 'none') return html`<p role="status">${words}</p>`;
  return html`<p role="status">${given.name} = ${words}</p>
    <button class="btn2" @click=${(): void => {
      searches.delete(desk);
      desk.run({ do: 'formula', cell: given.key, text: words.replaceAll('−', '-') }, given.name);
    }}>Put ${words} in</button>`;
}

/** What a result does when one given moves: a chart line below its row. */
export function sweepSection(desk: Desk, row: CellRow): TemplateResult | typeof nothing {
  const givens = givensOf(desk, row);
  if (row.role !== 'derived' || row.shape !== 'scalar' || givens.length === 0) return nothing;
  return html`<section class="study"><h3>Against a given</h3><p>${givenList(givens, 'The given that moves')}
    <button class="btn2" @click=${(event: Event): void => {
      const given = givens.find(({ key }) => key === chosen(event));
      if (!given) return;
      const text = `chart ${row.name} against ${given.name} = ${rangeOf(given)}`;
      desk.run({ do: 'insert', item: row.item + 1, text }, `chart of ${row.name}`);
    }}>Chart it</button></p></section>`;
}

/** Which value of a given makes a check hold. */
export function searchSection(desk: Desk, row: CheckRow): TemplateResult | typeof nothing {
  const givens = givensOf(desk, row);
  if (givens.length === 0 || row.messages.length > 0) return nothing;
  return html`<section class="study"><h3>What makes it hold</h3><p>${givenList(givens, 'The given looked for')}
    <button class="btn2" @click=${(event: Event): void => {
      const given = givens.find(({ key }) => key === chosen(event));
      if (given) begin(desk, row, given);
    }}>Look for it</button></p>${answer(desk, row)}</section>`;
}
