// Outlines of the sky arrive packed: [n, azimuths, heights, shares of light], rad; n = 0 is the open
// sky. A call for each step of a timeline brings the same outline thousands of times, so the last few
// are kept prepared, and with each the view from the last few planes. They are told apart by their
// contents, for the array they come in is written anew on every run.

import { makeSkyWindow, openSky, type SkyWindow, skyShare } from '../physics/sky-window.ts';

/** Why numbers are no outline. */
export const NO_OUTLINE =
  'An outline of the sky needs azimuths that rise from 0° to 360°, heights from 0° to 90° and light through from 0 % to 100 %.';

/** An outline made ready. */
export interface PreparedSky {
  readonly window: SkyWindow;
  /** View of the sky from a plane, 0 to 1; remembers the last few planes. */
  readonly shareOf: (tilt: number, facing: number) => number;
}

const KEPT_SKIES = 8;
const KEPT_PLANES = 16;

/** A memory of the outlines seen last; undefined for numbers that are no outline. */
export function skyMemory(): (packed: Float64Array | undefined) => PreparedSky | undefined {
  const kept: { readonly packed: Float64Array; readonly sky: PreparedSky }[] = [];
  return (packed) => {
    if (packed === undefined) return undefined;
    const last = kept[0];
    if (last !== undefined && same(last.packed, packed)) return last.sky;
    const place = kept.findIndex((each) => same(each.packed, packed));
    let found = kept[place];
    if (found === undefined) {
      const window = windowOf(packed);
      if (window === undefined) return undefined;
      found = { packed: packed.slice(), sky: { window, shareOf: planeMemory(window) } };
    } else kept.splice(place, 1);
    kept.unshift(found);
    if (kept.length > KEPT_SKIES) kept.pop();
    return found.sky;
  };
}

function same(a: Float64Array, b: Float64Array): boolean {
  if (a.length !== b.length) return false;
  for (let place = 0; place < a.length; place += 1) if (a[place] !== b[place]) return false;
  return true;
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

/** The sky share of one window, worked out once for each of the planes asked for last. */
function planeMemory(window: SkyWindow): PreparedSky['shareOf'] {
  // Three numbers a plane: tilt, facing, share.
  const planes = new Float64Array(3 * KEPT_PLANES).fill(Number.NaN);
  let here = 0;
  let oldest = 0;
  return (tilt, facing) => {
    if (planes[here] === tilt && planes[here + 1] === facing) return planes[here + 2] ?? Number.NaN;
    for (here = 0; here < planes.length; here += 3) {
      if (planes[here] === tilt && planes[here + 1] === facing) {
        return planes[here + 2] ?? Number.NaN;
      }
    }
    here = oldest;
    oldest = (oldest + 3) % planes.length;
    planes[here] = tilt;
    planes[here + 1] = facing;
    const share = skyShare(window, tilt, facing);
    planes[here + 2] = share;
    return share;
  };
}
