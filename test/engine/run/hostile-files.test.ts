// Files made up at random, with the worst that a person or a program could put in: nothing is thrown,
// the text stays as it is, and no cell stands there without a number and without a word. More of them:
// `CASES=100000 CASES_FROM=0 npx vitest run --project unit test/engine/run/hostile-files.test.ts`; with
// `SLOW_FILES=path` the numbers of those that take more than a second are written there.

import { appendFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { openSession } from '../../../engine/index.ts';
import { testCases } from '../../tools/test-cases.ts';
import { hostileFile } from './hostile-file.ts';
import { silentCells } from './silent-cells.ts';

const CASES = testCases(60);
/**
 * Numbers of files that once went wrong: no word for a root of a negative number (142), an angle too
 * large for degrees (1282), a fall over a circle that a scenario ends (4318), trials within steps that
 * were not counted (11685), a table's rows read beyond their end in a sweep (5383), a solve that ran
 * a sweep at each place (2683), an absent entry put in place of a cell (12343, 20286).
 */
const KEPT = [142, 1282, 4318, 11_685, 5383, 2683, 12_343, 20_286];
const FROM = Number(process.env.CASES_FROM ?? 0);
const SLOW_FILES = process.env.SLOW_FILES ?? '';

test('hostile files', { timeout: 60_000 + CASES * 10_000 }, () => {
  const wrong: string[] = [];
  const seeds = [...KEPT, ...Array.from({ length: CASES }, (_, i) => FROM + i)];
  for (const seed of seeds) {
    const text = hostileFile(seed);
    const known = wrong.length;
    const start = performance.now();
    try {
      for (const cell of silentCells(text)) wrong.push(`${seed}: ${cell}`);
      if (openSession(text).text !== text) wrong.push(`${seed}: another text`);
    } catch (error) {
      wrong.push(`${seed}: ${error instanceof Error ? (error.stack ?? error.message) : error}`);
    }
    const took = performance.now() - start;
    if (SLOW_FILES && took > 1000) appendFileSync(SLOW_FILES, `${seed} ${Math.round(took)}\n`);
    for (const one of SLOW_FILES ? wrong.slice(known) : []) appendFileSync(SLOW_FILES, `${one}\n`);
    if (SLOW_FILES && seed % 1000 === 999) appendFileSync(SLOW_FILES, `reached ${seed}\n`);
  }
  expect(wrong).toEqual([]);
});
