// The battery dies in the middle of an edit. Three kills with the other tests; more by hand:
// `KILLS=200 npx vitest run --project e2e test/e2e/storage-kill.test.ts`.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { test } from './harness.ts';
import { type Killed, killWhileEditing } from './killed-browser.ts';

const KILLS = Number(process.env.KILLS ?? 3);

/** What a kill may cost on an idle machine, ms: what came later had no time to reach the disk. */
const WANTED = 10;
/** On a machine busy with other work, some of that time passes before the browser looks at an edit. */
const OLDEST_LOST = 250;

/** Between two edits, ms, in turn: as fast as they come, as a held key, as a quick hand. */
const PACES = [0, 15, 60] as const;

const PATIENCE = 60_000;

function inWords(all: readonly Killed[]): string {
  const sum = (of: (killed: Killed) => number): number =>
    all.reduce((total, killed) => total + of(killed), 0);
  const oldest = Math.max(0, ...all.map((killed) => killed.oldestLost));
  const struck = all.filter((killed) => killed.lost > 0).length;
  const late = all.filter((killed) => killed.oldestLost > WANTED).length;
  return `${all.length} kills, ${sum((one) => one.edits)} edits: ${sum((one) => one.lost)} lost in ${struck} kills, the oldest ${oldest.toFixed(1)} ms old; older than ${WANTED} ms in ${late} kills`;
}

test('in a kill no edit is lost that had time to reach the disk, and no notebook is damaged', {
  timeout: PATIENCE * KILLS,
}, async ({ browserPath, address }) => {
  const profile = mkdtempSync(join(tmpdir(), 'dapple-kill-'));
  const all: Killed[] = [];
  try {
    for (let n = 0; n < KILLS; n++) {
      const editing = Math.random() * 900;
      const between = PACES[n % PACES.length] ?? 0;
      const killing = { browserPath, address, profile, editing, between };
      const killed = await killWhileEditing(killing, n === 0);
      all.push(killed);
      if (killed.lost > 0 || n % 20 === 19) console.log(`${n + 1}: ${JSON.stringify(killed)}`);
      expect.soft(killed.edits).toBeGreaterThan(0);
      expect.soft(killed.damage).toBe('');
      expect.soft(killed.oldestLost).toBeLessThanOrEqual(OLDEST_LOST);
    }
  } finally {
    rmSync(profile, { recursive: true, force: true });
  }
  console.log(inWords(all));
  expect(all).toHaveLength(KILLS);
});
