// As much of a browser's window as the parts of the page ask for while they are drawn once, in Node:
// its measures, and nothing that happens later. Loaded before them, since some look at once.

import { LOWEST_ROW } from './first-sight.ts';

export const never = (): void => {};

class Watcher {
  observe = never;
  disconnect = never;
}

/** So many rows fill a window, as they stand in a starter, on a wide page and on a narrow one. */
const ROWS = { wide: 26, narrow: 16 };

const pictured = { narrow: false };

/** What is drawn next stands in such a window. */
export function openWindow(narrow: boolean): void {
  pictured.narrow = narrow;
  // Only now: what draws takes itself for a browser's when it finds a document as it is loaded.
  Object.assign(globalThis, {
    document: { documentElement: { dataset: {} }, activeElement: null },
    innerHeight: (narrow ? ROWS.narrow : ROWS.wide) * LOWEST_ROW,
  });
}

/** Stands for the element that everything is drawn in. */
export const pictureRoot = {
  addEventListener: never,
  querySelector: (): null => null,
  querySelectorAll: (): readonly never[] => [],
} as unknown as HTMLElement;

/** A query of the page's own, of which there are two: a narrow page, and one with room for the bench. */
function matchMedia(query: string): { readonly matches: boolean } {
  const asksNarrow = query.includes('max-width');
  return {
    get matches(): boolean {
      return pictured.narrow === asksNarrow;
    },
  };
}

Object.assign(globalThis, {
  matchMedia,
  addEventListener: never,
  removeEventListener: never,
  getComputedStyle: () => ({ fontSize: '16px' }),
  IntersectionObserver: Watcher,
  ResizeObserver: Watcher,
  setTimeout: () => 0,
  clearTimeout: never,
});
