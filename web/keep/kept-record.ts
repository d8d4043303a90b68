// What is kept of a notebook on the device, and reading it back without trust: a record may have been
// written by another version of the page, cut short by a full disk or damaged. As long as its text is
// there, the notebook is; whatever else is wrong with the record is put right.

/** A notebook kept on the device. */
export interface Kept {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  /** The verdict's headline when it was kept. */
  readonly headline: string;
  /** Milliseconds since 1970; grows with every keeping of one notebook. */
  readonly when: number;
  /** When it was taken away, while it can still be put back. */
  readonly deleted?: number;
}

export type VersionReason = 'opened' | 'edited' | 'restored' | 'set aside';

/** An earlier text of a notebook. */
export interface Version {
  readonly id: string;
  readonly when: number;
  readonly text: string;
  readonly headline: string;
  readonly why: VersionReason;
}

const REASONS: readonly VersionReason[] = ['opened', 'edited', 'restored', 'set aside'];

/** The last moment a date can be of, ms since 1970. */
const LAST_MOMENT = 8.64e15;

function fieldsOf(value: unknown): Readonly<Record<string, unknown>> | undefined {
  return typeof value === 'object' && value !== null ? { ...value } : undefined;
}

function wordsOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

function momentOf(value: unknown): number {
  const fits = typeof value === 'number' && value >= 0 && value <= LAST_MOMENT;
  return fits ? value : 0;
}

/** A kept notebook, mended where only its trimmings are wrong; undefined when its text is lost. */
export function readKept(value: unknown): Kept | undefined {
  const fields = fieldsOf(value);
  if (!fields || typeof fields.id !== 'string' || fields.id === '') return undefined;
  if (typeof fields.text !== 'string') return undefined;
  const deleted = momentOf(fields.deleted);
  return {
    id: fields.id,
    title: wordsOf(fields.title),
    text: fields.text,
    headline: wordsOf(fields.headline),
    when: momentOf(fields.when),
    ...(deleted > 0 ? { deleted } : {}),
  };
}

/** A kept version; undefined when it cannot be shown with a date. */
export function readVersion(value: unknown): Version | undefined {
  const fields = fieldsOf(value);
  if (!fields || typeof fields.id !== 'string' || typeof fields.text !== 'string') return undefined;
  const when = momentOf(fields.when);
  if (when === 0) return undefined;
  const why = REASONS.find((reason) => reason === fields.why) ?? 'edited';
  return { id: fields.id, when, text: fields.text, headline: wordsOf(fields.headline), why };
}

/** A kept notebook from the journal's text, which may be cut anywhere. */
export function readJournalled(text: string | null): Kept | undefined {
  try {
    return readKept(JSON.parse(text ?? 'null'));
  } catch {
    return undefined;
  }
}
