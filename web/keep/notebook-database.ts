// The database on the device: opened once and held open, opened again when the browser closed it, and
// mended when it lacks a store. Reading goes record by record where reading all at once fails, so
// that a damaged record hides no other.

export const NOTEBOOKS = 'notebooks';
export const VERSIONS = 'versions';

const NAME = 'dapple';
/** A database that does not answer within this is worked without, ms. */
const PATIENCE = 4000;

export class NoAnswer extends Error {
  constructor() {
    super('no answer');
    this.name = 'NoAnswer';
  }
}

function makeStores(database: IDBDatabase): void {
  const has = database.objectStoreNames;
  if (!has.contains(NOTEBOOKS)) database.createObjectStore(NOTEBOOKS, { keyPath: 'id' });
  if (!has.contains(VERSIONS)) database.createObjectStore(VERSIONS, { keyPath: ['id', 'when'] });
}

function openAt(version: number | undefined): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, version);
    const late = setTimeout(() => reject(new NoAnswer()), PATIENCE);
    request.onupgradeneeded = (): void => makeStores(request.result);
    request.onsuccess = (): void => {
      clearTimeout(late);
      resolve(request.result);
    };
    request.onerror = (event): void => {
      event.preventDefault();
      clearTimeout(late);
      reject(request.error ?? new NoAnswer());
    };
  });
}

async function openWhole(): Promise<IDBDatabase> {
  const database = await openAt(undefined);
  const has = database.objectStoreNames;
  if (has.contains(NOTEBOOKS) && has.contains(VERSIONS)) return database;
  database.close();
  return openAt(database.version + 1);
}

export function answerOf<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = (): void => resolve(request.result);
    request.onerror = (event): void => {
      event.preventDefault();
      reject(request.error ?? new NoAnswer());
    };
  });
}

/** Settles when a transaction is through. */
export function throughOf(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = (): void => resolve();
    transaction.onabort = (): void => reject(transaction.error ?? new NoAnswer());
  });
}

export class NotebookDatabase {
  #database: IDBDatabase | undefined;
  #opening: Promise<IDBDatabase> | undefined;

  /** The open connection, so that writing begins in the task that asks for it. */
  get connection(): IDBDatabase | undefined {
    return this.#database;
  }

  open(): Promise<IDBDatabase> {
    if (this.#database) return Promise.resolve(this.#database);
    this.#opening ??= this.#openNew().finally(() => {
      this.#opening = undefined;
    });
    return this.#opening;
  }

  async #openNew(): Promise<IDBDatabase> {
    const database = await openWhole();
    const gone = (): void => {
      if (this.#database === database) this.#database = undefined;
    };
    database.onclose = gone;
    database.onversionchange = (): void => {
      gone();
      database.close();
    };
    this.#database = database;
    return database;
  }

  /** Leaves the connection, so that the next use opens a new one. */
  leave(): void {
    this.#database?.close();
    this.#database = undefined;
  }

  async #reading(store: string): Promise<IDBObjectStore> {
    const database = await this.open();
    try {
      return database.transaction(store, 'readonly').objectStore(store);
    } catch {
      // The connection was closed beneath us: once more with a new one.
      this.leave();
      return (await this.open()).transaction(store, 'readonly').objectStore(store);
    }
  }

  async get(store: string, key: IDBValidKey): Promise<unknown> {
    return answerOf(await this.#reading(store).then((from) => from.get(key)));
  }

  /** All records of a range; those that cannot be read are undefined. */
  async all(store: string, range?: IDBKeyRange): Promise<readonly unknown[]> {
    try {
      const from = await this.#reading(store);
      return await answerOf<unknown[]>(from.getAll(range));
    } catch {
      const from = await this.#reading(store);
      const keys = await answerOf(from.getAllKeys(range));
      const each = keys.map((key) => this.get(store, key).catch(() => undefined));
      return Promise.all(each);
    }
  }
}
