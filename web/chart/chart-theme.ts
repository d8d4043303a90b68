// Vega reads no custom properties, so the colours of the theme are read once a theme and handed
// over as a configuration.

export interface ChartColours {
  readonly strip: string;
  readonly ink: string;
  readonly ink2: string;
  readonly line: string;
  readonly edge: string;
  readonly hand: string;
  readonly night: string;
  readonly fails: string;
  readonly sun: string;
  readonly sunInk: string;
  readonly band: string;
  readonly series: readonly string[];
  /** Colour tells nothing apart in this light. */
  readonly oneColour: boolean;
  readonly font: string;
}

/** Strokes of the first five series; more repeat. */
export const DASHES: readonly (readonly number[])[] = [
  [1, 0],
  [7, 4],
  [2, 3.2],
  [10, 3, 2, 3],
  [12, 5],
];

/** The light of paper: what a printer without colour keeps apart. */
export const PAPER = 'paper';

/** As web/theme/print.css has them. */
const ON_PAPER: ChartColours = {
  strip: '#fff',
  ink: '#000',
  ink2: '#333',
  line: '#bbb',
  edge: '#777',
  hand: '#000',
  night: '#e4e4e4',
  fails: '#000',
  sun: '#bdbdbd',
  sunInk: '#000',
  band: '#000',
  series: ['#000', '#000', '#000', '#000', '#000'],
  oneColour: true,
  font: '',
};

const kept = new Map<string, ChartColours>();
/** Whether they were read among colours of the reader's own, once that has changed. */
let keptOwn: boolean | undefined;

/**
 * Colours of the reader's own come and go while charts stand: those that were read are read again.
 * Returns what ends the watch.
 */
export function watchColours(changed: () => void): () => void {
  const own = matchMedia('(forced-colors: active)');
  const told = (): void => {
    // Every chart watches; the first one told forgets them for all.
    if (keptOwn !== own.matches) kept.clear();
    keptOwn = own.matches;
    changed();
  };
  own.addEventListener('change', told);
  return () => own.removeEventListener('change', told);
}

/** A colour of the reader's own is a word, such as Canvas; scales need its amounts. */
function amountsOf(word: string): string {
  const probe = document.createElement('span');
  probe.style.forcedColorAdjust = 'none';
  probe.style.color = word;
  document.body.append(probe);
  const { color } = getComputedStyle(probe);
  probe.remove();
  return color;
}

export function chartColours(theme: string): ChartColours {
  const known = kept.get(theme);
  if (known) return known;
  const style = getComputedStyle(document.documentElement);
  const font = style.getPropertyValue('--text').trim();
  const token = (name: string): string => {
    const value = style.getPropertyValue(name).trim();
    return /^[a-z]+$/i.test(value) ? amountsOf(value) : value;
  };
  const shown: ChartColours = {
    strip: token('--strip'),
    ink: token('--ink'),
    ink2: token('--ink2'),
    line: token('--line'),
    edge: token('--edge'),
    hand: token('--hand'),
    night: token('--night'),
    fails: token('--fails'),
    sun: theme === 'red' ? '#b00000' : token('--sun'),
    sunInk: token('--sun-ink'),
    band: token('--band'),
    series: ['--s1', '--s2', '--s3', '--s4', '--s5'].map(token),
    oneColour: theme === 'red' || matchMedia('(forced-colors: active)').matches,
    font,
  };
  const colours = theme === PAPER ? { ...ON_PAPER, font } : shown;
  kept.set(theme, colours);
  return colours;
}

export function chartConfig(theme: string): object {
  const c = chartColours(theme);
  const font = c.font;
  return {
    // The chart as a whole carries its sentence; one for each point would only cost time.
    aria: false,
    background: null,
    padding: 0,
    // Long names come broken into lines.
    lineBreak: '\n',
    font,
    view: { fill: c.strip, stroke: theme === 'red' ? c.line : null },
    axis: {
      labelFont: font,
      labelFontSize: 12.5,
      labelColor: c.ink2,
      titleFont: font,
      titleFontWeight: 400,
      titleFontSize: 12.5,
      titleColor: c.ink,
      domain: false,
      ticks: false,
      labelPadding: 6,
      grid: true,
      gridColor: c.line,
      gridWidth: 1,
    },
    axisX: { grid: false, domain: true, domainColor: c.edge, labelPadding: 8 },
    axisQuantitative: { tickCount: 4 },
    line: { strokeWidth: 2.2, strokeJoin: 'round', strokeCap: 'butt' },
    point: { size: 28, filled: true },
    rule: { stroke: c.fails, strokeWidth: 1.8 },
    text: { font, fontSize: 12.5, color: c.ink },
    legend: { disable: true },
  };
}
