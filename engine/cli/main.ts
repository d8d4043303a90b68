// The command line: reads a notebook, prints every cell's value and unit, the checks and the messages.
// Exit 0 when all is read and evaluated, 1 when the notebook has errors, 2 for wrong use.

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  checkWords,
  openSession,
  type Report,
  type ReportCell,
  type Session,
  type Snapshot,
} from '../index.ts';
import { resultApart, type Told, withResult } from './added-result.ts';
import { helpText, type StudyOptions, studyTables, tableText } from './studies.ts';

const MOST_TRIALS = 10_000;

const USAGE = `Usage: npm run --silent evaluate -- FILE [--json] [--scenario NAME] [--full] [--expression "FORMULA"]

  FILE            a notebook (.dapple), or - for standard input
  --json          print one JSON object instead of text
  --scenario NAME the values of a scenario instead of the plan's
  --full          list whole series and tables
  --expression F  add one cell called "result" with this formula
  --trials N      run N trials of the uncertain givens: how often the checks hold, how results spread
  --influence C   which uncertain givens move cell C most
  --sweep "GIVEN from A to B by C"  every single result along a given
  --csv           print the tables of these studies as CSV
  --help NAME     explain a function, a unit, a joining word or a message; --help functions and --help messages list them
`;

interface Wanted {
  readonly file: string;
  readonly json: boolean;
  readonly full: boolean;
  readonly scenario: string | undefined;
  readonly expression: string | undefined;
  readonly studies: StudyOptions;
}

function read(argv: readonly string[]): Wanted | string {
  let [file, json, full]: [string | undefined, boolean, boolean] = [undefined, false, false];
  let scenario: string | undefined;
  let expression: string | undefined;
  let [trials, influence, sweep]: [number | undefined, string | undefined, string | undefined] = [
    undefined,
    undefined,
    undefined,
  ];
  let csv = false;
  for (let i = 0; i < argv.length; i++) {
    const word = argv[i] as string;
    const value = (): string | undefined => argv[++i];
    if (word === '--json') json = true;
    else if (word === '--full') full = true;
    else if (word === '--scenario') {
      scenario = value();
      if (scenario === undefined) return '--scenario needs a name.';
    } else if (word === '--expression') {
      expression = value();
      if (expression === undefined) return '--expression needs a formula.';
    } else if (word === '--csv') csv = true;
    else if (word === '--trials') {
      trials = Number(value());
      if (!(Number.isInteger(trials) && trials >= 1 && trials <= MOST_TRIALS))
        return `--trials needs a whole number from 1 to ${MOST_TRIALS}.`;
    } else if (word === '--influence') {
      influence = value();
      if (influence === undefined) return '--influence needs the name of a cell.';
    } else if (word === '--sweep') {
      sweep = value();
      if (sweep === undefined) return '--sweep needs "GIVEN from A to B by C".';
    } else if (word.startsWith('--')) return `There is no option ${word}.`;
    else if (file !== undefined) return `One file at a time: "${file}" and "${word}".`;
    else file = word;
  }
  if (file === undefined) return 'Which notebook? Name a file, or - for standard input.';
  if (csv && trials === undefined && influence === undefined && sweep === undefined)
    return '--csv prints tables of --trials, --influence or --sweep; name one of them.';
  return { file, json, full, scenario, expression, studies: { trials, influence, sweep, csv } };
}

export async function main(argv: readonly string[]): Promise<number> {
  if (argv.at(-1) === '--help') {
    process.stdout.write(USAGE);
    return 0;
  }
  if (argv[0] === '--help') {
    // A name of several words needs no quotes.
    const name = argv.slice(1).join(' ');
    const help = helpText(name);
    if (help === undefined) {
      process.stderr.write(`Nothing is called "${name}". --help functions lists the functions.\n`);
      return 2;
    }
    process.stdout.write(help);
    return 0;
  }
  const wanted = read(argv);
  if (typeof wanted === 'string') {
    process.stderr.write(`${wanted}\n\n${USAGE}`);
    return 2;
  }
  let text: string;
  try {
    text =
      wanted.file === '-'
        ? readFileSync(0, 'utf8')
        : readFileSync(resolve(process.env.INIT_CWD ?? process.cwd(), wanted.file), 'utf8');
  } catch (error) {
    process.stderr.write(`Cannot read "${wanted.file}": ${whyUnread(error)}\n`);
    return 2;
  }
  const added = wanted.expression === undefined ? undefined : withResult(text, wanted.expression);
  const session = openSession(added?.text ?? text);
  const column = wanted.scenario === undefined ? 0 : session.columnOf(wanted.scenario);
  if (column < 0) {
    const names = session
      .snapshot()
      .verdicts.slice(1)
      .map((v) => `"${v.name}"`);
    process.stderr.write(
      `There is no scenario "${wanted.scenario}". ${names.length > 0 ? `There are ${names.join(', ')}.` : 'The notebook has none.'}\n`,
    );
    return 2;
  }
  const asked = studyTables(session, column, wanted.studies);
  if (typeof asked === 'string') {
    process.stderr.write(`${asked}\n`);
    return 2;
  }
  if (wanted.studies.csv && asked.length > 0) {
    process.stdout.write(asked.map((table) => tableText(table, true)).join('\n'));
    return session.snapshot().messages.some((message) => !NOT_ERRORS.has(message.code)) ? 1 : 0;
  }
  const whole = session.report(column, wanted.full);
  const report = added ? resultApart(whole, added) : whole;
  process.stdout.write(
    wanted.json
      ? `${JSON.stringify(asked.length > 0 ? { ...report, studies: asked } : report, null, 2)}\n`
      : textOf(report, session.snapshot(), column, wanted.full) +
          (column === 0 ? answersOf(session) : '') +
          asked.map((table) => `\n${tableText(table, false)}`).join(''),
  );
  return report.messages.some((message) => !NOT_ERRORS.has(message.code)) ? 1 : 0;
}

function placeOf({ of, line, column }: Told): string {
  return of === undefined ? `${line}:${column}` : `expression, column ${column}:`;
}

function whyUnread(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'ENOENT') return 'there is no such file.';
  if (code === 'EISDIR') return 'it is a folder.';
  if (code === 'EACCES') return 'it may not be read.';
  return error instanceof Error ? error.message : String(error);
}

/** Messages that tell something and break nothing. */
const NOT_ERRORS: ReadonlySet<string> = new Set([
  'hides-function',
  'outside-bounds',
  'timeline-part',
]);

function textOf(
  report: Omit<Report, 'messages'> & { readonly messages: readonly Told[] },
  snapshot: Snapshot,
  column: number,
  full: boolean,
): string {
  const lines: string[] = [];
  const verdict = snapshot.verdicts[column]?.headline ?? '';
  if (report.title !== '') lines.push(report.title, '');
  if (verdict !== '') lines.push(verdict, '');
  const names = Object.keys(report.cells);
  const width = Math.min(
    28,
    names.reduce((w, name) => Math.max(w, name.length), 0),
  );
  for (const name of names) {
    const cell = report.cells[name] as ReportCell;
    lines.push(`${name.padEnd(width)}  ${said(cell)}`);
    if (full && (cell.kind === 'series' || cell.kind === 'table' || cell.kind === 'record'))
      lines.push(`${' '.repeat(width + 2)}${JSON.stringify(cell.value)}`);
  }
  if (report.checks.length > 0) lines.push('', ...checksOf(snapshot, column));
  if (report.messages.length > 0)
    lines.push('', ...report.messages.map((message) => `${placeOf(message)} ${message.text}`));
  return `${lines.join('\n')}\n`;
}

/** Every check with what it comes to and its margin in words. */
function checksOf(snapshot: Snapshot, column: number): readonly string[] {
  return snapshot.rows.flatMap((row) => {
    const check = row.kind === 'check' ? row.values[column] : undefined;
    if (row.kind !== 'check' || !check) return [];
    const mark = check.state === 'holds' ? '✓' : check.state === 'fails' ? '✗' : '?';
    return [`${mark} ${row.formula}: ${checkWords(check)}`];
  });
}

/** How the blanks stand: right, or wrong by how much; never the solution. */
function answersOf(session: Session): string {
  const lines = session.snapshot().rows.flatMap((row) => {
    if (row.kind !== 'cell' || !row.answer) return [];
    const { state, text, note } = row.answer;
    const mark = state === 'right' ? '✓' : state === 'wrong' ? '✗' : '?';
    const hint = state === 'wrong' && note !== '' ? ` Hint: ${note}.` : '';
    return [`${mark} ${row.name}: ${text || 'to be filled in'}${hint}`];
  });
  return lines.length > 0 ? `\nAnswers\n${lines.join('\n')}\n` : '';
}

function said(cell: ReportCell): string {
  if (cell.error !== undefined) return `error: ${cell.error}`;
  return cell.text;
}
