// Moments, days and figures as a chart and its table write them.

import type { ChartAxis } from '../../engine/index.ts';

/** What a chart can be saved as. */
export const SAVED_AS = ['PNG', 'SVG', 'CSV'] as const;
export type SavedAs = (typeof SAVED_AS)[number];

/** Made when first asked for, and kept: making one costs as much as a thousand uses of it. */
function words(options: Intl.DateTimeFormatOptions): (date: Date) => string {
  let made: Intl.DateTimeFormat | undefined;
  return (date) => {
    made ??= new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', weekday: 'short', ...options });
    return made.format(date);
  };
}

const dayWords = words({});
const momentWords = words({ day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit' });

/** A civil day, `Wed 19`. */
export function dayName(seconds: number): string {
  const day = new Date(seconds * 1000);
  return `${dayWords(day)} ${day.getUTCDate()}`;
}

/** A civil moment, `Wed 19 May 06:40`. */
export function moment(seconds: number): string {
  return momentWords(new Date(seconds * 1000)).replaceAll(',', '');
}

/** The clock's reading, `06:40`. */
export function clock(seconds: number): string {
  return civilText(seconds).slice(11, 16);
}

/** A civil moment for a file of values, `2027-05-19T06:40`, with seconds only where there are some. */
export function civilText(seconds: number): string {
  const text = new Date(Math.round(seconds) * 1000).toISOString();
  return text.slice(17, 19) === '00' ? text.slice(0, 16) : text.slice(0, 19);
}

export function figure(value: number | undefined): string {
  if (value === undefined || !Number.isFinite(value)) return '–';
  const shown = Math.abs(value) >= 1000 ? Math.round(value) : Number(value.toPrecision(3));
  return String(shown).replace('-', '−');
}

export function axisLabel(axis: ChartAxis, index: number): string {
  if (axis.kind === 'days') return dayName(axis.values[index] ?? 0);
  const label = axis.labels[index];
  if (label !== undefined && label !== '') return label;
  const value = axis.values[index];
  if (value === undefined) return String(index + 1);
  if (axis.kind === 'time') return moment(value);
  return `${figure(value)} ${axis.unit}`.trim();
}
