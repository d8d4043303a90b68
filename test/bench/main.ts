// The bench: the engine against other ways to compute the same notebook, in turn within one process for
// each group of measures: what one group leaves behind (heaps of cells, code made for other shapes)
// slows all contenders of the next. Every opponent is first checked to give the same values.
// `npm run bench`, or with `-- --json FILE` to keep the measures, or with `-- --only WORD` for the groups
// that have the word in their name.

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { edits } from './edits.ts';
import { memory } from './memory.ts';
import { scalars } from './scalars.ts';
import { series } from './series.ts';
import { type Measure, measureLine, timingLine } from './table.ts';
import { trials } from './trials.ts';

type Group = () => Promise<{
  readonly timings: readonly string[];
  readonly measures: readonly Measure[];
}>;

const GROUPS: readonly (readonly [string, Group])[] = [
  ['memory', memory],
  ['scalars', scalars],
  ['edits', edits],
  ['series', series],
  ['trials', trials],
];

/** Works one group here; its times go to the console, its measures into a file. */
export async function workGroup(name: string, file: string): Promise<void> {
  const group = GROUPS.find(([one]) => one === name)?.[1];
  if (!group) throw new RangeError(`no group ${name}`);
  const { timings, measures } = await group();
  console.log(`\n${name}`);
  for (const line of timings) console.log(`  ${line}`);
  writeFileSync(file, JSON.stringify(measures));
}

/** The measures of a group that was worked in a process of its own. */
function measuresOf(name: string, folder: string): readonly Measure[] {
  const file = join(folder, `${name}.json`);
  const call = `workGroup(${JSON.stringify(name)}, ${JSON.stringify(file)})`;
  const program = `import { workGroup } from ${JSON.stringify(import.meta.url)}; await ${call};`;
  const { status } = spawnSync(process.execPath, ['--input-type=module', '--eval', program], {
    stdio: 'inherit',
  });
  if (status !== 0) throw new Error(`The group ${name} ended early.`);
  return JSON.parse(readFileSync(file, 'utf8')) as readonly Measure[];
}

export async function main(argv: readonly string[]): Promise<number> {
  const after = (flag: string): string | undefined => {
    const at = argv.indexOf(flag);
    return at < 0 ? undefined : argv[at + 1];
  };
  const [file, only] = [after('--json'), after('--only')];
  if (
    (argv.includes('--json') && file === undefined) ||
    (argv.includes('--only') && only === undefined)
  ) {
    console.error('Usage: npm run bench -- [--json FILE] [--only GROUP]');
    return 2;
  }
  const groups = GROUPS.filter(([name]) => only === undefined || name.includes(only));
  if (groups.length === 0) {
    console.error(`Groups: ${GROUPS.map(([name]) => name).join(', ')}.`);
    return 2;
  }
  const folder = mkdtempSync(join(tmpdir(), 'dapple-bench-'));
  let measures: readonly Measure[];
  try {
    measures = groups.flatMap(([name]) => measuresOf(name, folder));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  console.log(`\n${timingLine('measure', 'ratio', '10 % to 90 %', 'target')}`);
  for (const measure of measures) console.log(measureLine(measure));
  if (file !== undefined) {
    const kept = measures.map(({ name, ratio, target, better }) => ({
      name,
      ratio,
      target,
      better,
    }));
    writeFileSync(
      resolve(process.env.INIT_CWD ?? process.cwd(), file),
      `${JSON.stringify({ measures: kept }, null, 2)}\n`,
    );
  }
  return 0;
}
