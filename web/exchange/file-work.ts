// What the page does with files: opens what is picked or dropped, saves to where the notebook came
// from unless the file there is no longer the one that was opened, and takes in tables and archives.

import { FileMemory } from '../keep/file-memory.ts';
import {
  changedOnDisk,
  download,
  droppedFiles,
  type FileOnDisk,
  fileName,
  LARGEST_FILE,
  type PickedFile,
  pickFiles,
  pickWhere,
  textOfFile,
  writeFile,
} from '../keep/files.ts';
import type { Question } from '../parts/question-dialog.ts';

export interface OpenText {
  readonly id: string;
  readonly title: string;
  readonly text: string;
}

export interface FileWorkContext {
  /** The notebook on the screen. */
  readonly open: () => OpenText | undefined;
  /** Opens a text as a notebook of its own, and gives its address. */
  readonly take: (name: string, text: string, origin: string) => Promise<string>;
  /** Keeps a text among the notebooks of this device without opening it. */
  readonly keep: (name: string, text: string) => void;
  /** Goes to the first page, where what was kept is listed. */
  readonly showKept: () => void;
  /** Puts a pasted or opened table into the open notebook. */
  readonly takeTable: (name: string, text: string) => void;
  /** A sentence that stays until it is put away, or one that may pass. */
  readonly tell: (sentence: string, passing?: 'passing') => void;
  readonly ask: (question: Question) => void;
}

const TABLE_ENDING = /\.(?:csv|tsv|tab)$/i;
const MOST_FILES = 200;

export class FileWork {
  readonly #context: FileWorkContext;
  /** The files of notebooks that were opened from one or saved to one. */
  readonly #onDisk = new FileMemory();
  #busy = false;

  constructor(context: FileWorkContext) {
    this.#context = context;
  }

  // ── opening ─────────────────────────────────────────────────────────────────────────────────

  openPicked(): Promise<void> {
    return this.#once(async () => this.#takeAll(await pickFiles()));
  }

  drop(data: DataTransfer): Promise<void> {
    const files = droppedFiles(data);
    return this.#once(async () => this.#takeAll(await files));
  }

  /** One piece of work with files at a time; what cannot be done is told. */
  async #once(work: () => Promise<void>): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    try {
      await work();
    } catch (reason) {
      this.#context.tell(reason instanceof Error ? reason.message : String(reason));
    } finally {
      this.#busy = false;
    }
  }

  async #takeAll(picked: readonly PickedFile[]): Promise<void> {
    const [first] = picked;
    if (!first) return;
    if (picked.length === 1) await this.#takeOne(first);
    else await this.#keepMany(picked.slice(0, MOST_FILES));
  }

  async #takeOne({ file, handle }: PickedFile): Promise<void> {
    if (await looksLikeArchive(file)) {
      await this.#takeArchive(file);
      return;
    }
    const read = await textOfFile(file);
    if ('fault' in read) {
      this.#context.tell(read.fault);
      return;
    }
    if (TABLE_ENDING.test(file.name)) {
      this.#context.takeTable(file.name.replace(/\.[^.]*$/, ''), read.text);
      return;
    }
    const id = await this.#context.take(file.name, read.text, '');
    if (!handle) return;
    this.#onDisk.set(id, {
      handle,
      text: read.text,
      modified: file.lastModified,
      size: file.size,
    });
  }

  async #keepMany(picked: readonly PickedFile[]): Promise<void> {
    const faults: string[] = [];
    let kept = 0;
    for (const { file } of picked) {
      const read = await textOfFile(file);
      if ('fault' in read) faults.push(read.fault);
      else {
        this.#context.keep(file.name, read.text);
        kept++;
      }
    }
    this.#context.showKept();
    this.#context.tell([`${counted(kept)} kept here.`, ...faults].join(' '));
  }

  async #takeArchive(file: File): Promise<void> {
    const { ARCHIVE_LIMITS, readArchive } = await import('./archive.ts');
    if (file.size > ARCHIVE_LIMITS.packed) {
      this.#context.tell(`“${file.name}” is too large an archive.`);
      return;
    }
    const read = await readArchive(new Uint8Array(await file.arrayBuffer()));
    if ('fault' in read) {
      this.#context.tell(read.fault);
      return;
    }
    for (const entry of read.entries) this.#context.keep(entry.name, entry.text);
    this.#context.showKept();
    this.#context.tell(
      [`${counted(read.entries.length)} from “${file.name}” kept here.`, ...read.notes].join(' '),
    );
  }

  // ── saving ──────────────────────────────────────────────────────────────────────────────────

  /** Saves to the notebook's own file, or asks where. */
  save(): Promise<void> {
    return this.#once(async () => {
      const open = this.#context.open();
      if (!open) return;
      const known = await this.#onDisk.get(open.id);
      if (!known) await this.#saveElsewhere(open);
      else if (await this.#mayWrite(open, known)) await this.#write(open, known.handle);
    });
  }

  saveAs(): Promise<void> {
    return this.#once(async () => {
      const open = this.#context.open();
      if (open) await this.#saveElsewhere(open);
    });
  }

  /** Whether the file is still the one that was read or written last; asks when it is not. */
  async #mayWrite(open: OpenText, known: FileOnDisk): Promise<boolean> {
    const { tell } = this.#context;
    try {
      const changed = await changedOnDisk(known);
      if (changed === undefined || changed.text === open.text) return true;
      this.#askAboutChange(open, known, changed.text);
      return false;
    } catch {
      tell(`“${known.handle.name}” is no longer where it was. Save as another file.`);
      this.#onDisk.forget(open.id);
      return false;
    }
  }

  #askAboutChange(open: OpenText, known: FileOnDisk, theirs: string | undefined): void {
    const { name } = known.handle;
    const copy = {
      label: 'Open theirs as a copy',
      act: (): void =>
        void this.#once(async () => {
          await this.#context.take(name, theirs ?? '', 'from the disk');
        }),
    };
    this.#context.ask({
      title: 'The file has changed',
      words: [
        `“${name}” was changed by another program or another device since you opened it here. Nothing has been written.`,
        ...(theirs === undefined ? ['What is in it now cannot be read as a notebook.'] : []),
      ],
      answers: [
        { label: 'Save as another file', act: () => void this.saveAs() },
        ...(theirs === undefined ? [] : [copy]),
        {
          label: 'Write over it',
          act: () => void this.#once(() => this.#write(this.#context.open() ?? open, known.handle)),
        },
      ],
    });
  }

  async #write(open: OpenText, handle: FileSystemFileHandle): Promise<void> {
    try {
      this.#onDisk.set(open.id, await writeFile(handle, open.text));
      this.#context.tell(`Saved to “${handle.name}”.`, 'passing');
    } catch {
      this.#context.ask({
        title: 'Not written',
        words: [
          `“${handle.name}” could not be written: the browser or the disk refused. The notebook is still kept here.`,
        ],
        answers: [
          { label: 'Save as another file', act: () => void this.saveAs() },
          { label: 'Download it', act: () => download(fileName(open.title), open.text) },
        ],
      });
    }
  }

  async #saveElsewhere(open: OpenText): Promise<void> {
    const where = await pickWhere(fileName(open.title));
    if (where === 'dropped') return;
    if (where === 'no picker') download(fileName(open.title), open.text);
    else await this.#write(open, where);
  }
}

function counted(notebooks: number): string {
  return notebooks === 1 ? 'One notebook' : `${notebooks} notebooks`;
}

/** By its first bytes, whatever its name. */
async function looksLikeArchive(file: File): Promise<boolean> {
  if (file.size > LARGEST_FILE && !/\.zip$/i.test(file.name)) return false;
  const start = new Uint8Array(await file.slice(0, 4).arrayBuffer());
  return start[0] === 0x50 && start[1] === 0x4b && (start[2] === 3 || start[2] === 5);
}
