// Labels under bars: broken between words so that each keeps to its own place, and turned upright
// when even single words are too wide. A name that is cut off names nothing.

/** A letter of a label, px; as wide as the widest usual mix. */
const LETTER = 6.5;
/** A line of a label, px. */
const LINE = 15;
const MOST_LINES = 3;
/** A label that stands upright may be this long, letters. */
const UPRIGHT = 22;

export interface FittedLabels {
  /** As they are shown, with line breaks; what is shown twice stays apart by its place. */
  readonly shown: readonly string[];
  readonly angle: 0 | -90;
  /** What the axis takes more than with labels of one line, px. */
  readonly extra: number;
}

/** A label in lines of at most so many letters; nothing when a word does not fit. */
export function wrapped(label: string, letters: number): readonly string[] | undefined {
  const lines: string[] = [];
  for (const word of label.split(/\s+/u)) {
    if (word.length > letters) return undefined;
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= letters)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines.length <= MOST_LINES ? lines : undefined;
}

function shortened(label: string): string {
  return label.length <= UPRIGHT ? label : `${label.slice(0, UPRIGHT - 1)}…`;
}

/** Fits labels into places of this width, px. */
export function fittedLabels(labels: readonly string[], room: number): FittedLabels {
  const letters = Math.floor(room / LETTER);
  const lines = labels.map((label) => wrapped(label, letters));
  if (!lines.includes(undefined)) {
    const most = Math.max(1, ...lines.map((one) => one?.length ?? 1));
    return {
      shown: lines.map((one) => (one ?? []).join('\n')),
      angle: 0,
      extra: (most - 1) * LINE,
    };
  }
  const shown = labels.map(shortened);
  const longest = Math.max(...shown.map(({ length }) => length));
  return { shown, angle: -90, extra: Math.max(0, longest * LETTER - LINE) };
}
