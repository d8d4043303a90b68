// Checks with their margins, the verdict of the plan and of each scenario, blanks and their answers,
// names that hide a function.

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import type { CellRow, ShownAnswer, Snapshot } from '../../../engine/run/snapshot.ts';
import { notebook, report } from './evaluated.ts';

const NO_BREAK = /\u00a0/gu;

function snapshotOf(body: string): Snapshot {
  const session = openSession(notebook(body));
  session.report(0, false);
  return session.snapshot();
}

describe('a check', () => {
  // clock: middles 03, 09, 15, 21; power 0, 100, 100, 0 W.
  const body = `power = 100 W
limit = 80 W
share = 40 %
air = 20 °C
level = -73 dBm
clock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)
series = power × during(clock, 06:00..18:00)
night = 21:00..06:00`;
  test.each([
    ['power ≥ 80 W', true, 20, 'power 100 W; limit 80 W'],
    ['power ≥ limit', true, 20, 'power 100 W; limit 80 W'],
    ['power ≤ 80 W', false, -20, 'power 100 W; limit 80 W'],
    ['power = 100 W', true, 0, 'power 100 W; limit 100 W'],
    ['power = 90 W', false, -10, 'power 100 W; limit 90 W'],
    ['power ≠ 90 W', true, 10, 'power 100 W; limit 90 W'],
    ['90 W ≤ power', true, 10, 'power 100 W; limit 90 W'],
    ['90 W ≤ power ≤ 102 W', true, 2, 'power 100 W; limit 102 W'], // the tighter side
    ['power ≥ 90 W and power ≤ 102 W', true, 2, 'power 100 W; limit 102 W'],
    ['power within 70..101 W', true, 1, 'power 100 W; limit 101 W'],
    ['share ≥ 45 %', false, -5, 'share 40 %; limit 45 %'],
    ['air ≤ 25 °C', true, 5, 'air 20 °C; limit 25 °C'],
    ['level ≥ -80 dBm', true, 7, 'level −73 dBm; limit −80 dBm'],
    ['series ≤ 90 W', false, -10, 'series 100 W, Fri 14 May 09:00; limit 90 W'],
    ['lowest(series) ≥ 0 W', true, 0, /^lowest\(series\) 0 W/],
    ['12:00 within night', false, null, 'fails'],
  ])('%s', (formula, holds, margin, words) => {
    const { checks, messages } = report(`${body}\ncheck ${formula}`);
    expect(messages).toEqual([]);
    expect(checks).toHaveLength(1);
    const [check] = checks;
    expect(check).toMatchObject({ name: formula, holds });
    if (margin === null) expect(check?.margin).toBeNull();
    else expect(check?.margin).toBeCloseTo(margin, 9);
    const text = check?.text.replace(NO_BREAK, ' ');
    if (words instanceof RegExp) expect(text).toMatch(words);
    else expect(text).toBe(words);
  });

  test('of no truth, of a broken cell and of a blank is neither held nor failed', () => {
    const { checks } = report(
      'a = 1 W\nb = a + 1 V\nc = ? W\ncheck a\ncheck b > 1 W\ncheck c > 1 W',
    );
    expect(checks.map((check) => check.holds)).toEqual([null, null, null]);
    expect(checks[1]?.text).toBe('waits for b');
    expect(checks[2]?.text).toBe('waits for c');
  });

  test.each([
    ['check temperature ≤ 25 °C', 'temperature = 28 °C', '3 K over'],
    ['check temperature ≤ 80 °F', 'temperature = 85 °F', '5 Δ°F over'],
    ['check temperature < 80 °F', 'temperature = 70 °F', '10 Δ°F to spare'],
    ['check share ≥ 30 %', 'share = 31 %', '1 point to spare'],
    ['check share ≥ 30 %', 'share = 25 %', '5 points short'],
    ['check area > 6 mm²', 'area = 4 mm²', '2 mm² short'],
    ['check area ≥ 6 mm²', 'area = 6 mm²', 'nothing to spare'],
    ['check area > 6 mm²', 'area = 6 mm²', 'just at the limit'],
    ['check area = 6 mm²', 'area = 6 mm²', ''],
    ['check area = 6 mm²', 'area = 4 mm²', '2 mm² off'],
    ['check area ≠ 6 mm²', 'area = 10 mm²', '4 mm² apart'],
    ['check area ≠ 6 mm²', 'area = 6 mm²', 'the same'],
    ['check area ≤ 6 mm² or area ≥ 8 mm²', 'area = 4 mm²', ''],
    ['check there ≤ 2027-05-14 18:00', 'there = 2027-05-14 16:30', '90 min to spare'],
    ['check there ≤ 2027-05-14 18:00', 'there = 2027-05-14 23:30', '5.5 h over'],
    ['check there ≥ 2027-05-14 18:00', 'there = 2027-05-11 18:00', '3 d short'],
  ])('%s with %s tells its margin in words', (check, given, margin) => {
    const { rows, verdicts } = snapshotOf(`${given}\n${check}`);
    const row = rows.find((r) => r.kind === 'check');
    const shown = row?.kind === 'check' ? row.values[0] : undefined;
    expect(shown?.marginText.replace(NO_BREAK, ' ')).toBe(margin);
    const told = verdicts[0]?.tightest.replace(NO_BREAK, ' ') ?? '';
    // The verdict tells it too; a check without amounts has no tightest place.
    if (margin !== '') expect(told.endsWith(`; ${margin}`), told).toBe(true);
  });
});

describe('the verdict', () => {
  const verdicts = (body: string): unknown[] =>
    snapshotOf(body).verdicts.map(({ state, headline, holding, total }) => [
      state,
      headline.replace(NO_BREAK, ' '),
      holding,
      total,
    ]);

  test('says nothing without checks, holds, fails, and says do not for a must', () => {
    expect(verdicts('a = 1 W')).toEqual([['none', 'Nothing to check yet', 0, 0]]);
    expect(
      verdicts(
        'a = 1 W\nb = 5 W\ncheck a ≤ 2 W\nmust b ≤ 6 W\nscenario More\n  a = 3 W\nscenario Much\n  a = 3 W\n  b = 9 W',
      ),
    ).toEqual([
      ['holds', 'The plan holds', 2, 2],
      ['fails', 'More fails', 1, 2],
      ['do not', 'Do not: b 9 W; limit 6 W', 0, 2],
    ]);
  });

  test('waits while a blank is open, but a failure is said at once', () => {
    expect(verdicts('a = ? W\ncheck a ≤ 2 W')).toEqual([
      ['waits', 'Not yet judged: 1 of 1 waits', 0, 1],
    ]);
    expect(verdicts('a = ? W\nb = 3 W\ncheck a ≤ 2 W\ncheck b ≤ 2 W')).toEqual([
      ['fails', 'The plan fails', 0, 2],
    ]);
  });
});

describe('an answer', () => {
  const answer = (body: string, name: string): ShownAnswer | undefined =>
    snapshotOf(body).rows.find((row): row is CellRow => row.kind === 'cell' && row.name === name)
      ?.answer;

  test.each([
    ['x = ? A', 'x = 2 A', 'empty', ''],
    ['x = 2 A', 'x = 100 W / 50 V', 'right', 'Right.'],
    ['x = 2.02 A', 'x = 2 A ± 1 %', 'right', 'Right.'],
    ['x = 2.03 A', 'x = 2 A ± 1 %', 'wrong', 'Off by 0.03 A (1.5 %); yours is too large.'],
    ['x = 1.9 A', 'x = 2 A', 'wrong', 'Off by 0.1 A (5 %); yours is too small.'],
    // 3 A for 2 A is half as much again; 100 for 5 is 20 times as much.
    ['x = 3 A', 'x = 2 A', 'wrong', 'Off by 1 A (50 %); yours is 1.5 times too large.'],
    ['x = 5 V', 'x = 100 V', 'wrong', 'Off by 95 V (95 %); yours is 20 times too small.'],
    ['x = -2 A', 'x = 2 A', 'wrong', 'Off by 4 A (200 %); yours is of the other sign.'],
    ['x = 20.4 %', 'x = 20 % ± 0.5 %', 'right', 'Right.'], // percentage points
    ['x = 21 %', 'x = 20 % ± 0.5 %', 'wrong', 'Off by 1 point; yours is too large.'],
    ['x = 25 °C', 'x = 20 °C ± 2 K', 'wrong', 'Off by 5 K; yours is too large.'],
    ['x = 23:50', 'x = 00:05 ± 20 min', 'right', 'Right.'], // round the clock
    ['x = 23:50', 'x = 00:05 ± 10 min', 'wrong', 'Off by 15 min; yours is too early.'],
    ['x = "no"', 'x = if 1 < 2 then "yes" else "no"', 'wrong', 'Not so.'],
    ['x = "yes"', 'x = if 1 < 2 then "yes" else "no"', 'right', 'Right.'],
    ['x = 2027-05-14 18:00', 'x = 2027-05-14', 'wrong', 'Off by 18 h; yours is too large.'],
    ['x = 3 V', 'x = 2 A', 'wrong', 'That is another kind of amount.'],
  ])('%s against answer %s is %s', (given, right, state, text) => {
    const shown = answer(`${given}\nanswer ${right} -- because`, 'x');
    expect(shown?.state).toBe(state);
    expect(shown?.text.replace(NO_BREAK, ' ')).toBe(text);
    expect(shown?.note).toBe('because');
  });

  test('uses the reader’s own answers to earlier questions', () => {
    const body = 'i = 3 A\nu = 6 V\nanswer i = 2 A\nanswer u = i × 2 Ω';
    expect(answer(body, 'i')?.state).toBe('wrong');
    expect(answer(body, 'u')?.state).toBe('right');
  });

  test('is told to one who asks: its formula, and its value once that can be had', () => {
    const open = (body: string): ReturnType<typeof openSession> =>
      openSession(`dapple 1\n\n${body}\n`);
    const asked = open('u = 18 V\np = 90 W\ni = ? A\nanswer i = p / u ± 1 %');
    // 90 W / 18 V = 5 A
    expect(asked.solution('i')?.formula).toBe('p / u ± 1 %');
    expect(asked.solution('i')?.text.replace(NO_BREAK, ' ')).toBe('5 A');
    expect(asked.solution('u')).toBeUndefined();
    const waiting = open('i = ? A\nv = ? V\nanswer v = i × 2 Ω');
    expect(waiting.solution('v')).toEqual({ formula: 'i × 2 Ω', text: '' });
  });

  test('never stands in the report', () => {
    const text = JSON.stringify(report('x = ? A\nanswer x = 1234.5 A'));
    expect(text).not.toContain('1234.5');
  });
});

describe('blanks', () => {
  test('have a kind, and what needs them waits', () => {
    const { cells, messages } = report(
      'x = ? A\ny = x × 12 V\nz = x + 3 V\nw = ? ["yes", "no"]\nv = w = "yes"\nt = ?\nanswer t = 06:30\nlater = t + 1 h',
    );
    expect(messages.map((m) => m.code)).toEqual(['dimensions-differ']); // z
    expect(cells.x).toMatchObject({ kind: 'blank', value: null, unit: 'A' });
    expect(cells.y).toMatchObject({ waits: 'x', unit: 'W' });
    expect(cells.v).toMatchObject({ waits: 'w', kind: 'truth' });
    expect(cells.later).toMatchObject({ waits: 't', kind: 'time of day' });
  });
});

describe('a cell with the name of a function', () => {
  test('is meant everywhere, and the notebook says so once', () => {
    const { cells, messages } = report('sum = 3 W\ntwice = sum × 2\nsunrise = 06:00');
    expect(cells.twice).toMatchObject({ value: 6, unit: 'W' });
    expect(messages.map(({ code, line }) => [code, line - 7])).toEqual([
      ['hides-function', 0],
      ['hides-function', 2],
    ]);
  });

  test('is named in the message when it is called as a function', () => {
    const { messages } = report('sum = 3\nt = table\n  a | b\n  x | 1\ntotal = sum(t.b)');
    expect(messages.map((m) => m.code)).toEqual(['hides-function', 'not-callable']);
    expect(messages[1]?.text).toContain('hides the function sum(…)');
  });
});

test('a plain number is held against a limit in % as a share', () => {
  const session = openSession(
    'dapple 1\n\ndrop = 66 mV\npart = drop / (12 V)\ncheck part ≤ 2 %\ncheck part × 100 ≤ 2\n',
  );
  const texts = session.report(0, false).checks.map(({ text }) => text.replaceAll('\u00a0', ' '));
  // 0.066 / 12 = 0.0055
  expect(texts).toEqual(['part 0.55 %; limit 2 %', 'part × 100 0.55; limit 2']);
});
