// Keeping notebooks on the device. The connection is opened once; a change is put in the same task
// as the edit that made it, so that a tab killed a moment later has lost nothing. A journal of the
// last text in localStorage covers the gap until the database is open.

export interface Kept {
  readonly id: string;
  readonly title: string;
  readonly text: string;
  /** The verdict's headline when it was kept. */
  readonly headline: string;
  /** Milliseconds since 1970. */
  readonly when: number;
}

const STORE = 'notebooks';
const JOURNAL = 'dapple.journal';

function isKept(value: unknown): value is Kept {
  if (typeof value !== 'object' || value === null) return false;
  const entry = value as Partial<Kept>;
  return typeof entry.id === 'string' && typeof entry.text === 'string';
}

function openDatabase(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open('dapple', 1);
    request.onupgradeneeded = (): void => {
      request.result.createObjectStore(STORE, { keyPath: 'id' });
    };
    request.onsuccess = (): void => resolve(request.result);
    request.onerror = (): void => reject(request.error ?? new Error('no database'));
    request.onblocked = (): void => reject(new Error('another tab holds an older version'));
  });
}

export type SavingState = 'saved' | 'saving' | 'failed';

export class Storage {
  #database: IDBDatabase | undefined;
  readonly #opening: Promise<void>;
  #waiting: Kept | undefined;
  readonly #told: (state: SavingState, why: string) => void;

  constructor(told: (state: SavingState, why: string) => void) {
    this.#told = told;
    this.#opening = openDatabase().then(
      (database) => {
        this.#database = database;
        database.onversionchange = (): void => database.close();
        if (this.#waiting) this.#put(this.#waiting);
      },
      (reason: unknown) => this.#told('failed', String(reason)),
    );
  }

  /** Keeps a notebook now. The journal is written before this returns. */
  keep(entry: Kept): void {
    this.#told('saving', '');
    let journalled = true;
    try {
      localStorage.setItem(JOURNAL, JSON.stringify(entry));
    } catch {
      journalled = false;
    }
    if (this.#database) this.#put(entry);
    else if (journalled) this.#waiting = entry;
    else this.#told('failed', 'nothing can be kept on this device');
  }

  #put(entry: Kept): void {
    this.#waiting = undefined;
    try {
      const transaction = this.#database?.transaction(STORE, 'readwrite', { durability: 'strict' });
      if (!transaction) return;
      transaction.objectStore(STORE).put(entry);
      transaction.oncomplete = (): void => this.#told('saved', '');
      transaction.onabort = (): void => this.#told('failed', transaction.error?.message ?? '');
      transaction.commit();
    } catch (reason) {
      this.#told('failed', String(reason));
    }
  }

  async #request<T>(
    mode: IDBTransactionMode,
    make: (store: IDBObjectStore) => IDBRequest<T>,
  ): Promise<T | undefined> {
    await this.#opening;
    const database = this.#database;
    if (!database) return undefined;
    return new Promise((resolve, reject) => {
      const request = make(database.transaction(STORE, mode).objectStore(STORE));
      request.onsuccess = (): void => resolve(request.result);
      request.onerror = (): void => reject(request.error ?? new Error('the database failed'));
    });
  }

  /** The last text of a notebook, from the database or, when that is newer, from the journal. */
  async read(id: string): Promise<Kept | undefined> {
    const kept: unknown = await this.#request('readonly', (store) => store.get(id));
    const journal = readJournal();
    const stored = isKept(kept) ? kept : undefined;
    if (journal?.id === id && journal.when > (stored?.when ?? 0)) return journal;
    return stored;
  }

  /** All notebooks kept here, the last used first. */
  async list(): Promise<readonly Kept[]> {
    const all: unknown[] = (await this.#request('readonly', (store) => store.getAll())) ?? [];
    const kept = all.filter(isKept);
    const journal = readJournal();
    const older = kept.find((entry) => entry.id === journal?.id);
    const merged =
      journal && journal.when > (older?.when ?? 0)
        ? [journal, ...kept.filter((entry) => entry.id !== journal.id)]
        : kept;
    return merged.toSorted((a, b) => b.when - a.when);
  }

  async remove(id: string): Promise<void> {
    if (readJournal()?.id === id) localStorage.removeItem(JOURNAL);
    await this.#request('readwrite', (store) => store.delete(id));
  }
}

function readJournal(): Kept | undefined {
  try {
    const value: unknown = JSON.parse(localStorage.getItem(JOURNAL) ?? 'null');
    return isKept(value) ? value : undefined;
  } catch {
    return undefined;
  }
}
