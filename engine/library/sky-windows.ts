// Outlines of the sky arrive packed: [n, azimuths, heights, shares of light], rad; n = 0 is the open
// sky. A call for each step of a timeline brings the same outline thousands of times, so the last few
// are kept prepared, and with each the view of the last plane. They are told apart by their contents,
// for the array they come in is written anew on every run.

import { makeSkyWindow, openSky, type SkyWindow, skyShare } from '../physics/sky-window.ts';

/** An outline made ready, or undefined when its numbers are no outline. */
export interface PreparedSky {
  readonly window: SkyWindow | undefined;
  /** View of the sky from a plane, 0 to 1; remembers the last plane. */
  readonly shareOf: (tilt: number, facing: number) => number;
}

const KEPT = 8;

export const badOutline =
  'An outline of the sky needs azimuths that rise from 0° to 360°, heights from 0° to 90° and light through from 0 % to 100 %.';

function prepare(packed: Float64Array): PreparedSky {
  const window = windowOf(packed);
  let lastTilt = Number.NaN;
  let lastFacing = Number.NaN;
  let lastShare = Number.NaN;
  return {
    window,
    shareOf: (tilt, facing) => {
      if (window === undefined) return Number.NaN;
      if (tilt !== lastTilt || facing !== lastFacing) {
        lastTilt = tilt;
        lastFacing = facing;
        lastShare = skyShare(window, tilt, facing);
      }
      return lastShare;
    },
  };
}

function windowOf(packed: Float64Array): SkyWindow | undefined {
  const count = packed[0] ?? Number.NaN;
  if (count === 0) return openSky();
  if (!(count > 0)) return undefined;
  try {
    return makeSkyWindow(
      packed.subarray(1, 1 + count),
      packed.subarray(1 + count, 1 + 2 * count),
      packed.subarray(1 + 2 * count, 1 + 3 * count),
    );
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

function same(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let place = 0; place < a.length; place += 1) {
    if (!Object.is(a[place], b[place])) return false;
  }
  return true;
}

/** A memory of the outlines seen last. */
export function skyMemory(): (packed: Float64Array) => PreparedSky {
  const kept: { readonly packed: Float64Array; readonly sky: PreparedSky }[] = [];
  return (packed) => {
    const place = kept.findIndex((each) => same(each.packed, packed));
    const found = kept[place] ?? { packed: packed.slice(), sky: prepare(packed) };
    if (place !== 0) {
      if (place > 0) kept.splice(place, 1);
      kept.unshift(found);
      kept.length = Math.min(kept.length, KEPT);
    }
    return found.sky;
  };
}
