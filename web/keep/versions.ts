// Earlier versions of a notebook: which are worth keeping as they grow older, and what differs
// between two texts, line by line.

import type { Version } from './kept-record.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const MONTH = 30 * DAY;

/** While one edits, a version is kept this often, ms. */
export const VERSION_EVERY = 10 * MINUTE;
/** The versions of one notebook take at most this many characters. */
export const VERSIONS_LARGEST = 2_000_000;

/** The span a version stands for at its age: only one is kept in each. */
function spanOf(when: number, now: number): string {
  const age = now - when;
  if (age <= HOUR) return `all ${when}`;
  if (age <= DAY) return `hour ${Math.floor(when / HOUR)}`;
  if (age <= MONTH) return `day ${Math.floor(when / DAY)}`;
  return `month ${Math.floor(when / MONTH)}`;
}

/**
 * The versions to let go: of the last hour none, then all but one an hour for a day, one a day for
 * a month and one a month; the first of each span stays. Beyond the largest size the oldest go, but
 * never the newest.
 */
export function versionsToDrop(
  versions: readonly Version[],
  now: number,
  largest = VERSIONS_LARGEST,
): readonly Version[] {
  const oldestFirst = versions.toSorted((a, b) => a.when - b.when);
  const spans = new Set<string>();
  const drop: Version[] = [];
  const stay: Version[] = [];
  for (const version of oldestFirst) {
    const span = spanOf(version.when, now);
    if (spans.has(span)) drop.push(version);
    else stay.push(version);
    spans.add(span);
  }
  let size = stay.reduce((sum, version) => sum + version.text.length, 0);
  for (const version of stay.slice(0, -1)) {
    if (size <= largest) break;
    size -= version.text.length;
    drop.push(version);
  }
  return drop;
}

export interface ChangedLine {
  readonly kind: 'same' | 'gone' | 'new';
  readonly text: string;
}

/** More lines than this between the first and last difference are shown as gone and new, whole. */
const COMPARED = 1500;

/** Lengths of the longest common rest of two lists of lines, for every pair of places. */
function commonRests(before: readonly string[], after: readonly string[]): Uint16Array {
  const width = after.length + 1;
  const rests = new Uint16Array((before.length + 1) * width);
  for (let i = before.length - 1; i >= 0; i--) {
    for (let j = after.length - 1; j >= 0; j--) {
      const at = i * width + j;
      rests[at] =
        before[i] === after[j]
          ? 1 + (rests[at + width + 1] ?? 0)
          : Math.max(rests[at + width] ?? 0, rests[at + 1] ?? 0);
    }
  }
  return rests;
}

function changesWithin(before: readonly string[], after: readonly string[]): ChangedLine[] {
  const gone = (text: string): ChangedLine => ({ kind: 'gone', text });
  const fresh = (text: string): ChangedLine => ({ kind: 'new', text });
  if (before.length > COMPARED || after.length > COMPARED) {
    return [...before.map(gone), ...after.map(fresh)];
  }
  const rests = commonRests(before, after);
  const width = after.length + 1;
  const lines: ChangedLine[] = [];
  let i = 0;
  let j = 0;
  while (i < before.length || j < after.length) {
    const old = before[i];
    const now = after[j];
    const skipOld = rests[(i + 1) * width + j] ?? 0;
    const skipNew = rests[i * width + j + 1] ?? 0;
    if (old !== undefined && old === now) {
      lines.push({ kind: 'same', text: old });
      i++;
      j++;
    } else if (old !== undefined && (now === undefined || skipOld >= skipNew)) {
      lines.push(gone(old));
      i++;
    } else {
      lines.push(fresh(now ?? ''));
      j++;
    }
  }
  return lines;
}

/** What became of each line from one text to another. */
export function changedLines(before: string, after: string): readonly ChangedLine[] {
  const old = before.split('\n');
  const now = after.split('\n');
  let head = 0;
  while (head < old.length && head < now.length && old[head] === now[head]) head++;
  let tail = 0;
  const most = Math.min(old.length, now.length) - head;
  while (tail < most && old[old.length - 1 - tail] === now[now.length - 1 - tail]) tail++;
  const same = (text: string): ChangedLine => ({ kind: 'same', text });
  return [
    ...old.slice(0, head).map(same),
    ...changesWithin(old.slice(head, old.length - tail), now.slice(head, now.length - tail)),
    ...old.slice(old.length - tail).map(same),
  ];
}
