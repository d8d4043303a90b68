// Which file on the disk a notebook belongs to, remembered beyond a reload: the browser lets a file's
// handle be kept, and asks the reader again before it is written to.

import type { FileOnDisk } from './files.ts';

const STORE = 'files';

function openDatabase(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open('dapple-files', 1);
    request.onupgradeneeded = (): void => {
      request.result.createObjectStore(STORE);
    };
    request.onsuccess = (): void => resolve(request.result);
    request.onerror = (): void => reject(request.error ?? new Error('no database'));
    request.onblocked = (): void => reject(new Error('another tab holds an older version'));
  });
}

function isFileOnDisk(value: unknown): value is FileOnDisk {
  if (typeof value !== 'object' || value === null) return false;
  const file = value as Partial<FileOnDisk>;
  return (
    typeof FileSystemFileHandle === 'function' &&
    file.handle instanceof FileSystemFileHandle &&
    typeof file.text === 'string' &&
    typeof file.modified === 'number' &&
    typeof file.size === 'number'
  );
}

interface AskingHandle {
  readonly requestPermission?: (options: { mode: 'readwrite' }) => Promise<PermissionState>;
}

/**
 * The files of notebooks, by address. What cannot be kept on the device is known until the page is
 * left; saving then asks where, which is no loss.
 */
export class FileMemory {
  readonly #now = new Map<string, FileOnDisk>();

  async get(id: string): Promise<FileOnDisk | undefined> {
    const known = this.#now.get(id);
    if (known) return known;
    const kept: unknown = await this.#request('readonly', (store) => store.get(id));
    if (!isFileOnDisk(kept)) return undefined;
    // A handle from an earlier visit may be used again when the reader says so.
    const asking = kept.handle as AskingHandle;
    const allowed = await asking.requestPermission?.({ mode: 'readwrite' }).catch(() => 'denied');
    if (allowed !== 'granted') return undefined;
    this.#now.set(id, kept);
    return kept;
  }

  set(id: string, file: FileOnDisk): void {
    this.#now.set(id, file);
    void this.#request('readwrite', (store) => store.put(file, id));
  }

  forget(id: string): void {
    this.#now.delete(id);
    void this.#request('readwrite', (store) => store.delete(id));
  }

  async #request<T>(
    mode: IDBTransactionMode,
    make: (store: IDBObjectStore) => IDBRequest<T>,
  ): Promise<T | undefined> {
    try {
      const database = await openDatabase();
      return await new Promise((resolve, reject) => {
        const transaction = database.transaction(STORE, mode);
        const request = make(transaction.objectStore(STORE));
        transaction.oncomplete = (): void => {
          database.close();
          resolve(request.result);
        };
        transaction.onabort = (): void => {
          database.close();
          reject(transaction.error ?? new Error('the database failed'));
        };
      });
    } catch {
      return undefined;
    }
  }
}
