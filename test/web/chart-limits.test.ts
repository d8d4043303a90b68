// A limit is told from the series: by its colour, and in a light of one colour by its shape.

import { expect, test } from 'vitest';
import { type ChartData, openSession, startStudies } from '../../engine/index.ts';
import type { Setting } from '../../web/chart/chart-panel.ts';
import { drawingOf } from '../../web/chart/chart-spec.ts';

function charts(): readonly ChartData[] {
  const session = openSession(`dapple 1
trials: 40
clock = timeline(from: 2027-06-11 00:00, until: 2027-06-12 00:00, by: 1 h)
bulb = 5 W ± 1 W
lamp = if clock within 2027-06-11 06:00..2027-06-11 18:00 then 6 W else 2 W
need = 24 h × bulb
must lamp <= 7 W
check need <= 120 Wh
chart lamp
chart need as spread
`);
  while (session.continue(1000, () => 0));
  const study = startStudies(session);
  while (study.step(() => false));
  session.adoptStudies(study.result());
  const { rows } = session.snapshot();
  return rows.filter((row) => row.kind === 'chart').map((row) => session.chart(row.item));
}

function settingFor(oneColour: boolean): Omit<Setting, 'gutter'> {
  const red = '#ff0000';
  const named = { strip: red, ink: red, ink2: red, line: red, edge: red, hand: red, night: red };
  const more = { fails: red, sun: red, sunInk: red, band: red, font: 'serif', oneColour };
  const colours = { ...named, ...more, series: [red, red, red, red, red] };
  return { width: 600, colours, columnNames: ['Plan'], columns: [0] };
}

interface Layer {
  readonly data?: { readonly name: string };
  readonly mark: Readonly<Record<string, unknown>>;
}

function limitMarks(data: ChartData, oneColour: boolean): readonly unknown[] {
  const [panel] = drawingOf(data, settingFor(oneColour));
  if (!panel) throw new Error('nothing is drawn');
  const { layer } = panel.spec as { readonly layer: readonly Layer[] };
  const lines = layer.filter(({ data: rows }) => rows?.name === 'limits');
  const name = panel.names.find(({ kind }) => kind === 'limit' || kind === 'rails');
  return [name?.kind, ...lines.map(({ mark }) => mark.yOffset ?? mark.xOffset ?? 0)];
}

test.for(['line', 'spread'])(
  '%s: two rails where colour tells nothing apart, else one line',
  (kind) => {
    const data = charts()[kind === 'line' ? 0 : 1];
    expect(data?.state).toBe('ready');
    if (!data) return;
    expect(data.limits.length).toBe(1);
    expect(limitMarks(data, false)).toEqual(['limit', 0]);
    expect(limitMarks(data, true)).toEqual(['rails', -1.5, 1.5]);
  },
);
