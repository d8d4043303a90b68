// Keeping notebooks on the device. A change is put in the same task as the edit that made it, so that
// a tab killed a moment later has lost nothing; the journal covers the moments in which the database
// does not take it. What fails is told, kept in memory and tried again.

import {
  allJournalled,
  forgetJournalled,
  forgetWholly,
  journalled,
  writeJournal,
} from './journal.ts';
import { type Kept, readKept, readVersion, type Version } from './kept-record.ts';
import { NOTEBOOKS, NotebookDatabase, throughOf, VERSIONS } from './notebook-database.ts';
import { storageWords } from './storage-words.ts';
import { VERSION_EVERY, versionsToDrop } from './versions.ts';

export type { Kept, Version } from './kept-record.ts';

export type SavingState = 'saved' | 'saving' | 'failed';

/** Everything kept here, as the first page shows it. */
export interface KeptList {
  /** The last used first. */
  readonly kept: readonly Kept[];
  /** Taken away and not yet let go, the last first. */
  readonly away: readonly Kept[];
  /** How many records cannot be read. */
  readonly damaged: number;
}

/** How much of the device's room is used, bytes, and whether the browser may clear it. */
export interface Room {
  readonly used: number;
  readonly available: number;
  readonly lasting: boolean;
}

/** A notebook that was taken away can be put back for this long, ms. */
export const AWAY_FOR = 30 * 24 * 3_600_000;

const FIRST_RETRY = 2000;
const LAST_RETRY = 30_000;
/** Edits are written to the disk itself, past every buffer, this long after they are kept, ms. */
const SEAL = 200;

export class Storage {
  readonly #database = new NotebookDatabase();
  readonly #told: (state: SavingState, why: string) => void;
  readonly #kept: (entry: Kept) => void;
  /** What is not yet known to be on the disk, by notebook. */
  readonly #waiting = new Map<string, Kept>();
  /** The last moment each notebook was kept at, so that it grows even if the clock is put back. */
  readonly #last = new Map<string, number>();
  /** When the last version of each notebook was kept, and the text it was opened with. */
  readonly #versioned = new Map<string, number>();
  readonly #opened = new Map<string, Kept>();
  #answers = true;
  /** Kept, and not yet written past the system's buffers. */
  readonly #unsealed = new Map<string, Kept>();
  #sealing: ReturnType<typeof setTimeout> | undefined;
  #retry: ReturnType<typeof setTimeout> | undefined;
  #delay = FIRST_RETRY;
  #askedToLast = false;
  #settled: (() => void)[] = [];
  /** Versions that are on their way. */
  #versioning: Promise<unknown> = Promise.resolve();

  constructor(
    told: (state: SavingState, why: string) => void,
    kept: (entry: Kept) => void = () => {},
  ) {
    this.#told = told;
    this.#kept = kept;
    this.#database.open().catch(() => {
      this.#answers = false;
    });
  }

  /** Whether the database could be read; if not, a notebook not found may yet be there. */
  get answers(): boolean {
    return this.#answers;
  }

  // ── keeping ─────────────────────────────────────────────────────────────────────────────────

  /** Keeps a notebook now: journal and database have it before this returns. */
  keep(entry: Kept): Kept {
    const when = Math.max(entry.when, (this.#last.get(entry.id) ?? 0) + 1);
    const stamped = { ...entry, when };
    this.#last.set(entry.id, when);
    this.#told('saving', '');
    const inJournal = writeJournal(stamped);
    this.#waiting.set(entry.id, stamped);
    this.#write(inJournal);
    this.#kept(stamped);
    return stamped;
  }

  /** Settles when what was kept is on the disk, or when that failed. */
  settled(): Promise<void> {
    if (this.#waiting.size === 0) return Promise.resolve();
    return new Promise((resolve) => this.#settled.push(resolve));
  }

  /**
   * An edit goes to the system at once: it outlives the page and the browser. Past the system's own
   * buffers, where it outlives the battery, it goes a moment later and for many edits at once: each
   * waiting for the disk by itself, quick edits would queue up and be lost together.
   */
  #write(inJournal = true, durability: IDBTransactionDurability = 'relaxed'): void {
    clearTimeout(this.#retry);
    const database = this.#database.connection;
    if (!database) {
      this.#database.open().then(
        () => {
          this.#answers = true;
          if (this.#waiting.size > 0) this.#write(inJournal);
        },
        (reason: unknown) => this.#failed(reason, inJournal),
      );
      return;
    }
    try {
      const transaction = database.transaction(NOTEBOOKS, 'readwrite', { durability });
      const entries = [...this.#waiting.values()];
      for (const entry of entries) {
        transaction.objectStore(NOTEBOOKS).put(entry);
      }
      const through = throughOf(transaction);
      transaction.commit();
      through.then(
        () => {
          if (durability === 'relaxed') this.#seal(entries, inJournal);
          this.#saved(entries);
        },
        (reason: unknown) => this.#failed(reason, inJournal),
      );
    } catch (reason) {
      this.#database.leave();
      this.#failed(reason, inJournal);
    }
  }

  /** Writes what was kept a moment ago to the disk itself. */
  #seal(entries: readonly Kept[], inJournal: boolean): void {
    for (const entry of entries) this.#unsealed.set(entry.id, entry);
    this.#sealing ??= setTimeout(() => {
      this.#sealing = undefined;
      for (const [id, entry] of this.#unsealed) {
        if (!this.#waiting.has(id)) this.#waiting.set(id, entry);
      }
      this.#unsealed.clear();
      this.#write(inJournal, 'strict');
    }, SEAL);
  }

  #saved(entries: readonly Kept[]): void {
    for (const entry of entries) {
      if (this.#waiting.get(entry.id) === entry) this.#waiting.delete(entry.id);
    }
    if (this.#waiting.size > 0) return;
    this.#delay = FIRST_RETRY;
    this.#told('saved', '');
    this.#release();
    void this.#askToLast();
    this.#versioning = Promise.all([
      this.#versioning,
      ...entries.map((one) => this.#keepVersions(one)),
    ]);
  }

  #failed(reason: unknown, inJournal: boolean): void {
    this.#told('failed', storageWords(reason, inJournal));
    this.#release();
    clearTimeout(this.#retry);
    this.#retry = setTimeout(() => this.#write(inJournal), this.#delay);
    this.#delay = Math.min(LAST_RETRY, this.#delay * 2);
  }

  #release(): void {
    const settled = this.#settled;
    this.#settled = [];
    for (const resolve of settled) resolve();
  }

  /** Asks the browser to keep what is here when it needs room: once there is something to keep. */
  async #askToLast(): Promise<void> {
    if (this.#askedToLast) return;
    this.#askedToLast = true;
    try {
      if (!(await navigator.storage.persisted())) await navigator.storage.persist();
    } catch {
      // Where it cannot be asked, everything else works the same.
    }
  }

  // ── reading ─────────────────────────────────────────────────────────────────────────────────

  /** The newest text of a notebook: from the database, the journal or what is still waiting. */
  async read(id: string): Promise<Kept | undefined> {
    let stored: Kept | undefined;
    try {
      stored = readKept(await this.#database.get(NOTEBOOKS, id));
      this.#answers = true;
    } catch (reason) {
      this.#answers = false;
      this.#told('failed', storageWords(reason, false));
    }
    const newest = [stored, journalled(id), this.#waiting.get(id)].reduce((best, entry) =>
      entry && entry.when > (best?.when ?? -1) ? entry : best,
    );
    if (newest) this.#last.set(id, Math.max(newest.when, this.#last.get(id) ?? 0));
    return newest;
  }

  /** The notebooks kept here, the last used first. */
  async list(): Promise<readonly Kept[]> {
    return (await this.listAll()).kept;
  }

  async listAll(): Promise<KeptList> {
    let records: readonly unknown[] = [];
    try {
      records = await this.#database.all(NOTEBOOKS);
      this.#answers = true;
    } catch (reason) {
      this.#answers = false;
      this.#told('failed', storageWords(reason, false));
    }
    const newest = new Map<string, Kept>();
    let damaged = 0;
    for (const record of records) {
      const entry = readKept(record);
      if (entry) newest.set(entry.id, entry);
      else damaged++;
    }
    for (const entry of [...allJournalled(), ...this.#waiting.values()]) {
      const stored = newest.get(entry.id);
      if (!stored || entry.when > stored.when) newest.set(entry.id, entry);
      else if (stored.when >= entry.when) forgetJournalled(entry.id);
    }
    const all = [...newest.values()].toSorted((a, b) => b.when - a.when);
    const away = all.filter((entry) => entry.deleted !== undefined);
    for (const entry of away) if (this.#isOver(entry)) void this.#letGo(entry.id);
    return {
      kept: all.filter((entry) => entry.deleted === undefined),
      away: away.filter((entry) => !this.#isOver(entry)),
      damaged,
    };
  }

  async room(): Promise<Room | undefined> {
    try {
      const [{ usage, quota }, lasting] = await Promise.all([
        navigator.storage.estimate(),
        navigator.storage.persisted(),
      ]);
      if (usage === undefined || quota === undefined) return undefined;
      return { used: usage, available: quota, lasting };
    } catch {
      return undefined;
    }
  }

  // ── taking away and putting back ────────────────────────────────────────────────────────────

  #isOver(entry: Kept): boolean {
    return entry.deleted !== undefined && Date.now() - entry.deleted > AWAY_FOR;
  }

  async takeAway(id: string): Promise<void> {
    const entry = await this.read(id);
    if (entry) this.keep({ ...entry, when: Date.now(), deleted: Date.now() });
    await this.settled();
  }

  async putBack(id: string): Promise<void> {
    const entry = await this.read(id);
    if (!entry) return;
    const { deleted: _, ...present } = entry;
    this.keep({ ...present, when: Date.now() });
    await this.settled();
  }

  async copy(id: string, newId: string): Promise<void> {
    const entry = await this.read(id);
    if (!entry) return;
    const { deleted: _, ...present } = entry;
    this.keep({ ...present, id: newId, when: Date.now() });
    await this.settled();
  }

  async #letGo(id: string): Promise<void> {
    forgetWholly(id);
    try {
      const database = await this.#database.open();
      const transaction = database.transaction([NOTEBOOKS, VERSIONS], 'readwrite');
      transaction.objectStore(NOTEBOOKS).delete(id);
      transaction.objectStore(VERSIONS).delete(versionsOf(id));
      await throughOf(transaction);
    } catch {
      // It stays a while longer; the next list tries again.
    }
  }

  // ── versions ────────────────────────────────────────────────────────────────────────────────

  /** A notebook is opened with this text; it becomes a version with the first edit after it. */
  opened(entry: Kept): void {
    this.#opened.set(entry.id, entry);
    this.#versioned.delete(entry.id);
  }

  async #keepVersions(entry: Kept): Promise<void> {
    const opened = this.#opened.get(entry.id);
    // Kept as it was opened, it is not an earlier version yet.
    if (opened && opened.text !== entry.text) {
      this.#opened.delete(entry.id);
      await this.keepVersion(opened, 'opened');
    }
    const last = this.#versioned.get(entry.id);
    if (last === undefined) this.#versioned.set(entry.id, entry.when);
    else if (entry.when - last >= VERSION_EVERY) {
      this.#versioned.set(entry.id, entry.when);
      await this.keepVersion(entry, 'edited');
    }
  }

  /** Keeps a text among the earlier versions, unless the last of them is the same. */
  async keepVersion(entry: Kept, why: Version['why']): Promise<void> {
    const { id, text, headline, when } = entry;
    try {
      const versions = await this.versions(id);
      if (versions[0]?.text === text) return;
      const version: Version = { id, when, text, headline, why };
      const database = await this.#database.open();
      const transaction = database.transaction(VERSIONS, 'readwrite');
      const store = transaction.objectStore(VERSIONS);
      store.put(version);
      for (const old of versionsToDrop([version, ...versions], Date.now())) {
        store.delete([id, old.when]);
      }
      await throughOf(transaction);
    } catch {
      // The notebook itself is kept apart from its versions; the next version tries again.
    }
  }

  /** The same with those that the last edits make. */
  async versionsByNow(id: string): Promise<readonly Version[]> {
    await this.settled();
    await this.#versioning;
    return await this.versions(id);
  }

  /** The earlier versions of a notebook, the newest first. */
  async versions(id: string): Promise<readonly Version[]> {
    const records = await this.#database.all(VERSIONS, versionsOf(id));
    return records
      .flatMap((record) => readVersion(record) ?? [])
      .toSorted((a, b) => b.when - a.when);
  }
}

function versionsOf(id: string): IDBKeyRange {
  return IDBKeyRange.bound([id, 0], [id, Number.POSITIVE_INFINITY]);
}
