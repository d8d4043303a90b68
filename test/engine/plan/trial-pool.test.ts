// Cells that ask for trials in the same context share them. Whatever is shared must be, to the bit,
// what each cell finds in a notebook of its own; a scenario's own uncertain amounts are drawn too.

import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { openSession, type Session } from '../../../engine/index.ts';
import { TrialStream } from '../../../engine/plan/trial-stream.ts';
import { testCases } from '../../tools/test-cases.ts';

const TRIALS = 200;

const BASE = `dapple 1
seed: 11
trials: ${TRIALS}
place: 44.5 °N, 110.2 °W, 2100 m, UTC-6

clock = timeline(from: 2027-05-14, until: 2027-05-16, by: 3 h)
panel = 80..100..110 W
sky = drawn sky(at: clock, wet days: 12, wet spell: 2)
use sky = "plain" ["plain", "drawn"]
light = panel × (if clock within 08:00..16:00 then 1 else 0) × (if use sky = "drawn" then sky else 60 %)
use = 10..12..20 W
reserve = 20 Wh
store = running total(light - use, start: 300 Wh)
lowest store = lowest(store)
mine = 10 W`;

const ASKED = {
  odds: 'odds = chance(lowest store ≥ reserve) with use sky = "drawn"',
  'bad trip': 'bad trip = percentile(lowest store, 10 %) with use sky = "drawn"',
  'good trip': 'good trip = percentile(lowest store, 90 %) with use sky = "drawn"',
  bands: 'bands = percentile(store, 25 %) with use sky = "drawn"',
  'plain odds': 'plain odds = chance(lowest store ≥ reserve)',
  'plain trip': 'plain trip = percentile(lowest store, 10 %)',
} as const;

const SCENARIOS = `
scenario Careful
  use = 8..9..10 W
scenario Other panel
  panel = 60..70..200 W
  reserve = 50 Wh
scenario Fixed
  use = 12 W`;

const notebook = (asked: readonly string[]): string => [BASE, ...asked, SCENARIOS].join('\n');

/** Value of a cell in each column, all numbers. */
function valuesOf(session: Session, name: string): unknown[] {
  const columns = session.evaluation.columns.map((_, index) => {
    const { cells, messages } = session.report(index, true);
    expect(messages).toEqual([]);
    return cells[name]?.value;
  });
  return columns;
}

describe('shared trials', () => {
  test.each(Object.keys(ASKED))(
    '%s is what it is alone, in the plan and in each scenario',
    (name) => {
      const alone = openSession(notebook([ASKED[name as keyof typeof ASKED]]));
      const together = openSession(notebook(Object.values(ASKED)));
      expect(valuesOf(together, name)).toEqual(valuesOf(alone, name));
    },
  );

  test('two cells in the same context cost the trials of one', () => {
    const runs = (asked: readonly string[]): number => {
      const session = openSession(`${BASE}\n${asked.join('\n')}`);
      const passes = vi.spyOn(session.evaluation.compiled.machine, 'runCone');
      const trials = vi.spyOn(TrialStream.prototype, 'run');
      session.report(0, false);
      const found = passes.mock.calls.length + trials.mock.calls.length;
      trials.mockRestore();
      return found;
    };
    // One more is the pass of each `with`.
    expect(runs([ASKED.odds])).toBe(TRIALS + 1);
    expect(runs([ASKED.odds, ASKED['bad trip'], ASKED['good trip']])).toBe(TRIALS + 3);
    expect(runs([ASKED['plain odds'], ASKED['plain trip']])).toBe(TRIALS);
    expect(runs([ASKED.odds, ASKED['plain odds']])).toBe(2 * TRIALS + 1);
  });

  test('follow every given that moves, as a notebook opened afresh', () => {
    const givens = ['reserve', 'mine', 'lowest store'] as const;
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.constantFrom(...givens), fc.integer({ min: 1, max: 90 })), {
          minLength: 1,
          maxLength: 3,
        }),
        (moves) => {
          const asked = [ASKED.odds, ASKED['bad trip'], 'spare = bad trip - 1 h × mine'];
          const session = openSession(notebook(asked));
          session.report(0, false);
          for (const [name, amount] of moves) {
            const formula = name === 'lowest store' ? `lowest(store) - ${amount} Wh` : `${amount} `;
            const unit = { reserve: 'Wh', mine: 'W', 'lowest store': '' }[name];
            expect(session.do({ do: 'formula', cell: name, text: formula + unit })).toBe(true);
            const fresh = openSession(session.text);
            for (const cell of ['odds', 'bad trip', 'spare'])
              expect(valuesOf(session, cell)).toEqual(valuesOf(fresh, cell));
          }
        },
      ),
      { numRuns: testCases(5) },
    );
  });

  test.each([
    ['more', '3 × left'],
    ['left', 'panel - 2 × use'],
  ])('what is kept is forgotten when %s becomes %s', (cell, text) => {
    const session = openSession(`${BASE}
left = panel - use
more = 2 × left
likely = chance(more ≥ 170 W)
low = percentile(more, 10 %)`);
    session.report(0, false);
    const { evaluation } = session;
    session.do({ do: 'formula', cell, text });
    // The cell took its formula where it stood; nothing was made anew.
    expect(session.evaluation).toBe(evaluation);
    const fresh = openSession(session.text).report(0, false);
    expect(session.report(0, false).cells).toEqual(fresh.cells);
  });

  test('one that fails leaves the other as it is', () => {
    const asked =
      'broken = percentile(sqrt(lowest store / 1 Wh - 250), 10 %) with use sky = "drawn"';
    const both = openSession(`${BASE}\n${ASKED['bad trip']}\n${asked}`);
    const alone = openSession(`${BASE}\n${ASKED['bad trip']}`);
    const { cells } = both.report(0, false);
    expect(cells.broken?.error).toBeDefined();
    expect(cells['bad trip']?.value).toBe(alone.report(0, false).cells['bad trip']?.value);
  });
});

describe("a scenario's own uncertain amount", () => {
  // Above 13 W lie (20 − 13)² / (10 × 8) = 61.25 % of the triangle 10..12..20; of 12..14..16 W, with
  // (13 − 12)² / (4 × 2) = 12.5 % below, 87.5 %. Four thousand trials leave an error of 0.8 points.
  const body = `dapple 1
trials: 4000
seed: 3

use = 10..12..20 W
steady = 11 W
more = chance(use > 13 W)
above = chance(steady > 11 W)
held = chance(use > 13 W) with use = 14 W
middle = percentile(steady, 50 %)
scenario Other
  use = 12..14..16 W
  steady = 10..12..20 W
scenario Certain
  use = 12 W`;

  test.each([
    ['more', 0, 61.25],
    ['more', 1, 87.5],
    ['above', 0, 0],
    // Above 11 W: 1 − (11 − 10)² / (10 × 2) = 95 %.
    ['above', 1, 95],
    ['more', 2, 0],
    ['held', 1, 100],
  ])('%s in column %i is near %d percent', (name, column, share) => {
    const { cells } = openSession(body).report(column, false);
    expect(Math.abs((cells[name]?.value as number) - share)).toBeLessThan(2.5);
  });

  test('is drawn for a percentile of a cell that is certain in the plan', () => {
    const session = openSession(body);
    expect(session.report(0, false).cells.middle?.value).toBe(11);
    // Half lies below 20 − √(0.5 × 10 × 8) = 13.68 W.
    expect(session.report(1, false).cells.middle?.value).toBeCloseTo(20 - Math.sqrt(40), 0);
  });
});
