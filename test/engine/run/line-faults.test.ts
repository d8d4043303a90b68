// Lines that can be read but cannot do what they are for are told, at their place. What bounds,
// answers, checks and charts are for is the language's own definition (bounds "are checked on the plan
// and in scenarios"; dots are "two items on one axis").

import { describe, expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';

const HEAD = 'dapple 1\n\n';

/** `line:column code` of each message. */
function faults(body: string, head = HEAD): readonly string[] {
  return openSession(`${head}${body}\n`)
    .report(0, false)
    .messages.map(({ line, column, code }) => `${line}:${column} ${code}`);
}

function said(body: string): string {
  const { messages } = openSession(`${HEAD}${body}\n`).report(0, false);
  return messages.map(({ text }) => text.replaceAll('\u00a0', ' ')).join(' ');
}

describe('bounds', () => {
  test.each([
    ['a = 5 W [0 W..20 W]'],
    ['a = 5 W [0..20 W]'],
    ['a = 20 W [0..20 W]'],
    ['a = 5 W [5 W, 10 W]'],
    ['a = "yes" ["yes", "no"]'],
    ['a = 10 AWG [14 AWG..4 AWG]'],
    ['a = 10 AWG [4 AWG..14 AWG]'],
    ['a = 23:30 [21:00..06:00]'],
    ['a = 17:00..21:00 [00:00..24:00]'],
    ['a = 2027-05-14 [2027-05-01..2027-06-01]'],
    ['a = -0.35 %/K [-0.5 %/K..-0.25 %/K]'],
    ['a = 40..55..70 W [20 W..80 W]'],
    ['a = ? A [0..10 A]'],
  ])('%s keeps to them', (body) => {
    expect(faults(body)).toEqual([]);
  });

  test.each([
    ['a = 25 W [0 W..20 W]', '3:11 outside-bounds'],
    ['a = 7 W [5 W, 10 W]', '3:10 outside-bounds'],
    ['a = "maybe" ["yes", "no"]', '3:14 outside-bounds'],
    ['a = 2 AWG [14 AWG..4 AWG]', '3:12 outside-bounds'],
    ['a = 12:00 [21:00..06:00]', '3:12 outside-bounds'],
    ['a = 2027-07-14 [2027-05-01..2027-06-01]', '3:17 outside-bounds'],
    ['b = 4 W\na = 3 × b [0 W..10 W]', '4:12 outside-bounds'],
    ['a = 5 W [0 m..20 m]', '3:10 bounds-kind'],
    ['a = 5 W [0..20]', '3:10 bounds-kind'],
    ['a = 5 W ["x", "y"]', '3:10 bounds-kind'],
    ['a = 5 W [0..20 W by 5 V]', '3:21 bounds-kind'],
  ])('%s does not', (body, fault) => {
    expect(faults(body)).toEqual([fault]);
  });

  test('a scenario is told when it alone goes beyond; what is put in by "with" may', () => {
    const body = 'a = 5 W [0 W..20 W]\nb = 2 × a with a = 50 W\nscenario Far\n  a = 30 W';
    expect(faults(body)).toEqual(['3:10 outside-bounds']);
    expect(said(body)).toBe(
      'In the scenario "Far": "a" is 30 W, outside its bounds (0 W..20 W). Change the value or the bounds.',
    );
  });

  test('a bare bound of an amount is offered with its unit', () => {
    expect(said('a = 5 W [0..20]')).toContain('Write the unit: 0 W.');
  });

  test('a bare step has the unit of the high end: 10 of 100 Wh', () => {
    const row = openSession(`${HEAD}a = 50 Wh [0..100 Wh by 10]\n`)
      .snapshot()
      .rows.find((one) => one.kind === 'cell');
    expect(row?.kind === 'cell' && row.bounds?.step).toBeCloseTo(10, 12);
  });
});

describe('checks, answers and scenarios', () => {
  test.each([
    ['check 5 W', '3:7 check-question'],
    ['answer foo = 5 W', '3:8 answer-cell'],
    ['foo = ? W\nanswer foo = 5 V', '4:14 answer-kind'],
    ['foo = ? W\nanswer foo = 5 W\nanswer foo = 6 W', '5:8 answer-twice'],
    ['a = 5 W\nscenario x\n  a = 6 W\nscenario X\n  a = 7 W', '6:10 scenario-taken'],
  ])('%s', (body, fault) => {
    expect(faults(body)).toEqual([fault]);
  });

  test('what a reader puts in a blank may be of any kind: it is wrong, not broken', () => {
    expect(faults('foo = 5 V\nanswer foo = 5 W')).toEqual([]);
  });
});

describe('units of the header', () => {
  const shown = (units: string): string | undefined =>
    openSession(`dapple 1\nunits: ${units}\n\ntrip = 150 mi / (50 mph)\n`)
      .report(0, false)
      .cells.trip?.text.replaceAll('\u00a0', ' ');

  test('an American writes us and gets hours, not microseconds', () => {
    for (const units of ['us', 'US', 'imperial', 'metric']) expect(shown(units)).toBe('3 h');
  });

  test('each word that is no unit is told where it stands', () => {
    const text = 'dapple 1\nunits: metric,  watts, °C, Volt\n\na = 3 W\n';
    expect(
      openSession(text)
        .report(0, false)
        .messages.map(({ line, column, code }) => [line, column, code]),
    ).toEqual([
      [2, 17, 'units-wrong'],
      [2, 28, 'units-wrong'],
    ]);
  });
});

const CHARTED = `clock = timeline(from: 2027-05-14, until: 2027-05-16)
p = 5 W × during(clock, 06:00..18:00)
q = daily energy(p)
t = table
  item  | power | volts
  lamp  | 5 W   | 13 V
  radio | 20 W  | 12 V
  fan   | 8 W   | 12.5 V
foo = 3 W
bar = foo × 2
sun = sun position(clock)
`;

const PLACED = 'dapple 1\nplace: 45 °N, 7 °E, 600 m, UTC+2\n\n';

describe('charts', () => {
  test.each([
    ['chart p, 2 × p as stack'],
    ['chart t.power against t.volts'],
    ['chart bar against foo = 1 W..5 W'],
    ['chart p against foo = 1 W..5 W'],
    ['chart foo'],
    ['chart q as list'],
    ['chart sun.elevation'],
  ])('%s is drawn', (line) => {
    expect(faults(`${CHARTED}${line}`, PLACED)).toEqual([]);
  });

  test.each([
    ['chart p as pie', '12 chart-kind-unknown'],
    ['chart p as W', '12 chart-kind-unknown'],
    ['chart p, q', '10 chart-fit'],
    ['chart foo, p', '12 chart-fit'],
    ['chart bar against foo = 1 W..5 W as map', '7 chart-fit'],
    ['chart bar against foo', '7 chart-fit'],
    ['chart p as sky', '7 chart-fit'],
    ['chart p as influence', '7 chart-fit'],
    ['chart p as dots', '7 chart-fit'],
    ['chart p, p × 3 h as stack', '10 chart-fit'],
    ['chart foo as bars', '7 chart-fit'],
    ['chart clock', '7 chart-item'],
    ['chart sun', '7 chart-item'],
    ['chart t', '7 chart-item'],
    ['chart t.item', '7 chart-item'],
  ])('%s is not', (line, fault) => {
    const [column = '', code] = fault.split(' ');
    expect(faults(`${CHARTED}${line}`, PLACED)).toEqual([`15:${column} ${code}`]);
  });

  test('one item against another: a dot a place, in the order of the other', () => {
    const session = openSession(`${HEAD}${CHARTED}chart t.power against t.volts\n`);
    const row = session.snapshot().rows.find((one) => one.kind === 'chart');
    const data = session.chart(row?.item ?? -1);
    expect(data.kind).toBe('dots');
    expect(data.axis).toMatchObject({ kind: 'number', name: 't.volts', unit: 'V' });
    // 12, 12.5 and 13 V belong to the radio, the fan and the lamp.
    expect(data.axis.values).toEqual([12, 12.5, 13]);
    expect(data.series[0]?.values).toEqual([20, 8, 5]);
  });
});

// Steps of a timeline are of one length, so that a stay that is no whole number of them ends elsewhere;
// counted by hand.
describe('a timeline that its steps do not fill', () => {
  const clock = (from: string, until: string, by: string): string =>
    `clock = timeline(from: 2027-05-14 ${from}, until: 2027-05-14 ${until}, by: ${by})`;

  test.each([
    ['06:00', '15:05', '15 min', 'ends at Fri 14 May 15:00, the last 5 min are left out'],
    ['06:00', '15:10', '15 min', 'ends at Fri 14 May 15:15, 5 min later'],
    ['06:00', '18:20', '1 h', 'ends at Fri 14 May 18:00, the last 20 min are left out'],
    ['06:10', '19:00', '3 h', 'ends at Fri 14 May 18:10, the last 50 min are left out'],
  ])('from %s until %s by %s', (from, until, by, end) => {
    expect(faults(clock(from, until, by))).toEqual(['3:9 timeline-part']);
    expect(said(clock(from, until, by))).toContain(end);
  });

  test.each([
    ['06:00', '15:00', '15 min'],
    ['06:05', '15:05', '15 min'],
    ['06:00', '18:00', '1 h'],
  ])('from %s until %s by %s is filled', (from, until, by) => {
    expect(faults(clock(from, until, by))).toEqual([]);
  });

  test('is told of a scenario that lays it out anew', () => {
    const body = `${clock('06:00', '18:00', '1 h').replace('2027-05-14 18:00', 'leave')}
leave = 2027-05-14 18:00
scenario Early
  leave = 2027-05-14 16:20`;
    expect(faults(body)).toEqual(['3:9 timeline-part']);
    expect(said(body)).toContain('In the scenario "Early"');
    expect(said(body)).toContain('the last 20 min are left out');
  });
});

test('the rows that a table has are named as they are written', () => {
  const body = `t = table
  day | draw
  2027-05-14 | 2 W
  2027-05-15 | 3 W
u = table
  reach | draw
  1 ft | 2 W
  2 ft | 3 W
scenario Other
  t.draw(2027-05-16) = 3 W
  u.draw(3 ft) = 3 W`;
  const { messages } = openSession(`dapple 1\n\n${body}\n`).report(0, false);
  expect(messages.map(({ text }) => text)).toEqual([
    'The table "t" has no such row. Its rows are 2027-05-14, 2027-05-15.',
    'The table "u" has no such row. Its rows are 1 ft, 2 ft.',
  ]);
});
