// The bench of the selected row: its slider or choices, how its value comes about, what it draws
// on and what draws on it, and the units it may be shown in.

import { html, nothing, type TemplateResult } from 'lit';
import {
  type CellRow,
  checkWords,
  formulaInUnit,
  type Preview,
  type Row,
  type ShownValue,
  type TableRowShown,
  type Worked,
} from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { NARROW } from '../parts/page-widths.ts';
import { plainPhrase } from '../parts/phrase.ts';
import { rowName, WORDS } from '../parts/place.ts';
import { icon, stateClass, stateShape } from '../parts/shapes.ts';
import { moveRowsInHand, removeRowsInHand } from '../sheet/rows-hand.ts';
import { givenCommand, stepGiven } from '../sheet/sheet-keys.ts';
import { hasSlider, isChosen, spark, stepOf, written } from '../sheet/strip-view.ts';
import { chanceSections } from './bench-chance.ts';
import { scenarioBench } from './bench-scenario.ts';
import { searchSection, sweepSection } from './bench-search.ts';

type Part = TemplateResult | typeof nothing;

export interface BenchContext {
  readonly desk: Desk;
  readonly preview: Preview | undefined;
  readonly narrow: boolean;
  /** Tidies the formula being written. */
  readonly tidy: () => void;
}

const ROLE_WORD: Readonly<Record<CellRow['role'], string>> = {
  given: 'given',
  uncertain: 'uncertain given',
  blank: 'to be filled in',
  derived: 'derived',
};

/** The strip that is meant: the one chosen in the row; on a narrow page the one in view. */
function columnInHand(desk: Desk): number {
  if (desk.column > 0) return desk.column;
  return NARROW.matches ? desk.scenario : 0;
}

function smallMark(row: Row, column: number): TemplateResult {
  if (row.kind === 'check') {
    const state = (row.values[column] ?? row.values[0])?.state ?? 'none';
    return html`<span class="st ${stateClass(state)}">${stateShape(state, 'tiny')}</span>`;
  }
  const given = row.kind === 'cell' && row.role !== 'derived';
  return html`<span class="dotm ${given ? 'full' : ''}"></span>`;
}

/** What a row comes to in the strip that is meant. */
function valueWords(row: Row, column: number): string {
  if (row.kind === 'cell') {
    const value = row.values[column] ?? row.values[0];
    if (!value) return '';
    const { figure, unit } = value.shown;
    return figure === '' ? value.text : `${figure}\u00a0${unit}`.trim();
  }
  if (row.kind === 'check') return (row.values[column] ?? row.values[0])?.state ?? '';
  if (row.kind === 'table') return `${row.entries.length} rows`;
  return '';
}

function links(desk: Desk, title: string, rows: readonly Row[]): Part {
  if (rows.length === 0) return nothing;
  const column = columnInHand(desk);
  return html`<section><h3>${title}</h3><ul class="links">${rows.map(
    (
      row,
    ) => html`<li><button @click=${(): void => desk.select(row.item, WORDS)}>${smallMark(row, column)}<span>${rowName(row)}</span></button
      ><span class="q">${valueWords(row, column)}</span></li>`,
  )}</ul></section>`;
}

function slider(desk: Desk, row: CellRow, column: number): Part {
  const { bounds } = row;
  if (!bounds || !hasSlider(row)) return nothing;
  const shown = row.values[column] ?? row.values[0];
  const value = shown?.number ?? bounds.low;
  const at = ((value - bounds.low) / (bounds.high - bounds.low)) * 100;
  return html`<section class="slide">
    <p class="bigval">${shown?.shown.figure}<small>${shown?.shown.unit}</small></p>
    <div class="steps">
      <button class="step" aria-label=${`Less by ${written(stepOf(bounds), bounds)}`}
        @click=${(): void => void stepGiven(desk, row, -1, column)}>−</button>
      <input id="bench-slider" class="slider" type="range" aria-label=${row.name} aria-valuetext=${shown?.text ?? ''}
        min=${bounds.low} max=${bounds.high} step=${stepOf(bounds)} .value=${String(value)}
        .style=${`--at:${Math.max(0, Math.min(100, at)).toFixed(2)}%`}
        @input=${(event: Event): void => {
          if (event.target instanceof HTMLInputElement) {
            const text = written(event.target.valueAsNumber, bounds);
            desk.slide(givenCommand(desk, row, text, column), row.name);
          }
        }}
        @change=${(): void => desk.endSlide()} />
      <button class="step" aria-label=${`More by ${written(stepOf(bounds), bounds)}`}
        @click=${(): void => void stepGiven(desk, row, 1, column)}>+</button>
    </div>
    <p class="ends"><span>${written(bounds.low, bounds)}</span><span>${written(bounds.high, bounds)}</span></p>
  </section>`;
}

function choices(desk: Desk, row: CellRow, column: number): Part {
  const list = row.bounds?.kind === 'choices' ? row.bounds.choices : [];
  if (list.length === 0) return nothing;
  return html`<section><h3>Choose</h3><div class="chips">${list.map((choice) => {
    const on = isChosen(row, choice, column);
    return html`<button class="chip ${on ? 'on' : ''}" aria-pressed=${on ? 'true' : 'false'}
      @click=${(): void => void desk.run(givenCommand(desk, row, choice, column), row.name)}
      >${choice.replace(/^"(.*)"$/, '$1')}</button>`;
  })}</div></section>`;
}

function workedSection(row: CellRow, worked: Worked, columnName: string): Part {
  if (worked.lines.length === 0 && worked.result === '') return nothing;
  return html`<section><h3>Worked <span>with ${columnName}’s numbers</span></h3>
    <div class="worked"><span class="lhs">${row.name}</span>
      ${worked.lines.map((line) => html`<span class="eq">=</span><span>${plainPhrase(line)}</span>`)}
      ${worked.result === '' ? nothing : html`<span class="eq">=</span><span class="res">${worked.result}</span>`}
    </div></section>
    ${
      worked.functions.length > 0
        ? html`<section><h3>Worth knowing</h3>${worked.functions.map(
            (used) =>
              html`<p class="know"><b>${used.name}</b> ${used.meaning}${
                used.caution ? html`<span class="minds">${used.caution}</span>` : nothing
              }${used.source ? html`<small>Source: ${used.source}</small>` : nothing}</p>`,
          )}</section>`
        : nothing
    }`;
}

function shownIn(desk: Desk, row: CellRow): Part {
  const units = desk.session.unitChoices(row.key);
  if (units.length < 2) return nothing;
  const now = row.values[0]?.shown.unit ?? '';
  const choose = (unit: string) => (): void => {
    const text = formulaInUnit(row.formula, unit);
    desk.run({ do: 'formula', cell: row.key, text }, `unit of ${row.name}`);
  };
  const isPlain = row.role === 'given' && row.shape === 'scalar';
  if (row.role !== 'derived' && !isPlain) return nothing;
  return html`<section><h3>Shown in</h3><div class="chips">${units.map(
    (
      unit,
    ) => html`<button class="chip ${unit === now ? 'on' : ''}" aria-pressed=${unit === now ? 'true' : 'false'}
      @click=${choose(unit)}>${unit || 'plain'}</button>`,
  )}</div></section>`;
}

function usersOf(desk: Desk, row: CellRow | TableRowShown): readonly Row[] {
  const cells = row.drawnOnBy
    .map((key) => desk.rowOf(key))
    .filter((found): found is CellRow | TableRowShown => found !== undefined);
  const checks = desk.rows.filter(
    (other) => other.kind === 'check' && other.drawsOn.some((key) => desk.rowOf(key) === row),
  );
  return [...new Set<Row>([...cells, ...checks])];
}

function sourcesOf(desk: Desk, keys: readonly string[]): readonly Row[] {
  const rows = keys.map((key) => desk.rowOf(key)).filter((found) => found !== undefined);
  return [...new Set<Row>(rows)];
}

function cellBench(desk: Desk, row: CellRow): TemplateResult {
  const column = columnInHand(desk);
  const value = row.values[column];
  const name = desk.snapshot.verdicts[column]?.name || 'the plan';
  const scenario =
    column > 0 && value?.overridden ? desk.snapshot.verdicts[column]?.name : undefined;
  const worked = row.role === 'derived' ? desk.session.worked(row.key, column) : undefined;
  return html`${column > 0 && row.role !== 'derived' ? html`<p class="kind">Changes only ${name}</p>` : nothing}
    ${slider(desk, row, column)}${choices(desk, row, column)}
    ${
      scenario === undefined
        ? nothing
        : html`<section><button class="btn2" @click=${(): void => void desk.putBack(scenario, row.name)}
            >Put back ${row.values[0]?.text}</button></section>`
    }
    ${row.shape === 'series' && value?.spark ? html`<section><p class="range">${value.text}</p>${spark(value.spark)}</section>` : nothing}
    ${worked ? workedSection(row, worked, column === 0 ? 'the plan' : name) : nothing}
    ${links(desk, 'Draws on', sourcesOf(desk, row.drawsOn))}
    ${links(desk, 'Drawn on by', usersOf(desk, row))}
    ${shownIn(desk, row)}${sweepSection(desk, row)}
    ${chanceSections(desk, row, column)}`;
}

/** `plan 18 V`, or that there is no value; the message itself stands in the row. */
function planWords(value: ShownValue | undefined): string {
  if (!value || value.text === '') return '';
  if (value.state === 'error') return 'cannot be worked out';
  if (value.state === 'waits' || value.state === 'pending') return value.text;
  return `plan ${value.text}`;
}

function kindWords(row: Row): string {
  switch (row.kind) {
    case 'cell':
      return [ROLE_WORD[row.role], row.description, planWords(row.values[0])]
        .filter((words) => words !== '')
        .join(' · ');
    case 'check':
      return row.must ? 'must hold before anything is connected' : 'check';
    case 'table':
      return `table, ${row.entries.length} rows`;
    default:
      return row.kind === 'unread' ? 'a line that cannot be read' : row.kind;
  }
}

/** While a new or changed formula is written, the bench says what keys do. */
function editingBench(context: BenchContext): TemplateResult {
  return html`${
    context.preview?.description
      ? html`<section><h3>So far</h3><p>${context.preview.description}</p></section>`
      : nothing
  }<section class="by-keys"><h3>Keys</h3><ul class="keylist">
    <li>keep <kbd>Enter</kbd></li><li>drop <kbd>Esc</kbd></li><li>fix the marked words <kbd>Ctrl .</kbd></li>
    <li>tidy it: signs and spaces <kbd>Ctrl Shift F</kbd></li>
    <li>all that can stand here <kbd>Ctrl Space</kbd></li></ul>
    <button class="btn3" @mousedown=${(event: Event): void => event.preventDefault()} @click=${context.tidy}>Tidy this formula</button></section>`;
}

function content(context: BenchContext, row: Row): Part {
  const { desk } = context;
  if (desk.editing && desk.editing.place.kind !== 'entry') {
    return html`${editingBench(context)}${row.kind === 'cell' ? links(desk, 'Draws on', sourcesOf(desk, row.drawsOn)) : nothing}`;
  }
  switch (row.kind) {
    case 'cell':
      return cellBench(desk, row);
    case 'check':
      return html`<section><h3>In each strip</h3><ul class="links told">${row.values.map(
        (value, column) =>
          html`<li><span class="st ${stateClass(value.state)}">${stateShape(value.state, 'tiny')}${
            desk.snapshot.verdicts[column]?.name || 'Plan'
          }</span><span class="q">${checkWords(value)}</span></li>`,
      )}</ul></section>${searchSection(desk, row)}${links(desk, 'Draws on', sourcesOf(desk, row.drawsOn))}`;
    case 'table':
      return html`${links(desk, 'Draws on', sourcesOf(desk, row.drawsOn))}${links(desk, 'Drawn on by', usersOf(desk, row))}
        <section><h3>Columns</h3><ul class="links">${row.columns.map(
          (column) =>
            html`<li><span class="plainline"><span class="dotm ${column.given ? 'full' : ''}"></span>${column.name}</span><span class="q">${column.formula || column.unit}</span></li>`,
        )}</ul></section>`;
    case 'scenario':
      return scenarioBench(desk, row);
    case 'chart':
      return links(desk, 'Draws on', sourcesOf(desk, row.drawsOn));
    default:
      return nothing;
  }
}

/** Row commands that also have keys. */
function rowTools(desk: Desk, row: Row): TemplateResult {
  const { length } = desk.block;
  const these = length > 1 ? `these ${length} rows` : 'this row';
  return html`<section class="row-tools">
    <button class="btn3" @click=${(): void => desk.edit({ kind: 'new', item: row.item }, '')}>Add a row below</button>
    ${
      row.kind === 'scenario'
        ? nothing
        : html`<button class="btn3" @click=${(): void => void desk.duplicateBlock()}>The same once more</button>
          <button class="btn3" @click=${(): void => void moveRowsInHand(desk, -1)}>Move up</button>
          <button class="btn3" @click=${(): void => void moveRowsInHand(desk, 1)}>Move down</button>
          <button class="btn3" @click=${(): void => void removeRowsInHand(desk, row)}>Take ${these} away</button>`
    }
  </section>`;
}

export function benchView(context: BenchContext): Part {
  const { desk } = context;
  const row = desk.selected;
  if (!row || !desk.benchOpen) return nothing;
  // From below it would lie on the line that is being written.
  if (context.narrow && desk.editing) return nothing;
  return html`<aside class="bench" aria-label="Bench" tabindex="-1">
    <div class="grip" aria-hidden="true"></div>
    <div class="top"><h2>${rowName(row)}</h2>
      <button class="close" aria-label="Close the bench" @click=${(): void => desk.openBench(false)}>${icon('close')}</button>
      <p class="kind">${desk.anchor === undefined ? kindWords(row) : `${desk.block.length} rows in hand`}</p></div>
    ${content(context, row)}
    ${desk.editing ? nothing : rowTools(desk, row)}
  </aside>`;
}
