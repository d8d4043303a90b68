// Which strips fit beside the formulas: the plan always, then as many scenarios as leave the formula
// a line one can read. A narrow page shows one strip, the one chosen.

interface Room {
  /** Width of the page, rem. */
  readonly width: number;
  readonly narrow: boolean;
  readonly besideBench: boolean;
  /** The plan and its scenarios. */
  readonly total: number;
  /** The scenario last chosen; it stays in view. */
  readonly scenario: number;
  /** The scenario that stood first beside the plan. */
  readonly first: number;
}

/** rem; as in sheet.css */
const STRIP = 8.4;
const BENCH = 24;
/** Name and stem, and the least a formula needs. */
const NAME_BESIDE_BENCH = 14.5;
const NAME_ALONE = 18.5;
const FORMULA = 18;
const MOST = 6;

export function stripsInView(room: Room): readonly number[] {
  if (room.narrow) return [Math.min(room.scenario, room.total - 1)];
  const taken = room.besideBench ? BENCH + NAME_BESIDE_BENCH : NAME_ALONE;
  const fitting = Math.floor((room.width - taken - FORMULA) / STRIP);
  const shown = Math.max(1, Math.min(room.total, MOST, fitting));
  const beside = shown - 1;
  let first = Math.max(1, Math.min(room.first, room.total - beside));
  if (room.scenario > 0 && beside > 0) {
    if (room.scenario < first) first = room.scenario;
    if (room.scenario >= first + beside) first = room.scenario - beside + 1;
  }
  return [0, ...Array.from({ length: beside }, (_, index) => first + index)];
}
