// Tables in and out: a pasted or opened table is looked at before it is taken in, as a table of its
// own or as rows of one that stands; a table of the notebook is copied or saved as separated text.

import '../theme/send.css';
import { html, nothing, type TemplateResult } from 'lit';
import {
  type TableFromText,
  type TableRowShown,
  tableFromText,
  tableLines,
  tableToText,
} from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { download, fileName } from '../keep/files.ts';
import type { OpenDialog } from '../parts/page-tools.ts';
import { WORDS } from '../parts/place.ts';
import { icon } from '../parts/shapes.ts';
import { putIntoTable } from '../sheet/table-paste.ts';

/** Rows shown of a table that is to come in. */
const ROWS_SHOWN = 6;

export interface TableDialogContext {
  readonly desk: Desk;
  readonly draw: () => void;
  readonly tell: (sentence: string) => void;
  readonly closed: () => void;
}

function shut(event: Event): void {
  if (event.target instanceof Element) event.target.closest('dialog')?.close();
}

function top(title: string): TemplateResult {
  return html`<div class="top"><h2 id="table-title">${title}</h2>
    <button class="close" aria-label="Close" @click=${shut}>${icon('close')}</button></div>`;
}

function tablesOf(desk: Desk): readonly TableRowShown[] {
  return desk.rows.filter((row): row is TableRowShown => row.kind === 'table');
}

/** A notebook that holds nothing but a table, or why it cannot be made. */
export function notebookOfTable(
  name: string,
  text: string,
): { readonly text: string } | { readonly fault: string } {
  const table = tableFromText(text);
  if ('fault' in table) return table;
  const words = table.notes.map((note) => `| ${note}\n`).join('');
  return {
    text: `dapple 1\ntitle: ${name.replace(/\s+/g, ' ')}\n\n${words}${tableLines(nameOf(name), table)}`,
  };
}

function nameOf(name: string): string {
  return name.replace(/[-_]+/g, ' ').trim();
}

// ── in ──────────────────────────────────────────────────────────────────────────────────────────

function look(table: TableFromText): TemplateResult {
  const heads = table.columns.map((name, c) =>
    table.units[c] ? `${name}, ${table.units[c]}` : name,
  );
  const more = table.rows.length - ROWS_SHOWN;
  return html`<div class="look" tabindex="0" role="region" aria-label="What comes in"><table>
      <thead><tr>${heads.map((head) => html`<th scope="col">${head}</th>`)}</tr></thead>
      <tbody>${table.rows
        .slice(0, ROWS_SHOWN)
        .map(
          (row) => html`<tr>${row.map((entry) => html`<td>${entry}</td>`)}</tr>`,
        )}</tbody></table>
      ${more > 0 ? html`<p class="hint">and ${more} more ${more === 1 ? 'row' : 'rows'}</p>` : nothing}</div>
    ${table.notes.map((note) => html`<p class="hint">${note}</p>`)}`;
}

/** The hand goes where the table now stands, and the page with it. */
function goTo(desk: Desk, item: number): void {
  desk.select(item, WORDS);
  requestAnimationFrame(() =>
    document.querySelector('.sheet .row.sel')?.scrollIntoView({ block: 'nearest' }),
  );
}

/** Takes a table in; `name` and `text` are those of a file, or empty to paste one. */
export function tableInDialog(context: TableDialogContext, name: string, text: string): OpenDialog {
  const { desk } = context;
  let typed = text;
  const asNew = (event: Event, table: TableFromText): void => {
    const after = desk.selected?.item ?? desk.rows.at(-1)?.item ?? -1;
    const taken = new Set(desk.rows.map((row) => ('name' in row ? row.name : '')));
    const wanted = nameOf(name) || 'table taken in';
    let free = wanted;
    for (let n = 2; taken.has(free); n++) free = `${wanted} ${n}`;
    const lines = tableLines(free, table);
    if (desk.run({ do: 'insert', item: after + 1, text: lines }, 'take a table in')) {
      shut(event);
      goTo(desk, after + 1);
    } else context.tell('The table could not be put in; nothing was changed.');
  };
  const into = (event: Event, table: TableRowShown): void => {
    shut(event);
    const words = putIntoTable(desk, table, typed);
    if (words !== '') context.tell(words);
    goTo(desk, table.item);
  };
  const view = (): TemplateResult => {
    const read = typed.trim() === '' ? undefined : tableFromText(typed);
    return html`<dialog id="table-in" class="dialog reading table-in" aria-labelledby="table-title" @close=${context.closed}>
      ${top('Take a table in')}
      ${
        text === ''
          ? html`<p>Paste rows here: commas, semicolons or tabs between the entries. A heading such as “power (W)” gives its unit to
              the numbers below.</p>
            <textarea class="text-in" aria-label="Rows of a table" spellcheck="false" autofocus @input=${(
              event: Event,
            ): void => {
              if (event.target instanceof HTMLTextAreaElement) typed = event.target.value;
              context.draw();
            }}></textarea>`
          : html`<p>From “${name}”.</p>`
      }
      ${read === undefined ? nothing : 'fault' in read ? html`<p role="status">${read.fault}</p>` : look(read)}
      ${
        read === undefined || 'fault' in read
          ? nothing
          : html`<p class="act"><button class="btn2 fill" @click=${(event: Event): void => asNew(event, read)}>As a table of its own</button>
            ${tablesOf(desk)
              .slice(0, 6)
              .map(
                (table) =>
                  html`<button class="btn2" @click=${(event: Event): void => into(event, table)}>Below ${table.name}</button>`,
              )}</p>`
      }</dialog>`;
  };
  return { selector: '#table-in', view };
}

// ── out ─────────────────────────────────────────────────────────────────────────────────────────

/** Copies or saves a table of the notebook; the one in hand stands first. */
export function tableOutDialog(context: TableDialogContext): OpenDialog {
  const { desk } = context;
  const tables = tablesOf(desk).toSorted(
    (a, b) => Number(b.item === desk.item) - Number(a.item === desk.item),
  );
  let chosen = tables[0]?.key ?? '';
  let told = '';
  const table = (): TableRowShown | undefined => tablesOf(desk).find((one) => one.key === chosen);
  const copy = async (): Promise<void> => {
    const now = table();
    if (!now) return;
    try {
      await navigator.clipboard.writeText(tableToText(now, '\t'));
      told = 'Copied, with tabs between the entries.';
    } catch {
      told = 'The browser did not let it be copied. Save it instead.';
    }
    context.draw();
  };
  const save = (separator: ',' | ';' | '\t'): void => {
    const now = table();
    if (!now) return;
    // The mark tells programs that guess that this is UTF-8.
    const content = `${separator === '\t' ? '' : '\ufeff'}${tableToText(now, separator)}`;
    const [ending, type] =
      separator === '\t' ? ['.tsv', 'text/tab-separated-values'] : ['.csv', 'text/csv'];
    download(fileName(now.name, ending), content, `${type};charset=utf-8`);
  };
  const view =
    (): TemplateResult => html`<dialog id="table-out" class="dialog reading table-in" aria-labelledby="table-title" @close=${context.closed}>
    ${top('Take a table out')}
    <div class="chips" role="group" aria-label="Table">${tables.map(
      (one) =>
        html`<button class=${one.key === chosen ? 'chip on' : 'chip'} aria-pressed=${one.key === chosen ? 'true' : 'false'} @click=${(): void => {
          chosen = one.key;
          told = '';
          context.draw();
        }}>${one.name}</button>`,
    )}</div>
    <p class="hint">Units go into the headings where all entries of a column have the same one. Worked columns go out as the figures shown.</p>
    <p class="act"><button class="btn2 fill" autofocus @click=${(): void => void copy()}>Copy</button>
      <button class="btn2" @click=${(): void => save(',')}>Save, commas between</button>
      <button class="btn2" @click=${(): void => save(';')}>Save, semicolons and decimal commas</button>
      <button class="btn2" @click=${(): void => save('\t')}>Save, tabs between</button></p>
    <p class="told" role="status">${told}</p></dialog>`;
  return { selector: '#table-out', view };
}
