// Every starter notebook, in its plan and in every scenario: nothing is misread, nothing breaks, every
// chart has what it draws, and each scenario comes out as its name promises.

import { describe, expect, test } from 'vitest';
import { openSession, type Session } from '../../engine/index.ts';
import { columnOf, NAMES, numberOf, open, seriesOf, textOf, withTrials } from './read.ts';

/** The blanks that a reader is meant to fill in. */
const BLANKS: Readonly<Record<string, readonly string[]>> = {
  tour: ['my current'],
  workshop: [
    'panel current',
    'lamp energy',
    'box day',
    'lead resistance',
    'lead drop',
    'lead loss',
    'cold voltage',
    'safe',
    'days',
    'sun needed',
    'my guess',
  ],
};

/** What each column must come to. The trip's hang on its trials: see the tests further down. */
const VERDICTS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  battery: {
    Plan: 'holds',
    'Two days of rain in three': 'fails',
    'Outlet left on': 'fails',
    'Hot week': 'fails',
    'Battery and controller apart': 'holds',
    // The likely run holds (23.6 % against 20 %), the odds of 51 % do not reach the 75 % asked for.
    "Half a day's drive": 'fails',
  },
  cable: {
    Plan: 'holds',
    'Side by side': 'fails',
    'Thin cable': 'fails',
    'Three in series': 'do not',
    'American sizes': 'holds',
  },
  'cool-box': {
    Plan: 'holds',
    'Hot week': 'fails',
    'Sun on the lid': 'fails',
    'In the closed car': 'do not',
  },
  harvest: { Plan: 'holds', 'Smaller panel': 'holds', 'Grey day': 'fails', 'In the open': 'holds' },
  'quiet-hours': {
    Plan: 'holds',
    'Battery still low': 'holds',
    "From five o'clock": 'fails',
    'Net at noon': 'holds',
  },
  rules: { Plan: 'holds' },
  tour: { Plan: 'holds', 'Longer evenings': 'fails', 'Far clearing': 'fails' },
  trial: { Plan: 'holds', 'Smoke in the air': 'holds', 'Read with the battery full': 'fails' },
};

function columns(session: Session): readonly string[] {
  return session.snapshot().verdicts.map((verdict) => verdict.name);
}

test('every notebook has its verdicts stated, or tests of its own', () => {
  expect([...NAMES].sort()).toEqual([...Object.keys(VERDICTS), 'trip', 'workshop'].sort());
});

describe.each(NAMES)('%s', (name) => {
  const session = openSession(withTrials(textOf(name), 150));
  const reports = columns(session).map((_, column) => session.report(column, false));

  test('evaluates in the plan and in every scenario without a message', () => {
    const blanks = BLANKS[name] ?? [];
    for (const report of reports) {
      expect(report.messages).toEqual([]);
      for (const [cell, value] of Object.entries(report.cells)) {
        expect({ cell, error: value.error }).toEqual({ cell, error: undefined });
        if (value.waits !== undefined) expect(blanks).toContain(value.waits);
      }
      for (const check of report.checks)
        expect({ check: check.name, holds: check.holds }).not.toEqual({
          check: check.name,
          holds: null,
        });
    }
    const empty = Object.entries(reports[0]?.cells ?? {}).filter(
      ([, cell]) => cell.kind === 'blank',
    );
    expect(empty.map(([cell]) => cell)).toEqual(blanks);
  });

  test('says first whom it serves, and has a caution and a chart', () => {
    const { rows } = session.snapshot();
    const first = rows.find((row) => row.kind !== 'heading');
    expect(first?.kind === 'prose' && first.text).toMatch(/^For /);
    expect(rows.some((row) => row.kind === 'safety')).toBe(true);
    const charts = rows.filter((row) => row.kind === 'chart');
    expect(charts.length).toBeGreaterThan(0);
    for (const chart of charts) {
      const data = session.chart(chart.item);
      expect({ chart: chart.title, state: data.state, text: data.text }).not.toMatchObject({
        state: 'error',
      });
      expect(data.state).not.toBe('waits');
    }
  });
});

describe.each(Object.keys(VERDICTS))('%s', (name) => {
  test('comes out as its text says', () => {
    const session = openSession(withTrials(textOf(name), 150));
    for (const column of columns(session).keys()) session.report(column, false);
    const found = session.snapshot().verdicts.map(({ name: column, state }) => [column, state]);
    const seen = Object.fromEntries(
      found.map(([column, state]) => [column, state === 'tight' ? 'holds' : state]),
    );
    expect(seen).toEqual(VERDICTS[name]);
  });
});

describe('the trip', () => {
  const session = openSession(withTrials(textOf('trip'), 60));
  const names = columns(session);
  const lowest = (scenario: string): number =>
    numberOf(
      session.report(scenario === 'Plan' ? 0 : session.columnOf(scenario), false),
      'lowest charge',
    );

  test('bites: the plan keeps its reserve but not twice over, and the scenarios sort by what they do', () => {
    expect(names).toEqual([
      'Plan',
      'Two grey days',
      'Hot week',
      'Quiet evenings',
      'Smaller panel',
      'Second panel on the car',
    ]);
    const plan = lowest('Plan');
    expect(plan).toBeGreaterThan(30);
    expect(plan).toBeLessThan(65);
    // Below the reserve of 20 %.
    for (const hard of ['Two grey days', 'Hot week', 'Smaller panel'])
      expect(lowest(hard)).toBeLessThan(20);
    expect(lowest('Quiet evenings')).toBeGreaterThan(20);
    expect(lowest('Quiet evenings')).toBeLessThan(plan - 5);
    expect(lowest('Second panel on the car')).toBeGreaterThan(plan + 5);
  });

  test('no scenario breaks a check whose failure is a hazard', () => {
    for (const [column] of names.entries()) {
      for (const row of session.snapshot().rows) {
        if (row.kind === 'check' && row.must) expect(row.values[column]?.state).toBe('holds');
      }
    }
  });

  test('holds in the trials that the notebook asks for', () => {
    const report = openSession(textOf('trip')).report(0, false);
    const odds = report.checks.find((check) => check.name.startsWith('odds'));
    expect(odds?.holds).toBe(true);
    expect(report.checks.filter((check) => check.holds !== true)).toEqual([]);
    // A fresh seed is another thousand trips; two such counts differ by less than 6 points in 99 of 100.
    const again = openSession(textOf('trip').replace(/^seed: .*$/m, 'seed: 4711')).report(0, false);
    expect(Math.abs(numberOf(again, 'odds') - numberOf(report, 'odds'))).toBeLessThan(6);
  });

  // Common practice in the trade: a panel shows about 80 % of its rating in midday sun, about 40 % with
  // one of its two halves in shade, and about an eighth under cloud. Bands: ± 8 and ± 8 points; an
  // overcast sky varies by about half (Kasten & Czeplak 1980), so half to one and a half times an eighth.
  test('shows what a meter shows in sun, in half shade and under cloud', () => {
    const report = open(
      'trip',
      'reading in sun = highest(harvest) / panel rating as %',
      'reading in half shade = highest(harvest, where: min(light, other light) ≤ 50 % × max(light, other light)) / panel rating as %',
      'reading under cloud = (highest(harvest) with weather.clear index = 25 %) / panel rating as %',
    ).report(0, false);
    expect(Math.abs(numberOf(report, 'reading in sun') - 80)).toBeLessThan(8);
    expect(Math.abs(numberOf(report, 'reading in half shade') - 40)).toBeLessThan(8);
    expect(numberOf(report, 'reading under cloud')).toBeGreaterThan(12.5 / 2);
    expect(numberOf(report, 'reading under cloud')).toBeLessThan((12.5 * 3) / 2);
  });

  test('the energy of every step is accounted for', () => {
    // Only without readings: a reading sets the charge by hand. Bus balance, then the cells' balance.
    const text = withTrials(textOf('trip'), 60).replace(
      /,\n\s+readings: log\.charge, read at: log\.moment/,
      '',
    );
    const report = openSession(
      `${text}\nstored sum = energy(store.stored) as Wh\noffered = energy(harvest) as Wh\nneeded = energy(load) as Wh\n`,
    ).report(0, true);
    const charge = seriesOf(report, 'charge');
    const inside = ((charge.at(-1) ?? Number.NaN) / 100 - 1) * numberOf(report, 'capacity');
    const withdrawn =
      numberOf(report, 'needed') +
      numberOf(report, 'stored sum') +
      numberOf(report, 'spilled') -
      numberOf(report, 'unserved') -
      numberOf(report, 'offered');
    expect(
      Math.abs(
        Math.sqrt(0.9) * numberOf(report, 'stored sum') - withdrawn / Math.sqrt(0.9) - inside,
      ),
    ).toBeLessThan(0.01);
    // The cool box in mild weather: 300 to 400 Wh a day with its lid and warm food (common practice).
    const box =
      seriesOf(report, 'box power')
        .slice(48, 48 + 96)
        .reduce((sum, power) => sum + power / 4, 0) + 75;
    expect(box).toBeGreaterThan(300);
    expect(box).toBeLessThan(400);
  });

  test('what is packed is what the table lists', () => {
    const report = session.report(0, true);
    // By hand: 7.5 + 12.5 + 14 + 46 + 9 + 6 + 4 + 18 kg; the panel 5.8 × 5.5 × 0.8 dm.
    expect(numberOf(report, 'laden')).toBeCloseTo(117, 6);
    expect(columnOf(report, 'packing', 'volume')[0]).toBeCloseTo(25.52, 6);
  });
});
