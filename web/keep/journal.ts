// The journal: the last text of each notebook that was worked on, in localStorage, one entry a
// notebook. It is written before an edit returns, so it covers the moments in which the database is
// still opening or cannot be written.

import { type Kept, readJournalled } from './kept-record.ts';

const PREFIX = 'dapple.journal.';
/** Stands for each notebook that was ever changed here: the page's first lines look for it. */
const OWN = 'dapple.own.';

/** False where nothing can be written. An older entry of the notebook then stays. */
export function writeJournal(entry: Kept): boolean {
  try {
    localStorage.setItem(PREFIX + entry.id, JSON.stringify(entry));
  } catch {
    return false;
  }
  markOwn(entry.id);
  return true;
}

/** After the text, which is worth more where there is little room; once for each notebook. */
function markOwn(id: string): void {
  try {
    if (localStorage.getItem(OWN + id) === null) localStorage.setItem(OWN + id, '');
  } catch {
    // The picture of what it was is then shown for a moment.
  }
}

export function journalled(id: string): Kept | undefined {
  try {
    const entry = readJournalled(localStorage.getItem(PREFIX + id));
    return entry?.id === id ? entry : undefined;
  } catch {
    return undefined;
  }
}

export function allJournalled(): readonly Kept[] {
  try {
    return Object.keys(localStorage)
      .filter((key) => key.startsWith(PREFIX))
      .flatMap((key) => journalled(key.slice(PREFIX.length)) ?? []);
  } catch {
    return [];
  }
}

export function forgetJournalled(id: string): void {
  try {
    localStorage.removeItem(PREFIX + id);
  } catch {
    // Where nothing can be written nothing was kept.
  }
}

/** The notebook is as if it never was here. */
export function forgetWholly(id: string): void {
  forgetJournalled(id);
  try {
    localStorage.removeItem(OWN + id);
  } catch {
    // As above.
  }
}
