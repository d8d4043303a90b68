// `npm test`: installs what is missing, runs every project of tests one after the other, and ends
// with one line, `N passed, N failed`. Fails when a test failed, when something broke outside a test,
// and when nothing ran. Arguments go to vitest: `npm test -- test/engine/physics`.

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { prepare, projectRoot } from '../../web/host/prepare.mjs';

const PROJECTS = ['unit', 'e2e'];

/**
 * @param {string} file
 * @returns {import('./count-reporter.mjs').Counts}
 */
function readCounts(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    // Vitest ended before it could count, for instance because the page does not build.
    return { passed: 0, failed: 0, skipped: 0, again: [] };
  }
}

/**
 * @param {string} project
 * @param {string} folder for the counts
 * @returns {import('./count-reporter.mjs').Counts}
 */
function runProject(project, folder) {
  const countsFile = join(folder, `${project}.json`);
  const { status } = spawnSync(
    process.execPath,
    [
      resolve(projectRoot, 'node_modules/vitest/vitest.mjs'),
      'run',
      '--project',
      project,
      '--passWithNoTests',
      '--reporter=default',
      `--reporter=${resolve(projectRoot, 'test/tools/count-reporter.mjs')}`,
      ...process.argv.slice(2),
    ],
    { cwd: projectRoot, stdio: 'inherit', env: { ...process.env, COUNTS_FILE: countsFile } },
  );
  const counts = readCounts(countsFile);
  return status !== 0 && counts.failed === 0 ? { ...counts, failed: 1 } : counts;
}

prepare();
const folder = mkdtempSync(join(tmpdir(), 'dapple-tests-'));
const counts = PROJECTS.map((project) => runProject(project, folder));
rmSync(folder, { recursive: true });

const passed = counts.reduce((sum, count) => sum + count.passed, 0);
const failed = counts.reduce((sum, count) => sum + count.failed, 0);
const skipped = counts.reduce((sum, count) => sum + count.skipped, 0);
for (const name of counts.flatMap((count) => count.again))
  process.stdout.write(`passed only when tried again: ${name}\n`);
if (skipped > 0) process.stdout.write(`${skipped} did not run\n`);
if (passed + failed === 0) process.stdout.write('No test ran.\n');
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
