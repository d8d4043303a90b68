// One row of the sheet, by its kind: name, stem, formula or words, and the value strips. All rows
// share one list of column tracks, so that figures line up whatever stands between them.

import { html, nothing, type TemplateResult } from 'lit';
import { guard } from 'lit/directives/guard.js';
import type { CellRow, CheckRow, Message, Row, ShownValue } from '../../engine/index.ts';
import { phrase } from '../parts/phrase.ts';
import { rowName, WORDS } from '../parts/place.ts';
import { proseParts } from '../parts/prose.ts';
import { stateClass, stateShape, stemMark } from '../parts/shapes.ts';
import { answerNeeds, answerView } from './lesson.ts';
import { editorHere, type Part, type RowContext, runningLine } from './row-context.ts';
import { isActive, nameCell, plainMark, shapedMark, stem, tab, wordsCell } from './row-parts.ts';
import { scenarioNeeds, scenarioRow } from './scenario-row.ts';
import { givenCommand } from './sheet-keys.ts';
import {
  checkContent,
  gauge,
  hasSlider,
  isChosen,
  spokenCheck,
  spokenValue,
  valueContent,
} from './strip-view.ts';
import { tableView } from './table-view.ts';
import type { Piece } from './threads.ts';

function fixButtons(context: RowContext, row: Row, messages: readonly Message[]): Part {
  const fixes = messages.flatMap((message) => message.fixes);
  if (fixes.length === 0) return nothing;
  return html`<div class="act">${fixes.slice(0, 4).map(
    (fix, index) => html`<button
      class="btn2 ${index === 0 ? 'fill' : ''}"
      @click=${(event: Event): void => {
        event.stopPropagation();
        const { text, first, count } = context.desk.linesOf(row);
        const fixed = text.slice(0, fix.span.start) + fix.text + text.slice(fix.span.end);
        const lines = context.desk.text.split('\n');
        lines.splice(first, count, ...fixed.split('\n'));
        context.desk.run({ do: 'text', text: lines.join('\n') }, fix.label);
      }}
    >${fix.label}</button>`,
  )}</div>`;
}

function messageCell(
  context: RowContext,
  row: Row,
  messages: readonly Message[],
  fallback: string,
): Part {
  const texts = messages.length > 0 ? messages.map((message) => message.text) : [fallback];
  return html`<div class="msg" role="gridcell" tabindex=${tab(context, row, 0)} data-col="0">
    ${stateShape('error')}<div>${texts.map((text) => html`<p>${text}</p>`)}${fixButtons(context, row, messages)}</div>
  </div>`;
}

/** What is amiss with the formula being written, and its fixes; nothing while all is well. */
function faultOfEdit(context: RowContext): Part {
  const first = context.preview?.messages[0];
  if (!first) return nothing;
  const fixes = first.fixes.slice(0, 3).map(
    (fix, index) => html`<button class="btn2 ${index === 0 ? 'fill' : ''}" data-fix=${index}
      >${fix.label}${index === 0 ? html` <kbd>Ctrl .</kbd>` : nothing}</button>`,
  );
  return html`${stateShape('error')}<div><p role="alert">${first.text}</p>
    ${fixes.length > 0 ? html`<div class="act">${fixes}</div>` : nothing}</div>`;
}

/** The same in the strips, which a formula being written leaves free. */
function editMessage(context: RowContext): Part {
  return html`<div class="msg editing" role="gridcell">${faultOfEdit(context)}</div>`;
}

function strip(
  context: RowContext,
  row: Row,
  column: number,
  names: string,
  label: string,
  content: Part | HTMLElement,
): TemplateResult {
  const active = isActive(context, row, column);
  return html`<div
    class="val ${column === 0 ? 'plan' : ''} ${names} ${active ? 'active' : ''}"
    role="gridcell"
    aria-label=${label || nothing}
    aria-selected=${active ? 'true' : 'false'}
    tabindex=${tab(context, row, column)}
    data-col=${column}
  >${content}</div>`;
}

/** What a row keeps room for. */
function comesLater(
  context: RowContext,
  row: CellRow,
): { readonly dots: boolean; readonly difference: boolean } {
  return {
    dots: row.role === 'derived' && row.shape === 'scalar' && context.room.swayed.has(row.key),
    difference: context.room.putOff.has(row.key),
  };
}

function valueStrip(
  context: RowContext,
  row: CellRow,
  value: ShownValue,
  column: number,
): TemplateResult {
  const editing = context.desk.editing?.place;
  const here = editing?.kind === 'value' && editing.item === row.item && editing.column === column;
  const name = context.names[column] ?? '';
  if (here) {
    return html`<div class="val field-here ${column === 0 ? 'plan' : ''}" role="gridcell" data-col=${column}>
      ${editorHere(context)}</div>`;
  }
  if (value.state === 'error') {
    return strip(
      context,
      row,
      column,
      'broken',
      `${row.name}, ${name}, ${value.text}`,
      html`<span class="when warn">${stateShape('error')} ${value.text}</span>`,
    );
  }
  if (value.state === 'waits') {
    return strip(
      context,
      row,
      column,
      '',
      `${row.name}, ${name}, ${value.text}`,
      html`<span class="when">${value.text}</span>`,
    );
  }
  const slider =
    column === 0 && row.bounds && hasSlider(row)
      ? gauge(
          row,
          row.bounds,
          (text) => context.desk.slide({ do: 'formula', cell: row.key, text }, row.name),
          () => context.desk.endSlide(),
        )
      : nothing;
  const names = [
    value.overridden ? 'over' : '',
    column > 0 && !value.changed && !value.overridden ? 'same' : '',
  ].join(' ');
  return strip(
    context,
    row,
    column,
    names,
    spokenValue(row.name, name, value),
    valueContent(value, column, slider, comesLater(context, row)),
  );
}

function choiceChips(context: RowContext, row: CellRow): Part {
  const choices = row.bounds?.kind === 'choices' ? row.bounds.choices : [];
  if (choices.length === 0) return nothing;
  // Where one strip alone is in view, a choice is made in that one.
  const column = context.columns.length === 1 ? (context.columns[0] ?? 0) : 0;
  return html`<div class="chips" role="group" aria-label=${row.name}>${choices.map((choice) => {
    const on = isChosen(row, choice, column);
    return html`<button class="chip ${on ? 'on' : ''}" tabindex="-1" aria-pressed=${on ? 'true' : 'false'}
      @click=${(): void => {
        context.desk.run(givenCommand(context.desk, row, choice, column), row.name);
      }}>${choice.replace(/^"(.*)"$/, '$1')}</button>`;
  })}</div>`;
}

function cellFormula(
  context: RowContext,
  row: CellRow,
): Part | HTMLElement | readonly (Part | HTMLElement)[] {
  const place = context.desk.editing?.place;
  if (place?.kind === 'formula' && place.item === row.item) {
    return [html`${editorHere(context)}`, runningLine(context)];
  }
  const given = row.role === 'given' || row.role === 'blank';
  const plain = given && row.shape === 'scalar' && row.values[0]?.state !== 'error';
  const source = row.messages.length > 0 ? context.desk.linesOf(row).text : row.formula;
  const range = row.bounds?.kind === 'range' ? row.bounds.text.replaceAll('-', '−') : '';
  const note = [range, row.note].filter((text) => text !== '').join(' · ');
  const chips = choiceChips(context, row);
  // A value is written in its strip; what is amiss with it is said beside it.
  const fault = place?.kind === 'value' && place.item === row.item ? faultOfEdit(context) : nothing;
  return html`${chips}${
    plain
      ? nothing
      : html`<span class="phrase">${phrase(row.parts, row.formula, source, row.messages)}</span> `
  }${note ? html`<span class="note">${note}</span>` : nothing}${
    fault === nothing ? nothing : html`<div class="msg beside">${fault}</div>`
  }${answerView(context.desk, row)}${
    row.messages.length > 0 && row.values[0]?.state !== 'error'
      ? html`<p class="aside">${row.messages[0]?.text}</p>`
      : nothing
  }`;
}

function cellMark(row: CellRow): Part {
  const state = row.values[0]?.state;
  if (state === 'error')
    return shapedMark(html`<span class="st fails">${stateShape('error')}</span>`);
  if (state === 'waits') return shapedMark(stateShape('waits'));
  if (state === 'pending') return shapedMark(stateShape('pending'));
  return plainMark();
}

function cellRow(context: RowContext, row: CellRow, left: Piece, right: Piece): TemplateResult {
  const { desk, columns } = context;
  const place = desk.editing?.place;
  const here = place !== undefined && place.item === row.item;
  const naming = here && place.kind === 'name';
  const states = row.values.map((value) => value.state);
  const broken = states[0] === 'error';
  const waiting = states.length > 0 && states.every((state) => state === 'waits');
  const values =
    here && place.kind === 'formula' && (context.preview?.messages.length ?? 0) > 0
      ? editMessage(context)
      : broken
        ? messageCell(context, row, row.messages, row.values[0]?.text ?? '')
        : waiting
          ? html`<div class="val across" role="gridcell" tabindex=${tab(context, row, 0)} data-col="0"
              ><span class="waitw">${row.values[0]?.text ?? ''}</span></div>`
          : columns.map((column) => {
              const value = row.values[column];
              return value ? valueStrip(context, row, value, column) : nothing;
            });
  return html`${nameCell(context, row, naming ? editorHere(context) : row.name)}
    ${stem(cellMark(row), left, right)}
    ${wordsCell(context, row, 'formula', cellFormula(context, row))}
    ${values}`;
}

function checkRow(context: RowContext, row: CheckRow, left: Piece, right: Piece): TemplateResult {
  const place = context.desk.editing?.place;
  const here = place?.kind === 'check' && place.item === row.item;
  const plan = row.values[0];
  const state =
    plan === undefined ? 'none' : row.must && plan.state === 'fails' ? 'do not' : plan.state;
  const source = row.messages.length > 0 ? context.desk.linesOf(row).text : row.formula;
  const cannot = row.messages.length > 0 || plan?.state === 'error' || plan?.state === 'waits';
  const content = here
    ? [html`${editorHere(context)}`, runningLine(context)]
    : html`<span class="phrase">${phrase(row.parts, row.formula, source, row.messages)}</span>${
        row.note ? html` <span class="note">${row.note}</span>` : nothing
      }`;
  return html`${nameCell(context, row, row.must ? 'must' : 'check')}
    ${stem(shapedMark(html`<span class="st ${stateClass(state)}">${stateShape(state)}</span>`), left, right)}
    ${wordsCell(context, row, 'formula', content)}
    ${
      here && (context.preview?.messages.length ?? 0) > 0
        ? editMessage(context)
        : cannot && row.messages.length > 0
          ? messageCell(context, row, row.messages, plan?.text ?? '')
          : cannot
            ? html`<div class="val across" role="gridcell" tabindex=${tab(context, row, 0)} data-col="0"
                ><span class="waitw">${plan?.text ?? ''}</span></div>`
            : context.columns.map((column) => {
                const value = row.values[column];
                if (!value) return nothing;
                return strip(
                  context,
                  row,
                  column,
                  '',
                  spokenCheck(rowName(row), context.names[column] ?? '', value, row.must),
                  checkContent(value, row.must),
                );
              })
    }`;
}

function linesEditor(context: RowContext, row: Row): Part | undefined {
  const place = context.desk.editing?.place;
  if (place?.kind !== 'lines' || place.item !== row.item) return undefined;
  return html`${editorHere(context)}<p class="running">Enter keeps, Escape drops, Shift and Enter begins another line.</p>`;
}

function inside(context: RowContext, row: Row, left: Piece, right: Piece): TemplateResult {
  const lines = linesEditor(context, row);
  switch (row.kind) {
    case 'cell':
      return cellRow(context, row, left, right);
    case 'check':
      return checkRow(context, row, left, right);
    case 'table':
      return html`${nameCell(context, row, row.name)}${stem(shapedMark(stemMark('table')), left, right)}
        ${lines ? wordsCell(context, row, 'words2', lines) : tableView(context, row, tab(context, row, WORDS))}
        ${row.messages.length > 0 ? html`<div class="words2 below" role="gridcell">${row.messages.map((m) => html`<p class="aside">${m.text}</p>`)}</div>` : nothing}`;
    case 'heading':
      return html`${stem(shapedMark(stemMark('heading')), left, right)}
        <div class="words2 ${isActive(context, row, WORDS) ? 'active' : ''}" role="rowheader" tabindex=${tab(context, row, WORDS)}
          data-col=${WORDS}>${lines ?? html`<h2>${row.text}</h2>`}</div>`;
    case 'prose':
      return html`${stem(nothing, left, right)}${wordsCell(context, row, 'words2', lines ?? html`<p>${proseParts(row.text)}</p>`)}`;
    case 'safety':
      return html`${stem(nothing, left, right)}${wordsCell(
        context,
        row,
        'words2',
        lines ??
          html`<span class="shield">${stemMark('safety')}</span><p>${proseParts(row.text)}</p>`,
      )}`;
    case 'remark':
      return html`${stem(nothing, left, right)}${wordsCell(context, row, 'words2 note', lines ?? html`<p>${row.text}</p>`)}`;
    case 'chart':
      return html`${nameCell(context, row, html`${row.title}${row.note ? html`<small>${row.note}</small>` : nothing}`)}
        ${stem(shapedMark(stemMark('chart')), left, right)}
        ${wordsCell(
          context,
          row,
          'plot',
          lines ??
            (row.messages.length > 0
              ? html`<div class="aside-block">${stateShape('error')}<div><p>${row.messages[0]?.text}</p>${fixButtons(context, row, row.messages)}</div></div>`
              : html`<dapple-chart .desk=${context.desk} .item=${row.item} .revision=${context.desk.snapshot}
              .theme=${context.theme} .columns=${context.columns}></dapple-chart>`),
        )}`;
    case 'scenario':
      return lines
        ? html`${nameCell(context, row, row.name)}${stem(nothing, left, right)}${wordsCell(context, row, 'words2', lines)}`
        : scenarioRow(context, row, left, right);
    case 'unread':
      return html`${nameCell(context, row, `line ${row.line}`)}
        ${stem(shapedMark(html`<span class="st fails">${stateShape('error')}</span>`), left, right)}
        ${wordsCell(context, row, 'formula', lines ?? html`<span class="raw">${row.text}</span>`)}
        ${messageCell(context, row, row.messages, 'This line cannot be read and is kept as it was written.')}`;
  }
}

function rowClasses(context: RowContext, row: Row): string {
  const names = ['row', row.kind];
  if (row.kind === 'cell') {
    names.push(row.role === 'derived' ? 'derived' : 'given');
    if (row.role === 'uncertain') names.push('unsure');
    if (row.values[0]?.state === 'error') names.push('broken');
    if (row.values[0]?.state === 'waits') names.push('waiting');
  }
  if (context.desk.item === row.item) names.push('sel');
  if (context.desk.anchor !== undefined && context.desk.block.includes(row)) names.push('picked');
  if (context.desk.editing?.place.item === row.item && context.desk.editing.place.kind !== 'new')
    names.push('edit');
  return names.join(' ');
}

/** One row. It is made again only when something in it changed. */
export function rowView(
  context: RowContext,
  row: Row,
  index: number,
  left: Piece,
  right: Piece,
): TemplateResult {
  const { desk } = context;
  const selected = desk.item === row.item;
  const editing = desk.editing?.place.item === row.item ? desk.editing : undefined;
  const needs = [
    desk,
    context.names.join('|'),
    row,
    index,
    left,
    right,
    selected ? desk.column : undefined,
    editing,
    editing ? context.preview : undefined,
    editing ? context.signature : undefined,
    editing ? context.editor : undefined,
    context.columns.join(),
    row.kind === 'cell' ? answerNeeds(desk, row) : undefined,
    row.kind === 'cell' && context.room.swayed.has(row.key),
    row.kind === 'cell' && context.room.putOff.has(row.key),
    row.kind === 'chart' ? desk.snapshot : undefined,
    row.kind === 'chart' ? context.theme : undefined,
    row.kind === 'table' ? desk.editing : undefined,
    row.kind === 'table' ? desk.entriesOf : undefined,
    row.kind === 'table' ? selected : undefined,
    row.kind === 'scenario' ? scenarioNeeds(desk, row) : undefined,
  ];
  return html`<div class=${rowClasses(context, row)} role="row" aria-rowindex=${index + 1} data-item=${row.item}
    aria-selected=${selected ? 'true' : 'false'}>${guard(needs, () => inside(context, row, left, right))}</div>`;
}
