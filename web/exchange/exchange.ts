// Everything that goes in and out of the page: files, links, tables, archives. What is needed seldom
// is fetched when it is asked for.

import type { Desk } from '../desk/desk.ts';
import { download, fileName } from '../keep/files.ts';
import type { Kept } from '../keep/storage.ts';
import type { OpenDialog, PageTools } from '../parts/page-tools.ts';
import { FileWork } from './file-work.ts';

export interface ExchangeContext {
  readonly tools: PageTools;
  readonly desk: () => Desk | undefined;
  /** The text of a notebook that could not be opened. */
  readonly raw: () => string;
  /** Opens a text as a notebook of its own, and gives its address. */
  readonly take: (name: string, text: string) => Promise<string>;
  readonly keep: (entry: Kept) => void;
  readonly list: () => Promise<readonly Kept[]>;
  /** Shows the first page as it is now. */
  readonly showFirst: () => void;
}

/** Parts of an address that came from a name: letters, figures and hyphens, not too many. */
export function addressOf(name: string): string {
  const stem = name.replace(/\.[^.]*$/, '').replace(/[^\p{L}\p{N}]+/gu, '-');
  return stem.replace(/^-+|-+$/g, '').slice(0, 40) || 'page';
}

function titleOf(text: string, name: string): string {
  const found = /^\s*title:[ \t]*(.*)$/m.exec(text.slice(0, 4_000));
  return found?.[1]?.trim() || name.replace(/\.[^.]*$/, '');
}

export class Exchange {
  readonly #context: ExchangeContext;
  readonly #files: FileWork;
  #fresh = 0;

  constructor(context: ExchangeContext) {
    this.#context = context;
    const { tools } = context;
    this.#files = new FileWork({
      open: () => {
        const desk = context.desk();
        // From the text itself: it must be saved even when nothing else of the notebook works.
        if (desk) return { id: desk.id, title: titleOf(desk.text, 'notebook'), text: desk.text };
        const text = context.raw();
        return text === '' ? undefined : { id: '', title: 'notebook', text };
      },
      take: async (name, text, origin) => {
        const id = await context.take(name, text);
        if (origin !== '') tools.tell(`A copy of “${name}”, ${origin}.`);
        return id;
      },
      keep: (name, text) => this.#keep(name, text),
      showKept: context.showFirst,
      takeTable: (name, text) => void this.takeTable(name, text),
      tell: tools.tell,
      ask: (question) =>
        this.#open(async () => {
          const { questionDialog } = await import('../parts/question-dialog.ts');
          return questionDialog(question, tools.closeDialog);
        }),
    });
  }

  #keep(name: string, text: string): void {
    const when = Date.now();
    const id = `${addressOf(name)}-${when.toString(36)}${(this.#fresh++).toString(36)}`;
    this.#context.keep({ id, title: titleOf(text, name), text, headline: '', when });
  }

  /** Opens a dialog whose code is fetched first. */
  #open(make: () => Promise<OpenDialog>): void {
    const { tools } = this.#context;
    make().then(tools.openDialog, () =>
      tools.tell('This part of the page could not be loaded. Load the page again.'),
    );
  }

  // ── files ───────────────────────────────────────────────────────────────────────────────────

  openFile(): void {
    void this.#files.openPicked();
  }
  saveFile(): void {
    void this.#files.save();
  }
  saveFileAs(): void {
    void this.#files.saveAs();
  }
  dropped(event: DragEvent): void {
    if (!event.dataTransfer || event.dataTransfer.files.length === 0) return;
    event.preventDefault();
    void this.#files.drop(event.dataTransfer);
  }

  /** All notebooks of this device as one file. */
  async saveAll(): Promise<void> {
    const { tools, list } = this.#context;
    const [kept, { writeArchive }] = await Promise.all([list(), import('./archive.ts')]);
    const entries = kept.map((entry) => ({ name: fileName(entry.title), text: entry.text }));
    const day = new Date().toISOString().slice(0, 10);
    download(`dapple-notebooks-${day}.zip`, await writeArchive(entries), 'application/zip');
    tools.tell(
      `${entries.length} notebooks went into one archive. Open it here to have them back.`,
    );
  }

  // ── links ───────────────────────────────────────────────────────────────────────────────────

  send(): void {
    const { desk, tools } = this.#context;
    const open = desk();
    if (!open) return;
    this.#open(async () => {
      const { sendDialog } = await import('./send-dialog.ts');
      return sendDialog({
        title: open.snapshot.title || 'Untitled',
        text: open.text,
        saveFile: () => this.saveFile(),
        draw: tools.draw,
        closed: tools.closeDialog,
      });
    });
  }

  /** Opens the notebook that an address carries, as a copy; what cannot be opened is told. */
  async openCarried(letters: string): Promise<void> {
    const { tools, take } = this.#context;
    const { readCarried } = await import('./notebook-link.ts');
    const read = await readCarried(letters);
    if ('fault' in read) {
      this.#context.showFirst();
      tools.tell(read.fault);
      return;
    }
    await take(titleOf(read.text, 'carried'), read.text);
    tools.tell(
      'Came by link; a copy of your own. What you change here changes nothing for the sender.',
    );
  }

  // ── tables ──────────────────────────────────────────────────────────────────────────────────

  takeTableIn(): void {
    void this.takeTable('', '');
  }

  async takeTable(name: string, text: string): Promise<void> {
    const { desk, tools, take } = this.#context;
    const open = desk();
    if (open) {
      this.#open(async () => {
        const { tableInDialog } = await import('./table-dialog.ts');
        return tableInDialog(this.#tableContext(open), name, text);
      });
      return;
    }
    const { notebookOfTable } = await import('./table-dialog.ts');
    const made = notebookOfTable(name, text);
    if ('fault' in made) tools.tell(made.fault);
    else await take(name, made.text);
  }

  takeTableOut(): void {
    const open = this.#context.desk();
    if (!open) return;
    this.#open(async () => {
      const { tableOutDialog } = await import('./table-dialog.ts');
      return tableOutDialog(this.#tableContext(open));
    });
  }

  #tableContext(desk: Desk): {
    readonly desk: Desk;
    readonly draw: () => void;
    readonly tell: (sentence: string) => void;
    readonly closed: () => void;
  } {
    const { draw, tell, closeDialog } = this.#context.tools;
    return { desk, draw, tell, closed: closeDialog };
  }
}
