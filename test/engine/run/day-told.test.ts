// A day found along the days of a timeline is told by its date, not by its first minute.

import { expect, test } from 'vitest';
import { report } from './evaluated.ts';

// The calendar: 15 May 2027 is a Saturday, 16 May a Sunday.
const DAYS = `clock = timeline(from: 2027-05-14 12:00, until: 2027-05-17 12:00, by: 60 min)
draw = if trip day(clock) = 2 then 40 W else 10 W
busiest = at highest(daily energy(draw))`;

test('the place of a day is its date', () => {
  const { busiest } = report(DAYS).cells;
  expect(busiest?.text).toBe('Sat 15 May');
  expect(busiest?.value).toBe('2027-05-15');
});

test('a time after it is a moment, and so is the midnight that was written', () => {
  const { cells } = report(
    `${DAYS}\nafter = busiest + 30 h\nmorrow = busiest + 24 h\narrival = 2027-05-15 00:00`,
  );
  expect(cells.after?.text).toBe('Sun 16 May 06:00');
  expect(cells.morrow?.text).toBe('Sun 16 May');
  expect(cells.arrival?.text).toBe('Sat 15 May 00:00');
});

test('a check that fails on a day names it', () => {
  const { checks } = report(`${DAYS}\ncheck daily energy(draw) < 500 Wh`);
  // 24 h × 40 W = 960 Wh
  expect(checks[0]?.text).toMatch(/960\sWh, Sat 15 May;/u);
});
