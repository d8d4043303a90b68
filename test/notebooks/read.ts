// Reading the starter notebooks for their tests: the file's text, its scenarios and single values.

import { readdirSync, readFileSync } from 'node:fs';
import { openSession, type Report, type Session } from '../../engine/index.ts';

const folder = new URL('../../notebooks/', import.meta.url);

export const NAMES: readonly string[] = readdirSync(folder)
  .filter((name) => name.endsWith('.dapple'))
  .map((name) => name.slice(0, -'.dapple'.length));

export function textOf(name: string): string {
  return readFileSync(new URL(`${name}.dapple`, folder), 'utf8');
}

/** A notebook's text with fewer trials, for tests that do not look at chances. */
export function withTrials(text: string, trials: number): string {
  return text.replace(/^trials: \d+$/m, `trials: ${trials}`);
}

/** Opens a starter with lines added at its end, and few trials. */
export function open(name: string, ...lines: readonly string[]): Session {
  return openSession(`${withTrials(textOf(name), 60)}\n${lines.join('\n')}\n`);
}

/** A scalar's number in the unit the notebook shows. */
export function numberOf(report: Report, cell: string): number {
  const value = report.cells[cell]?.value;
  if (typeof value !== 'number')
    throw new Error(`${cell}: ${report.cells[cell]?.text ?? 'no cell'}`);
  return value;
}

/** All numbers of a series; the report must be a full one. */
export function seriesOf(report: Report, cell: string): readonly number[] {
  return listOf(report.cells[cell]?.value, cell);
}

/** All numbers of a column; the report must be a full one. */
export function columnOf(report: Report, table: string, column: string): readonly number[] {
  return listOf(field(report.cells[table]?.value, column), `${table}.${column}`);
}

function field(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null ? Reflect.get(value, name) : undefined;
}

function listOf(value: unknown, name: string): readonly number[] {
  const values = field(value, 'values');
  if (!Array.isArray(values) || !values.every((v): v is number => typeof v === 'number'))
    throw new Error(`${name} is no whole series of numbers`);
  return values;
}
