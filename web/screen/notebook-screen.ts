// The screen of an open notebook: bar, verdict, sheet and bench, the one editor and where it stands,
// and what the notebook says aloud. It draws what the desk's session shows; it works nothing out.

import { html, LitElement, nothing, type TemplateResult } from 'lit';
import type { Preview, ShownSignature, TableRowShown } from '../../engine/index.ts';
import { benchView } from '../bench/bench-view.ts';
import type { Desk } from '../desk/desk.ts';
import { editorTask } from '../editor/editor-task.ts';
import type { FormulaEditor } from '../editor/formula-editor.ts';
import type { PageTools } from '../parts/page-tools.ts';
import { NARROW, WITH_BENCH } from '../parts/page-widths.ts';
import { WORDS } from '../parts/place.ts';
import { sameValue } from '../parts/same-value.ts';
import { applyTheme } from '../parts/theme.ts';
import { CoveredTop } from '../sheet/covered-top.ts';
import { FarRows } from '../sheet/far-rows.ts';
import { KeptRoom } from '../sheet/kept-room.ts';
import { progressOf, progressWords } from '../sheet/lesson.ts';
import { newRowView } from '../sheet/new-row.ts';
import type { RowContext } from '../sheet/row-context.ts';
import { rowView } from '../sheet/row-view.ts';
import { SettledRows } from '../sheet/settled-rows.ts';
import { SheetClipboard } from '../sheet/sheet-clipboard.ts';
import { SheetHand } from '../sheet/sheet-hand.ts';
import { SpokenVerdict } from '../sheet/spoken-verdict.ts';
import { stripsInView } from '../sheet/strips-in-view.ts';
import { threadsOf } from '../sheet/threads.ts';
import { verdictBand } from '../sheet/verdict-view.ts';
import { barView } from './bar-view.ts';
import { commandFor, commandsOf } from './commands.ts';
import { FoundRows } from './find-bar.ts';
import { FirstSight } from './first-sight.ts';
import { type Goal, GoTo, placesIn } from './go-to.ts';
import { notebookNotices } from './notebook-notices.ts';
import { paperView } from './paper.ts';
import { logOf, readingSheet } from './reading-sheet.ts';
import { thumbTools } from './thumb-tools.ts';

/** The editor's code is fetched when the page has come to rest, ms. */
const EDITOR_AHEAD = 1200;

/** A key for the field it is pressed in, or one that presses a link or a button of the page. */
function meantElsewhere({ target, key }: KeyboardEvent): boolean {
  if (!(target instanceof HTMLElement)) return false;
  if (target.closest('input, textarea, select, dialog')) return true;
  const presses = key === 'Enter' || key === ' ';
  return presses && target.closest('a, button, summary') !== null && !target.closest('#sheet');
}

export class NotebookScreen {
  readonly desk: Desk;
  readonly tools: PageTools;
  readonly #hand: SheetHand;
  readonly #clipboard: SheetClipboard;
  readonly #settled = new SettledRows();
  readonly #room = new KeptRoom();
  readonly #covered = new CoveredTop();
  readonly #far: FarRows;
  readonly #firstSight = new FirstSight();
  readonly found: FoundRows;
  readonly #spoken: SpokenVerdict;
  #editor: FormulaEditor | undefined;
  #editorFor: unknown;
  #preview: Preview | undefined;
  #signature: ShownSignature | undefined;
  #onPaper = false;
  #columnsBefore: readonly number[] = [];

  /** The parts whose drawing went wrong and was told. */
  readonly #told = new Set<string>();

  constructor(desk: Desk, tools: PageTools) {
    this.desk = desk;
    this.tools = tools;
    desk.benchOpen = WITH_BENCH.matches;
    this.#spoken = new SpokenVerdict(tools.root);
    this.#hand = new SheetHand({
      root: tools.root,
      desk,
      editor: () => this.#editor,
      columns: () => this.#columns(),
      draw: tools.draw,
      drawn: tools.drawn,
    });
    this.#clipboard = new SheetClipboard(desk, {
      settle: () => this.#hand.settle(),
      tell: tools.tell,
      draw: tools.draw,
    });
    this.#far = new FarRows(tools.draw);
    this.found = new FoundRows(desk, () => this.#leaveFor());
    setTimeout(() => void this.#needEditor(), EDITOR_AHEAD);
    addEventListener('beforeprint', this.#beforePrint);
    addEventListener('afterprint', this.#afterPrint);
  }

  /** The table readings are logged in, when the notebook has one. */
  get log(): TableRowShown | undefined {
    return logOf(this.desk.rows);
  }

  /** Keeps what is being written and moved. False when what is written does not fit where it stands. */
  settle(): boolean {
    if (!this.#keepWritten()) return false;
    this.desk.endSlide();
    this.desk.keepOnDevice();
    return true;
  }

  #keepWritten(): boolean {
    const { editing } = this.desk;
    const typed = this.#editorFor === editing ? this.#editor?.value : undefined;
    return editing === undefined || this.desk.keep(typed ?? editing.text);
  }

  /** Before the hand goes elsewhere: what is written is kept, and the next drawing moves the focus. */
  #leaveFor(): boolean {
    const kept = this.#keepWritten();
    if (kept) this.#hand.settle();
    return kept;
  }

  readonly #beforePrint = (): void => {
    this.#onPaper = true;
    // Colours that a light sets for itself would come through on paper.
    applyTheme('light', false);
    this.tools.draw();
    this.tools.drawNow();
  };
  readonly #afterPrint = (): void => {
    this.#onPaper = false;
    applyTheme(this.tools.theme(), false);
    this.tools.draw();
  };

  close(): void {
    this.#covered.end();
    this.#far.end();
    removeEventListener('beforeprint', this.#beforePrint);
    removeEventListener('afterprint', this.#afterPrint);
    this.desk.close();
  }

  // ── editor ──────────────────────────────────────────────────────────────────────────────────

  async #needEditor(): Promise<void> {
    if (this.#editor) return;
    const { FormulaEditor } = await import('../editor/formula-editor.ts');
    this.#editor ??= new FormulaEditor();
    this.tools.draw();
  }

  /** After each drawing: the editor in its place, the focus, the words said aloud. */
  drawn(): void {
    const { desk } = this;
    this.#firstSight.drawn(this.tools.draw, () => desk.beginWork());
    document.title = `${desk.snapshot.title || 'Untitled'} · Dapple`;
    if (desk.editing && !this.#editor) void this.#needEditor();
    if (desk.editing && this.#editor && this.#editorFor !== desk.editing) {
      this.#editorFor = desk.editing;
      this.#preview = undefined;
      this.#signature = undefined;
      const task = editorTask(desk, {
        settled: () => this.#hand.settle(),
        signed: (signature) => {
          if (this.#signature === undefined && signature === undefined) return;
          this.#signature = signature;
          this.tools.draw();
        },
        previewed: (preview) => {
          this.#preview = preview;
          this.tools.draw();
        },
      });
      if (task) this.#editor.open(task);
      this.#hand.clearOfBench();
    }
    if (!desk.editing) this.#editorFor = undefined;
    this.#covered.watch(this.tools.root);
    this.#far.watch(this.tools.root);
    this.#hand.restoreFocus();
    if (this.#far.leavesOut) this.#hand.stayInSight();
    this.#measure();
    this.#spoken.say(this.#verdictWords());
  }

  /** The verdict as it is said; a lesson that checks nothing says how far one has come. */
  #verdictWords(): string {
    const { verdicts } = this.desk.snapshot;
    // What is changed in a scenario is judged there.
    const plan = verdicts[Math.max(this.desk.column, 0)] ?? verdicts[0];
    const lesson = plan?.state === 'none' ? progressOf(this.desk.rows) : undefined;
    return lesson ? progressWords(lesson) : (plan?.headline ?? '');
  }

  #measure(): void {
    const began = this.desk.editBegan;
    if (began === 0) return;
    this.desk.editBegan = 0;
    performance.measure('edit-to-values', { start: began, end: performance.now() });
    const charts = [...this.tools.root.getElementsByTagName('dapple-chart')].filter(
      (chart) => chart instanceof LitElement,
    );
    void Promise.all(charts.map((chart) => chart.updateComplete)).then(() => {
      performance.measure('edit-to-charts', { start: began, end: performance.now() });
    });
  }

  // ── keys ────────────────────────────────────────────────────────────────────────────────────

  /** A key pressed anywhere. True when it did something. */
  key(event: KeyboardEvent): boolean {
    if (event.defaultPrevented) return false;
    const { desk } = this;
    if (this.#typedAhead(event)) return true;
    if (this.#typedOnEmpty(event)) return true;
    const command = commandFor(commandsOf(this), event, desk.editing !== undefined);
    if (command) {
      command.run();
      return true;
    }
    if (event.key === 'Escape' && this.found.any && !desk.editing) {
      this.found.end();
      return true;
    }
    if (event.key === 'Escape' && desk.benchOpen && !desk.editing && !WITH_BENCH.matches) {
      desk.openBench(false);
      return true;
    }
    return false;
  }

  /** Keys that arrive before the editor is loaded are not lost. */
  #typedAhead(event: KeyboardEvent): boolean {
    const { desk } = this;
    const editing = desk.editing;
    if (!editing || this.#editorFor === editing || meantElsewhere(event)) return false;
    if (event.key === 'Enter') {
      this.#hand.settle();
      desk.keep(editing.text);
    } else if (event.key === 'Escape') desk.drop();
    else if (event.key.length === 1 && !event.ctrlKey && !event.metaKey) {
      const text = editing.caret === 'all' ? event.key : editing.text + event.key;
      desk.editing = { ...editing, text, caret: 'end' };
      this.tools.draw();
    } else return false;
    return true;
  }

  /** On an empty page whoever begins to type means the first line. */
  #typedOnEmpty(event: KeyboardEvent): boolean {
    const { desk } = this;
    const { target, key } = event;
    if (desk.rows.length > 0 || desk.editing || desk.following) return false;
    if (key.length !== 1 || key === ' ' || event.ctrlKey || event.metaKey || event.altKey)
      return false;
    if (target instanceof HTMLElement && target.closest('input, textarea, dialog')) return false;
    desk.edit({ kind: 'new', item: -1 }, key, 'end');
    return true;
  }

  /** Where the hand is in the sheet, which need not be what the Tab key reaches first in it. */
  #placeInSheet(): HTMLElement | null {
    const { root } = this.tools;
    const place = root.querySelector<HTMLElement>('.sheet [data-col][tabindex="0"]');
    return place ?? root.querySelector('.sheet [tabindex="0"], #sheet button, #sheet .cm-content');
  }

  nextRegion(): void {
    const { root } = this.tools;
    const regions = [
      ['.verdict', root.querySelector<HTMLElement>('.verdict')],
      ['#sheet', this.#placeInSheet()],
      ['.bench', root.querySelector<HTMLElement>('.bench')],
    ] as const;
    const at = regions.findIndex(([region]) => document.activeElement?.closest(region));
    const round = [...regions.slice(at + 1), ...regions.slice(0, at + 1)];
    round.find(([, entry]) => entry)?.[1]?.focus();
  }

  // ── dialogs ─────────────────────────────────────────────────────────────────────────────────

  showGoTo(): void {
    const goTo = new GoTo(this.#goals(), {
      draw: () => {
        this.tools.draw();
        this.tools.drawNow();
      },
      closed: this.tools.closeDialog,
      found: (query) => this.found.begin(query),
    });
    this.tools.openDialog({ selector: '#go-to', view: () => goTo.view() });
  }

  /** A scenario more, with the focus on its name. */
  addScenario(): void {
    if (!this.#leaveFor()) return;
    this.desk.addScenario();
  }

  showBoard(): void {
    if (!this.settle()) return;
    void import('./board.ts').then(({ Board }) => {
      const board = new Board(this.desk, this.tools.closeDialog);
      this.tools.openDialog({ selector: '#board', view: () => board.view() });
    });
  }

  showReading(): void {
    const log = this.log;
    if (!log) return;
    this.tools.openDialog({
      selector: '#reading',
      view: () => readingSheet(this.desk, log, this.tools.closeDialog),
    });
  }

  #goals(): readonly Goal[] {
    const commands = commandsOf(this).filter((command) => command.unlisted !== true);
    return [
      ...placesIn(this.desk, () => this.#leaveFor()),
      ...commands.map((command) => ({
        label: command.label,
        kind: 'command',
        detail: command.detail ?? command.keys?.[0] ?? '',
        go: command.run,
      })),
    ];
  }

  #openChecks(): void {
    const { desk } = this;
    const order =
      desk.snapshot.verdicts[0]?.marks.toSorted((a, b) => a.relative - b.relative) ?? [];
    const first = order[0] ?? desk.rows.find((row) => row.kind === 'check');
    if (!first) return;
    this.#hand.settle();
    desk.openBench(true);
    desk.select(first.item, WORDS);
  }

  // ── drawing ─────────────────────────────────────────────────────────────────────────────────

  #columns(): readonly number[] {
    const { desk } = this;
    const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
    const inView = stripsInView({
      width: this.tools.width() / rem,
      narrow: NARROW.matches,
      besideBench: WITH_BENCH.matches && desk.benchOpen,
      total: desk.snapshot.verdicts.length,
      scenario: desk.scenario,
      first: desk.firstScenario,
    });
    // Those in view stay until others are asked for.
    if (!NARROW.matches && !this.#onPaper) desk.firstScenario = inView[1] ?? desk.firstScenario;
    // Paper shows the plan, whatever strip a narrow page had in view.
    const columns = this.#onPaper && !inView.includes(0) ? [0, ...inView] : inView;
    // The same list while it says the same: charts are drawn again for another one.
    if (!sameValue(columns, this.#columnsBefore)) this.#columnsBefore = columns;
    return this.#columnsBefore;
  }

  /** A part of the page that cannot be drawn takes no other with it. */
  #guarded(part: string, draw: () => TemplateResult, instead: TemplateResult): TemplateResult {
    try {
      return draw();
    } catch (reason) {
      if (!this.#told.has(part)) setTimeout(() => reportError(reason));
      this.#told.add(part);
      return instead;
    }
  }

  #rows(context: RowContext): TemplateResult[] {
    const { desk } = this;
    const { snapshot } = desk;
    const home = snapshot.rows.findIndex((row) => row.item === desk.item);
    const threads = threadsOf(snapshot.rows, home);
    const adding = desk.editing?.place.kind === 'new' ? desk.editing.place.item : undefined;
    const fresh = (): TemplateResult => newRowView(context, (text) => this.#editor?.insert(text));
    const all = this.#settled.of(snapshot);
    const between = (from: number, to: number): TemplateResult[] => {
      const rows: TemplateResult[] = [];
      for (const [at, row] of all.slice(from, to).entries()) {
        const index = from + at;
        const left = threads.left[index] ?? '';
        const right = threads.right[index] ?? '';
        rows.push(
          this.#guarded(
            `row ${row.item}`,
            () => rowView(context, row, index, left, right),
            html`<div role="row" class="notice"><div role="gridcell">Line ${row.line} cannot be drawn. Its text is whole.</div></div>`,
          ),
        );
        if (adding === row.item) rows.push(fresh());
      }
      return rows;
    };
    const first = adding === -1 ? [fresh()] : [];
    const needed = [desk.item, desk.editing?.place.item ?? -1, adding ?? -1];
    const blocks = this.#onPaper ? undefined : this.#far.blocks(all, needed);
    const shown = this.#onPaper ? all.length : Math.min(all.length, this.#firstSight.rows);
    if (!blocks) return [...first, ...between(0, shown)];
    return [
      ...first,
      ...blocks.map(
        ({ index, from, to, drawn, height }) =>
          html`<div class="rows-block" role="rowgroup" data-block=${index}
            .style=${drawn ? '' : `height: ${Math.round(height)}px`}>${drawn ? between(from, to) : nothing}</div>`,
      ),
    ];
  }

  #sheet(context: RowContext): TemplateResult {
    const { desk } = this;
    const total = desk.snapshot.rows.length;
    if (total === 0) {
      const fresh = newRowView(
        context,
        (text) => this.#editor?.insert(text),
        () => desk.edit({ kind: 'new', item: -1 }, ''),
      );
      return html`<div id="sheet" tabindex="-1">${fresh}</div>`;
    }
    return html`<div class="sheet" id="sheet" role="grid" aria-label="Cells" aria-rowcount=${total}
      @keydown=${(event: KeyboardEvent): void => this.#hand.key(event)}
      @paste=${(event: ClipboardEvent): void => this.#clipboard.paste(event)}
      @copy=${(event: ClipboardEvent): void => this.#clipboard.copy(event)}
      @cut=${(event: ClipboardEvent): void => this.#clipboard.cut(event)}
      @click=${(event: MouseEvent): void => this.#hand.click(event)}>${this.#rows(context)}</div>
      ${desk.following || desk.editing?.place.kind === 'new' ? nothing : this.#another()}`;
  }

  /** Below the last row: how a notebook goes on. */
  #another(): TemplateResult {
    const last = this.desk.rows.at(-1)?.item ?? -1;
    return html`<p class="another"><button class="btn3" @click=${(): void =>
      this.desk.edit({ kind: 'new', item: last }, '')}>Add a row at the end</button></p>`;
  }

  render(): TemplateResult {
    const { desk, tools } = this;
    const { snapshot } = desk;
    const narrow = NARROW.matches && !this.#onPaper;
    const columns = this.#columns();
    const context: RowContext = {
      desk,
      columns,
      names: snapshot.verdicts.map((verdict) => verdict.name || 'Plan'),
      theme: tools.theme(),
      room: this.#room.of(snapshot.rows),
      editor: this.#editor,
      preview: this.#preview,
      signature: this.#signature,
    };
    const bench = desk.benchOpen && desk.selected !== undefined;
    const shape = `app ${narrow ? 'narrow' : ''} ${bench ? 'benched' : ''} strips-${columns.length}`;
    return html`<div class=${shape}>
      <a class="skip" href="#sheet" @click=${(event: Event): void => {
        event.preventDefault();
        // A line whose editor is still on its way has nothing yet that could be focused.
        const sheet = tools.root.querySelector<HTMLElement>('#sheet');
        (this.#placeInSheet() ?? sheet)?.focus();
      }}>To the sheet</a>
      ${barView({
        desk,
        snapshot,
        saving: tools.saving(),
        themeButton: tools.themeButton(),
        goTo: () => this.showGoTo(),
        help: tools.showHelp,
        open: tools.openFile,
        save: tools.saveFile,
        saveAs: tools.saveFileAs,
        versions: tools.showVersions,
        send: tools.send,
        tableIn: tools.takeTableIn,
        tableOut: tools.takeTableOut,
        empty: tools.beginEmpty,
      })}
      ${this.#onPaper ? paperView(snapshot, new Date()) : nothing}
      <div class="work">
        <main class="page">
          ${verdictBand(
            desk,
            snapshot,
            columns,
            narrow,
            context.room.chance,
            () => this.#openChecks(),
            () => desk.addScenario(),
          )}
          ${tools.notices()}${notebookNotices(desk, tools, () => this.#hand.settle())}${this.#sheet(context)}
        </main>
        ${this.#guarded(
          'bench',
          () =>
            html`${benchView({ desk, preview: this.#preview, narrow, tidy: () => this.#editor?.tidy() })}`,
          html`<aside class="bench"><p>The bench cannot be drawn.</p></aside>`,
        )}
      </div>
      ${
        narrow
          ? thumbTools(desk, this.log !== undefined, {
              checks: () => this.#openChecks(),
              reading: () => this.showReading(),
              goTo: () => this.showGoTo(),
            })
          : nothing
      }
      ${this.found.view()}
      <p class="vh" role="status" id="spoken"></p>
    </div>`;
  }
}
