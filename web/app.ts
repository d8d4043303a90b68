// The page: which notebook is open, the dialog over it, the light, files in and out, and what is told
// when something goes wrong. The first page and the notebook draw themselves in it.

import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { addressOf, Exchange } from './exchange/exchange.ts';
import { CARRIED } from './exchange/link-word.ts';
import { type Kept, type KeptList, type Room, Storage } from './keep/storage.ts';
import { type Role, TabLock } from './keep/tab-lock.ts';
import { fetchAhead, notebookParts } from './notebook-ahead.ts';
import { watchForUpdates } from './offline.ts';
import { afterPaint } from './parts/after-paint.ts';
import type { OpenDialog, PageTools, Saving } from './parts/page-tools.ts';
import { NARROW } from './parts/page-widths.ts';
import { type Trouble, troubleOf } from './parts/report.ts';
import { applyTheme, currentTheme, nextTheme, type Theme } from './parts/theme.ts';
import { lightButton } from './screen/light-button.ts';
import type { NotebookScreen } from './screen/notebook-screen.ts';
import { startScreen } from './screen/start-screen.ts';
import { starterText } from './screen/starters.ts';
import {
  rawNotebook,
  showFault,
  type TroubleContext,
  troubleNotice,
} from './screen/trouble-view.ts';

const FINISH_FIRST =
  'What you are writing does not fit yet. Finish it or drop it, then take the newer version.';

const EMPTY = 'dapple 1\ntitle: Untitled\n';

/** Most who come to the first page open a notebook next: its parts are fetched after this, ms. */
const NOTEBOOK_AHEAD = 2500;
/** A sentence that passes is shown for so long, ms. */
const PASSING = 6_000;
/** The first page shows what other tabs keep after this, ms. */
const LIST_SOON = 300;

const NO_NOTEBOOKS: KeptList = { kept: [], away: [], damaged: 0 };

function freshId(): string {
  return Date.now().toString(36);
}

/** What the address asks for, without its `#/`. */
function addressed(): string {
  return location.hash.replace(/^#\/?/, '');
}

export class DappleApp extends LitElement {
  static override properties = {
    theme: { state: true },
    width: { state: true },
    saving: { state: true },
    trouble: { state: true },
    kept: { state: true },
    room: { state: true },
    justAway: { state: true },
    takeUpdate: { state: true },
    dialog: { state: true },
    told: { state: true },
    reloadWanted: { state: true },
  };
  declare theme: Theme;
  declare width: number;
  declare saving: Saving;
  declare trouble: Trouble | undefined;
  declare kept: KeptList;
  declare room: Room | undefined;
  declare justAway: Kept | undefined;
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
    (entry) => this.#tabs.tell(entry),
  );
  readonly #tabs: TabLock = new TabLock({
    became: (role) => void this.#became(role),
    heard: (entry) => this.#heard(entry),
    handOver: () => this.#handOver(),
    current: () => this.#screen?.desk.toKeep(),
  });
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
    showVersions: () => void this.#showVersions(),
    writeHere: () => void this.#tabs.writeHere(),
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
  /** The way that is being gone, to tell it from one gone since. */
  #turn: symbol | undefined;
  /** The text of a notebook that could not be opened, so that it can still be saved. */
  #raw = '';
  /** Whether the page can no longer be drawn; what is shown then lies beside it. */
  #isBroken = false;
  #listing: ReturnType<typeof setTimeout> | undefined;
  /** Tells that the first page or the first notebook is seen; then there is nothing to tell any more. */
  #tellShown: (() => void) | undefined;
  readonly #shown = new Promise<void>((resolve) => {
    this.#tellShown = resolve;
  });

  constructor() {
    super();
    this.theme = currentTheme();
    this.width = innerWidth;
    this.saving = { state: 'saved', why: '' };
    this.trouble = undefined;
    this.kept = NO_NOTEBOOKS;
    this.room = undefined;
    this.justAway = undefined;
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
    addEventListener('error', (event) => this.#troubled('working', event.error ?? event.message));
    addEventListener('unhandledrejection', (event) => this.#troubled('working', event.reason));
    addEventListener('dragover', (event) => event.preventDefault());
    addEventListener('drop', (event) => this.#exchange.dropped(event));
    addEventListener('pagehide', () => this.#screen?.desk.keepPending());
    const updates = {
      ready: (take: () => void): void => {
        this.takeUpdate = (): void => {
          if (this.#screen?.settle() === false) this.#tools.tell(FINISH_FIRST);
          else take();
        };
      },
      taken: (): void => {
        this.reloadWanted = true;
      },
    };
    watchForUpdates(updates, this.#shown);
    void this.#route();
  }

  #troubled(doing: string, reason: unknown): void {
    const trouble = troubleOf(doing, reason);
    // The browser's notice about a resize loop is harmless and comes from no mistake.
    if (trouble.message.includes('ResizeObserver')) return;
    // A mistake in each drawing is told once: telling it draws again.
    if (this.trouble?.message === trouble.message) return;
    this.trouble = trouble;
  }

  #key(event: KeyboardEvent): void {
    if (this.#screen?.key(event)) event.preventDefault();
    else if (!this.#screen && event.key === 'F1') {
      event.preventDefault();
      void this.#showHelp();
    }
  }

  // ── which notebook ──────────────────────────────────────────────────────────────────────────

  /** Until the next notebook is there the one that was left still stands, but takes nothing more. */
  async #route(): Promise<void> {
    const turn = Symbol();
    this.#turn = turn;
    this.inert = addressed() !== '';
    // A browser takes the focus out of what is inert only when it draws next.
    if (this.inert && document.activeElement instanceof HTMLElement) document.activeElement.blur();
    try {
      await this.#goTo(addressed());
    } finally {
      if (this.#turn === turn) this.inert = false;
    }
  }

  async #goTo(path: string): Promise<void> {
    this.#leave();
    if (path === '') {
      document.title = 'Dapple';
      this.requestUpdate();
      void this.#list();
      setTimeout(() => fetchAhead(), NOTEBOOK_AHEAD);
      return;
    }
    fetchAhead();
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
    // Fetched beside what is kept, not after it; a notebook of one's own is none of these.
    const starting = starterText(path);
    starting.catch(() => {});
    // Whoever writes a notebook holds its lock before reading it, so that nothing comes in between.
    await this.#tabs.claim(path);
    const kept = await this.#storage.read(path);
    const text = kept?.text ?? (await starting) ?? EMPTY;
    if (addressed() !== path) return;
    if (kept || this.#storage.answers) {
      await this.#open(path, text);
      return;
    }
    // What is kept under this address cannot be seen now and must not be written over.
    const id = `${path}-${freshId()}`;
    history.replaceState(null, '', `#/${id}`);
    await this.#open(id, text);
  }

  /** Shows the notebooks kept here, if the first page is open. */
  async #list(): Promise<void> {
    if (addressed() !== '') return;
    const [kept, room] = await Promise.all([this.#storage.listAll(), this.#storage.room()]);
    this.kept = kept;
    this.room = room;
  }

  #leave(): void {
    this.#screen?.close();
    this.#screen = undefined;
    this.#raw = '';
    this.justAway = undefined;
    this.#tabs.leave();
    this.dialog = undefined;
    this.trouble = undefined;
    if (this.told?.at !== addressed()) this.told = undefined;
  }

  async #open(id: string, text: string): Promise<void> {
    try {
      const role = this.#tabs.id === id ? this.#tabs.role : await this.#tabs.claim(id);
      const { Desk, NotebookScreen: Screen } = await notebookParts();
      if (addressed() !== id) return;
      const desk = new Desk(id, text, this.#storage, () => this.requestUpdate());
      desk.following = role === 'following';
      this.#screen = new Screen(desk, this.#tools);
      // A page with nothing on it waits for its first line.
      if (desk.rows.length === 0 && !desk.following && !NARROW.matches)
        desk.edit({ kind: 'new', item: -1 }, '');
      if (this.#tabs.role !== role) void this.#became(this.#tabs.role);
      else if (role === 'following') this.#tabs.ask();
    } catch (reason) {
      this.#troubled('opening this notebook', reason);
      this.#raw = text;
    }
    scrollTo(0, 0);
    this.requestUpdate();
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

  // ── several tabs ────────────────────────────────────────────────────────────────────────────

  async #became(role: Role): Promise<void> {
    const desk = this.#screen?.desk;
    if (!desk) return;
    if (role === 'following') {
      // Taken while this tab stood still: what was not kept yet is set aside, not lost.
      if (desk.hasUnkept) void this.#storage.keepVersion(desk.toKeep(), 'set aside');
      desk.following = true;
    } else {
      const kept = await this.#storage.read(desk.id);
      if (this.#tabs.role !== 'writing' || this.#tabs.id !== desk.id) return;
      if (kept) desk.follow(kept);
      desk.following = false;
    }
    this.requestUpdate();
  }

  #heard(entry: Kept): void {
    const desk = this.#screen?.desk;
    if (desk?.id === entry.id && desk.following) desk.follow(entry);
    clearTimeout(this.#listing);
    this.#listing = setTimeout(() => void this.#list(), LIST_SOON);
  }

  async #handOver(): Promise<Kept | undefined> {
    const screen = this.#screen;
    if (!screen) return undefined;
    screen.settle();
    screen.desk.keepPending();
    await this.#storage.settled();
    return screen.desk.toKeep();
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
    const { helpDialog } = await import('./screen/help.ts');
    this.#openDialog({
      selector: '#help',
      view: () => helpDialog(this.#tools.closeDialog),
    });
  }

  async #showVersions(): Promise<void> {
    const desk = this.#screen?.desk;
    if (!desk) return;
    const { openVersions } = await import('./screen/versions-view.ts');
    await openVersions(desk, this.#storage, this.#tools);
  }

  /** Another title for a kept notebook; not while another tab writes it. */
  async #rename(id: string): Promise<void> {
    const { renameDialog, retitled } = await import('./screen/rename-dialog.ts');
    const keep = async (title: string): Promise<void> => {
      const role = await this.#tabs.claim(id);
      const entry = role === 'writing' ? await this.#storage.read(id) : undefined;
      const text = entry && retitled(entry.text, title);
      if (entry && text !== undefined)
        this.#storage.keep({ ...entry, title, text, when: Date.now() });
      else this.#tools.tell('It is open in another tab or may only be read. Rename it there.');
      if (addressed() === '') this.#tabs.leave();
      await this.#list();
    };
    const title = this.kept.kept.find((entry) => entry.id === id)?.title ?? '';
    this.#openDialog(renameDialog(title, (fresh) => void keep(fresh), this.#tools.closeDialog));
    this.querySelector<HTMLInputElement>('#rename input')?.select();
  }

  #changeTheme(): void {
    this.theme = nextTheme(this.theme);
    applyTheme(this.theme, true);
  }

  #themeButton(): TemplateResult {
    return lightButton(this.theme, () => this.#changeTheme());
  }

  // ── drawing ─────────────────────────────────────────────────────────────────────────────────

  #notices(): TemplateResult {
    return html`${
      this.takeUpdate
        ? html`<div class="notice"><p>A new version is ready.</p><button class="btn2" @click=${this.takeUpdate}>Take it</button></div>`
        : nothing
    }${
      this.reloadWanted
        ? html`<div class="notice" role="alert"><p>A newer version was taken. This page loads again when you have finished what you are writing.</p></div>`
        : nothing
    }${this.trouble ? troubleNotice(this.#aboutTrouble(this.trouble)) : nothing}`;
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

  #aboutTrouble(trouble: Trouble): TroubleContext {
    const text = this.#screen?.desk.text ?? this.#raw;
    const carryOn = (): void => {
      this.trouble = undefined;
    };
    const { saveFile } = this.#tools;
    return { trouble, text, saveFile, ...(this.#raw === '' ? { carryOn } : {}) };
  }

  #first(): TemplateResult {
    return startScreen({
      ...this.kept,
      themeButton: this.#themeButton(),
      openFile: this.#tools.openFile,
      saveAll: () => void this.#exchange.saveAll(),
      empty: this.#tools.beginEmpty,
      room: this.room,
      trouble: this.saving.state === 'failed' ? this.saving.why : '',
      justAway: this.justAway,
      rename: (id) => void this.#rename(id),
      copy: (id) => void this.#storage.copy(id, `copy-${freshId()}`).then(() => this.#list()),
      takeAway: (id) => {
        this.justAway = this.kept.kept.find((entry) => entry.id === id);
        void this.#storage.takeAway(id).then(() => this.#list());
      },
      putBack: (id) => {
        this.justAway = undefined;
        void this.#storage.putBack(id).then(() => this.#list());
      },
      help: this.#tools.showHelp,
    });
  }

  protected override update(changed: PropertyValues): void {
    if (this.#isBroken) return;
    try {
      super.update(changed);
    } catch (reason) {
      this.#isBroken = true;
      const { carryOn: _, ...context } = this.#aboutTrouble(troubleOf('drawing the page', reason));
      showFault(this, context);
    }
  }

  protected override updated(): void {
    if (this.#isBroken) return;
    this.#screen?.drawn();
    if (this.#screen || this.#raw !== '' || this.trouble || addressed() === '')
      document.querySelector('#first')?.remove();
    if (this.#tellShown && (this.#screen || addressed() === '')) {
      afterPaint(this.#tellShown);
      this.#tellShown = undefined;
    }
    if (!this.reloadWanted || this.dialog) return;
    if (this.#screen?.settle() !== false) location.reload();
  }

  protected override render(): TemplateResult {
    const screen = this.#screen;
    const dialog = html`${this.#toldNotice()}${this.dialog?.view() ?? nothing}`;
    if (screen) return html`${screen.render()}${dialog}`;
    if (this.trouble && this.#raw !== '') return rawNotebook(this.#aboutTrouble(this.trouble));
    if (addressed() !== '') return html`${this.#notices()}${dialog}`;
    return html`${this.#notices()}${this.#first()}${dialog}`;
  }
}
