// Notebooks that mean harm, or that a slip made monstrous: each is answered with a message, soon, and
// nothing is thrown. The times are generous; they catch growth, not slowness.

import { describe, expect, test } from 'vitest';
import { openSession, type Report } from '../../../engine/index.ts';
import { notebook, report } from '../run/evaluated.ts';

const SOON = 120_000;

function codes(answer: Report): readonly string[] {
  return answer.messages.map((message) => message.code);
}

describe('a notebook without measure', () => {
  test('ten thousand parentheses are one message', { timeout: SOON }, () => {
    const formula = `${'('.repeat(9000)}1${')'.repeat(9000)}`;
    expect(codes(report(`a = ${formula}`))).toEqual(['formula-deep']);
    expect(codes(report(`a = ${'('.repeat(10_000)}1${')'.repeat(10_000)}`))).toEqual([
      'formula-long',
    ]);
  });

  test('a tower of powers is one message', { timeout: SOON }, () => {
    expect(codes(report(`a = ${'9^'.repeat(5000)}9`))).toEqual(['formula-deep']);
    expect(codes(report('a = 9^9^9^9'))).toEqual(['too-large']);
  });

  // c0 ← c1 ← … ← c19999: each adds one, so the last is 20,000.
  test.each([
    ['from its near end', (i: number) => (i === 0 ? '1' : `c${i - 1} + 1`), 'c19999'],
    ['from its far end', (i: number) => (i === 19_999 ? '1' : `c${i + 1} + 1`), 'c0'],
  ])('a chain of 20,000 cells, %s, is worked', { timeout: SOON }, (_, formula, last) => {
    const body = Array.from({ length: 20_000 }, (__, i) => `c${i} = ${formula(i)}`).join('\n');
    const { cells, messages } = report(body);
    expect(messages).toEqual([]);
    expect(cells[last]?.value).toBe(20_000);
  });

  test('what waits names the broken cell, however long the chain', { timeout: SOON }, () => {
    const body = Array.from({ length: 3000 }, (_, i) => `c${i} = c${i + 1} + 1`).join('\n');
    const { cells, messages } = report(`${body}\nc3000 = 1 V + 1 W`);
    expect(messages.map((message) => message.code)).toEqual(['dimensions-differ']);
    expect(cells.c0?.waits).toBe('c3000');
  });

  test('a circle of 5,000 cells is one message that names a few of them', { timeout: SOON }, () => {
    const body = Array.from({ length: 5000 }, (_, i) => `c${i} = c${(i + 1) % 5000} + 1`).join(
      '\n',
    );
    const { messages } = report(body);
    expect(messages.map((message) => message.code)).toEqual(['circle']);
    expect(messages[0]?.text.length).toBeLessThan(200);
    expect(messages[0]?.text).toContain('c0 → c1');
  });

  test('20,000 faulty lines are 20,000 messages, each short', { timeout: SOON }, () => {
    for (const line of ['missing', '1 +', 'f g ! h', '3 / (x - x)']) {
      const body = Array.from({ length: 20_000 }, (_, i) => `c${i} = ${line}`);
      const session = openSession(notebook(`x = 1\n${body.join('\n')}`));
      const { messages, rows } = session.snapshot();
      expect([messages.length, rows.length]).toEqual([20_000, 20_001]);
      expect(Math.max(...messages.map(({ text }) => text.length))).toBeLessThan(200);
    }
  });

  test('20,000 unknown names are answered', { timeout: SOON }, () => {
    // Compared one by one they would be 400 million pairs.
    const body = Array.from({ length: 20_000 }, (_, i) => `lamp ${i} = lamps ${i}`).join('\n');
    const { messages } = report(body);
    expect(messages).toHaveLength(20_000);
    expect(messages[0]?.text).toContain('No cell is called "lamps 0".');
    expect(messages[19_999]?.text).toContain('No cell is called "lamps 19999".');
  });

  test('a formula of two million characters is shown as one piece', { timeout: SOON }, () => {
    const formula = `${'a + '.repeat(500_000)}a`;
    const session = openSession(notebook(`a = 1\nb = ${formula}`));
    const row = session.snapshot().rows.find((one) => one.kind === 'cell' && one.name === 'b');
    expect(row?.kind === 'cell' ? row.parts : []).toEqual([{ text: formula, kind: 'plain' }]);
    expect(session.snapshot().messages.map(({ code }) => code)).toEqual(['formula-long']);
  });

  test('5,000 what-ifs are worked one after the other in the same place', { timeout: SOON }, () => {
    const body = Array.from(
      { length: 5000 },
      (_, i) => `c${i} = k + ${i}\nd${i} = c${i} with k = 2`,
    );
    const { cells, messages } = report(`k = 1\n${body.join('\n')}`);
    expect(messages).toEqual([]);
    expect([cells.d0?.value, cells.d4999?.value]).toEqual([2, 5001]);
  });

  test('a timeline of 1,000 years of minutes and a trillion steps are messages', {
    timeout: SOON,
  }, () => {
    const { cells, messages } = report(
      'clock = timeline(from: 2027-01-01, until: 3027-01-01, by: 1 min)\np = 1 W × during(clock, 06:00..18:00)\na = 1\nb = a with a = steps(1, 1e12, by: 1)',
    );
    expect(messages.map((message) => [message.code, message.line])).toEqual([
      ['timeline-long', 7],
      ['steps-many', 10],
    ]);
    expect(cells.clock?.error).toContain('at most 600000');
    expect(cells.p?.waits).toBe('clock');
    expect(cells.b?.error).toContain('at most');
  });

  test('scenarios that put cells in place of each other do not run in a circle', {
    timeout: SOON,
  }, () => {
    const session = openSession(
      notebook(
        'a = 1\nb = a + 1\nscenario Turned round\n  a = b\n  b = a\nscenario Onward\n  a = b',
      ),
    );
    // Right sides are worked in the plan: a = 1, b = 2.
    const read = (column: number): unknown[] => {
      const { cells } = session.report(column, false);
      return [cells.a?.value, cells.b?.value];
    };
    expect([read(0), read(1), read(2)]).toEqual([
      [1, 2],
      [2, 1],
      [2, 3],
    ]);
  });
});

describe('names that mean something to the machine', () => {
  test('are names like any other', () => {
    const { cells, messages } = report(
      'constructor = 2 W\ntoString = 3\nhasOwnProperty = 4\nvalueOf = 5\nt = table\n  constructor | toString\n  prototype | 1\nsum of both = toString + valueOf\nz = t.toString("prototype")\nq = valueOf with valueOf = 7',
    );
    expect(messages).toEqual([]);
    expect(cells.constructor).toMatchObject({ value: 2, unit: 'W' });
    expect(cells['sum of both']?.value).toBe(8);
    expect(cells.z?.value).toBe(1);
    expect(cells.q?.value).toBe(7);
  });

  test('are unknown when nothing is called so', () => {
    const { messages } = report(
      'a = constructor(1)\nb = toString + 1\nc = sqrt(constructor: 1)\nd = 3 constructor\ne = 1 W as valueOf\nf = __proto__',
    );
    expect(messages.map((message) => message.code)).toEqual([
      'unknown-name',
      'unknown-name',
      'unknown-argument',
      'unit-unknown',
      'as-unit-unknown',
      'character-unknown',
    ]);
  });

  test('may stand in texts, scenarios and charts', () => {
    const { cells, messages } = report(
      'valueOf = 1\na = if "__proto__" = "constructor" then 1 else 2\nscenario constructor\n  valueOf = 3\nchart valueOf',
    );
    expect(messages).toEqual([]);
    expect(cells.a?.value).toBe(2);
  });
});

describe('running the notebook again and again', () => {
  const tooMuch = /too many times/;

  test('a sweep of two givens with 10,000 steps each is a message', { timeout: SOON }, () => {
    const { cells } = report(
      'a = 1\nb = 1\nc = a + b\nd = lowest((c with a = steps(1, 10000, by: 1), b = steps(1, 10000, by: 1)))',
    );
    expect(cells.d?.error).toMatch(tooMuch);
    // The rest works.
    expect(cells.c?.value).toBe(2);
  });

  test('trials that run a sweep are counted with it', { timeout: SOON }, () => {
    const session = openSession(
      notebook(
        'a = 1\nb = 1..2..3\nc = percentile(mean((a with a = steps(1, 1000, by: 1))) + b, 50 %)',
        'trials: 10000',
      ),
    );
    const { cells, messages } = session.report(0, false);
    // 10,000 trials of 1,000 steps are ten million passes; two million are worked.
    expect(messages.map(({ code }) => code)).toEqual(['work-much']);
    expect(cells.c?.error).toMatch(tooMuch);
  });

  const YEAR = `begin = 2027-01-01 00:00
clock = timeline(from: begin, until: begin + 365 × 24 h, by: 1 min)
late = 0..5..10 min
up = time while(sun position(clock + late).elevation > 0°)`;
  const AT_PLACE = 'place: 42.6 °N, 121.6 °W, 1450 m, UTC-7';

  test.each(['odds = chance(up > 12 h)', 'swept = up with late = steps(0 min, 100 min, by: 1 s)'])(
    'a year of minutes under the sun again and again is a message: %s',
    { timeout: SOON },
    (formula) => {
      const session = openSession(notebook(`${YEAR}\n${formula}`, AT_PLACE));
      const { cells, messages } = session.report(0, false);
      expect(messages.map(({ code }) => code)).toEqual(['work-much']);
      // Half a year of light, and the sun's own breadth: it is up some minutes more than half the time.
      expect(cells.up?.value).toBeGreaterThan(4000);
    },
  );

  test('some runs of a day by quarter hours are worked, however dear their functions', () => {
    const session = openSession(
      notebook(
        `${YEAR.replace('1 min', '15 min').replace('365', '1')}\nodds = chance(up > 8 h)`,
        AT_PLACE,
      ),
    );
    const { cells, messages } = session.report(0, false);
    expect(messages).toEqual([]);
    // On New Year's Day at 42.6° north it is light for nine hours (Duffie & Beckman, equation 1.6.11: 9.1 h).
    expect(cells.odds?.value).toBe(100);
  });

  test('what-ifs nested sixty deep that set each other aside are worked', { timeout: SOON }, () => {
    const body = Array.from(
      { length: 60 },
      (_, i) => `w${i} = ${i === 0 ? 'a' : `w${i - 1}`} with a = ${i}`,
    );
    const { cells, messages } = report(['a = 1', ...body].join('\n'));
    // w0 is a with a = 0; every later one replaces it in turn, and the innermost one counts.
    expect([cells.w5?.value, cells.w59?.value]).toEqual([0, 0]);
    expect(messages).toEqual([]);
  });

  test('what-ifs nested sixty deep, each doubling the work, are a message', {
    timeout: SOON,
  }, () => {
    const body = Array.from({ length: 60 }, (_, i) =>
      i === 0 ? 'w0 = a' : `w${i} = w${i - 1} + (w${i - 1} with a = ${i})`,
    );
    const { cells, messages } = report(['a = 1', ...body].join('\n'));
    // w1 = 1 + 1 = 2; w2 = w1 + (w1 with a = 2) = 2 + (2 + 1) = 5.
    expect([cells.w1?.value, cells.w2?.value]).toEqual([2, 5]);
    expect(messages.map((message) => message.text)).toContainEqual(expect.stringMatching(tooMuch));
  });
});

test('a scenario that replaces the timeline by a look back is a message, not a fall', () => {
  const session = openSession(
    notebook(
      'clock = timeline(from: 2027-05-14, until: 2027-05-16, by: 6 h)\nscenario One\n  clock = previous(5 m, first: 2027-05-14 06:30)',
    ),
  );
  expect(session.report(1, false).cells.clock).toBeDefined();
  expect(session.snapshot().messages.length).toBeGreaterThan(0);
});
