// The browser is killed while edits are made. A share of the kills; many are done by hand with
// `node engine/cli/launch.mjs test/e2e/kill-many.ts`, see DEVELOPERS.md for what they showed.

import { expect } from 'vitest';
import { test } from './harness.ts';
import { killOnce } from './killed-browser.ts';

for (const after of [330, 710, 1190]) {
  test(`killed after ${after} ms, no edit older than 10 ms is lost`, async ({
    address,
    browserPath,
  }) => {
    const kill = await killOnce(browserPath, address, after);
    expect(kill.made).toBeGreaterThan(2);
    expect(kill.found).toBeGreaterThanOrEqual(kill.due);
    expect(kill.messages).toBe(0);
  });
}
