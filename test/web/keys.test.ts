// Help names every key of every command.

import { expect, test } from 'vitest';
import { type CommandTarget, commandsOf } from '../../web/screen/commands.ts';
import { KEYS } from '../../web/screen/help.ts';

/** A screen with everything that brings a command: a table, a log to write readings in, rows found. */
const SCREEN = {
  desk: { rows: [{ kind: 'table' }] },
  tools: { theme: () => 'light' },
  log: {},
  found: { any: true },
} as unknown as CommandTarget;

/** The keys that help tells, one an entry: `Ctrl S, Ctrl Shift S` are two. */
function told(): ReadonlySet<string> {
  return new Set(
    KEYS.flatMap(([keys]) => keys.split(/, | \/ | or /)).map((keys) =>
      keys.replace(/ on a .*$/, ''),
    ),
  );
}

test('help names the keys of every command', () => {
  const keys = commandsOf(SCREEN).flatMap((command) => command.keys ?? []);
  expect(keys).toContain('Ctrl K');
  expect(keys.filter((one) => !told().has(one))).toEqual([]);
});

test('no two commands have the same keys', () => {
  const keys = commandsOf(SCREEN).flatMap((command) => command.keys ?? []);
  expect(keys.length).toBe(new Set(keys).size);
});

test('no key is told twice in help', () => {
  const keys = KEYS.map(([one]) => one);
  expect(keys.length).toBe(new Set(keys).size);
});
