// Tidying changes how lines look and nothing that they mean: the same values in every column, the
// same messages, every unread line as it was, and a second time changes nothing more.

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openSession, type Report, tidyNotebook } from '../../../engine/index.ts';
import { readNotebook } from '../../../engine/notebook/read-notebook.ts';
import { testCases } from '../../tools/test-cases.ts';
import { SAMPLE, STARTERS } from '../notebook/sample.ts';

const RUNS = testCases(5);

const odd = JSON.parse(
  readFileSync(new URL('../../reference/odd-notebooks.json', import.meta.url), 'utf8'),
) as readonly string[];

test('signs and bars come to stand in line, and formulas get their symbols', () => {
  const before = `dapple 1

a = 3*2 W [1..10 W]  -- first
longer name=a/2
| A line of prose ends a run.
b =  longer name>=2 W
things = table -- here
  item | power | energy = power*2 h
  lamp | 6 W |   -- small
  cool box|45 W|=40 W*3 h
check a>=2 W -- enough
scenario Less
  a=2*2 W`;
  expect(tidyNotebook(before)).toBe(`dapple 1

a           = 3 × 2 W [1..10 W]  -- first
longer name = a / 2
| A line of prose ends a run.
b = longer name ≥ 2 W
things = table -- here
  item     | power | energy = power × 2 h
  lamp     | 6 W   |  -- small
  cool box | 45 W  | = 40 W × 3 h
check a ≥ 2 W -- enough
scenario Less
  a=2 × 2 W`);
});

test('a column that half of a run has already is kept; a long name stands out', () => {
  const before = 'dapple 1\n\na     = 1\nbb    = 2\nccc   = 3\nd = 4\na longer one = 5\n';
  expect(tidyNotebook(before)).toBe(
    'dapple 1\n\na     = 1\nbb    = 2\nccc   = 3\nd     = 4\na longer one = 5\n',
  );
});

test('a sign that touches its name shows no column', () => {
  // The name needs a space before the sign, so that the column of the other would be no column.
  const after = tidyNotebook('dapple 1\n\na = 1\nbb= 2\n');
  expect(after).toBe('dapple 1\n\na  = 1\nbb = 2\n');
  expect(tidyNotebook(after)).toBe(after);
});

test('a row of more entries than there are columns stays, however often it is tidied', () => {
  const text = 'dapple 1\n\nt = table\n  n    | key | y\n  5 W | ? |  | = 06:00\n';
  const once = tidyNotebook(text);
  expect(once).toContain('  5 W | ? |  | = 06:00\n');
  expect(tidyNotebook(once)).toBe(once);
});

test('what cannot be read stays, with its line ends', () => {
  const before = 'dapple 1\r\n\r\na=1\r\n what is  this=\r\n= 3*\r\nb  = 2 *\r\n)=(';
  const after = tidyNotebook(before);
  for (const line of ['= 3*', ')=(']) expect(after.split('\r\n')).toContain(line);
  expect(after.replace(/[ ]/gu, '')).toBe(before.replace(/[ ]/gu, ''));
});

/** What is told of a notebook, without the columns at which messages stand. */
function told(text: string): unknown {
  const session = openSession(text);
  const reports = session.evaluation.columns.map((_, index): Report => session.report(index, true));
  return reports.map(({ cells, checks, messages }) => ({
    // A message may quote the formula as it is written.
    cells: Object.entries(cells).map(([name, { text: _, error, ...cell }]) => [
      name,
      cell,
      error === undefined,
    ]),
    checks: checks.map(({ holds, state }: { holds?: unknown; state?: unknown }) => ({
      holds,
      state,
    })),
    messages: messages.map(({ code, line }) => `${line} ${code}`),
  }));
}

function expectTidy(text: string): void {
  const after = tidyNotebook(text);
  expect(tidyNotebook(after)).toBe(after);
  const [old, now] = [readNotebook(text).items, readNotebook(after).items];
  expect(now.map(({ kind }) => kind)).toEqual(old.map(({ kind }) => kind));
  old.forEach((item, index) => {
    if (['cell', 'table', 'check', 'answer', 'scenario'].includes(item.kind)) return;
    expect(now[index]?.source).toBe(item.source);
  });
  expect(told(after)).toEqual(told(text));
}

describe('tidying keeps every value', () => {
  const few = (text: string): string => text.replace(/^trials: .*$/mu, 'trials: 3');

  test('of the sample, whose lines are of every kind', () => expectTidy(few(SAMPLE)));

  test.each(odd.map((text, number) => ({ number, text })))('of odd notebook $number', ({ text }) =>
    expectTidy(text),
  );

  test('of the starters, with spaces and signs put in at random', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...STARTERS.map(([, text]) => few(text))),
        fc.array(fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(...MARKS)), {
          maxLength: 6,
        }),
        (text, marks) => {
          let rough = text;
          for (const [share, mark] of marks) {
            const at = Math.floor(share * rough.length);
            rough = rough.slice(0, at) + mark + rough.slice(at);
          }
          expectTidy(rough);
        },
      ),
      { numRuns: RUNS },
    );
  }, 120_000);
});

const MARKS = [
  ' ',
  '  ',
  '*',
  '|',
  '=',
  ' | ',
  '--',
  ' -- ',
  '\n',
  '\r\n',
  '"',
  '(',
  ' = ',
  '[',
  '1',
  '·',
];

describe('the command', () => {
  test('is one step, and does not fit when there is nothing to do', () => {
    const session = openSession('dapple 1\n\na = 3*2\nlong = a');
    expect(session.do({ do: 'tidy' })).toBe(true);
    expect(session.text).toBe('dapple 1\n\na    = 3 × 2\nlong = a');
    expect(session.do({ do: 'tidy' })).toBe(false);
    expect(session.report(0, false).cells.long?.value).toBe(6);
  });
});
