// The house rules that a formatter cannot see, read from the text of every source file: who may
// import whom, through which file a library enters, what the engine must not touch, and that no code
// is ever made from text.

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { posix } from 'node:path';
import { describe, expect, test } from 'vitest';
import { projectRoot } from '../web/host/prepare.mjs';

/** Folder → the folders it may import from, besides itself. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  'engine/physics': [],
  'engine/source': [],
  'engine/notebook': ['engine/source'],
  'engine/language': ['engine/source'],
  'engine/dimension': ['engine/source'],
  'engine/library': ['engine/physics', 'engine/dimension', 'engine/source'],
  'engine/check': [
    'engine/source',
    'engine/language',
    'engine/notebook',
    'engine/dimension',
    'engine/library',
  ],
  'engine/plan': [
    'engine/source',
    'engine/language',
    'engine/notebook',
    'engine/dimension',
    'engine/library',
    'engine/check',
    'engine/physics',
  ],
  'engine/run': [
    'engine/source',
    'engine/notebook',
    'engine/language',
    'engine/dimension',
    'engine/library',
    'engine/check',
    'engine/plan',
    'engine/physics',
  ],
  'engine/study': [
    'engine/source',
    'engine/notebook',
    'engine/language',
    'engine/dimension',
    'engine/library',
    'engine/check',
    'engine/plan',
    'engine/physics',
    'engine/run',
  ],
  engine: [
    'engine/physics',
    'engine/source',
    'engine/notebook',
    'engine/language',
    'engine/dimension',
    'engine/library',
    'engine/check',
    'engine/plan',
    'engine/run',
    'engine/study',
  ],
  'engine/cli': ['engine'],
  'web/host': [],
  'web/keep': ['engine'],
  'web/parts': ['engine', 'web/keep'],
  'web/desk': ['engine', 'web/keep', 'web/parts'],
  'web/chart': ['engine', 'web/keep', 'web/parts', 'web/desk'],
  'web/editor': ['engine', 'web/parts', 'web/desk'],
  'web/sheet': ['engine', 'web/parts', 'web/desk', 'web/editor'],
  'web/bench': ['engine', 'web/parts', 'web/desk', 'web/chart', 'web/sheet'],
  'web/exchange': ['engine', 'web/keep', 'web/parts', 'web/desk', 'web/sheet'],
  'web/screen': [
    'engine',
    'web/keep',
    'web/parts',
    'web/desk',
    'web/chart',
    'web/editor',
    'web/sheet',
    'web/bench',
  ],
  web: ['engine', 'web/keep', 'web/parts', 'web/desk', 'web/chart', 'web/exchange', 'web/screen'],
};

/** Package → the files, or folders with a slash at the end, through which it enters. */
const DOORS: readonly (readonly [RegExp, readonly string[]])[] = [
  [/^mathjs(\/|$)/, ['engine/dimension/unit.ts']],
  [/^vega/, ['web/chart/chart-view.ts']],
  [/^(codemirror$|@codemirror\/)/, ['web/editor/formula-editor.ts']],
  [/^lean-qr$/, ['web/exchange/link-picture.ts']],
  [/^lit(\/|$)/, ['web/']],
  [/^@lit-labs\/ssr/, ['web/screen/first-picture.ts']],
  [/^node:/, ['engine/cli/']],
];

const files: readonly string[] = ['engine', 'web'].flatMap((top) =>
  readdirSync(`${projectRoot}${top}`, { recursive: true, encoding: 'utf8' })
    .map((name) => `${top}/${name.replaceAll('\\', '/')}`)
    .filter((file) => file.endsWith('.ts')),
);

const textOf = (file: string): string => readFileSync(projectRoot + file, 'utf8');

/** The code alone: comments go, and the insides of quoted strings on one line. */
function codeOf(file: string): string {
  return textOf(file).replace(
    /\/\/.*|\/\*[\s\S]*?\*\/|'(?:\\.|[^'\\\n])*'|"(?:\\.|[^"\\\n])*"/g,
    (part) => (part.startsWith('/') ? ' ' : "''"),
  );
}

/** Static imports, re-exports and imports on demand. */
const IMPORTS = [
  /^(?:import|export)\b[^'";]*?\bfrom\s*['"]([^'"]+)['"]/gm,
  /^import\s*['"]([^'"]+)['"]/gm,
  /\bimport\(\s*['"]([^'"]+)['"]/g,
  /\bnew URL\(\s*['"](\.[^'"]+\.ts)['"]/g,
];

const imports = files.flatMap((from) =>
  IMPORTS.flatMap((pattern) => [...textOf(from).matchAll(pattern)])
    .map((match) => (match[1] ?? '').replace(/\?.*$/, ''))
    .map((name) => ({
      from,
      to: name.startsWith('.') ? posix.join(posix.dirname(from), name) : name,
      isFile: name.startsWith('.'),
    })),
);

const inside = imports.filter(({ isFile, to }) => isFile && to.endsWith('.ts'));
const packages = imports.filter(({ isFile }) => !isFile);

test('there is something to look at', () => {
  expect(files.length).toBeGreaterThan(20);
  expect(inside.length).toBeGreaterThan(20);
});

describe('every file', () => {
  test.each(files)('%s lies in a folder of the table', (file) => {
    expect(Object.keys(MAY_IMPORT)).toContain(posix.dirname(file));
  });
});

describe('every import', () => {
  test.each(inside)('$from → $to leads to a file, and downhill', ({ from, to }) => {
    const home = posix.dirname(from);
    expect(files).toContain(to);
    expect([home, ...(MAY_IMPORT[home] ?? [])]).toContain(posix.dirname(to));
    if (home.startsWith('web') && to.startsWith('engine/')) expect(to).toBe('engine/index.ts');
  });

  test.each(packages)('$from takes $to through its door', ({ from, to }) => {
    const doors = DOORS.find(([name]) => name.test(to))?.[1] ?? [];
    expect(doors.some((door) => (door.endsWith('/') ? from.startsWith(door) : from === door))).toBe(
      true,
    );
  });
});

test('no import cycle', () => {
  const clear = new Set<string>();
  const visit = (file: string, trail: readonly string[]): void => {
    if (clear.has(file)) return;
    expect(trail, [...trail, file].join(' → ')).not.toContain(file);
    for (const { from, to } of inside) if (from === file) visit(to, [...trail, file]);
    clear.add(file);
  };
  for (const file of files) visit(file, []);
  expect(clear.size).toBeGreaterThanOrEqual(files.length);
});

test('the engine has no clock, reads nothing and prints nothing', () => {
  const forbidden =
    /\bnew Date\b|\bDate\s*[.(]|\bfetch\s*\(|\bXMLHttpRequest\b|\bconsole\s*[.[]|\bperformance\s*\.|\bsetTimeout\b|\bsetInterval\b|\blocalStorage\b|\bindexedDB\b|\bprocess\s*\./;
  const offenders = files
    .filter((file) => file.startsWith('engine/') && !file.startsWith('engine/cli/'))
    .filter((file) => forbidden.test(codeOf(file)));
  expect(offenders).toEqual([]);
});

test('chance in the engine is drawn from a seed', () => {
  const offenders = files.filter(
    (file) => file.startsWith('engine/') && /\bMath\s*\.\s*random\b/.test(codeOf(file)),
  );
  expect(offenders).toEqual([]);
});

test('no code and no markup is made from text', () => {
  const forbidden =
    /\beval\s*\(|\bnew Function\b|\bFunction\s*\(|\b(?:inner|outer)HTML\b|\bunsafe(?:HTML|SVG|CSS|MathML|Static)\b|\binsertAdjacentHTML\b|\bdocument\s*\.\s*write|\bcreateContextualFragment\b|\bsetHTMLUnsafe\b/;
  expect(files.filter((file) => forbidden.test(codeOf(file)))).toEqual([]);
});

/** Red, green and blue of every colour in a text, from 0 to 255. */
function coloursIn(css: string): readonly (readonly number[])[] {
  const hexadecimal = [...css.matchAll(/#([0-9a-f]{3,8})\b/gi)].map(([, digits = '']) => {
    const pairs =
      digits.length < 6 ? [...digits].map((digit) => digit + digit) : digits.match(/../g);
    return (pairs ?? []).slice(0, 3).map((pair) => Number.parseInt(pair, 16));
  });
  const functional = [...css.matchAll(/\brgba?\(([^)]*)\)/gi)].map(([, inner = '']) =>
    (inner.match(/[\d.]+%?/g) ?? []).slice(0, 3).map((part) => Number.parseFloat(part)),
  );
  return [...hexadecimal, ...functional];
}

describe('the red theme spares eyes that are used to the dark', () => {
  const sheets = readdirSync(`${projectRoot}web`, { recursive: true, encoding: 'utf8' })
    .map((name) => `web/${name.replaceAll('\\', '/')}`)
    .filter((file) => file.endsWith('.css') && existsSync(projectRoot + file));
  const blocks = sheets.flatMap((file) => [
    ...textOf(file)
      .replace(/\/\*[\s\S]*?\*\//g, '')
      .matchAll(/[^{}]*\[data-theme=['"]?red['"]?\][^{}]*\{([^{}]*)\}/g),
  ]);
  const css = blocks.map((block) => block[1] ?? '').join('\n');

  test('all its colours have neither green nor blue', () => {
    const colours = coloursIn(css);
    expect(colours.length).toBeGreaterThan(5);
    for (const [red, green, blue] of colours) {
      expect([green, blue], `rgb(${red}, ${green}, ${blue})`).toEqual([0, 0]);
    }
  });

  test('they are written so that this test can read them', () => {
    expect(css).not.toMatch(/\b(?:hsla?|hwb|oklch|oklab|lab|lch|color|color-mix)\(/);
    expect(css).not.toMatch(/:\s*(?:white|gray|grey|silver|orange|yellow|pink|gold)\b/);
  });
});
