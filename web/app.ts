// The page: which notebook is open, the dialog over it, the light, files in and out, and what is told
// when something goes wrong. The first page and the notebook draw themselves in it.

import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Desk } from './desk.ts';
import { addressOf, Exchange } from './exchange.ts';
import { CARRIED } from './link-word.ts';
import type { NotebookScreen } from './notebook-screen.ts';
import { watchForUpdates } from './offline.ts';
import type { OpenDialog, PageTools, Saving } from './page-tools.ts';
import { icon } from './shapes.ts';
import { startScreen } from './start-screen.ts';
import { starterText } from './starters.ts';
import { type Kept, Storage } from './storage.ts';
import { TabLock } from './tab-lock.ts';
import { applyTheme, currentTheme, nextTheme, type Theme, wordOf } from './theme.ts';
import { plainText, type Trouble, troubleNotice, troubleOf } from './trouble.ts';

/** A sentence that passes is shown for so long, ms. */
const PASSING = 6_000;

const FINISH_FIRST =
  'What you are writing does not fit yet. Finish it or drop it, then take the newer version.';

interface Shelf {
  readonly kept: readonly Kept[];
  readonly gone: readonly Kept[];
  readonly room: string;
}

const EMPTY = 'dapple 1\ntitle: Untitled\n';

/** Most who come to the first page open a notebook next: its parts are fetched after this, ms. */
const NOTEBOOK_AHEAD = 2500;

function freshId(): string {
  return Date.now().toString(36);
}

/** What the address asks for, without its `#/`. */
function addressed(): string {
  return location.hash.replace(/^#\/?/, '');
}

/** What a notebook needs beyond the first page: the engine, and everything it is drawn with. */
async function notebookParts(): Promise<{
  readonly Desk: typeof import('./desk.ts').Desk;
  readonly Screen: typeof import('./notebook-screen.ts').NotebookScreen;
}> {
  const [{ Desk }, { NotebookScreen: Screen }, { DappleChart }] = await Promise.all([
    import('./desk.ts'),
    import('./notebook-screen.ts'),
    import('./chart-element.ts'),
  ]);
  if (!customElements.get('dapple-chart')) customElements.define('dapple-chart', DappleChart);
  return { Desk, Screen };
}

export class DappleApp extends LitElement {
  static override properties = {
    theme: { state: true },
    width: { state: true },
    saving: { state: true },
    trouble: { state: true },
    shelf: { state: true },
    takeUpdate: { state: true },
    dialog: { state: true },
    told: { state: true },
    reloadWanted: { state: true },
  };
  declare theme: Theme;
  declare width: number;
  declare saving: Saving;
  declare trouble: Trouble | undefined;
  declare shelf: Shelf;
  declare takeUpdate: (() => void) | undefined;
  declare dialog: OpenDialog | undefined;
  /** A sentence told at an address, until it is put away or another page is gone to. */
  declare told: { readonly sentence: string; readonly at: string } | undefined;
  /** A newer version was taken in another tab while something here was being written. */
  declare reloadWanted: boolean;

  readonly #storage = new Storage(
    (state, why) => {
      if (this.saving.state !== state || this.saving.why !== why) this.saving = { state, why };
    },
    () => {
      if (addressed() === '') void this.#readShelf();
    },
  );
  #lock: TabLock | undefined;
  readonly #tools: PageTools = {
    root: this,
    theme: () => this.theme,
    width: () => this.width,
    saving: () => this.saving,
    draw: () => this.requestUpdate(),
    drawNow: () => this.performUpdate(),
    drawn: () => this.updateComplete,
    openDialog: (dialog) => this.#openDialog(dialog),
    closeDialog: () => {
      // A dialog tells that it closed a moment later, when another one may have taken its place.
      const standing = this.dialog && this.querySelector<HTMLDialogElement>(this.dialog.selector);
      if (!standing?.open) this.dialog = undefined;
    },
    openFile: () => this.#exchange.openFile(),
    saveFile: () => this.#exchange.saveFile(),
    saveFileAs: () => this.#exchange.saveFileAs(),
    send: () => this.#exchange.send(),
    showVersions: () => void this.#showVersions(),
    takeTableIn: () => this.#exchange.takeTableIn(),
    takeTableOut: () => this.#exchange.takeTableOut(),
    tell: (sentence, passing) => {
      const told = { sentence, at: addressed() };
      this.told = told;
      if (passing === undefined) return;
      setTimeout(() => {
        if (this.told === told) this.told = undefined;
      }, PASSING);
    },
    beginEmpty: () => {
      location.hash = `#/page-${freshId()}`;
    },
    showHelp: () => void this.#showHelp(),
    changeTheme: () => this.#changeTheme(),
    themeButton: () => this.#themeButton(),
    notices: () => this.#notices(),
  };
  readonly #exchange = new Exchange({
    tools: this.#tools,
    desk: () => this.#screen?.desk,
    raw: () => this.#raw,
    take: (name, text) => this.#take(name, text),
    keep: (entry) => this.#storage.keep(entry),
    list: () => this.#storage.list(),
    showFirst: () => {
      if (addressed() === '') void this.#route();
      else location.hash = '#/';
    },
  });
  #screen: NotebookScreen | undefined;
  /** The text of a notebook that could not be opened, so that it can still be saved. */
  #raw = '';

  constructor() {
    super();
    this.theme = currentTheme();
    this.width = innerWidth;
    this.saving = { state: 'saved', why: '' };
    this.trouble = undefined;
    this.shelf = { kept: [], gone: [], room: '' };
    this.takeUpdate = undefined;
    this.dialog = undefined;
    this.told = undefined;
    this.reloadWanted = false;
  }

  protected override createRenderRoot(): HTMLElement {
    return this;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('hashchange', () => void this.#route());
    addEventListener('resize', () => {
      this.width = innerWidth;
    });
    addEventListener('keydown', (event) => this.#key(event));
    addEventListener('error', (event) => this.#troubled(event.error ?? event.message));
    addEventListener('unhandledrejection', (event) => this.#troubled(event.reason));
    addEventListener('dragover', (event) => event.preventDefault());
    addEventListener('drop', (event) => this.#exchange.dropped(event));
    addEventListener('pagehide', () => {
      this.#screen?.desk.keepOnDevice();
      this.#storage.settle();
    });
    watchForUpdates({
      ready: (take) => {
        this.takeUpdate = (): void => {
          if (this.#screen?.settle() === false) this.#tools.tell(FINISH_FIRST);
          else take();
        };
      },
      taken: () => {
        this.reloadWanted = true;
      },
    });
    void this.#route();
  }

  #troubled(reason: unknown): void {
    const trouble = troubleOf(reason);
    // The browser's notice about a resize loop is harmless and comes from no mistake.
    if (trouble.why.includes('ResizeObserver')) return;
    if (this.trouble?.why !== trouble.why) this.trouble = trouble;
    try {
      this.#screen?.desk.keepOnDevice();
    } catch {
      // What can be kept has been kept with every edit.
    }
  }

  #key(event: KeyboardEvent): void {
    if (this.#screen?.key(event)) event.preventDefault();
    else if (!this.#screen && event.key === 'F1') {
      event.preventDefault();
      void this.#showHelp();
    }
  }

  // ── which notebook ──────────────────────────────────────────────────────────────────────────

  async #route(): Promise<void> {
    const path = addressed();
    this.#leave();
    if (path === '') {
      await this.#readShelf();
      document.title = 'Dapple';
      setTimeout(() => void notebookParts(), NOTEBOOK_AHEAD);
      return;
    }
    void notebookParts();
    if (path.startsWith(CARRIED)) {
      await this.#exchange.openCarried(path.slice(CARRIED.length));
      return;
    }
    if (path.startsWith('new/')) {
      const starter = path.slice(4);
      const text = await starterText(starter);
      if (addressed() !== path) return;
      const id = `${text === undefined ? 'page' : starter}-${freshId()}`;
      history.replaceState(null, '', `#/${id}`);
      await this.#open(id, text ?? EMPTY);
      return;
    }
    const kept = await this.#storage.read(path);
    const text = kept?.text ?? (await starterText(path)) ?? EMPTY;
    if (addressed() === path) await this.#open(path, text);
  }

  /** What the first page lists, as the device has it now. */
  async #readShelf(): Promise<void> {
    const [kept, gone] = await Promise.all([
      this.#storage.list(),
      this.#storage.putAway(Date.now()),
    ]);
    this.shelf = { kept, gone, room: this.shelf.room };
    const room = await this.#storage.room();
    if (room) this.shelf = { kept, gone, room: roomWords(room) };
  }

  #leave(): void {
    this.#screen?.close();
    this.#screen = undefined;
    this.#lock?.close();
    this.#lock = undefined;
    this.#raw = '';
    this.dialog = undefined;
    this.trouble = undefined;
    if (this.told?.at !== addressed()) this.told = undefined;
  }

  async #open(id: string, text: string): Promise<void> {
    try {
      const { Desk, Screen } = await notebookParts();
      if (addressed() !== id) return;
      const desk = new Desk(
        id,
        text,
        this.#storage,
        () => this.requestUpdate(),
        (kept) => this.#lock?.tell(kept),
      );
      this.#screen = new Screen(desk, this.#tools);
      this.#lockFor(desk);
    } catch (reason) {
      this.#troubled(reason);
      this.#raw = text;
    }
    scrollTo(0, 0);
    this.requestUpdate();
  }

  /** One tab writes a notebook; others that have it open follow it. */
  #lockFor(desk: Desk): void {
    this.#lock?.close();
    this.#lock = new TabLock(desk.id, {
      writes: (wasFollowing) => {
        if (!wasFollowing) return;
        // The one that wrote may have kept more than it had time to tell.
        void this.#storage.read(desk.id).then((kept) => {
          if (kept) desk.follow(kept.text);
          desk.following = false;
          this.requestUpdate();
        });
      },
      follows: () => {
        desk.following = true;
        this.requestUpdate();
      },
      told: (text) => desk.follow(text),
      asked: () => desk.keepOnDevice(),
    });
    void this.#lock.begin();
  }

  /** Opens a text that came from outside as a notebook of its own. */
  async #take(name: string, text: string): Promise<string> {
    const id = `${addressOf(name)}-${freshId()}`;
    this.#leave();
    // A link must not be gone back to: it would make another copy.
    if (addressed().startsWith(CARRIED)) history.replaceState(null, '', `#/${id}`);
    else history.pushState(null, '', `#/${id}`);
    await this.#open(id, text);
    this.#screen?.desk.keepOnDevice();
    return id;
  }

  // ── dialogs and the light ───────────────────────────────────────────────────────────────────

  #openDialog(dialog: OpenDialog): void {
    this.dialog = dialog;
    // At once, so that what is typed next goes into its field.
    this.performUpdate();
    const element = this.querySelector<HTMLDialogElement>(dialog.selector);
    if (!element || element.open) return;
    element.showModal();
    element.querySelector<HTMLInputElement>('[role="combobox"]')?.select();
  }

  async #showHelp(): Promise<void> {
    const { helpDialog } = await import('./help.ts');
    this.#openDialog({
      selector: '#help',
      view: () => helpDialog(this.#tools.closeDialog),
    });
  }

  async #showVersions(): Promise<void> {
    const desk = this.#screen?.desk;
    if (!desk) return;
    const [{ versionsDialog }, versions] = await Promise.all([
      import('./versions-dialog.ts'),
      this.#storage.earlier(desk.id, Date.now()),
    ]);
    const dialog = versionsDialog({
      desk,
      versions,
      draw: this.#tools.draw,
      closed: this.#tools.closeDialog,
      openCopy: (version) => void this.#take(version.title || 'notebook', version.text),
    });
    this.#openDialog(dialog);
  }

  #changeTheme(): void {
    this.theme = nextTheme(this.theme);
    applyTheme(this.theme, true);
  }

  #themeButton(): TemplateResult {
    const next = wordOf(nextTheme(this.theme));
    return html`<button class="tool" aria-label=${`Light: ${wordOf(this.theme)}. Change to ${next}.`}
      @click=${(): void => this.#changeTheme()}>${icon('eye')}<span>${wordOf(this.theme)}</span></button>`;
  }

  // ── drawing ─────────────────────────────────────────────────────────────────────────────────

  #notices(): TemplateResult {
    return html`${
      this.saving.state === 'failed' && !this.#screen
        ? html`<div class="notice" role="alert"><p>Nothing is kept on this device now: ${this.saving.why}. Save what you work on to a file.</p></div>`
        : nothing
    }${
      this.takeUpdate
        ? html`<div class="notice"><p>A new version is ready.</p><button class="btn2" @click=${this.takeUpdate}>Take it</button></div>`
        : nothing
    }${
      this.reloadWanted
        ? html`<div class="notice" role="alert"><p>A newer version was taken. This page loads again when you have finished what you are writing.</p></div>`
        : nothing
    }${
      this.#screen?.desk.following
        ? html`<div class="notice" role="status"><p>This notebook is open in another tab, which writes. This one shows what that one keeps.</p>
            <button class="btn2" @click=${(): void => this.#lock?.take()}>Work here instead</button></div>`
        : nothing
    }${this.trouble ? this.#troubleNotice(this.trouble, true) : nothing}`;
  }

  /** Over everything, at the foot of the page, since what it is about may have been asked for anywhere. */
  #toldNotice(): TemplateResult {
    return html`<div class="notice told-notice" role="status" ?hidden=${this.told === undefined}>${
      this.told
        ? html`<p>${this.told.sentence}</p><button class="btn2" @click=${(): void => {
            this.told = undefined;
          }}>Understood</button>`
        : nothing
    }</div>`;
  }

  #troubleNotice(trouble: Trouble, carryOn: boolean): TemplateResult {
    return troubleNotice({
      trouble,
      text: () => this.#screen?.desk.text ?? this.#raw,
      saveFile: this.#tools.saveFile,
      tell: this.#tools.tell,
      ...(carryOn
        ? {
            carryOn: (): void => {
              this.trouble = undefined;
            },
          }
        : {}),
    });
  }

  #first(): TemplateResult {
    const then = (done: Promise<unknown>): void => void done.then(() => this.#readShelf());
    return startScreen({
      ...this.shelf,
      themeButton: this.#themeButton(),
      openFile: this.#tools.openFile,
      saveAll: () => void this.#exchange.saveAll(),
      empty: this.#tools.beginEmpty,
      putAway: (id) => then(this.#storage.remove(id, Date.now())),
      putBack: (id) => then(this.#storage.putBack(id)),
      copy: (id) => then(this.#storage.copy(id, `${id.slice(0, 40)}-${freshId()}`, Date.now())),
      help: this.#tools.showHelp,
    });
  }

  protected override updated(): void {
    this.#screen?.drawn();
    if (!this.reloadWanted || this.dialog) return;
    if (this.#screen?.settle() !== false) location.reload();
  }

  protected override render(): TemplateResult {
    const dialog = html`${this.#toldNotice()}${this.#dialogView()}`;
    if (this.#screen) return html`${this.#drawScreen(this.#screen)}${dialog}`;
    if (this.#raw !== '') return html`${this.#notices()}${plainText(this.#raw)}${dialog}`;
    if (addressed() !== '') return html`${this.#notices()}${dialog}`;
    return html`${this.#notices()}${this.#first()}${dialog}`;
  }

  #dialogView(): TemplateResult | typeof nothing {
    try {
      return this.dialog?.view() ?? nothing;
    } catch (reason) {
      queueMicrotask(() => this.#troubled(reason));
      return nothing;
    }
  }

  /** The notebook, or when it cannot be drawn its text: never a blank page. */
  #drawScreen(screen: NotebookScreen): TemplateResult {
    try {
      return screen.render();
    } catch (reason) {
      return html`${this.#troubleNotice(troubleOf(reason), false)}${plainText(screen.desk.text)}`;
    }
  }
}

/** `4.2 MB used of 1.5 GB on this device.` */
function roomWords(room: { used: number; most: number; held: boolean }): string {
  const words = (bytes: number): string =>
    bytes >= 1e9 ? `${(bytes / 1e9).toFixed(1)} GB` : `${Math.max(0.1, bytes / 1e6).toFixed(1)} MB`;
  const held = room.held
    ? 'The browser will not clear them by itself.'
    : 'The browser may clear them when the disk runs full: save what matters to a file.';
  return `Notebooks and page use ${words(room.used)} of ${words(room.most)} here. ${held}`;
}
