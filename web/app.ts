// The page: which notebook is open, the dialog over it, the light, files in and out, and what is told
// when something goes wrong. The first page and the notebook draw themselves in it.

import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { addressOf, Exchange } from './exchange.ts';
import { CARRIED } from './link-word.ts';
import type { NotebookScreen } from './notebook-screen.ts';
import { watchForUpdates } from './offline.ts';
import type { OpenDialog, PageTools, Saving } from './page-tools.ts';
import { icon } from './shapes.ts';
import { startScreen } from './start-screen.ts';
import { starterText } from './starters.ts';
import { type Kept, Storage } from './storage.ts';
import { applyTheme, currentTheme, nextTheme, type Theme, wordOf } from './theme.ts';

const FINISH_FIRST =
  'What you are writing does not fit yet. Finish it or drop it, then take the newer version.';

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
    kept: { state: true },
    takeUpdate: { state: true },
    dialog: { state: true },
    told: { state: true },
    reloadWanted: { state: true },
  };
  declare theme: Theme;
  declare width: number;
  declare saving: Saving;
  declare trouble: string;
  declare kept: readonly Kept[];
  declare takeUpdate: (() => void) | undefined;
  declare dialog: OpenDialog | undefined;
  /** A sentence told at an address, until it is put away or another page is gone to. */
  declare told: { readonly sentence: string; readonly at: string } | undefined;
  /** A newer version was taken in another tab while something here was being written. */
  declare reloadWanted: boolean;

  readonly #storage = new Storage((state, why) => {
    if (this.saving.state !== state || this.saving.why !== why) this.saving = { state, why };
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
    tell: (sentence) => {
      this.told = sentence === '' ? undefined : { sentence, at: addressed() };
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
    this.trouble = '';
    this.kept = [];
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
    addEventListener('error', (event) => this.#troubled(event.message));
    addEventListener('unhandledrejection', (event) => this.#troubled(String(event.reason)));
    addEventListener('dragover', (event) => event.preventDefault());
    addEventListener('drop', (event) => this.#exchange.dropped(event));
    addEventListener('pagehide', () => this.#screen?.desk.keepOnDevice());
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

  #troubled(why: string): void {
    // The browser's notice about a resize loop is harmless and comes from no mistake.
    if (why.includes('ResizeObserver')) return;
    this.trouble = why;
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
      this.kept = await this.#storage.list();
      document.title = 'Dapple';
      this.requestUpdate();
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

  #leave(): void {
    this.#screen?.close();
    this.#screen = undefined;
    this.dialog = undefined;
    this.trouble = '';
    if (this.told?.at !== addressed()) this.told = undefined;
  }

  async #open(id: string, text: string): Promise<void> {
    try {
      const { Desk, Screen } = await notebookParts();
      if (addressed() !== id) return;
      const desk = new Desk(id, text, this.#storage, () => this.requestUpdate());
      this.#screen = new Screen(desk, this.#tools);
    } catch (reason) {
      this.#troubled(String(reason));
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
      this.takeUpdate
        ? html`<div class="notice"><p>A new version is ready.</p><button class="btn2" @click=${this.takeUpdate}>Take it</button></div>`
        : nothing
    }${
      this.told
        ? html`<div class="notice" role="status"><p>${this.told.sentence}</p>
            <button class="btn2" @click=${(): void => {
              this.told = undefined;
            }}>Understood</button></div>`
        : nothing
    }${
      this.reloadWanted
        ? html`<div class="notice" role="alert"><p>A newer version was taken. This page loads again when you have finished what you are writing.</p></div>`
        : nothing
    }${this.trouble === '' ? nothing : this.#troubleNotice()}`;
  }

  #troubleNotice(): TemplateResult {
    return html`<div class="notice" role="alert"><p><b>Something in the page went wrong; your text is safe.</b>
      Save the file, then load the page again. <small>${this.trouble}</small></p>
      <button class="btn2 fill" @click=${this.#tools.saveFile}>Save the file</button>
      <button class="btn2" @click=${(): void => {
        this.trouble = '';
      }}>Carry on</button></div>`;
  }

  #first(): TemplateResult {
    return startScreen({
      kept: this.kept,
      themeButton: this.#themeButton(),
      openFile: this.#tools.openFile,
      saveAll: () => void this.#exchange.saveAll(),
      empty: this.#tools.beginEmpty,
      forget: (id) =>
        void this.#storage.remove(id).then(async () => {
          this.kept = await this.#storage.list();
        }),
      help: this.#tools.showHelp,
    });
  }

  protected override updated(): void {
    this.#screen?.drawn();
    if (!this.reloadWanted || this.dialog) return;
    if (this.#screen?.settle() !== false) location.reload();
  }

  protected override render(): TemplateResult {
    const screen = this.#screen;
    const dialog = this.dialog?.view() ?? nothing;
    if (screen) return html`${screen.render()}${dialog}`;
    if (addressed() !== '') return html`${this.#notices()}`;
    return html`${this.#notices()}${this.#first()}${dialog}`;
  }
}
