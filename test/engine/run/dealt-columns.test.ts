// The columns of a notebook may be worked out by several workers, each with a session of its own. The
// page must then show what one session shows that worked out everything itself, in whatever order the
// answers come.

import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import {
  gathered,
  openSession,
  type Session,
  startShare,
  startStudies,
  type TrialShare,
} from '../../../engine/index.ts';

const folder = new URL('../../../notebooks/', import.meta.url);
const starters = readdirSync(folder)
  .filter((name) => ['battery', 'harvest', 'tour', 'rules'].some((one) => name === `${one}.dapple`))
  .map((name) => ({
    name,
    text: readFileSync(new URL(name, folder), 'utf8').replace(/^trials: .*$/mu, 'trials: 12'),
  }));

function finished(session: Session): Session {
  while (session.continue(1e9, () => 0));
  return session;
}

/** Columns dealt to so many hands, one after the other. */
function deal(columns: number, hands: number): Set<number>[] {
  return Array.from(
    { length: Math.min(columns, hands) },
    (_, hand) =>
      new Set(Array.from({ length: columns }, (_, c) => c).filter((c) => c % hands === hand)),
  );
}

test.each(starters)('$name worked out by two is as worked out by one', ({ text }) => {
  const alone = finished(openSession(text));
  const whole = startStudies(alone);
  while (whole.step(() => false));
  const bare = alone.snapshot();
  alone.adoptStudies(whole.result());
  const told = alone.snapshot();
  const total = bare.verdicts.length;
  const page = openSession(text);
  const parts = deal(total, 2).map((columns) => {
    const worker = openSession(text);
    while (worker.continue(1e9, () => 0, columns));
    const study = startStudies(worker, undefined, columns);
    while (study.step(() => false));
    return { results: worker.slowResults(columns), study: study.result() };
  });
  // The scenarios' answers may come before the plan's.
  parts.reverse();
  for (const { results } of parts) page.adopt(results);
  expect(page.snapshot()).toEqual(bare);
  const together = gathered(parts.map(({ study }) => study));
  if (whole.alive) {
    expect(together).toEqual(whole.result());
    page.adoptStudies(together);
    expect(page.snapshot()).toEqual(told);
  }
});

const SHARED = `dapple 1
trials: 330
seed: 3

begin = 2027-06-11 00:00
clock = timeline(from: begin, until: begin + 12 h, by: 1 h)
panel = 60..80..95 W
need = 30..40..55 W
given = panel × (clock - begin) / 6 h
store = running total(given - need, start: 100 Wh, least: 0 Wh, most: 300 Wh)
lowest store = lowest(store)
check lowest store ≥ 20 Wh
chart store as bands
`;

/** All shares but the first, as they come from workers of their own. */
function sharesOf(parts: number): TrialShare[] {
  return Array.from({ length: parts - 1 }, (_, k) => {
    const next = startShare(openSession(SHARED), 0, k + 1, parts);
    const found: TrialShare[] = [];
    for (let share = next(); share; share = next()) found.push(structuredClone(share));
    return found;
  }).flat();
}

test.each([
  { parts: 2, before: 0, order: 'as they come' },
  { parts: 2, before: 64, order: 'as they come' },
  // Some of the first share is worked here as well: it comes too late.
  { parts: 2, before: 200, order: 'as they come' },
  { parts: 4, before: 16, order: 'backwards' },
])(
  'trials in $parts shares, $before worked before others come, $order',
  ({ parts, before, order }) => {
    const alone = startStudies(openSession(SHARED));
    while (alone.step(() => false));
    const shared = startStudies(openSession(SHARED));
    for (let worked = 0; worked < before; worked += 8) shared.step(() => true);
    const shares = sharesOf(parts);
    // One after the other up to the last trial; what is left to the first worker is less than an even part.
    const begins = shares.map(({ from }) => from);
    expect(begins.slice(1)).toEqual(shares.slice(0, -1).map(({ from, count }) => from + count));
    expect(shares.at(-1)).toMatchObject({ from: 330 - (shares.at(-1)?.count ?? 0) });
    expect(begins[0]).toBeGreaterThan(0);
    expect(begins[0]).toBeLessThan(330 / parts);
    if (order === 'backwards') shares.reverse();
    for (const share of shares) shared.accept(0, share);
    // What is told on the way tells of as many trials as were worked or taken over.
    const [early] = shared.result().columns;
    for (const sample of early?.samples.values() ?? []) {
      expect(sample.length).toBe(early?.trials);
      expect(sample.every((v) => Number.isFinite(v))).toBe(true);
    }
    expect(early?.trials).toBeLessThan(330);
    let rounds = 0;
    for (; shared.trialsLeft; rounds++) shared.step(() => true);
    // Eight trials a round: what was taken over is not worked again.
    if (before < 165) expect(rounds).toBeLessThan(330 / parts / 8 + 2);
    expect(shared.result()).toEqual(alone.result());
  },
);
