// Who works out what: every column's trials and what it put off go to exactly one worker, the plan is the
// first thing that anyone takes up, and the others take their shares of its trials.

import { expect, test } from 'vitest';
import { dealt, paceAfter, waitAfter } from '../../web/desk/studies.ts';

const counts = [1, 2, 3, 4, 6, 7].flatMap((columns) =>
  [1, 2, 3, 4].map((hands) => ({ columns, hands })),
);

test.each(counts)('$columns columns among $hands hands: each part once', ({ columns, hands }) => {
  const deal = dealt(columns, hands);
  expect(deal.length).toBeLessThanOrEqual(hands);
  expect(deal.every((own) => own.length > 0)).toBe(true);
  const whole = deal.flat().filter(({ work }) => work !== 'share');
  const all = whole.map(({ column, work }) => `${work} ${column}`);
  const wanted = Array.from({ length: columns }, (_, c) => [`slow ${c}`, `trials ${c}`]).flat();
  expect(all.toSorted()).toEqual(wanted.toSorted());
});

test.each(counts)('$columns columns among $hands hands: the plan first', ({ columns, hands }) => {
  const deal = dealt(columns, hands);
  expect(deal[0]?.[0]).toEqual({ column: 0, work: 'trials' });
  // What the plan put off waits for its trials only where one hand has to do both.
  const slow = hands > 1 ? deal[1]?.[1] : deal[0]?.[1];
  expect(slow).toEqual({ column: 0, work: 'slow' });
  for (const [nth, own] of deal.entries())
    expect(own.filter(({ work }) => work === 'share')).toEqual(
      nth === 0 ? [] : [{ column: 0, work: 'share', nth, parts: deal.length }],
    );
  if (deal.length > 1)
    expect(deal.slice(1).map(([first]) => first?.work)).toEqual(
      Array(deal.length - 1).fill('share'),
    );
  // Nobody works on a scenario before what it has of the plan.
  for (const own of deal)
    expect(own.map(({ column }) => column)).toEqual(
      own.map(({ column }) => column).toSorted((a, b) => a - b),
    );
});

test('a hand that moves is waited for as long as it moves, and no longer', () => {
  const steady = (gap: number): number => waitAfter(paceAfter(gap, gap));
  // Moves a frame apart: the next comes before the work would begin, which is begun within two frames.
  expect(steady(16)).toBeGreaterThan(16);
  expect(steady(16)).toBeLessThan(33);
  // A slow page, or one that draws unevenly, moves by itself at the pace at which it draws.
  for (const gap of [33, 50, 80, 110]) expect(steady(gap)).toBeGreaterThan(gap);
  expect(waitAfter(paceAfter(16, 50))).toBeGreaterThan(50);
  // An edit by itself is followed up when it is drawn, whatever moved before it.
  expect(waitAfter(paceAfter(400, 50))).toBe(4);
  expect(waitAfter(paceAfter(Number.POSITIVE_INFINITY, 0))).toBe(4);
});
