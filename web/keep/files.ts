// Files of the device: picked or dropped, read whole and exactly, written back where the browser can
// and handed over as a download where it cannot. Before writing, the file is looked at again, since
// another program may have changed it.

import { decodeText } from './text-bytes.ts';

/** A notebook's file as it was when last read or written. */
export interface FileOnDisk {
  readonly handle: FileSystemFileHandle;
  readonly text: string;
  /** Milliseconds since 1970, as the disk says. */
  readonly modified: number;
  readonly size: number;
}

export interface PickedFile {
  readonly file: File;
  /** Present where the browser can write back to the same file. */
  readonly handle?: FileSystemFileHandle;
}

interface FilePickers {
  showOpenFilePicker?: (options: object) => Promise<readonly FileSystemFileHandle[]>;
  showSaveFilePicker?: (options: object) => Promise<FileSystemFileHandle>;
}

/** A notebook larger than this is not one, bytes. */
export const LARGEST_FILE = 4_000_000;

const NOTEBOOK_TYPE = {
  description: 'Dapple notebook',
  accept: { 'text/plain': ['.dapple', '.txt'] },
};
const OPENED_TYPES = [
  {
    description: 'Notebooks, tables, archives of notebooks',
    accept: {
      'text/plain': ['.dapple', '.txt'],
      'text/csv': ['.csv'],
      'text/tab-separated-values': ['.tsv', '.tab'],
      'application/zip': ['.zip'],
    },
  },
];

function pickers(): FilePickers {
  return window as FilePickers;
}

function thoughtBetter(reason: unknown): boolean {
  return reason instanceof DOMException && reason.name === 'AbortError';
}

function pickByInput(): Promise<readonly PickedFile[]> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.multiple = true;
    input.accept = '.dapple,.txt,.csv,.tsv,.tab,.zip,text/plain';
    input.addEventListener('change', () =>
      resolve([...(input.files ?? [])].map((file) => ({ file }))),
    );
    input.addEventListener('cancel', () => resolve([]));
    input.click();
  });
}

/** Lets the reader choose files; none when they thought better of it. */
export async function pickFiles(): Promise<readonly PickedFile[]> {
  const { showOpenFilePicker } = pickers();
  if (!showOpenFilePicker) return pickByInput();
  try {
    const handles = await showOpenFilePicker.call(window, { types: OPENED_TYPES, multiple: true });
    return await Promise.all(
      handles.map(async (handle) => ({ file: await handle.getFile(), handle })),
    );
  } catch (reason) {
    if (thoughtBetter(reason)) return [];
    throw reason;
  }
}

interface DroppedItem extends DataTransferItem {
  getAsFileSystemHandle?: () => Promise<FileSystemHandle | null>;
}

/** The files of a drop. They must be asked for before anything is awaited. */
export function droppedFiles(data: DataTransfer): Promise<readonly PickedFile[]> {
  const files = [...data.files];
  const items: readonly DroppedItem[] = [...data.items].filter((item) => item.kind === 'file');
  const handles = items.map((item) =>
    (item.getAsFileSystemHandle?.() ?? Promise.resolve(null)).catch(() => null),
  );
  return Promise.all(
    files.map(async (file, n): Promise<PickedFile> => {
      const handle = await handles[n];
      const writable = handle?.kind === 'file' && handle.name === file.name;
      return writable ? { file, handle: handle as FileSystemFileHandle } : { file };
    }),
  );
}

function megabytes(bytes: number): string {
  return `${(bytes / 1e6).toLocaleString('en', { maximumFractionDigits: 1 })} MB`;
}

/** The text of a file, or one sentence why there is none. */
export async function textOfFile(
  file: File,
): Promise<{ readonly text: string } | { readonly fault: string }> {
  const name = `“${file.name}”`;
  if (file.size > LARGEST_FILE) {
    return {
      fault: `${name} is too large to be a notebook: it has ${megabytes(file.size)}, and ${megabytes(LARGEST_FILE)} are the most.`,
    };
  }
  try {
    const decoded = decodeText(new Uint8Array(await file.arrayBuffer()));
    return 'fault' in decoded ? { fault: `${name} ${decoded.fault}` } : decoded;
  } catch {
    return { fault: `${name} cannot be read: it was moved or changed, or is not yours to read.` };
  }
}

/** `Owl survey, six nights` → `owl-survey-six-nights.dapple` */
export function fileName(title: string, ending = '.dapple'): string {
  const plain = title
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${plain || 'notebook'}${ending}`;
}

/** Hands something to the reader as a file. */
export function download(
  name: string,
  content: string | Uint8Array<ArrayBuffer>,
  type = 'text/plain;charset=utf-8',
): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Lets the reader choose where to save, where the browser has a way to ask. */
export async function pickWhere(
  name: string,
): Promise<FileSystemFileHandle | 'dropped' | 'no picker'> {
  const { showSaveFilePicker } = pickers();
  if (!showSaveFilePicker) return 'no picker';
  try {
    return await showSaveFilePicker.call(window, { suggestedName: name, types: [NOTEBOOK_TYPE] });
  } catch (reason) {
    if (thoughtBetter(reason)) return 'dropped';
    return 'no picker';
  }
}

/** What the disk holds now, when it is not what was read or written last. */
export async function changedOnDisk(
  known: FileOnDisk,
): Promise<{ readonly text?: string; readonly fault?: string } | undefined> {
  const file = await known.handle.getFile();
  if (file.lastModified === known.modified && file.size === known.size) return undefined;
  const read = await textOfFile(file);
  if ('fault' in read) return read;
  return read.text === known.text ? undefined : read;
}

/** Writes the text; the file as it is then. Throws when the browser or the disk refuses. */
export async function writeFile(handle: FileSystemFileHandle, text: string): Promise<FileOnDisk> {
  const writer = await handle.createWritable();
  await writer.write(text);
  await writer.close();
  const file = await handle.getFile();
  return { handle, text, modified: file.lastModified, size: file.size };
}
