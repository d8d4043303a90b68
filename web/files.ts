// Files in and out: opened from a picker or dropped onto the page, saved to the same file where the
// browser can, and as a download where it cannot.

export interface OpenedFile {
  readonly name: string;
  readonly text: string;
  /** Present where the browser can write back to the same file. */
  readonly handle?: FileSystemFileHandle;
}

interface FilePickers {
  showOpenFilePicker?: (options: object) => Promise<readonly FileSystemFileHandle[]>;
}

/** A notebook larger than this is not one. */
const LARGEST = 4_000_000;

const TYPES = {
  types: [{ description: 'Dapple notebook', accept: { 'text/plain': ['.dapple'] } }],
};

export async function readFile(file: File): Promise<OpenedFile> {
  if (file.size > LARGEST) throw new RangeError(`${file.name} is too large to be a notebook`);
  return { name: file.name, text: await file.text() };
}

function pickByInput(): Promise<File | undefined> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = '.dapple,text/plain';
    input.addEventListener('change', () => resolve(input.files?.[0]));
    input.addEventListener('cancel', () => resolve(undefined));
    input.click();
  });
}

/** Lets the reader choose a file; undefined when they thought better of it. */
export async function pickFile(): Promise<OpenedFile | undefined> {
  const pickers: FilePickers = window as FilePickers;
  if (!pickers.showOpenFilePicker) {
    const file = await pickByInput();
    return file ? readFile(file) : undefined;
  }
  try {
    const [handle] = await pickers.showOpenFilePicker(TYPES);
    if (!handle) return undefined;
    return { ...(await readFile(await handle.getFile())), handle };
  } catch (reason) {
    if (reason instanceof DOMException && reason.name === 'AbortError') return undefined;
    throw reason;
  }
}

/** `Owl survey, six nights` → `owl-survey-six-nights.dapple` */
export function fileName(title: string): string {
  const plain = title
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);
  return `${plain || 'notebook'}.dapple`;
}

/** Hands the text to the reader as a file. */
export function download(name: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: 'text/plain;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Writes to the file the notebook came from; false where that is not possible. */
export async function writeBack(handle: FileSystemFileHandle, text: string): Promise<boolean> {
  try {
    const writer = await handle.createWritable();
    await writer.write(text);
    await writer.close();
    return true;
  } catch {
    return false;
  }
}
