// The widths at which the layout changes, as in the style sheets; in em, so that larger text counts
// like a smaller page.

export const NARROW: MediaQueryList = matchMedia('(max-width: 47.49em)');
export const WITH_BENCH: MediaQueryList = matchMedia('(min-width: 73.75em)');
