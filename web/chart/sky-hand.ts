// The hand on the sky: which point of the outline is held, what a pointer and a key do to it, and
// how the outline is written back to its table. A drag is one step of undo however far it goes.

import type { ChartData, Command, TableRowShown } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import type { Place } from './sky-geometry.ts';
import { fromDisc } from './sky-geometry.ts';
import {
  FEWEST,
  type OutlinePoint,
  outlineDrawn,
  pointMoved,
  pointPutIn,
  pointTakenOut,
  type Sighting,
  throughAt,
} from './sky-outline.ts';

export type Sky = NonNullable<ChartData['sky']>;

export const SIZE = 480;
export const CENTRE = SIZE / 2;
export const RADIUS = 212;
const DEGREE = Math.PI / 180;

/** The element that shows the sky. */
export interface SkyHost {
  readonly desk: Desk;
  said: string;
  requestUpdate(): void;
  readonly updateComplete: Promise<boolean>;
  querySelectorAll(selectors: string): NodeListOf<Element>;
}

interface Columns {
  readonly azimuth: number;
  readonly height: number;
  readonly through: number;
}

function columnsOf(table: TableRowShown): Columns {
  const column = (word: RegExp): number => table.columns.findIndex(({ name }) => word.test(name));
  return {
    azimuth: column(/azimuth|direction|bearing/i),
    height: column(/height|elevation/i),
    through: column(/through/i),
  };
}

function degrees(angle: number): string {
  return `${Math.round(angle / DEGREE)}°`;
}

/** An azimuth from 0° to 359°. */
function bearing(angle: number): string {
  return `${Math.round(angle / DEGREE) % 360}°`;
}

/** The table's rows for an outline; rows that stand keep what else they hold. */
export function rowsOf(
  table: TableRowShown,
  sky: Sky,
  points: readonly OutlinePoint[],
): readonly { readonly entries: readonly string[]; readonly noteOf?: number }[] {
  const columns = columnsOf(table);
  return points.map(({ azimuth, height, row }) => {
    const standing = row === undefined ? undefined : table.entries[row];
    const through = Math.round(100 * throughAt(sky.azimuth, sky.through, azimuth));
    const entries = table.columns.map((column, c) => {
      const before =
        row === undefined ? undefined : { azimuth: sky.azimuth[row], height: sky.height[row] };
      // An entry that did not move keeps its own writing.
      if (c === columns.azimuth && before?.azimuth !== azimuth) return bearing(azimuth);
      if (c === columns.height && before?.height !== height) return degrees(height);
      if (standing) return column.given ? (standing[c]?.written ?? '') : '';
      return c === columns.through ? `${through} %` : '';
    });
    return { entries, ...(row === undefined ? {} : { noteOf: row }) };
  });
}

export class SkyHand {
  readonly #host: SkyHost;
  /** The point last held. */
  selected = 0;
  /** Whether a drag over the disc draws the outline anew. */
  drawing = false;
  #stroke: Sighting[] = [];
  /** What stood when the stroke began. */
  #before:
    | {
        readonly sky: Sky;
        readonly points: readonly OutlinePoint[];
      }
    | undefined;
  #frame = 0;

  constructor(host: SkyHost) {
    this.#host = host;
  }

  /** The table that can be drawn on, when there is one. */
  tableOf(sky: Sky): TableRowShown | undefined {
    const table = this.#host.desk.rowOf(sky.table);
    if (table?.kind !== 'table') return undefined;
    const { azimuth, height } = columnsOf(table);
    const given = table.columns[azimuth]?.given === true && table.columns[height]?.given === true;
    return given && table.entries.length === sky.azimuth.length ? table : undefined;
  }

  #points(sky: Sky): readonly OutlinePoint[] {
    return sky.azimuth.map((azimuth, row) => ({ azimuth, height: sky.height[row] ?? 0, row }));
  }

  #commands(sky: Sky, points: readonly OutlinePoint[]): readonly Command[] {
    const table = this.tableOf(sky);
    if (!table) return [];
    return [{ do: 'all rows', table: table.key, rows: rowsOf(table, sky, points) }];
  }

  #write(sky: Sky, points: readonly OutlinePoint[], label: string): void {
    this.#host.desk.runAll(this.#commands(sky, points), label);
  }

  // ── keys and buttons ────────────────────────────────────────────────────────────────────────

  #hold(index: number): void {
    this.selected = index;
    this.#host.requestUpdate();
    void this.#host.updateComplete.then(() => {
      const grip = this.#host.querySelectorAll('.handle-at')[index];
      if (grip instanceof SVGElement) grip.focus();
    });
  }

  putIn(sky: Sky): void {
    const from = Math.min(this.selected, sky.azimuth.length - 1);
    const { points, at } = pointPutIn(this.#points(sky), from);
    this.#write(sky, points, 'a point of the outline');
    const made = points[at];
    if (made)
      this.#host.said = `Point put in at ${bearing(made.azimuth)}, ${degrees(made.height)} high`;
    this.#hold(at);
  }

  takeOut(sky: Sky): void {
    if (sky.azimuth.length <= FEWEST) {
      this.#host.said = `An outline needs ${FEWEST} points.`;
      return;
    }
    const index = Math.min(this.selected, sky.azimuth.length - 1);
    this.#write(sky, pointTakenOut(this.#points(sky), index), 'a point of the outline');
    this.#host.said = `Point ${index + 1} taken out`;
    this.#hold(Math.max(0, index - 1));
  }

  key(event: KeyboardEvent, sky: Sky, index: number): void {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const step = (event.shiftKey ? 5 : 1) * DEGREE;
    const change = {
      ArrowLeft: [-step, 0],
      ArrowRight: [step, 0],
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
    }[event.key];
    this.selected = index;
    if (event.key === 'Insert') this.putIn(sky);
    else if (event.key === 'Delete') this.takeOut(sky);
    else if (change) {
      const azimuth = (sky.azimuth[index] ?? 0) + (change[0] ?? 0);
      const height = (sky.height[index] ?? 0) + (change[1] ?? 0);
      const points = pointMoved(this.#points(sky), index, azimuth, height);
      this.#write(sky, points, 'a point of the outline');
      const now = points[index];
      if (now) this.#host.said = `${bearing(now.azimuth)}, ${degrees(now.height)} high`;
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  select(index: number): void {
    if (this.selected === index) return;
    this.selected = index;
    this.#host.requestUpdate();
  }

  toggleDrawing(): void {
    this.drawing = !this.drawing;
    this.#host.requestUpdate();
  }

  // ── the pointer ─────────────────────────────────────────────────────────────────────────────

  #sighted(event: PointerEvent): Sighting | undefined {
    const at = event.currentTarget;
    const frame = at instanceof SVGElement ? (at.ownerSVGElement ?? at) : undefined;
    if (!frame) return undefined;
    const box = frame.getBoundingClientRect();
    const scale = SIZE / box.width;
    const place: Place = {
      x: (event.clientX - box.left) * scale,
      y: (event.clientY - box.top) * scale,
    };
    return fromDisc(place, CENTRE, RADIUS);
  }

  take(event: PointerEvent, index: number): void {
    event.stopPropagation();
    this.selected = index;
    if (event.currentTarget instanceof SVGElement)
      event.currentTarget.setPointerCapture(event.pointerId);
  }

  /** A held point follows the hand. */
  drag(event: PointerEvent, sky: Sky, index: number): void {
    const grip = event.currentTarget;
    if (!(grip instanceof SVGElement) || !grip.hasPointerCapture(event.pointerId)) return;
    event.stopPropagation();
    const at = this.#sighted(event);
    if (!at) return;
    const points = pointMoved(this.#points(sky), index, at.azimuth, at.elevation);
    this.#host.desk.slide(this.#commands(sky, points), 'a point of the outline');
  }

  begin(event: PointerEvent, sky: Sky): void {
    if (!this.drawing || event.button !== 0) return;
    const at = this.#sighted(event);
    if (!at || !(event.currentTarget instanceof SVGElement)) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    this.#before = { sky, points: this.#points(sky) };
    this.#stroke = [at];
  }

  /** The outline follows the stroke, once a frame. */
  draw(event: PointerEvent): void {
    const at = this.#sighted(event);
    if (this.#stroke.length === 0 || !at) return;
    this.#stroke.push(at);
    if (this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#host.requestUpdate();
    });
  }

  /**
   * The sky with the stroke so far. It is written when the hand lifts: rows that come and go above
   * the picture would move it under the hand.
   */
  shown(sky: Sky): Sky {
    if (!this.#before || this.#stroke.length < 2) return sky;
    const points = outlineDrawn(this.#before.points, this.#stroke);
    const through = points.map(({ azimuth }) => throughAt(sky.azimuth, sky.through, azimuth));
    const azimuth = points.map((point) => point.azimuth);
    return { ...sky, azimuth, height: points.map(({ height }) => height), through };
  }

  end(): void {
    const before = this.#before;
    const stroke = this.#stroke;
    this.#stroke = [];
    this.#before = undefined;
    this.#host.desk.endSlide();
    if (!before || stroke.length < 2) return;
    this.#write(before.sky, outlineDrawn(before.points, stroke), 'the outline');
    this.selected = 0;
    this.#host.said = 'Outline drawn';
  }
}
