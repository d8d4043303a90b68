// A new reading for a log: a small sheet with the moment, which is now unless changed, and a field
// for each column a person fills in. It adds one row to the table.

import { html, type TemplateResult } from 'lit';
import type { Row, ShownColumn, TableRowShown } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { icon } from '../parts/shapes.ts';

const MOMENT = /^\d{4}-\d{2}-\d{2} \d{2}:\d{2}$/;

/** The log of a notebook: the first table whose first column holds moments a person put in. */
export function logOf(rows: readonly Row[]): TableRowShown | undefined {
  return rows.find((row): row is TableRowShown => {
    if (row.kind !== 'table' || row.columns[0]?.given !== true) return false;
    const moments = row.entries.map((entries) => entries[0]?.written.trim() ?? '').filter(Boolean);
    return moments.length > 0
      ? moments.every((text) => MOMENT.test(text))
      : row.columns[0].name === 'moment';
  });
}

/** The moment now by this device's clock, as the file writes it: `2027-06-12 07:00`. */
export function momentNow(now: Date): string {
  const two = (value: number): string => String(value).padStart(2, '0');
  const day = [now.getFullYear(), two(now.getMonth() + 1), two(now.getDate())].join('-');
  return `${day} ${two(now.getHours())}:${two(now.getMinutes())}`;
}

/** What a field holds as the file writes it: a bare number gets its column's unit. */
export function writtenEntry(typed: string, column: ShownColumn): string {
  const text = typed.trim().replaceAll('|', '/');
  const bare = /^[-+]?\d+([.,]\d+)?$/.test(text);
  if (!column.numeric || !bare || column.unit === '') return text;
  return `${text.replace(',', '.')} ${column.unit}`;
}

/** A moment alone is no reading: the plan would start again from nothing. */
function isEmpty(form: HTMLFormElement): boolean {
  const typed = [...form.elements].filter((one) => one instanceof HTMLInputElement).slice(1);
  const [first] = typed;
  const empty = first !== undefined && typed.every(({ value }) => value.trim() === '');
  if (!empty) return false;
  first.setCustomValidity('Write at least one reading, or drop it.');
  form.addEventListener('input', () => first.setCustomValidity(''), { once: true });
  form.reportValidity();
  return true;
}

function keep(desk: Desk, log: TableRowShown, form: HTMLFormElement): boolean {
  const values = new FormData(form);
  const written = log.columns
    .filter(({ added }) => !added)
    .map((column, index) => {
      const typed = values.get(`column-${index}`);
      if (typeof typed !== 'string') return '';
      return index === 0 ? typed.trim() : writtenEntry(typed, column);
    });
  return desk.addRow(log, written);
}

function field(column: ShownColumn, index: number): TemplateResult {
  const label =
    column.numeric && column.unit !== '' ? `${column.name}, ${column.unit}` : column.name;
  return html`<label><span>${label}</span>${
    index === 0
      ? html`<input type="text" name="column-0" required autocomplete="off" spellcheck="false"
          pattern="\\d{4}-\\d{2}-\\d{2} \\d{2}:\\d{2}" title="year-month-day hour:minute" value=${momentNow(new Date())} />`
      : html`<input type="text" name=${`column-${index}`} autocomplete="off" spellcheck="false"
          inputmode=${column.numeric ? 'decimal' : 'text'} ?autofocus=${index === 1} />`
  }</label>`;
}

export function readingSheet(desk: Desk, log: TableRowShown, closed: () => void): TemplateResult {
  const shut = (event: Event): void => {
    if (event.target instanceof Element) event.target.closest('dialog')?.close();
  };
  const submit = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || isEmpty(form)) return;
    if (keep(desk, log, form)) shut(event);
  };
  return html`<dialog id="reading" class="dialog reading" aria-label=${`New reading, ${log.name}`} @close=${closed}>
    <div class="top"><h2>New reading</h2>
      <button class="close" aria-label="Drop the reading" @click=${shut}>${icon('close')}</button></div>
    <form @submit=${submit}>
      ${log.columns.filter(({ added }) => !added).map((column, index) => (column.given ? field(column, index) : ''))}
      <p class="act"><button class="btn2 fill" type="submit">Log it</button>
        <button class="btn2" type="button" @click=${shut}>Drop</button></p>
    </form></dialog>`;
}
