// Counts what vitest ran and leaves the totals in the file that COUNTS_FILE names, for run-tests.mjs.
// Whatever went wrong outside a test counts as a failure: a file that does not load, a hook that
// throws, an error that nobody caught.

import { writeFileSync } from 'node:fs';

/**
 * @typedef {{
 *   readonly passed: number,
 *   readonly failed: number,
 *   readonly skipped: number,
 *   readonly again: readonly string[],
 * }} Counts `again` names the tests that failed first and passed when tried once more
 */

/** A vitest reporter. */
export default class CountReporter {
  /**
   * @param {ReadonlyArray<import('vitest/node').TestModule>} modules
   * @param {ReadonlyArray<unknown>} unhandledErrors
   * @returns {void}
   */
  onTestRunEnd(modules, unhandledErrors) {
    let passed = 0;
    let skipped = 0;
    /** @type {string[]} */
    const again = [];
    let failed = unhandledErrors.length;
    for (const module of modules) {
      if (module.errors().length > 0) failed++;
      for (const suite of module.children.allSuites()) if (suite.errors().length > 0) failed++;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (test.diagnostic()?.flaky) again.push(`${module.relativeModuleId}: ${test.name}`);
        if (state === 'passed') passed++;
        else if (state === 'failed') failed++;
        else skipped++;
      }
    }
    const file = process.env.COUNTS_FILE;
    if (file) writeFileSync(file, JSON.stringify({ passed, failed, skipped, again }));
  }
}
