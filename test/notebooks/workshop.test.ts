// The workshop tells right from wrong: every blank is filled in by hand arithmetic, then spoiled.

import { expect, test } from 'vitest';
import { openSession, type Session } from '../../engine/index.ts';
import { textOf } from './read.ts';

interface Exercise {
  readonly blank: string;
  /** Worked by hand; what is written stands beside it. */
  readonly right: string;
  /** What a learner may well write instead. */
  readonly wrong: readonly string[];
}

const EXERCISES: readonly Exercise[] = [
  // 100 / 18 = 5.56
  { blank: 'panel current', right: '5.56 A', wrong: ['1800 A', '5 A'] },
  // 8 × 2.5
  { blank: 'lamp energy', right: '20 Wh', wrong: ['8 Wh', '17.6 Wh'] },
  // 45 × 0.33 × 24 = 356
  { blank: 'box day', right: '356 Wh', wrong: ['1080 Wh', '15 Wh'] },
  // 2 × 10 m × 7.98 Ω/km = 0.1596
  { blank: 'lead resistance', right: '0.16 Ω', wrong: ['0.08 Ω', '0.0798 Ω'] },
  // 5.56 × 0.16 = 0.89
  { blank: 'lead drop', right: '0.89 V', wrong: ['0.44 V', '0.95 V'] },
  // 0.89 / 18 = 4.94 %
  { blank: 'lead loss', right: '4.9 %', wrong: ['2.5 %', '5.4 %'] },
  // 43.2 × (1 + 0.0029 × 35) = 47.6
  { blank: 'cold voltage', right: '47.6 V', wrong: ['43.2 V', '23.8 V', '38.8 V'] },
  { blank: 'safe', right: '"no"', wrong: ['"yes"'] },
  // 870 / 320 = 2.72
  { blank: 'days', right: '2.7 d', wrong: ['2 d', '7.9 d'] },
  // 430 / 0.9 = 478
  { blank: 'sun needed', right: '478 Wh/d', wrong: ['430 Wh/d', '387 Wh/d', '473 Wh/d'] },
  // At 42.6 °N in mid June (declination 23.1°) the sun is 20° up when cos H = (sin 20° − sin 42.6°
  // sin 23.1°) / (cos 42.6° cos 23.1°) = 0.113: 83.5° or 5 h 34 min before its noon at 13:06.
  { blank: 'my guess', right: '07:32', wrong: ['06:30', '09:00'] },
];

function fill(
  session: Session,
  blank: string,
  text: string,
): { readonly state: string | undefined; readonly text: string | undefined } {
  expect(session.do({ do: 'formula', cell: blank, text })).toBe(true);
  const row = session.snapshot().rows.find((one) => one.kind === 'cell' && one.name === blank);
  const answer = row?.kind === 'cell' ? row.answer : undefined;
  return { state: answer?.state, text: answer?.text };
}

test('every blank stands in the list above', () => {
  const blanks = textOf('workshop')
    .match(/^answer (.*?) =/gm)
    ?.map((line) => line.slice(7, -2));
  expect(blanks).toEqual(EXERCISES.map((exercise) => exercise.blank));
});

test('every answer takes the right value, none of the wrong ones, and never tells the solution', () => {
  const session = openSession(textOf('workshop'));
  for (const { blank, right, wrong } of EXERCISES) {
    for (const spoiled of wrong) {
      const judged = fill(session, blank, spoiled);
      expect({ blank, spoiled, state: judged.state }).toEqual({ blank, spoiled, state: 'wrong' });
      expect(judged.text).not.toContain(right.replaceAll('"', ''));
    }
    expect({ blank, state: fill(session, blank, right).state }).toEqual({ blank, state: 'right' });
  }
  expect(session.report(0, false).messages).toEqual([]);
});

test('a formula is an answer too, and follows a changed given', () => {
  const session = openSession(textOf('workshop'));
  expect(fill(session, 'box day', 'box power × box share × 24 h').state).toBe('right');
  expect(session.do({ do: 'formula', cell: 'box share', text: '60 %' })).toBe(true);
  expect(fill(session, 'box day', 'box power × box share × 24 h').state).toBe('right');
  // 45 × 0.6 × 24 = 648: the old number is wrong now.
  expect(fill(session, 'box day', '356 Wh').state).toBe('wrong');
});
