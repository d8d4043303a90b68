// The sky seen from the site: an outline, the sun's tracks for the notebook's dates, the open share.

import type { CheckedChart } from '../check/check-chart.ts';
import { angle } from '../dimension/dimension.ts';
import { formatDate, formatNumber, formatTimeOfDay } from '../dimension/quantity.ts';
import { RowMemory } from '../library/row-memory.ts';
import { NO_OUTLINE } from '../library/sky-windows.ts';
import type { Place } from '../notebook/notebook.ts';
import {
  makeSkyWindow,
  openSky,
  type SkyWindow,
  skyShare,
  windowHeight,
} from '../physics/sky-window.ts';
import { solarPosition } from '../physics/solar-position.ts';
import type { Operand } from '../plan/memory.ts';
import type { Evaluation } from './evaluation.ts';
import type { ChartData, SkyTrack } from './snapshot.ts';

const DAY = 86_400;

/** Skies drawn before: an edit seldom moves the trees, the place or the days. */
const drawn = new RowMemory<{
  readonly tracks: readonly SkyTrack[];
  readonly openShare: number;
  readonly spoken: string;
}>();

export function skyChart(evaluation: Evaluation, chart: CheckedChart, empty: ChartData): ChartData {
  const { place } = evaluation.checked.scope.notebook.header;
  const outline = outlineOf(evaluation, chart);
  if (!outline)
    return {
      ...empty,
      kind: 'sky',
      text: 'A sky chart needs a table with azimuth and height columns, or a sky window.',
    };
  if (outline.azimuth.some((at, index) => !(at > (outline.azimuth[index - 1] ?? -1))))
    return { ...empty, kind: 'sky', text: 'The azimuths must rise from row to row.' };
  if (!isOutline(outline)) return { ...empty, kind: 'sky', text: NO_OUTLINE };
  if (!place)
    return {
      ...empty,
      kind: 'sky',
      text: 'The sky needs a place. Add a header line such as "place: 44.5 °N, 110.2 °W, 2100 m, UTC-6".',
    };
  const clock = evaluation.program.nodes.find(
    (n) =>
      n.type?.kind === 'quantity' && n.type.timeline !== undefined && !evaluation.plan.faults[n.id],
  );
  const t =
    clock?.type?.kind === 'quantity' && clock.type.timeline
      ? evaluation.plan.axes[clock.type.timeline.id]
      : undefined;
  const first = t && t.length > 0 ? Math.floor(t.start / DAY) : 0;
  const last = t && t.length > 0 ? Math.floor((t.end - 1) / DAY) : first;
  const days = [...new Set([first, Math.round((first + last) / 2), last])];
  const seen = !t || t.length === 0 ? [] : days;
  const { azimuth, height, through } = outline;
  const { tracks, openShare, spoken } = drawn.find(
    [place.latitude, place.longitude, place.offset, ...seen],
    [azimuth, height, through].map((row) => Float64Array.from(row)),
    () => {
      const tracks = seen.map((d) => trackOf(d, place));
      const window = makeSkyWindow(azimuth, height, through);
      const openShare = skyShare(window, 0, 0);
      return { tracks, openShare, spoken: spokenSky(tracks, window, openShare) };
    },
  );
  return {
    ...empty,
    kind: 'sky',
    state: 'ready',
    text: '',
    sky: { table: outline.table, azimuth, height, through, tracks, openShare },
    spoken,
  };
}

/** The sun's way over the place on one day, every ten minutes that it is up. */
function trackOf(day: number, place: Place): SkyTrack {
  const azimuth: number[] = [];
  const elevation: number[] = [];
  const hour: number[] = [];
  for (let minute = 0; minute <= 1440; minute += 10) {
    const moment = day * DAY + minute * 60 - place.offset;
    const sun = solarPosition(moment, place.latitude, place.longitude);
    if (sun.elevation < -0.0145) continue;
    azimuth.push(sun.azimuth);
    elevation.push(sun.elevation);
    hour.push(minute / 60);
  }
  return { label: formatDate(day), azimuth, elevation, hour };
}

function spokenSky(tracks: readonly SkyTrack[], window: SkyWindow, openShare: number): string {
  return [
    `The sky from the site: ${formatNumber(Math.round(100 * openShare))}\u00a0% of it is open`,
    window.azimuth.length < 3
      ? 'Nothing stands in the way'
      : `The outline has ${window.azimuth.length} sightings`,
    ...tracks.map((track) => `${track.label}: ${clearWords(track, window)}`),
    '',
  ]
    .join('. ')
    .trim();
}

/** When the sun stands above the outline, to the ten minutes of its track. */
function clearWords(track: SkyTrack, window: SkyWindow): string {
  const stretches: { from: number; to: number }[] = [];
  let before = false;
  track.hour.forEach((hour, index) => {
    const clear = (track.elevation[index] ?? 0) > windowHeight(window, track.azimuth[index] ?? 0);
    const last = stretches.at(-1);
    if (clear && before && last) last.to = hour;
    else if (clear) stretches.push({ from: hour, to: hour });
    before = clear;
  });
  if (stretches.length === 0) return 'the sun never stands clear of the outline';
  const clock = (hour: number): string => formatTimeOfDay(hour * 3600);
  return `the sun is clear ${stretches.map(({ from, to }) => `${clock(from)} to ${clock(to)}`).join(', ')}`;
}

interface Outline {
  /** The key of the table it is drawn from; empty for a sky window. */
  readonly table: string;
  readonly azimuth: readonly number[];
  readonly height: readonly number[];
  readonly through: readonly number[];
}

/** Whether every sighting is there and within the sky. */
function isOutline({ azimuth, height, through }: Outline): boolean {
  const within = (row: readonly number[], most: number): boolean =>
    row.every((value) => value >= 0 && value <= most);
  return within(azimuth, 2 * Math.PI) && within(height, Math.PI / 2) && within(through, 1);
}

function outlineOf(evaluation: Evaluation, chart: CheckedChart): Outline | undefined {
  if (chart.skyTable !== undefined) {
    const table = evaluation.checked.scope.tables.get(chart.skyTable);
    if (!table) return undefined;
    const column = (wanted: (name: string) => boolean): number[] | undefined => {
      for (const [key, id] of table.columnByKey) {
        const node = evaluation.program.nodes[id];
        if (!wanted(key) || node?.type?.kind !== 'quantity' || evaluation.plan.faults[id]) continue;
        const operand = evaluation.program.operands[id]?.[0] as Operand;
        return [...(evaluation.plan.rows[~operand] as Float64Array)];
      }
      return undefined;
    };
    const isAngle = (key: string): boolean => {
      const type = evaluation.program.nodes[table.columnByKey.get(key) ?? -1]?.type;
      return type?.kind === 'quantity' && type.dimension === angle;
    };
    const azimuth = column((key) => key === 'azimuth') ?? column(isAngle);
    const height =
      column((key) => key === 'height') ?? column((key) => isAngle(key) && key !== 'azimuth');
    if (!azimuth || !height || azimuth.length < 3) return undefined;
    return {
      table: table.key,
      azimuth,
      height,
      through: (column((key) => key === 'light through') ?? azimuth.map(() => 0)).map((v) =>
        Number.isNaN(v) ? 0 : v,
      ),
    };
  }
  const [first] = chart.items;
  const operand = first ? evaluation.program.operands[first.node]?.[0] : undefined;
  if (operand === undefined || operand >= 0) return undefined;
  const packed = evaluation.plan.rows[~operand] as Float64Array;
  const n = packed[0] ?? 0;
  if (n === 0) {
    const { azimuth, height, through } = openSky();
    return { table: '', azimuth: [...azimuth], height: [...height], through: [...through] };
  }
  return {
    table: '',
    azimuth: [...packed.slice(1, 1 + n)],
    height: [...packed.slice(1 + n, 1 + 2 * n)],
    through: [...packed.slice(1 + 2 * n, 1 + 3 * n)],
  };
}
