// A table as rows of the sheet: no rules, headings in quiet ink, entries one may write in the
// hand's colour, worked ones in ink. It is a grid of its own inside its row.

import { html, nothing, type TemplateResult } from 'lit';
import type { ShownEntry, TableRowShown } from '../../engine/index.ts';
import { WORDS } from '../parts/place.ts';
import { editorHere, type RowContext } from './row-context.ts';

/** Whose entries a change goes to: on a narrow page those of the scenario that is shown. */
function changedColumn({ desk, columns }: RowContext): number {
  const only = columns.length === 1 ? (columns[0] ?? 0) : desk.entriesOf;
  return only < desk.snapshot.verdicts.length ? only : 0;
}

/** The choice whose entries are changed, where there is one. */
function changedChips(context: RowContext): TemplateResult | typeof nothing {
  const { desk, names } = context;
  if (names.length < 2) return nothing;
  const into = changedColumn(context);
  return html`<div class="chips into" role="group" aria-label="Whose entries are changed"><span>An entry is changed in</span>${names.map(
    (name, column) =>
      html`<button class="chip" aria-pressed=${column === into ? 'true' : 'false'} @click=${(
        event: Event,
      ): void => {
        event.stopPropagation();
        desk.entriesOf = column;
        desk.showScenario(context.columns.length === 1 ? column : desk.scenario);
      }}>${name}</button>`,
  )}</div>`;
}

function entryCell(
  context: RowContext,
  table: TableRowShown,
  entry: ShownEntry,
  row: number,
  column: number,
): TemplateResult {
  const shown = table.columns[column];
  const place = context.desk.editing?.place;
  const here =
    place?.kind === 'entry' &&
    place.item === table.item &&
    place.row === row &&
    place.column === column;
  const editable = shown?.given === true;
  const edit = (event: Event): void => {
    event.stopPropagation();
    if (!editable) return;
    const { item, key } = table;
    const into = changedColumn(context);
    const own = differing.find((o) => o.scenario === into);
    context.desk.edit(
      { kind: 'entry', item, table: key, row, column, into },
      own?.text ?? entry.written,
    );
  };
  const differing = table.overrides.filter((o) => o.row === row && o.column === column);
  // As many scenarios as have a strip beside the formulas.
  const inView = differing.filter(({ scenario }) => context.columns.includes(scenario));
  const names = [
    editable ? 'given' : 'made',
    shown?.numeric ? 'n' : '',
    entry.overridden || inView.length > 0 ? 'differs' : '',
    entry.state,
  ];
  return html`<td
    class=${names.join(' ')}
    role="gridcell"
    tabindex="-1"
    data-entry=${`${row},${column}`}
    @click=${edit}
  >${
    here
      ? html`<span class="entry-editor">${editorHere(context)}</span>`
      : html`<span class="e">${entry.text || (editable ? html`<span class="none">–</span>` : '')}</span>`
  }${inView.map(
    (o) =>
      // A dot only where somebody put the entry in; a worked one merely comes out otherwise.
      html`<small class="od" data-strip=${o.scenario}>${editable ? html`<span class="dot1"></span>` : nothing}<span
        ><b>${o.text}</b> in ${context.names[o.scenario] ?? ''}</span></small>`,
  )}</td>`;
}

export function tableView(
  context: RowContext,
  table: TableRowShown,
  tab: '0' | '-1',
): TemplateResult {
  const { desk } = context;
  const add = (event: Event): void => {
    event.stopPropagation();
    desk.addRow(table, []);
  };
  return html`<div class="tbl" role="gridcell" tabindex=${tab} data-col=${WORDS}>
    ${table.note ? html`<p class="note">${table.note}</p>` : nothing}
    <div class="tbl-scroll"><table role="grid" aria-label=${table.name}>
      <thead><tr role="row">${table.columns.map(
        (column) =>
          html`<th role="columnheader" class=${column.numeric ? 'n' : ''} title=${column.formula || nothing}>${column.name}</th>`,
      )}</tr></thead>
      <tbody>${table.entries.map(
        (entries, row) =>
          html`<tr role="row">${entries.map((entry, column) => entryCell(context, table, entry, row, column))}</tr>`,
      )}</tbody>
    </table></div>
    <div class="below"><button class="btn3" tabindex="-1" @click=${add}>Add a row</button>
      ${desk.item === table.item ? changedChips(context) : nothing}</div>
  </div>`;
}
