// The command line as a person types it: the real command on notebooks made up here, its output and
// its exit code. One process a call, so the calls are few and each is looked at closely.

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Report } from '../../../engine/index.ts';
import { projectRoot } from '../../../web/host/prepare.mjs';

const SLOW = 60_000;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'dapple-cli-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Outcome {
  readonly exit: number | null;
  readonly out: string;
  readonly err: string;
}

function evaluate(words: readonly string[], input = ''): Outcome {
  const done = spawnSync('npm', ['run', '--silent', 'evaluate', '--', ...words], {
    cwd: projectRoot,
    input,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  return { exit: done.status, out: done.stdout, err: done.stderr };
}

function json(outcome: Outcome): Report {
  return JSON.parse(outcome.out) as Report;
}

function file(name: string, text: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

// ── samples ─────────────────────────────────────────────────────────────────────────────────────

interface Expected {
  readonly exit: number;
  readonly title: string;
  readonly cells: Readonly<Record<string, object>>;
  readonly checks: readonly {
    readonly name: string;
    readonly holds: boolean | null;
    readonly margin: number | null;
  }[];
  readonly messages: readonly object[];
  readonly scenarios: Readonly<Record<string, Readonly<Record<string, number>>>>;
}

const samples = new URL('../../samples/', import.meta.url);

/** The same with every number rounded to twelve figures, so that the last bit does not matter. */
function rounded(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value), (_, v: unknown) =>
    typeof v === 'number' ? Number(v.toPrecision(12)) : v,
  );
}

describe.each(readdirSync(samples))('the sample %s', (name) => {
  const input = new URL(`${name}/input.dapple`, samples).pathname;
  const expected = JSON.parse(
    readFileSync(new URL(`${name}/expected.json`, samples), 'utf8'),
  ) as Expected;

  test('evaluates to what was worked by hand', { timeout: SLOW }, () => {
    const outcome = evaluate([input, '--json']);
    const found = json(outcome);
    expect(outcome).toMatchObject({ exit: expected.exit, err: '' });
    expect(Object.keys(found).sort()).toEqual(['cells', 'checks', 'messages', 'title']);
    expect(found.title).toBe(expected.title);
    for (const cell of Object.values(found.cells)) {
      expect(typeof cell.kind).toBe('string');
      expect(typeof cell.unit).toBe('string');
      expect(typeof cell.text).toBe('string');
    }
    expect(rounded(found.cells)).toMatchObject(rounded(expected.cells) as object);
    expect(found.checks).toHaveLength(expected.checks.length);
    expect(rounded(found.checks)).toMatchObject(rounded(expected.checks) as object);
    expect(found.messages).toHaveLength(expected.messages.length);
    expect(found.messages).toMatchObject(expected.messages);
    for (const message of found.messages) expect(message.text.length).toBeGreaterThan(10);
    for (const [scenario, values] of Object.entries(expected.scenarios)) {
      const { cells } = json(evaluate([input, '--json', '--scenario', scenario]));
      for (const [cell, value] of Object.entries(values))
        expect(cells[cell]?.value).toBeCloseTo(value, 9);
    }
  });
});

// ── the ways to call it ─────────────────────────────────────────────────────────────────────────

const SMALL =
  'dapple 1\ntitle: Small\n\npower = 100 W\nwork = power × 4 h as Wh\ncheck work ≥ 300 Wh\nscenario Half\n  power = 50 W\n';

describe('the command', () => {
  test('prints text with a verdict for people', { timeout: SLOW }, () => {
    const { exit, out, err } = evaluate([file('small.dapple', SMALL)]);
    expect({ exit, err }).toEqual({ exit: 0, err: '' });
    expect(out.replace(/\u00a0/g, ' ')).toBe(
      'Small\n\nThe plan holds\n\npower  100 W\nwork   400 Wh\n\n✓ work ≥ 300 Wh: work 400 Wh; limit 300 Wh; 100 Wh to spare\n',
    );
  });

  test('reads standard input, and a scenario', { timeout: SLOW }, () => {
    const outcome = evaluate(['-', '--scenario', 'half', '--json'], SMALL);
    expect(outcome.exit).toBe(0); // a check that fails is no error of the notebook
    expect(json(outcome).cells.work).toMatchObject({ value: 200, unit: 'Wh' });
    expect(json(outcome).checks[0]).toMatchObject({ holds: false, margin: -100 });
  });

  test('adds one cell called result', { timeout: SLOW }, () => {
    const outcome = evaluate(['-', '--json', '--expression', 'work / 2 as kWh'], SMALL);
    expect(outcome.exit).toBe(0);
    expect(json(outcome).cells.result).toMatchObject({ kind: 'quantity', value: 0.2, unit: 'kWh' });
    const broken = evaluate(['-', '--json', '--expression', 'work + power'], SMALL);
    expect(broken.exit).toBe(1);
    expect(json(broken).messages.map((m) => m.code)).toEqual(['dimensions-differ']);
    expect(json(broken).cells.work?.value).toBe(400);
  });

  test('calls it result beside a cell of that name', { timeout: SLOW }, () => {
    const text = 'dapple 1\n\nresult = 5 W\nb = result × 2\n';
    const { exit, out } = evaluate(['-', '--json', '--expression', 'result × 3'], text);
    expect(exit).toBe(0);
    expect((JSON.parse(out) as Report).cells).toMatchObject({
      result: { value: 15, unit: 'W' },
      'result (in the notebook)': { value: 5, unit: 'W' },
      b: { value: 10, unit: 'W' },
    });
  });

  test('says of a message that it is of the expression', { timeout: SLOW }, () => {
    const broken = evaluate(['-', '--json', '--expression', 'work + nothing like it'], SMALL);
    expect(json(broken).messages).toMatchObject([
      // "nothing" is the eighth letter of what was typed.
      { of: 'expression', line: 1, column: 8, code: 'unknown-name' },
    ]);
  });

  test('and says where in it', { timeout: SLOW }, () => {
    const { out } = evaluate(['-', '--expression', 'work + nothing like it'], SMALL);
    expect(out).toContain('\nexpression, column 8: ');
  });

  test('adds it to a header alone, and to nothing', { timeout: SLOW }, () => {
    for (const text of ['dapple 1\ntitle: Empty', 'dapple 1\n', '']) {
      const outcome = evaluate(['-', '--json', '--expression', '2 × 3 m'], text);
      expect(outcome.exit).toBe(0);
      expect(json(outcome).cells.result).toMatchObject({ value: 6, unit: 'm' });
    }
  });

  test('lists whole series with --full', { timeout: SLOW }, () => {
    const text =
      'dapple 1\n\nclock = timeline(from: 2027-05-14, until: 2027-05-15, by: 6 h)\np = 10 W × during(clock, 06:00..18:00)\n';
    const short = json(evaluate(['-', '--json'], text)).cells.p?.value;
    expect(short).toEqual({ length: 4, first: 0, last: 0, min: 0, max: 10, mean: 5 });
    const full = json(evaluate(['-', '--json', '--full'], text)).cells.p?.value;
    expect(full).toMatchObject({ length: 4, values: [0, 10, 10, 0] });
  });

  test('names a record’s parts', { timeout: SLOW }, () => {
    const text =
      'dapple 1\nplace: 44.5 °N, 110.2 °W, 2100 m, UTC-6\n\nsun = sun position(2027-06-21 13:00)\n';
    const { kind, value } = json(evaluate(['-', '--json'], text)).cells.sun ?? {};
    expect(kind).toBe('record');
    expect(Object.keys(value as object)).toEqual(['elevation', 'azimuth', 'distance factor']);
  });

  test('keeps the spelling of names, also those that mean something to the machine', {
    timeout: SLOW,
  }, () => {
    const text = 'dapple 1\n\nPanel Rating’s Half = 3 W\nconstructor = 2\ntoString = 3\n';
    const { cells } = json(evaluate(['-', '--json'], text));
    expect(Object.keys(cells)).toEqual(['Panel Rating’s Half', 'constructor', 'toString']);
  });

  test('reads files with CRLF and a byte order mark', { timeout: SLOW }, () => {
    const outcome = evaluate([
      file('crlf.dapple', `\ufeff${SMALL.replaceAll('\n', '\r\n')}`),
      '--json',
    ]);
    expect(outcome.exit).toBe(0);
    expect(json(outcome).cells.work?.value).toBe(400);
    expect(json(outcome).messages).toEqual([]);
  });

  test('reads a file of a newer version as far as it can, and says so', { timeout: SLOW }, () => {
    const outcome = evaluate(['-', '--json'], SMALL.replace('dapple 1', 'dapple 7'));
    expect(outcome.exit).toBe(1);
    expect(json(outcome).messages.map((m) => [m.code, m.line])).toEqual([['version-newer', 1]]);
    expect(json(outcome).cells.work?.value).toBe(400);
  });

  test('says that an empty file is no notebook', { timeout: SLOW }, () => {
    const outcome = evaluate([file('empty.dapple', ''), '--json']);
    expect(outcome.exit).toBe(1);
    expect(json(outcome)).toMatchObject({
      cells: {},
      checks: [],
      messages: [{ code: 'header-missing', line: 1 }],
    });
  });

  test('does not choke on bytes that are no text', { timeout: SLOW }, () => {
    const bytes = Uint8Array.from([
      ...Buffer.from('dapple 1\n\na = 3 W\nb = '),
      0xff,
      0xfe,
      0x00,
      0x0a,
    ]);
    const outcome = evaluate([file('bytes.dapple', bytes), '--json']);
    expect(outcome.exit).toBe(1);
    expect(json(outcome).cells.a?.value).toBe(3);
  });

  test('a hidden function is told and is no error', { timeout: SLOW }, () => {
    const outcome = evaluate(['-', '--json'], 'dapple 1\n\nsum = 3\n');
    expect(outcome.exit).toBe(0);
    expect(json(outcome).messages.map((m) => m.code)).toEqual(['hides-function']);
  });
});

test('--help explains a message by what it means, what to do and a sample', {
  timeout: SLOW,
}, () => {
  const { exit, out } = evaluate(['--help', 'root-negative']);
  expect(exit).toBe(0);
  expect(out).toContain('taken of something below zero. Only 0 and what is above it have one');
  expect(out).toContain('a = sqrt(x - 3)');
});

test('--help takes a name of several words with or without quotes', { timeout: SLOW }, () => {
  const apart = evaluate(['--help', 'plane', 'light']);
  expect(apart.exit).toBe(0);
  expect(apart.out).toMatch(/^plane light\(/u);
  expect(evaluate(['--help', 'plane light'])).toEqual(apart);
  expect(evaluate(['--help', 'no', 'such'])).toMatchObject({ exit: 2, out: '' });
});

test('a failed what-if, a circle and an uncertain given, as a program reads them', {
  timeout: SLOW,
}, () => {
  // The circle is ended by b = 3: 3 + 1. 80..100..120 has its middle at 100; × 4 h is 400 Wh.
  const text =
    'dapple 1\n\na = b + 1\nb = a × 2\nc = a with b = 3\nrating = 80..100..120 W\nharvest = rating × 4 h as Wh\nx = 0\ny = harvest / x\nz = y with x = 2\n';
  const outcome = evaluate(['-', '--json'], text);
  const { cells, messages } = json(outcome);
  expect(outcome.exit).toBe(1);
  expect(messages.map(({ code, line, column }) => [code, line, column])).toEqual([
    ['circle', 4, 5],
    ['divided-by-zero', 9, 15],
  ]);
  expect(cells.a).toMatchObject({ value: null, waits: 'b' });
  expect(cells.b).toMatchObject({ value: null, error: messages[0]?.text });
  expect([cells.c?.value, cells.harvest?.value, cells.z?.value]).toEqual([4, 400, 200]);
});

describe('wrong use ends with 2 and says what is wrong', () => {
  test.each([
    [[], 'Which notebook?'],
    [['no such file.dapple'], 'Cannot read "no such file.dapple": there is no such file.'],
    [['.'], 'Cannot read ".": it is a folder.'],
    [['-', '--csv'], '--csv prints tables of --trials, --influence or --sweep'],
    [['-', '--influence', 'nope'], 'There is no cell called "nope".'],
    [['-', '--influence', 'work'], 'No uncertain given moves "work"'],
    [['-', '--trials', '0'], '--trials needs a whole number from 1 to 10000'],
    [['-', '--sweep', 'power 1 to 2'], 'A sweep is written'],
    [['-', '--jsn'], 'There is no option --jsn.'],
    [['a', 'b'], 'One file at a time'],
    [['-', '--scenario'], '--scenario needs a name'],
    [['-', '--expression'], '--expression needs a formula'],
    [['-', '--scenario', 'Third'], 'There is no scenario "Third". There are "Half"'],
  ])('%j', { timeout: SLOW }, (words, text) => {
    const { exit, out, err } = evaluate(words, SMALL);
    expect(exit).toBe(2);
    expect(out).toBe('');
    expect(err).toContain(text);
  });
});

test('how the blanks stand is said below the cells, and never the solution', {
  timeout: SLOW,
}, () => {
  const path = file(
    'blanks.dapple',
    'dapple 1\n\nlamp = 5 W\nright = 0.4 A\nwrong = 0.8 A\nopen = ? A\n' +
      'answer right = lamp / 12.5 V\nanswer wrong = lamp / 12.5 V -- power over voltage\nanswer open = lamp / 12.5 V\n',
  );
  const { exit, out } = evaluate([path]);
  expect(exit).toBe(0);
  // 5 W at 12.5 V is 0.4 A; 0.8 A is twice that.
  expect(out.replaceAll('\u00a0', ' ')).toContain(
    'Answers\n✓ right: Right.\n✗ wrong: Off by 0.4 A (100 %); yours is 2 times too large. Hint: power over voltage.\n? open: to be filled in\n',
  );
});
