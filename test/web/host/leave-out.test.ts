// What is left out of Vega and Vega-Lite is missed by no chart: every chart of every notebook, drawn
// in each of the kinds that fits it, is compiled and worked with the whole packages and with the
// build's, and both must give the same.

import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openSession, startStudies } from '../../../engine/index.ts';
import { chartExpressions } from '../../../web/chart/chart-expression.ts';
import type { Panel } from '../../../web/chart/chart-panel.ts';
import { drawingOf } from '../../../web/chart/chart-spec.ts';
import { chartColours, chartConfig } from '../../../web/chart/chart-theme.ts';
import { leaveOut, withoutNames } from '../../../web/host/leave-out.mjs';
import { projectRoot } from '../../../web/host/prepare.mjs';

interface Drawn {
  compile(spec: object, config: object): object;
  scene(compiled: object, data: Panel['data'], expressions: object): Promise<unknown>;
}

/** Both libraries, through the door that the page uses. */
const ENTRY = `
  import { vega, vegaLite } from 'vega-embed';
  export const compile = (spec, config) => 
    vegaLite.compile(spec, { config, logger: vega.logger(vega.Error) }).spec;
  export async function scene(compiled, data, expr) {
    const view = new vega.View(vega.parse(compiled, undefined, { ast: true }), {
      renderer: 'none', hover: false, expr, logLevel: vega.Error,
    });
    for (const [name, rows] of Object.entries(data)) view.data(name, [...rows]);
    await view.runAsync();
    const drawn = JSON.parse(view.scenegraph().toJSON());
    view.finalize();
    return drawn;
  }`;

const folder = mkdtempSync(join(tmpdir(), 'dapple-charts-'));
const names = ['document', 'getComputedStyle', 'matchMedia'] as const;

async function bundled(name: string, plugins: readonly ReturnType<typeof leaveOut>[]) {
  await build({
    configFile: false,
    root: projectRoot,
    logLevel: 'error',
    build: {
      outDir: folder,
      emptyOutDir: false,
      minify: false,
      lib: { entry: 'drawn', formats: ['es'], fileName: () => `${name}.mjs` },
      rolldownOptions: { treeshake: true },
    },
    plugins: [
      {
        name: 'drawn',
        enforce: 'pre',
        resolveId: (source) =>
          source.endsWith('drawn') ? join(projectRoot, 'web/drawn.mjs') : undefined,
        load: (id) => (id.endsWith('web/drawn.mjs') ? ENTRY : undefined),
      },
      ...plugins,
    ],
  });
  const made: unknown = await import(pathToFileURL(join(folder, `${name}.mjs`)).href);
  return made as Drawn;
}

let whole: Drawn;
let slim: Drawn;

beforeAll(async () => {
  // The colours of a chart are read from the page; here any will do.
  Reflect.set(globalThis, 'document', { documentElement: {} });
  Reflect.set(globalThis, 'getComputedStyle', () => ({ getPropertyValue: () => '#123456' }));
  Reflect.set(globalThis, 'matchMedia', () => Object.assign(new EventTarget(), { matches: false }));
  whole = await bundled('whole', []);
  slim = await bundled('slim', [leaveOut(projectRoot)]);
});

afterAll(() => {
  for (const name of names) Reflect.deleteProperty(globalThis, name);
  rmSync(folder, { recursive: true });
});

const KINDS = ['dots', 'bars', 'stack', 'line', 'map', 'bands', 'spread', 'influence'];

/** The notebook with each of its charts in every kind. */
function withEveryKind(text: string): string {
  const charts = text.split('\n').filter((line) => line.startsWith('chart '));
  const lines = charts.flatMap((line) => {
    const plain = line.replace(/\s+--.*$/u, '').replace(/ as \w+$/u, '');
    return KINDS.map((kind) => `${plain} as ${kind}`);
  });
  return `${text.replace(/^trials: \d+/mu, 'trials: 40')}\n${lines.join('\n')}\n`;
}

/** Every panel drawn for a notebook, on a phone and on a desk, in the plan and beside scenarios. */
function panelsOf(text: string): readonly { readonly kind: string; readonly panel: Panel }[] {
  const session = openSession(text);
  while (session.continue(1000, () => 0));
  const studies = startStudies(session);
  while (studies.step(() => false));
  session.adoptStudies(studies.result());
  const { rows, verdicts } = session.snapshot();
  const columnNames = verdicts.map(({ name }) => name || 'Plan');
  const seen = new Set<string>();
  return rows.flatMap((row) => {
    if (row.kind !== 'chart') return [];
    const data = session.chart(row.item);
    if (data.state !== 'ready') return [];
    return [
      { theme: 'light', width: 900, columns: [0, 1, 2] },
      { theme: 'paper', width: 320, columns: [0] },
    ].flatMap(({ theme, width, columns }) =>
      drawingOf(data, { width, colours: chartColours(theme), columnNames, columns }).flatMap(
        (panel) => {
          const key = JSON.stringify(panel.spec);
          if (seen.has(key)) return [];
          seen.add(key);
          return [{ kind: data.kind, panel }];
        },
      ),
    );
  });
}

const notebooks = readdirSync(join(projectRoot, 'notebooks')).filter((name) =>
  name.endsWith('.dapple'),
);
const drawn = new Set<string>();

test.each(notebooks)('%s is drawn the same without what is left out', async (file) => {
  const text = readFileSync(join(projectRoot, 'notebooks', file), 'utf8');
  const panels = panelsOf(withEveryKind(text));
  expect(panels.length).toBeGreaterThan(0);
  for (const theme of ['light', 'paper']) {
    const config = chartConfig(theme);
    for (const { kind, panel } of panels) {
      drawn.add(kind);
      const compiled = whole.compile(panel.spec, config);
      expect(slim.compile(panel.spec, config), kind).toEqual(compiled);
      if (theme === 'paper') continue;
      const scene = await whole.scene(compiled, panel.data, chartExpressions);
      expect(await slim.scene(compiled, panel.data, chartExpressions), kind).toEqual(scene);
      const empty = Object.fromEntries(Object.keys(panel.data).map((name) => [name, []]));
      const blank = await whole.scene(compiled, empty, chartExpressions);
      expect(await slim.scene(compiled, empty, chartExpressions), kind).toEqual(blank);
    }
  }
});

test('every kind that Vega draws was among them', () => {
  expect([...drawn].toSorted()).toEqual([...KINDS].toSorted());
});

test('what is left out says so when it is called, and a name that is gone stops the build', () => {
  const code = 'function seldom() { return 1; }';
  const body = { start: 18, end: 31 };
  const tree = {
    body: [{ type: 'FunctionDeclaration', id: { name: 'seldom' }, body, start: 0, end: 31 }],
  };
  expect(code.slice(body.start, body.end)).toBe('{ return 1; }');
  const made = withoutNames(code, new Set(['seldom']), tree);
  expect(made).toContain("function seldom() { leftOut('seldom'); }");
  expect(made).toContain("throw new RangeError(name + ' is left out of this build')");
  expect(() => withoutNames(code, new Set(['gone']), tree)).toThrow('gone');
});
