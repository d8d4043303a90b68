// A chart in its row. It asks the session for its data when it is in view, draws at once when Vega
// is loaded, and keeps a table beside the picture for those who cannot or will not look at it.

import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import type { ChartData, Snapshot } from '../../engine/index.ts';
import type { Desk } from '../desk/desk.ts';
import { sameValue } from '../parts/same-value.ts';
import type { Panel } from './chart-panel.ts';
import { placeByKey } from './chart-places.ts';
import { type ChartReading, chartReading } from './chart-reading.ts';
import { crossingWords, sample } from './chart-sample.ts';
import { drawingOf } from './chart-spec.ts';
import { spotOf, spotUnder } from './chart-spots.ts';
import { chartTable } from './chart-table.ts';
import { type ChartColours, chartColours, PAPER, watchColours } from './chart-theme.ts';
import type { ChartView } from './chart-view.ts';
import { SAVED_AS, type SavedAs } from './chart-words.ts';
import { SkyHand } from './sky-hand.ts';
import { skyView } from './sky-view.ts';

type Drawer = typeof import('./chart-view.ts');
let drawer: Drawer | undefined;
let loading: Promise<Drawer> | undefined;

function loadDrawer(): Promise<Drawer> {
  loading ??= import('./chart-view.ts').then((loaded) => {
    drawer = loaded;
    return loaded;
  });
  return loading;
}

/** One panel as it stands in the picture. */
interface Shown {
  readonly panel: Panel;
  readonly colours: ChartColours;
  readonly element: HTMLElement;
  readonly view: ChartView;
}

const DRAWN_FROM = ['revision', 'theme', 'columns', 'width', 'asTable', 'item'];
/** The hand rests when nothing was moved for this long, ms. */
const REST = 160;
/** What draws is fetched when the page has come to rest, ms. */
const DRAWER_AHEAD = 1500;

export class DappleChart extends LitElement {
  static override properties = {
    desk: { attribute: false },
    item: { type: Number },
    revision: { attribute: false },
    theme: { type: String },
    columns: { attribute: false },
    asTable: { state: true },
    width: { state: true },
    visible: { state: true },
    hover: { state: true },
    said: { state: true },
  };
  declare desk: Desk;
  declare item: number;
  declare revision: Snapshot;
  declare theme: string;
  declare columns: readonly number[];
  declare asTable: boolean;
  declare width: number;
  declare visible: boolean;
  /** The place that is read, by a hand or by a key. */
  declare hover: number | undefined;
  /** What was done last, for those who cannot see it. */
  declare said: string;

  /** What is drawn, panel by panel. */
  #shown: readonly Shown[] = [];
  #data: ChartData | undefined;
  #drawing: readonly Panel[] | undefined;
  #reading:
    | { readonly data: ChartData; readonly made: string; readonly reading: ChartReading }
    | undefined;
  /** Where reading by keys goes on. */
  #read = 0;
  readonly #hand = new SkyHand(this);
  /** Everything but the data that the drawing was made for. */
  #drawnFor = '';
  #stale = true;
  /** The numbers are being worked out anew; the old picture stays until they are there. */
  #working = false;
  #near = false;
  #printing = false;
  #later: ReturnType<typeof setTimeout> | undefined;
  #ahead: ReturnType<typeof setTimeout> | undefined;
  readonly #seen = new IntersectionObserver((entries) => {
    this.visible = entries.at(-1)?.isIntersecting ?? false;
  });
  readonly #close = new IntersectionObserver(
    (entries) => {
      this.#near = entries.at(-1)?.isIntersecting ?? false;
      if (this.#near) this.#drawLater();
    },
    { rootMargin: '320px 0px' },
  );
  readonly #sized = new ResizeObserver((entries) => {
    const width = Math.floor(entries.at(-1)?.contentRect.width ?? 0);
    if (width > 0 && Math.abs(width - this.width) > 1) this.width = width;
  });
  #unwatch = (): void => {};
  readonly #recoloured = (): void => {
    this.#drawnFor = '';
    this.#stale = true;
    this.requestUpdate();
  };
  readonly #beforePrint = (): void => {
    this.#printing = true;
    this.#stale = true;
    // One that was never in view has not been measured; asking for its box lays it out.
    const paper = this.querySelector('.chart-paper');
    if (this.width === 0 && paper) this.width = Math.floor(paper.getBoundingClientRect().width);
    this.requestUpdate();
    this.performUpdate();
    if (this.width > 0 || this.#data?.state !== 'ready') return;
    // Its frame stands only now.
    const framed = this.querySelector('.chart-paper');
    this.width = framed ? Math.floor(framed.getBoundingClientRect().width) : 0;
    this.performUpdate();
  };
  readonly #afterPrint = (): void => {
    this.#printing = false;
    this.#stale = true;
    this.requestUpdate();
  };

  /** Paper is white whatever the light of the page. */
  get #light(): string {
    return this.#printing ? PAPER : this.theme;
  }

  constructor() {
    super();
    this.asTable = false;
    this.width = 0;
    this.visible = false;
    this.hover = undefined;
    this.said = '';
  }

  protected override createRenderRoot(): HTMLElement {
    return this;
  }

  override connectedCallback(): void {
    super.connectedCallback();
    this.#seen.observe(this);
    this.#close.observe(this);
    // Paper does not wait: what draws is there before anyone prints.
    this.#ahead = setTimeout(() => void loadDrawer(), DRAWER_AHEAD);
    this.#unwatch = watchColours(this.#recoloured);
    addEventListener('beforeprint', this.#beforePrint);
    addEventListener('afterprint', this.#afterPrint);
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#seen.disconnect();
    this.#close.disconnect();
    this.#sized.disconnect();
    clearTimeout(this.#later);
    clearTimeout(this.#ahead);
    this.#unwatch();
    removeEventListener('beforeprint', this.#beforePrint);
    removeEventListener('afterprint', this.#afterPrint);
    for (const { view } of this.#shown) view.finalize();
    this.#shown = [];
  }

  /** A chart just out of sight is drawn when the hand rests, so that scrolling finds it there. */
  #drawLater(): void {
    clearTimeout(this.#later);
    this.#later = setTimeout(() => {
      if (this.#near && this.#stale && this.#refresh()) this.requestUpdate();
    }, REST);
  }

  protected override shouldUpdate(changed: PropertyValues): boolean {
    if (changed.has('item')) {
      this.#data = undefined;
      this.#drawing = undefined;
    }
    if (DRAWN_FROM.some((name) => changed.has(name))) this.#stale = true;
    const asked = !this.hasUpdated || [...changed.keys()].some((name) => name !== 'revision');
    if (this.visible || this.#printing) {
      const moved = this.#stale && this.#refresh();
      return moved || asked || changed.size === 0;
    }
    if (this.#stale && this.#near) this.#drawLater();
    return asked || changed.size === 0;
  }

  /** Takes the chart's numbers as they are now; false when there is nothing new to draw. */
  #refresh(): boolean {
    this.#stale = false;
    const before = { data: this.#data, working: this.#working };
    const fresh = this.desk.session.chart(this.item);
    this.#working = fresh.state === 'pending' && this.#data?.state === 'ready';
    if (!this.#working && !sameValue(fresh, this.#data)) this.#data = fresh;
    const columnNames = this.#columnNames();
    const drawnFor = [this.width, this.#light, this.columns.join(), ...columnNames].join('|');
    const moved = this.#data !== before.data || drawnFor !== this.#drawnFor;
    if (moved && this.width > 0) {
      this.#drawing = this.#makeDrawing(columnNames);
      this.#drawnFor = drawnFor;
    }
    return moved || this.#working !== before.working;
  }

  #columnNames(): readonly string[] {
    return this.desk.snapshot.verdicts.map((verdict) => verdict.name || 'Plan');
  }

  #makeDrawing(columnNames: readonly string[]): readonly Panel[] | undefined {
    const data = this.#data;
    if (data?.state !== 'ready' || data.kind === 'list' || data.kind === 'sky') return undefined;
    return drawingOf(data, {
      width: this.width,
      colours: chartColours(this.#light),
      columnNames,
      columns: this.columns,
    });
  }

  /** Whoever reads by keys keeps the chart in hand when its reader goes while numbers are on their way. */
  protected override update(changed: PropertyValues): void {
    const isRead = this.querySelector('.chart-reader') === document.activeElement;
    super.update(changed);
    if (!isRead || this.contains(document.activeElement)) return;
    const reader = this.querySelector<HTMLElement>('.chart-reader');
    (reader ?? this.closest<HTMLElement>('[data-col]'))?.focus({ preventScroll: true });
  }

  protected override updated(): void {
    const paper = this.querySelector('.chart-paper');
    if (paper) this.#sized.observe(paper);
    const picture = this.querySelector('.chart-picture');
    if (!picture || !this.#drawing) return;
    if (drawer) this.#draw(picture, this.#drawing, drawer);
    else void loadDrawer().then(() => this.requestUpdate());
  }

  /** Draws the panels whose numbers, layout or light changed; the others stay as they are. */
  #draw(picture: Element, drawing: readonly Panel[], using: Drawer): void {
    const old = this.#shown;
    const colours = chartColours(this.#light);
    this.#shown = drawing.map((panel, index): Shown => {
      const before = old[index];
      if (before?.colours !== colours || !sameValue(before.panel.spec, panel.spec))
        return { panel, colours, ...using.drawPanel(panel, this.#light) };
      if (before.panel !== panel && !sameValue(before.panel.data, panel.data))
        using.redrawPanel(before.view, before.panel, panel);
      return { ...before, panel };
    });
    const elements = this.#shown.map(({ element }) => element);
    const there = [...picture.children];
    if (elements.length !== there.length || elements.some((one, index) => one !== there[index]))
      picture.replaceChildren(...elements);
    for (const { view } of old) {
      if (!this.#shown.some((shown) => shown.view === view)) view.finalize();
    }
  }

  /** What is shown as rows, made when first asked for. */
  #readingOf(data: ChartData): ChartReading {
    const names = this.#columnNames();
    const columns = data.kind === 'list' ? [0] : this.columns;
    const made = `${names.join('|')}:${columns.join()}`;
    if (this.#reading?.data !== data || this.#reading.made !== made)
      this.#reading = { data, made, reading: chartReading(data, names, columns) };
    return this.#reading.reading;
  }

  #pointed(event: PointerEvent): void {
    const data = this.#data;
    const paper = event.currentTarget;
    if (!data || !(paper instanceof Element)) return;
    const box = paper.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    const picture = this.#shown[0]?.view;
    this.hover = picture && spotUnder(data, this.#readingOf(data), picture, { x, y });
  }

  #keyed(event: KeyboardEvent, data: ChartData): void {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === 'Escape' && this.hover !== undefined) this.hover = undefined;
    else {
      const { count } = this.#readingOf(data);
      const to = placeByKey(event.key, this.hover ?? this.#read, count, data);
      if (to === undefined) return;
      // The first key reads the place that stands, and the next one moves.
      this.hover = to;
      this.#read = to;
    }
    event.preventDefault();
    event.stopPropagation();
  }

  /** The rule and the words of the place that is read. */
  #placeWords(data: ChartData, index: number, height: number): TemplateResult {
    const picture = this.#shown[0]?.view;
    const { x, y } = (picture && spotOf(data, this.#readingOf(data), picture, index)) ?? {};
    const at = x ?? 0;
    const rightward = at > this.width / 2;
    return html`${
      x === undefined
        ? nothing
        : y !== undefined
          ? html`<div class="hover-spot" .style=${`left:${x}px;top:${y}px`}></div>`
          : html`<div class="hover-rule" .style=${`left:${x}px;top:0;height:${height - 28}px`}></div>`
    }<div class="hover-words" .style=${rightward ? `right:${this.width - at + 8}px` : `left:${at + 8}px`}>${this.#readingOf(data).words(index)}</div>`;
  }

  #picture(data: ChartData): TemplateResult {
    const panels = this.#drawing ?? [];
    const height = panels.reduce((sum, panel) => sum + panel.height, 0) || 130;
    const { count } = this.#readingOf(data);
    const index = Math.min(this.hover ?? this.#read, Math.max(0, count - 1));
    return html`<div class="chart-frame ${panels.length === 0 ? 'alone' : ''} ${this.#working ? 'working' : ''}">
      <div class="chart-paper" .style=${`min-height:${height}px`}>
        <div class="chart-picture" role="img" aria-label=${data.spoken || data.title}></div>
        ${
          this.#working
            ? html`<p class="chart-working">${this.#printing ? 'Being worked out anew when this was printed; the picture is from before.' : 'working …'}</p>`
            : nothing
        }
        ${this.hover === undefined || count === 0 ? nothing : this.#placeWords(data, index, height)}
        ${
          count === 0
            ? nothing
            : html`<div class="chart-reader" role="slider" tabindex="0" aria-label=${`Values of ${data.title}`}
          aria-valuemin="0" aria-valuemax=${count - 1} aria-valuenow=${index} aria-valuetext=${this.#readingOf(data).words(index)}
          @keydown=${(event: KeyboardEvent): void => this.#keyed(event, data)}
          @focus=${(event: FocusEvent): void => {
            if (event.target instanceof Element && event.target.matches(':focus-visible'))
              this.hover ??= this.#read;
          }}
          @blur=${(): void => {
            this.hover = undefined;
          }}
          @pointerdown=${(event: PointerEvent): void => this.#pointed(event)}
          @pointermove=${(event: PointerEvent): void => this.#pointed(event)}
          @pointerleave=${(): void => {
            this.hover = undefined;
          }}></div>`
        }
      </div>
      <div class="chart-side">${panels.map(
        (panel, at) =>
          html`<ul class="chart-names" .style=${
            at < panels.length - 1 ? `--panel-height:${panel.height}px` : ''
          }>${panel.names.map((line) => html`<li>${sample(line)}<span data-words>${line.name}</span></li>`)}</ul>`,
      )}${crossingWords(data)}${this.#tools(data)}</div>
    </div>`;
  }

  async #save(data: ChartData, as: SavedAs): Promise<void> {
    const { saveChart } = await import('./chart-saving.ts');
    const frame = this.querySelector('.chart-frame, .sky');
    const reading = this.#readingOf(data);
    this.said = await saveChart({ title: data.title, spoken: data.spoken, reading, frame }, as);
  }

  /** Picture to table and back: what was asked for is in sight, and the hand stays on its button. */
  async #turn(): Promise<void> {
    this.asTable = !this.asTable;
    await this.updateComplete;
    this.querySelector<HTMLElement>('.chart-tools [aria-pressed]')?.focus({ preventScroll: true });
    this.closest('[data-col]')?.scrollIntoView({ block: 'nearest' });
  }

  #tools(data: ChartData): TemplateResult {
    const kinds = this.asTable || data.kind === 'list' ? (['CSV'] as const) : SAVED_AS;
    return html`<div class="chart-tools">${
      data.kind === 'list'
        ? nothing
        : html`<button class="btn3" aria-pressed=${this.asTable ? 'true' : 'false'} @click=${(): void => void this.#turn()}>${this.asTable ? 'Show the picture' : 'Show as table'}</button>`
    }<span class="chart-save" role="group" aria-label="Save this chart"><span aria-hidden="true">Save</span>${kinds.map(
      (as) =>
        html`<button class="btn3" aria-label=${`Save as ${as}`} @click=${(): void => void this.#save(data, as)}>${as}</button>`,
    )}</span><span class="vh" role="status">${this.said}</span></div>`;
  }

  protected override render(): TemplateResult {
    const data = this.#data;
    if (!data) return html`<div class="chart-paper"><div class="chart-wait">…</div></div>`;
    if (data.state !== 'ready') {
      const worked = this.#printing ? 'Still being worked out when this was printed.' : 'working …';
      const words = data.state === 'pending' ? worked : data.text;
      return html`<div class="chart-paper"><div class="chart-wait">${words}</div></div>`;
    }
    if (this.asTable || data.kind === 'list') {
      return html`<div class="chart-table" tabindex="0" role="region" aria-label=${data.title}>${chartTable(this.#readingOf(data))}</div>${this.#tools(data)}`;
    }
    if (data.kind === 'sky') return skyView(data, this.#hand, this.#tools(data));
    return this.#picture(data);
  }
}
