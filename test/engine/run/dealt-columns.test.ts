// The columns of a notebook may be worked out by several workers, each with a session of its own. The
// page must then show what one session shows that worked out everything itself, in whatever order the
// answers come.

import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { gathered, openSession, type Session, startStudies } from '../../../engine/index.ts';

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
