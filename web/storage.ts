// Keeping notebooks on the device. The connection is opened once; a change is put in the same task
// as the edit that made it, so that a browser killed a moment later has lost nothing; a moment after
// the last edit it is put once more and the browser waits for the disk, so that a battery that dies
// has lost nothing either. (To wait for the disk at every edit makes the next one queue behind it,
// and a browser killed then has lost more.) A journal of each notebook's last text in localStorage
// covers the time until the database is open. Where the device keeps nothing, everything goes on in
// memory and the reader is told.

import { type Earlier, isDue, keptVersions } from './versions.ts';

export interface Kept {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  /** The verdict's headline when it was kept. */
  readonly headline: string;
  /** Milliseconds since 1970. */
  readonly when: number;
  /** When it was put away, to be deleted some days later; absent: it is in use. */
  readonly gone?: number;
}

const NOTEBOOKS = 'notebooks';
const EARLIER = 'earlier';
const JOURNAL = 'dapple.journal.';
/** What is put away can be put back for so long, ms. */
export const PUT_AWAY = 30 * 24 * 3_600_000;
/** Waiting for the disk begins when no edit came for this long, ms. */
const REST = 60;
/** A failed write is tried again after this, ms. */
const AGAIN = 15_000;

/** A record as it was stored, or undefined when it is none: what is on a device may be damaged. */
export function readKept(value: unknown): Kept | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const { id, text, title, headline, when, gone } = value as Readonly<Record<string, unknown>>;
  if (typeof id !== 'string' || typeof text !== 'string') return undefined;
  return {
    id,
    text,
    title: typeof title === 'string' ? title : '',
    headline: typeof headline === 'string' ? headline : '',
    when: typeof when === 'number' && Number.isFinite(when) ? when : 0,
    ...(typeof gone === 'number' && Number.isFinite(gone) ? { gone } : {}),
  };
}

function readEarlier(value: unknown): Earlier | undefined {
  const kept = readKept(value);
  return kept && kept.when > 0 ? kept : undefined;
}

function openDatabase(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open('dapple', 2);
    request.onupgradeneeded = (): void => {
      const stores = request.result.objectStoreNames;
      if (!stores.contains(NOTEBOOKS))
        request.result.createObjectStore(NOTEBOOKS, { keyPath: 'id' });
      if (!stores.contains(EARLIER))
        request.result.createObjectStore(EARLIER, { keyPath: ['id', 'when'] });
    };
    request.onsuccess = (): void => resolve(request.result);
    request.onerror = (): void => reject(request.error ?? new Error('no database'));
    request.onblocked = (): void => reject(new Error('another tab holds an older version'));
  });
}

export type SavingState = 'saved' | 'saving' | 'failed';

/** Why nothing was kept, in words for the reader. */
export function reasonOf(failure: unknown): string {
  const name = failure instanceof DOMException ? failure.name : '';
  if (name === 'QuotaExceededError') return 'the disk is full, or this page may use no more of it';
  if (name === 'SecurityError' || name === 'InvalidStateError')
    return 'this browser lets the page keep nothing, as in a private window';
  if (name === 'VersionError')
    return 'a newer version of this page has been here; load the page again';
  const text = failure instanceof Error ? failure.message : String(failure);
  return text === '' ? 'the browser did not say why' : text;
}

export class Storage {
  #database: IDBDatabase | undefined;
  readonly #opening: Promise<void>;
  readonly #told: (state: SavingState, why: string) => void;
  readonly #listChanged: () => void;
  /** The last text of each notebook of this tab that is not yet known to be on disk. */
  readonly #waiting = new Map<string, Kept>();
  /** What each notebook of this tab held before, and when a version of it was last kept. */
  readonly #before = new Map<string, Kept>();
  readonly #lastVersion = new Map<string, number>();
  readonly #lists: BroadcastChannel | undefined;
  #again: ReturnType<typeof setTimeout> | undefined;
  #resting: ReturnType<typeof setTimeout> | undefined;
  #asked = false;
  /** Why the database could not be opened. */
  #whyNot: unknown;

  /** @param listChanged another tab, or this one, changed what the first page lists */
  constructor(told: (state: SavingState, why: string) => void, listChanged: () => void) {
    this.#told = told;
    this.#listChanged = listChanged;
    this.#lists =
      typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel('dapple');
    this.#lists?.addEventListener('message', () => this.#listChanged());
    this.#opening = this.#open();
  }

  async #open(): Promise<void> {
    try {
      const database = await openDatabase();
      this.#database = database;
      database.onversionchange = (): void => database.close();
      database.onclose = (): void => this.#lost();
      this.settle();
    } catch (reason) {
      this.#whyNot = reason;
      this.#told('failed', reasonOf(reason));
    }
  }

  /** The browser closed the database, as it does when the reader clears what pages keep. */
  #lost(): void {
    this.#database = undefined;
    void this.#open();
  }

  /** Keeps a notebook now. The journal is written before this returns. */
  keep(entry: Kept): void {
    this.#told('saving', '');
    this.#waiting.set(entry.id, entry);
    try {
      localStorage.setItem(JOURNAL + entry.id, JSON.stringify(entry));
    } catch {
      // Full or blocked: the database alone has to do; it tells when it cannot.
    }
    if (this.#database) {
      this.#put(entry, 'relaxed');
      clearTimeout(this.#resting);
      this.#resting = setTimeout(() => this.settle(), REST);
    } else void this.#opening.then(() => this.#database ?? this.#fail(this.#whyNot));
    this.#askToPersist();
  }

  /** Has everything put so far written through to the disk. */
  settle(): void {
    clearTimeout(this.#resting);
    for (const entry of [...this.#waiting.values()]) this.#put(entry, 'strict');
  }

  #put(entry: Kept, durability: IDBTransactionDurability): void {
    const database = this.#database;
    if (!database) return;
    try {
      const both = [NOTEBOOKS, EARLIER];
      const transaction = database.transaction(both, 'readwrite', { durability });
      transaction.objectStore(NOTEBOOKS).put(entry);
      const before = this.#before.get(entry.id);
      const due = before && isDue(this.#lastVersion.get(entry.id), entry.when);
      if (before && due && before.text !== entry.text) {
        transaction
          .objectStore(EARLIER)
          .put({ ...before, when: Math.min(before.when, entry.when) });
        this.#lastVersion.set(entry.id, entry.when);
      }
      if (durability === 'strict') transaction.oncomplete = (): void => this.#isKept(entry);
      transaction.onabort = (): void => this.#fail(transaction.error);
      transaction.commit();
    } catch (reason) {
      this.#fail(reason);
    }
  }

  #isKept(entry: Kept): void {
    this.#before.set(entry.id, entry);
    if (this.#waiting.get(entry.id) !== entry) return;
    this.#waiting.delete(entry.id);
    try {
      localStorage.removeItem(JOURNAL + entry.id);
    } catch {
      // A journal that stays is older than the record and is not looked at.
    }
    if (this.#waiting.size === 0) this.#told('saved', '');
    this.#lists?.postMessage('changed');
  }

  #fail(reason: unknown): void {
    this.#told('failed', reasonOf(reason));
    clearTimeout(this.#again);
    this.#again = setTimeout(() => this.settle(), AGAIN);
  }

  /** Asks the browser not to clear what is kept: once, when there is something worth it. */
  #askToPersist(): void {
    if (this.#asked) return;
    this.#asked = true;
    void navigator.storage?.persist?.().catch(() => false);
  }

  async #request<T>(
    store: string,
    mode: IDBTransactionMode,
    make: (store: IDBObjectStore) => IDBRequest<T>,
  ): Promise<T | undefined> {
    await this.#opening;
    const database = this.#database;
    if (!database) return undefined;
    try {
      return await new Promise<T>((resolve, reject) => {
        const transaction = database.transaction(store, mode);
        const request = make(transaction.objectStore(store));
        if (mode === 'readonly') request.onsuccess = (): void => resolve(request.result);
        else transaction.oncomplete = (): void => resolve(request.result);
        request.onerror = (): void => reject(request.error ?? new Error('the database failed'));
        transaction.onabort = (): void =>
          reject(transaction.error ?? new Error('it was cut short'));
      });
    } catch (reason) {
      this.#told('failed', reasonOf(reason));
      return undefined;
    }
  }

  /** The last text of a notebook, from the database or, when that is newer, from the journal. */
  async read(id: string): Promise<Kept | undefined> {
    const value: unknown = await this.#request(NOTEBOOKS, 'readonly', (store) => store.get(id));
    const stored = readKept(value);
    const journal = this.#waiting.get(id) ?? readJournal(id);
    const newest = journal && journal.when >= (stored?.when ?? 0) ? journal : stored;
    if (newest) this.#before.set(id, newest);
    return newest;
  }

  /** All notebooks kept here and in use, the last used first. */
  async list(): Promise<readonly Kept[]> {
    return (await this.#all()).filter((entry) => entry.gone === undefined);
  }

  /** What was put away and can still be put back; what is older is deleted. */
  async putAway(now: number): Promise<readonly Kept[]> {
    const gone = (await this.#all()).filter((entry) => entry.gone !== undefined);
    const old = gone.filter((entry) => now - (entry.gone ?? 0) > PUT_AWAY);
    for (const { id } of old) await this.#forget(id);
    return gone.filter((entry) => !old.includes(entry));
  }

  async #all(): Promise<readonly Kept[]> {
    const values: unknown[] = (await this.#request(NOTEBOOKS, 'readonly', (s) => s.getAll())) ?? [];
    const byId = new Map<string, Kept>();
    const seen = (entry: Kept | undefined): void => {
      const known = entry && byId.get(entry.id);
      if (entry && (!known || entry.when >= known.when)) byId.set(entry.id, entry);
    };
    for (const value of values) seen(readKept(value));
    for (const entry of journals()) seen(entry);
    for (const entry of this.#waiting.values()) seen(entry);
    return [...byId.values()].toSorted((a, b) => b.when - a.when);
  }

  /** Puts a notebook away: it is no longer listed, and can be put back for a month. */
  async remove(id: string, now: number): Promise<void> {
    await this.#mark(id, now);
  }

  async putBack(id: string): Promise<void> {
    await this.#mark(id, undefined);
  }

  async #mark(id: string, gone: number | undefined): Promise<void> {
    const entry = await this.read(id);
    if (!entry) return;
    const { gone: _, ...rest } = entry;
    const marked: Kept = gone === undefined ? rest : { ...rest, gone };
    forgetJournal(id);
    this.#waiting.delete(id);
    await this.#request(NOTEBOOKS, 'readwrite', (store) => store.put(marked));
    this.#lists?.postMessage('changed');
  }

  async #forget(id: string): Promise<void> {
    forgetJournal(id);
    await this.#request(NOTEBOOKS, 'readwrite', (store) => store.delete(id));
    const all = IDBKeyRange.bound([id, 0], [id, Number.MAX_VALUE]);
    await this.#request(EARLIER, 'readwrite', (store) => store.delete(all));
  }

  /** Another notebook with the same text, under an identity of its own. */
  async copy(id: string, fresh: string, now: number): Promise<void> {
    const entry = await this.read(id);
    if (!entry) return;
    const { gone: _, ...rest } = entry;
    const title = `${entry.title || 'Untitled'}, a copy`;
    const text = entry.text.replace(/^title:.*$/mu, () => `title: ${title}`);
    const copied: Kept = { ...rest, id: fresh, title, text, when: now };
    await this.#request(NOTEBOOKS, 'readwrite', (store) => store.put(copied));
    this.#lists?.postMessage('changed');
  }

  /** Earlier versions of a notebook, the newest first; those no longer wanted are let go. */
  async earlier(id: string, now: number): Promise<readonly Earlier[]> {
    const range = IDBKeyRange.bound([id, 0], [id, Number.MAX_VALUE]);
    const values: unknown[] =
      (await this.#request(EARLIER, 'readonly', (store) => store.getAll(range))) ?? [];
    const versions = values
      .map(readEarlier)
      .filter((version): version is Earlier => version !== undefined)
      .toSorted((a, b) => b.when - a.when);
    const kept = keptVersions(
      versions.map(({ when, text }) => ({ when, size: text.length })),
      now,
    );
    for (const { when } of versions) {
      if (kept.has(when)) continue;
      await this.#request(EARLIER, 'readwrite', (store) => store.delete([id, when]));
    }
    return versions.filter(({ when }) => kept.has(when));
  }

  /** What the page uses of this device and may use, in bytes, and whether the browser will hold it. */
  async room(): Promise<{ used: number; most: number; held: boolean } | undefined> {
    try {
      const { usage = 0, quota = 0 } = await navigator.storage.estimate();
      return { used: usage, most: quota, held: await navigator.storage.persisted() };
    } catch {
      return undefined;
    }
  }
}

function readJournal(id: string): Kept | undefined {
  try {
    const entry = readKept(JSON.parse(localStorage.getItem(JOURNAL + id) ?? 'null'));
    return entry?.id === id ? entry : undefined;
  } catch {
    return undefined;
  }
}

function journals(): readonly Kept[] {
  try {
    return Object.keys(localStorage)
      .filter((key) => key.startsWith(JOURNAL))
      .flatMap((key) => readJournal(key.slice(JOURNAL.length)) ?? []);
  } catch {
    return [];
  }
}

function forgetJournal(id: string): void {
  try {
    localStorage.removeItem(JOURNAL + id);
  } catch {
    // Nothing can be kept here, so nothing is.
  }
}
