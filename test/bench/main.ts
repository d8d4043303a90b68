// The bench: the engine against other ways to compute the same notebook, in one process and in turn.
// Every opponent is first checked to give the same values. `npm run bench`, or with `-- --json FILE`
// to keep the measures, or with `-- --only WORD` for the groups that have the word in their name.

import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
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

/** Memory comes first, while little else is in it. */
const GROUPS: readonly (readonly [string, Group])[] = [
  ['memory', memory],
  ['scalars', scalars],
  ['edits', edits],
  ['series', series],
  ['trials', trials],
];

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
  const measures: Measure[] = [];
  for (const [name, group] of groups) {
    const done = await group();
    console.log(`\n${name}`);
    for (const line of done.timings) console.log(`  ${line}`);
    measures.push(...done.measures);
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
