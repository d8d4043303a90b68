// The only door to Vega. A specification is compiled and parsed once and kept; a redraw is a fresh
// view of the kept parse with new rows, drawn into a detached element and swapped in, so that an
// edit and its charts show in the same frame.

import { vega, vegaLite } from 'vega-embed';
import type { Config, TopLevelSpec } from 'vega-lite';
import { sameValue } from '../parts/same-value.ts';
import { chartExpressions } from './chart-expression.ts';
import type { Panel } from './chart-panel.ts';
import { chartConfig } from './chart-theme.ts';

type Runtime = ReturnType<typeof vega.parse>;
export type ChartView = InstanceType<typeof vega.View>;

const KEPT = 60;
const parsed = new Map<string, Runtime>();

function runtimeOf(spec: object, theme: string): Runtime {
  const config = chartConfig(theme);
  const key = JSON.stringify([config, spec]);
  const known = parsed.get(key);
  if (known) return known;
  const compiled = vegaLite.compile(spec as TopLevelSpec, { config: config as Config }).spec;
  const runtime = vega.parse(compiled, undefined, { ast: true });
  if (parsed.size >= KEPT) {
    const oldest = parsed.keys().next().value;
    if (oldest !== undefined) parsed.delete(oldest);
  }
  parsed.set(key, runtime);
  return runtime;
}

/** Nothing is ever loaded for a chart. */
const NO_LOADER = {
  ...vega.loader(),
  load: (): Promise<string> => Promise.reject(new RangeError('charts load nothing')),
};

/** Draws one panel and returns its element and view. The caller finalizes the view it replaces. */
export function drawPanel(
  panel: Panel,
  theme: string,
): { readonly element: HTMLElement; readonly view: ChartView } {
  const element = document.createElement('div');
  const view = new vega.View(runtimeOf(panel.spec, theme), {
    renderer: 'svg',
    hover: false,
    logLevel: vega.Error,
    loader: NO_LOADER,
    expr: chartExpressions,
  });
  view.initialize(element);
  for (const [name, rows] of Object.entries(panel.data)) view.data(name, [...rows]);
  view.run();
  const drawn = element.querySelector('svg');
  drawn?.setAttribute('aria-hidden', 'true');
  return { element, view };
}

/** Puts other rows into a picture that stands. Rows that are the same are left alone. */
export function redrawPanel(view: ChartView, before: Panel, panel: Panel): void {
  for (const [name, rows] of Object.entries(panel.data)) {
    if (!sameValue(before.data[name], rows)) view.data(name, [...rows]);
  }
  view.run();
}
