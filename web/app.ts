// The page: which notebook is open, what is drawn, and the keys that work everywhere. It listens to
// the desk and draws what the session shows; it never works anything out.

import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { Preview, Row } from '../engine/index.ts';
import { barView } from './bar-view.ts';
import { benchView } from './bench-view.ts';
import type { Desk } from './desk.ts';
import { editorTask } from './editor-task.ts';
import { download, fileName, type OpenedFile, pickFile, readFile, writeBack } from './files.ts';
import type { FormulaEditor } from './formula-editor.ts';
import type { Goal } from './go-to.ts';
import { newRowView } from './new-row.ts';
import { watchForUpdates } from './offline.ts';
import { NAME, WORDS } from './place.ts';
import type { RowContext } from './row-context.ts';
import { rowView } from './row-view.ts';
import { SettledRows } from './settled-rows.ts';
import { icon } from './shapes.ts';
import { beginEdit, sheetKey, tableKey } from './sheet-keys.ts';
import { startScreen } from './start-screen.ts';
import { starterText } from './starters.ts';
import { type Kept, type SavingState, Storage } from './storage.ts';
import { stripsInView } from './strips-in-view.ts';
import { applyTheme, currentTheme, nextTheme, type Theme, wordOf } from './theme.ts';
import { threadsOf } from './threads.ts';
import { verdictBand } from './verdict-view.ts';

/** As in the style sheets; in em, so that larger text counts like a smaller page. */
const NARROW = matchMedia('(max-width: 47.49em)');
const WITH_BENCH = matchMedia('(min-width: 73.75em)');
const EMPTY = 'dapple 1\ntitle: Untitled\n';

type GoTo = typeof import('./go-to.ts');
type Help = typeof import('./help.ts');
type Reading = typeof import('./reading-sheet.ts');

function freshId(): string {
  return Date.now().toString(36);
}

/** What a notebook needs beyond the first page: the engine, and what is only there with a notebook. */
async function openingParts(): Promise<{
  readonly Desk: typeof import('./desk.ts').Desk;
  readonly goTo: GoTo;
  readonly reading: Reading;
}> {
  const [{ Desk: Made }, goTo, reading] = await Promise.all([
    import('./desk.ts'),
    import('./go-to.ts'),
    import('./reading-sheet.ts'),
  ]);
  return { Desk: Made, goTo, reading };
}

export class DappleApp extends LitElement {
  static override properties = {
    theme: { state: true },
    width: { state: true },
    saving: { state: true },
    trouble: { state: true },
    kept: { state: true },
    takeUpdate: { state: true },
    going: { state: true },
    help: { state: true },
    logging: { state: true },
  };
  declare theme: Theme;
  declare width: number;
  declare saving: { readonly state: SavingState; readonly why: string };
  declare trouble: string;
  declare kept: readonly Kept[];
  declare takeUpdate: (() => void) | undefined;
  /** The field that goes to a place, while it is open. */
  declare going: boolean;
  declare help: Help | undefined;
  /** The sheet for a new reading, while it is open. */
  declare logging: boolean;

  readonly #storage = new Storage((state, why) => {
    if (this.saving.state !== state || this.saving.why !== why) this.saving = { state, why };
  });
  #desk: Desk | undefined;
  #handle: FileSystemFileHandle | undefined;
  #editor: FormulaEditor | undefined;
  #editorFor: unknown;
  #preview: Preview | undefined;
  #focusWanted = false;
  readonly #settled = new SettledRows();
  #spoken = '';
  #spokenAt = 0;
  #dropping = false;
  #goTo: GoTo | undefined;
  #reading: Reading | undefined;

  constructor() {
    super();
    this.theme = currentTheme();
    this.width = innerWidth;
    this.saving = { state: 'saved', why: '' };
    this.trouble = '';
    this.kept = [];
    this.takeUpdate = undefined;
    this.going = false;
    this.help = undefined;
    this.logging = false;
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
    addEventListener('keydown', (event) => this.#globalKey(event));
    addEventListener('error', (event) => this.#troubled(event.message));
    addEventListener('unhandledrejection', (event) => this.#troubled(String(event.reason)));
    addEventListener('dragover', (event) => event.preventDefault());
    addEventListener('drop', (event) => void this.#dropped(event));
    addEventListener('pagehide', () => this.#desk?.keepOnDevice());
    watchForUpdates((take) => {
      this.takeUpdate = (): void => {
        this.#desk?.keepOnDevice();
        void take();
      };
    });
    void this.#route();
  }

  #troubled(why: string): void {
    // The browser's notice about a resize loop is harmless and comes from no mistake.
    if (why.includes('ResizeObserver')) return;
    this.trouble = why;
  }

  // ── which notebook ──────────────────────────────────────────────────────────────────────────

  async #route(): Promise<void> {
    const path = location.hash.replace(/^#\/?/, '');
    this.#desk?.close();
    this.#desk = undefined;
    this.#handle = undefined;
    this.trouble = '';
    if (path === '') {
      this.kept = await this.#storage.list();
      document.title = 'Dapple';
      this.requestUpdate();
      // Most who come here open a notebook next.
      setTimeout(() => void openingParts(), 2500);
      return;
    }
    if (path.startsWith('new/')) {
      void openingParts();
      const starter = path.slice(4);
      const text = await starterText(starter);
      if (location.hash.replace(/^#\/?/, '') !== path) return;
      const id = `${text === undefined ? 'page' : starter}-${freshId()}`;
      history.replaceState(null, '', `#/${id}`);
      await this.#open(id, text ?? EMPTY);
      return;
    }
    void openingParts();
    const kept = await this.#storage.read(path);
    const text = kept?.text ?? (await starterText(path)) ?? EMPTY;
    if (location.hash.replace(/^#\/?/, '') === path) await this.#open(path, text);
  }

  async #open(id: string, text: string): Promise<void> {
    try {
      const parts = await openingParts();
      if (location.hash.replace(/^#\/?/, '') !== id) return;
      this.#goTo = parts.goTo;
      this.#reading = parts.reading;
      this.#desk = new parts.Desk(id, text, this.#storage, () => this.requestUpdate());
      this.#desk.benchOpen = WITH_BENCH.matches;
    } catch (reason) {
      this.#troubled(String(reason));
      this.#raw = text;
    }
    scrollTo(0, 0);
    this.requestUpdate();
    const warm = (): void => void this.#needEditor();
    setTimeout(warm, 1200);
  }

  /** The text of a notebook that could not be opened, so that it can still be saved. */
  #raw = '';

  async #openFile(): Promise<void> {
    const opened = await pickFile();
    if (opened) await this.#take(opened);
  }

  async #take(opened: OpenedFile): Promise<void> {
    const id = `${opened.name.replace(/\.dapple$/i, '').replace(/[^\w-]+/g, '-')}-${freshId()}`;
    history.pushState(null, '', `#/${id}`);
    this.#desk?.close();
    await this.#open(id, opened.text);
    this.#handle = opened.handle;
    this.#desk?.keepOnDevice();
  }

  async #dropped(event: DragEvent): Promise<void> {
    event.preventDefault();
    const file = event.dataTransfer?.files[0];
    if (!file || this.#dropping) return;
    this.#dropping = true;
    try {
      await this.#take(await readFile(file));
    } catch (reason) {
      this.#troubled(String(reason));
    } finally {
      this.#dropping = false;
    }
  }

  #beginEmpty(): void {
    location.hash = `#/page-${freshId()}`;
  }

  async #saveFile(): Promise<void> {
    const text = this.#desk?.text ?? this.#raw;
    if (text === '') return;
    if (this.#handle && (await writeBack(this.#handle, text))) return;
    download(fileName(this.#desk?.snapshot.title ?? 'notebook'), text);
  }

  // ── editor ──────────────────────────────────────────────────────────────────────────────────

  async #needEditor(): Promise<void> {
    if (this.#editor) return;
    const { FormulaEditor } = await import('./formula-editor.ts');
    this.#editor ??= new FormulaEditor();
    this.requestUpdate();
  }

  protected override updated(_changed: PropertyValues): void {
    const desk = this.#desk;
    if (!desk) return;
    document.title = `${desk.snapshot.title || 'Untitled'} · Dapple`;
    if (desk.editing && !this.#editor) void this.#needEditor();
    if (desk.editing && this.#editor && this.#editorFor !== desk.editing) {
      this.#editorFor = desk.editing;
      this.#preview = undefined;
      const task = editorTask(desk, {
        settled: () => {
          this.#focusWanted = true;
        },
        previewed: (preview) => {
          this.#preview = preview;
          this.requestUpdate();
        },
      });
      if (task) this.#editor.open(task);
    }
    if (!desk.editing) this.#editorFor = undefined;
    this.#restoreFocus(desk);
    this.#measure(desk);
    this.#speak(desk);
  }

  /** Puts the focus where the hand is, when the sheet had it. */
  #restoreFocus(desk: Desk): void {
    if (desk.editing) return;
    const inSheet =
      document.activeElement?.closest('.sheet') !== null && document.activeElement !== null;
    if (!this.#focusWanted && !inSheet) return;
    const active = document.activeElement;
    if (!this.#focusWanted && active instanceof HTMLElement && active.dataset.entry) return;
    if (!this.#focusWanted && active instanceof HTMLInputElement) return;
    if (!this.#focusWanted && active instanceof HTMLButtonElement) return;
    const row = this.querySelector(`.sheet [data-item="${desk.item}"]`);
    const target = row?.querySelector<HTMLElement>(`[data-col="${desk.column}"]`);
    const cell = target ?? row?.querySelector<HTMLElement>('[data-col]');
    if (cell && cell !== active) cell.focus({ preventScroll: false });
    // The sheet from below must not hide the row it is about.
    if (!WITH_BENCH.matches && desk.benchOpen) row?.scrollIntoView({ block: 'start' });
    this.#focusWanted = false;
  }

  #measure(desk: Desk): void {
    const began = desk.editBegan;
    if (began === 0) return;
    desk.editBegan = 0;
    performance.measure('edit-to-values', { start: began, end: performance.now() });
    const charts = [...this.querySelectorAll<LitElement>('dapple-chart')];
    void Promise.all(charts.map((chart) => chart.updateComplete)).then(() => {
      performance.measure('edit-to-charts', { start: began, end: performance.now() });
    });
  }

  /** Says the verdict when its words change, at most once a second. */
  #speak(desk: Desk): void {
    const words = desk.snapshot.verdicts[0]?.headline ?? '';
    if (words === this.#spoken) return;
    const wait = Math.max(0, this.#spokenAt + 1000 - performance.now());
    this.#spoken = words;
    this.#spokenAt = performance.now() + wait;
    setTimeout(() => {
      const region = this.querySelector('#spoken');
      if (region) region.textContent = this.#spoken;
    }, wait);
  }

  // ── keys and clicks ─────────────────────────────────────────────────────────────────────────

  /** Keys that arrive before the editor is loaded are not lost. */
  #typedAhead(desk: Desk, event: KeyboardEvent): boolean {
    const editing = desk.editing;
    if (!editing || this.#editorFor === editing) return false;
    if (event.key === 'Enter') {
      this.#focusWanted = true;
      desk.keep(editing.text);
    } else if (event.key === 'Escape') desk.drop();
    else if (event.key.length === 1 && !event.ctrlKey && !event.metaKey) {
      const text = editing.caret === 'all' ? event.key : editing.text + event.key;
      desk.editing = { ...editing, text, caret: 'end' };
      this.requestUpdate();
    } else return false;
    return true;
  }

  #globalKey(event: KeyboardEvent): void {
    if (this.#desk && !event.defaultPrevented && this.#typedAhead(this.#desk, event)) {
      event.preventDefault();
      return;
    }
    const control = event.ctrlKey || event.metaKey;
    const key = event.key.toLowerCase();
    const desk = this.#desk;
    if (control && key === 'k' && desk) this.#showGoTo();
    else if (control && key === 's' && desk) void this.#saveFile();
    else if (control && key === 'e' && desk) void this.#saveFile();
    else if (control && key === 'z' && desk && !desk.editing) {
      if (event.shiftKey) desk.redo();
      else desk.undo();
    } else if (control && key === 'y' && desk && !desk.editing) desk.redo();
    else if (event.key === 'F6' && desk) this.#nextRegion();
    else if (event.key === 'F1') void this.#showHelp();
    else if (event.key === 'Escape' && desk?.benchOpen && !desk.editing && !WITH_BENCH.matches) {
      desk.openBench(false);
    } else return;
    event.preventDefault();
  }

  #nextRegion(): void {
    const regions = ['.verdict', '.sheet [tabindex="0"]', '.bench'];
    const at = regions.findIndex((selector) => {
      const region = this.querySelector(selector.split(' ')[0] ?? selector);
      return region?.contains(document.activeElement) === true;
    });
    for (let step = 1; step <= regions.length; step++) {
      const selector = regions[(at + step) % regions.length] ?? '.verdict';
      const region = this.querySelector<HTMLElement>(selector);
      if (region) {
        region.focus();
        return;
      }
    }
  }

  #showGoTo(): void {
    this.going = true;
    // At once, so that what is typed next goes into its field.
    this.performUpdate();
    this.#showDialog('#go-to');
  }

  #showReading(): void {
    this.logging = true;
    this.performUpdate();
    this.#showDialog('#reading');
  }

  async #showHelp(): Promise<void> {
    this.help ??= await import('./help.ts');
    await this.updateComplete;
    this.#showDialog('#help');
  }

  #showDialog(selector: string): void {
    const dialog = this.querySelector<HTMLDialogElement>(selector);
    if (!dialog || dialog.open) return;
    dialog.showModal();
    dialog.querySelector<HTMLInputElement>('[role="combobox"]')?.select();
  }

  #key(event: KeyboardEvent): void {
    const desk = this.#desk;
    if (!desk || desk.editing || event.defaultPrevented) return;
    if (!(event.target instanceof HTMLElement)) return;
    if (event.target.dataset.entry) {
      if (tableKey(event, event.target)) event.preventDefault();
      return;
    }
    if (event.target instanceof HTMLInputElement || event.target instanceof HTMLButtonElement)
      return;
    if (event.target instanceof HTMLAnchorElement) return;
    if (event.key === ' ') {
      desk.openBench(true);
      event.preventDefault();
      void this.updateComplete.then(() =>
        this.querySelector<HTMLElement>('#bench-slider, .bench .chip')?.focus(),
      );
      return;
    }
    if (event.key === 'Enter' && event.target.classList.contains('tbl')) {
      event.target.querySelector<HTMLElement>('[data-entry]')?.focus();
      event.preventDefault();
      return;
    }
    if ((event.ctrlKey || event.metaKey) && event.key === '.') {
      event.target.closest('.row')?.querySelector<HTMLElement>('.act .btn2')?.click();
      event.preventDefault();
      return;
    }
    if (sheetKey(desk, this.#columns(desk), event)) {
      event.preventDefault();
      this.#focusWanted = true;
      this.requestUpdate();
    }
  }

  #click(event: MouseEvent): void {
    const desk = this.#desk;
    if (!desk || !(event.target instanceof Element)) return;
    const fix = event.target.closest<HTMLElement>('[data-fix]');
    if (fix) {
      this.#editor?.fix(Number(fix.dataset.fix));
      return;
    }
    if (event.target.closest('a, button, input, dapple-editor, dapple-chart, td')) return;
    const line = event.target.closest<HTMLElement>('.row');
    if (!line) return;
    const item = Number(line.dataset.item);
    const row = desk.rows.find((other) => other.item === item);
    if (!row) return;
    const reference = event.target.closest<HTMLElement>('[data-key]')?.dataset.key;
    if (desk.editing) {
      const named = row.kind === 'cell' && event.ctrlKey ? row.name : undefined;
      if (named !== undefined) {
        this.#editor?.insert(named);
        return;
      }
      if (this.#editor && !desk.keep(this.#editor.value)) return;
    }
    if (event.ctrlKey && reference !== undefined) {
      const target = desk.rowOf(reference);
      if (target) desk.select(target.item, WORDS);
      return;
    }
    const place = event.target.closest<HTMLElement>('[data-col]');
    const column = place ? Number(place.dataset.col) : WORDS;
    this.#place(desk, row, column, event.detail);
  }

  /** A click on a place: the first takes it in hand, on an editable one it opens the editor. */
  #place(desk: Desk, row: Row, column: number, clicks: number): void {
    const already = desk.item === row.item && desk.column === column;
    const narrow = NARROW.matches;
    const formula =
      !narrow &&
      (row.kind === 'cell' || row.kind === 'check') &&
      (column === WORDS || column === 0);
    const derivedStrip = row.kind === 'cell' && row.role === 'derived' && column === 0;
    const checkStrip = row.kind === 'check' && column !== WORDS;
    const direct = formula && !derivedStrip && !checkStrip;
    desk.select(row.item, column);
    this.#focusWanted = true;
    if (WITH_BENCH.matches || (narrow && row.kind === 'cell')) desk.openBench(true);
    const wordsAgain =
      already && (clicks > 1 || column !== NAME) && !derivedStrip && row.kind !== 'chart';
    if (direct || (wordsAgain && !checkStrip && !narrow) || (narrow && already)) {
      beginEdit(desk, row, column);
    }
  }

  // ── drawing ─────────────────────────────────────────────────────────────────────────────────

  #columns(desk: Desk): readonly number[] {
    const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
    return stripsInView({
      width: this.width / rem,
      narrow: NARROW.matches,
      besideBench: WITH_BENCH.matches && desk.benchOpen,
      total: desk.snapshot.verdicts.length,
      scenario: desk.scenario,
      first: desk.firstScenario,
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

  #notices(): TemplateResult {
    return html`${
      this.takeUpdate
        ? html`<div class="notice"><p>A new version is ready.</p><button class="btn2" @click=${this.takeUpdate}>Take it</button></div>`
        : nothing
    }${this.trouble === '' ? nothing : this.#troubleNotice()}`;
  }

  #troubleNotice(): TemplateResult {
    return html`<div class="notice" role="alert"><p><b>Something in the page went wrong; your text is safe.</b>
      Save the file, then load the page again. <small>${this.trouble}</small></p>
      <button class="btn2 fill" @click=${(): void => void this.#saveFile()}>Save the file</button>
      <button class="btn2" @click=${(): void => {
        this.trouble = '';
      }}>Carry on</button></div>`;
  }

  protected override render(): TemplateResult {
    const desk = this.#desk;
    if (!desk) {
      if (location.hash.replace(/^#\/?/, '') !== '') return html`${this.#notices()}`;
      return html`${this.#notices()}${startScreen({
        kept: this.kept,
        themeButton: this.#themeButton(),
        openFile: () => void this.#openFile(),
        empty: () => this.#beginEmpty(),
        forget: (id) =>
          void this.#storage.remove(id).then(async () => {
            this.kept = await this.#storage.list();
          }),
        help: () => void this.#showHelp(),
      })}${this.help?.helpDialog() ?? nothing}`;
    }
    return this.#notebook(desk);
  }

  #goals(desk: Desk): readonly Goal[] {
    const settle = (): void => {
      this.#focusWanted = true;
    };
    return [
      ...(this.#goTo?.placesIn(desk, settle) ?? []),
      { label: 'Add a scenario', kind: 'command', detail: '', go: () => desk.addScenario() },
      ...(this.#reading?.logOf(desk.rows)
        ? [{ label: 'New reading', kind: 'command', detail: '', go: () => this.#showReading() }]
        : []),
      { label: 'Save to file', kind: 'command', detail: 'Ctrl S', go: () => void this.#saveFile() },
      { label: 'Print', kind: 'command', detail: 'Ctrl P', go: () => print() },
      { label: 'Undo', kind: 'command', detail: 'Ctrl Z', go: () => desk.undo() },
      { label: 'Redo', kind: 'command', detail: 'Ctrl Shift Z', go: () => desk.redo() },
      {
        label: 'Change the light',
        kind: 'command',
        detail: wordOf(nextTheme(this.theme)),
        go: () => this.#changeTheme(),
      },
      { label: 'Help', kind: 'command', detail: 'F1', go: () => void this.#showHelp() },
    ];
  }

  #openChecks(desk: Desk): void {
    const order =
      desk.snapshot.verdicts[0]?.marks.toSorted((a, b) => a.relative - b.relative) ?? [];
    const first = order[0] ?? desk.rows.find((row) => row.kind === 'check');
    if (!first) return;
    this.#focusWanted = true;
    desk.openBench(true);
    desk.select(first.item, WORDS);
  }

  #notebook(desk: Desk): TemplateResult {
    const { snapshot } = desk;
    const narrow = NARROW.matches;
    const columns = this.#columns(desk);
    const context: RowContext = {
      desk,
      columns,
      names: snapshot.verdicts.map((verdict) => verdict.name || 'Plan'),
      theme: this.theme,
      editor: this.#editor,
      preview: this.#preview,
    };
    const home = snapshot.rows.findIndex((row) => row.item === desk.item);
    const threads = threadsOf(snapshot.rows, home);
    const adding = desk.editing?.place.kind === 'new' ? desk.editing.place.item : undefined;
    const rows: TemplateResult[] = [];
    if (adding === -1) rows.push(newRowView(context, (text) => this.#editor?.insert(text)));
    this.#settled.of(snapshot).forEach((row, index) => {
      rows.push(
        rowView(context, row, index, threads.left[index] ?? '', threads.right[index] ?? ''),
      );
      if (adding === row.item) rows.push(newRowView(context, (text) => this.#editor?.insert(text)));
    });
    const bench = desk.benchOpen && desk.selected !== undefined;
    const unread = snapshot.rows.filter((row) => row.kind === 'unread');
    const shape = `app ${narrow ? 'narrow' : ''} ${bench ? 'benched' : ''} strips-${columns.length}`;
    return html`<div class=${shape}>
      <a class="skip" href="#sheet" @click=${(event: Event): void => {
        event.preventDefault();
        this.querySelector<HTMLElement>('.sheet [tabindex="0"]')?.focus();
      }}>To the sheet</a>
      ${barView({
        desk,
        snapshot,
        saving: this.saving,
        themeButton: this.#themeButton(),
        goTo: () => this.#showGoTo(),
        help: () => void this.#showHelp(),
        open: () => void this.#openFile(),
        save: () => void this.#saveFile(),
        empty: () => this.#beginEmpty(),
      })}
      <div class="work">
        <main class="page">
          ${verdictBand(
            desk,
            snapshot,
            columns,
            narrow,
            () => this.#openChecks(desk),
            () => desk.addScenario(),
          )}
          ${this.#notices()}
          ${
            this.saving.state === 'failed'
              ? html`<div class="notice" role="alert"><p>Not saved: ${this.saving.why || 'the device keeps nothing'}. Save a file now.</p>
                  <button class="btn2" @click=${(): void => void this.#saveFile()}>Save the file</button></div>`
              : nothing
          }
          ${snapshot.readOnly ? html`<div class="notice"><p>${snapshot.readOnly}</p></div>` : nothing}
          ${
            unread.length > 0
              ? html`<div class="notice"><p>${unread.length === 1 ? 'One line' : `${unread.length} lines`} of this file cannot be read.
                  What is written there stays exactly as it is, here and in the saved file.</p>
                  <button class="btn2" @click=${(): void => {
                    this.#focusWanted = true;
                    desk.select(unread[0]?.item ?? -1, WORDS);
                  }}>Go to line ${unread[0]?.line}</button></div>`
              : nothing
          }
          ${
            snapshot.rows.length === 0
              ? newRowView(
                  context,
                  (text) => this.#editor?.insert(text),
                  () => desk.edit({ kind: 'new', item: -1 }, ''),
                )
              : html`<div class="sheet" id="sheet" role="grid" aria-label="Cells" aria-rowcount=${snapshot.rows.length}
                  @keydown=${(event: KeyboardEvent): void => this.#key(event)}
                  @click=${(event: MouseEvent): void => this.#click(event)}>${rows}</div>`
          }
        </main>
        ${benchView({ desk, preview: this.#preview, narrow })}
      </div>
      ${narrow ? this.#thumb(desk) : nothing}
      <p class="vh" role="status" id="spoken"></p>
    </div>${
      this.going && this.#goTo
        ? this.#goTo.goToDialog(this.#goals(desk), () => {
            this.going = false;
          })
        : nothing
    }${this.#readingSheet(desk)}${this.help?.helpDialog() ?? nothing}`;
  }

  #readingSheet(desk: Desk): TemplateResult | typeof nothing {
    const log = this.logging ? this.#reading?.logOf(desk.rows) : undefined;
    if (!log || !this.#reading) return nothing;
    return this.#reading.readingSheet(desk, log, () => {
      this.logging = false;
    });
  }

  /** Five tools at the thumb. */
  #thumb(desk: Desk): TemplateResult {
    const log = this.#reading?.logOf(desk.rows);
    return html`<nav class="foot-bar" aria-label="Tools">
      <button ?disabled=${desk.undoLabel === ''} @click=${(): void => desk.undo()}>${icon('undo')}Undo</button>
      <button @click=${(): void => this.#openChecks(desk)}>${icon('tick')}Checks</button>
      <button aria-pressed=${desk.benchOpen ? 'true' : 'false'} @click=${(): void => desk.openBench(!desk.benchOpen)}>${icon('bench')}Bench</button>
      <button ?disabled=${log === undefined} @click=${(): void => {
        this.#showReading();
      }}>${icon('reading')}Reading</button>
      <button @click=${(): void => this.#showGoTo()}>${icon('search')}Go to</button>
    </nav>`;
  }
}
