// A stack along a timeline: areas one on another instead of a bar for every step, which would be
// thinner than a hair and named by a moment each.

import type { ChartData, ChartSeries } from '../../engine/index.ts';
import { STRIPES, striped } from './chart-bars.ts';
import {
  frame,
  LIMIT,
  limitLayers,
  limitNames,
  type NamedLine,
  nightLayer,
  nightRows,
  type Panel,
  paperWidth,
  type Setting,
  timesOf,
  timeX,
  unitsOf,
  yOf,
} from './chart-panel.ts';

/** As many places as can each have a bar and a name. */
const MOST_BARS = 24;
/** The stripes of an area are as wide as those of a bar in its sample, px. */
const BAR = 14;

/** Whether places are moments too many for a bar each. */
export function isLong(data: ChartData): boolean {
  return data.axis.kind === 'time' && data.axis.values.length > MOST_BARS;
}

/** What fills an area: the pattern of the same bar, over and over. */
function fillOf(id: number, setting: Setting): string | object {
  const c = setting.colours;
  if (id === 0) return c.sun;
  if (id === 1) return c.strip;
  const edges = STRIPES[id - 2] ?? [];
  const count = Math.max(1, Math.round(paperWidth(setting) / BAR));
  const all = Array.from({ length: count }, (_, at) => edges.map((edge) => (at + edge) / count));
  return striped(c.series[id] ?? c.ink, c.strip, all.flat());
}

/** Neighbouring steps taken together, so that no more are drawn than can be told apart. */
function averaged(values: readonly number[], size: number): readonly number[] {
  const shown: number[] = [];
  for (let from = 0; from < values.length; from += size) {
    const part = values.slice(from, from + size).filter(Number.isFinite);
    shown.push(part.length > 0 ? part.reduce((sum, one) => sum + one, 0) / part.length : 0);
  }
  return shown;
}

function rowsOf(
  data: ChartData,
  mine: readonly ChartSeries[],
): readonly (readonly { readonly x: number; readonly low: number; readonly high: number }[])[] {
  const size = Math.max(1, Math.ceil(data.axis.values.length / LIMIT));
  const first = mine[0];
  const times = first ? averaged(timesOf(data, first), size) : [];
  let below: readonly number[] = times.map(() => 0);
  return mine.map(({ values }) => {
    const low = below;
    const high = averaged(values, size).map((value, at) => (low[at] ?? 0) + value);
    below = high;
    return times.map((x, at) => ({ x, low: low[at] ?? 0, high: high[at] ?? 0 }));
  });
}

/** The plan's parts one on another; scenarios have charts of their own. */
export function stackAlongTime(data: ChartData, setting: Setting): readonly Panel[] {
  const plan = data.series.filter(({ column }) => column === 0).slice(0, 5);
  const c = setting.colours;
  const x = timeX(data, setting);
  return unitsOf(plan).map((unit): Panel => {
    const mine = plan.filter((series) => series.unit === unit);
    const limits = data.limits.filter((limit) => limit.unit === unit);
    const ids = mine.map((series) => plan.indexOf(series));
    const y = yOf(unit, false, setting, 'high');
    const strokes = [c.sunInk, c.ink, ...c.series.slice(2)];
    const layers = ids.map((id) => ({
      data: { name: `part${id}` },
      mark: {
        type: 'area',
        interpolate: 'step',
        clip: true,
        fill: fillOf(id, setting),
        line: { stroke: strokes[id] ?? c.ink, strokeWidth: 1.2 },
      },
      encoding: { x, y, y2: { field: 'low' } },
    }));
    const parts = rowsOf(data, mine);
    return {
      spec: frame(setting, 126, [
        nightLayer(x, c),
        ...limitLayers('y', y, setting.colours),
        ...layers,
      ]),
      data: {
        ...Object.fromEntries(ids.map((id, at) => [`part${id}`, parts[at] ?? []])),
        nights: nightRows(data),
        limits,
      },
      height: 154,
      names: [
        ...mine.map(
          (series, at): NamedLine => ({
            name: series.name,
            style: ids[at] ?? 0,
            kind: ids[at] === 1 ? 'outline' : 'fill',
          }),
        ),
        ...limitNames(limits, setting.colours),
      ],
    };
  });
}
