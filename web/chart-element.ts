// A chart in its row. It asks the session for its data when it is in view, draws at once when Vega
// is loaded, and keeps a table beside the picture for those who cannot or will not look at it.

import { html, LitElement, nothing, type PropertyValues, svg, type TemplateResult } from 'lit';
import type { ChartData, Snapshot } from '../engine/index.ts';
import { CHART_GUTTER, type NamedLine, type Panel } from './chart-panel.ts';
import { drawingOf } from './chart-spec.ts';
import { chartTable } from './chart-table.ts';
import { chartColours } from './chart-theme.ts';
import type { ChartView } from './chart-view.ts';
import { axisLabel, figure } from './chart-words.ts';
import type { Desk } from './desk.ts';
import { sameValue } from './same-value.ts';
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
  readonly theme: string;
  readonly element: HTMLElement;
  readonly view: ChartView;
}

const DRAWN_FROM = ['revision', 'theme', 'columns', 'width', 'asTable', 'item'];
/** The hand rests when nothing was moved for this long, ms. */
const REST = 160;
/** What draws is fetched when the page has come to rest, ms. */
const DRAWER_AHEAD = 1500;

const MARKS = [
  'M8 6a5 5 0 1010 0a5 5 0 10-10 0z',
  'M8.5 1.5h9v9h-9z',
  'M13 .5l5.5 10h-11z',
  'M13 0l5 6-5 6-5-6z',
  'M11.5 1h3v3.5h3.5v3h-3.5V11h-3V7.5H8v-3h3.5z',
];

function markSample(style: number): TemplateResult {
  const index = style % 5;
  return svg`<path class=${`f${index + 1}`} d=${MARKS[index] ?? ''}></path>`;
}

/** A sample of a line or mark beside its name. */
function sample(line: NamedLine): TemplateResult {
  const style = (line.style % 5) + 1;
  const inside = {
    line: svg`<path class=${`s${style}`} d="M0 6H26"></path>`,
    limit: svg`<path class="tile-l" d="M0 6H26"></path>`,
    fill: svg`<rect class=${style === 1 ? 'bar-fill' : `f${style}`} x="6" y="0" width="12" height="12"></rect>`,
    middle: svg`<path class="middle-line" d="M0 6H26"></path>`,
    ring: svg`<circle class="ring-mark" cx="13" cy="6" r="4.6"></circle>`,
    outline: svg`<rect class="bar-out" x="6" y="1" width="11" height="10"></rect>`,
    mark: markSample(line.style),
    square: svg`<circle class=${`f${style}`} cx="13" cy="6" r="5"></circle>`,
    band: svg`<rect class="bandf" x="0" y="0" width="26" height="12"></rect>`,
    half: svg`<rect class="bandf half" x="0" y="0" width="26" height="12"></rect>`,
  }[line.kind];
  return html`<svg viewBox="0 0 26 12" aria-hidden="true">${inside}</svg>`;
}

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
  };
  declare desk: Desk;
  declare item: number;
  declare revision: Snapshot;
  declare theme: string;
  declare columns: readonly number[];
  declare asTable: boolean;
  declare width: number;
  declare visible: boolean;
  declare hover: { readonly x: number; readonly index: number } | undefined;

  /** What is drawn, panel by panel. */
  #shown: readonly Shown[] = [];
  #data: ChartData | undefined;
  #drawing: readonly Panel[] | undefined;
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
    return this.#printing ? 'light' : this.theme;
  }

  constructor() {
    super();
    this.asTable = false;
    this.width = 0;
    this.visible = false;
    this.hover = undefined;
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
    const theme = this.#light;
    this.#shown = drawing.map((panel, index): Shown => {
      const before = old[index];
      const same =
        before?.theme === theme &&
        (before.panel === panel ||
          (sameValue(before.panel.data, panel.data) && sameValue(before.panel.spec, panel.spec)));
      return same ? { ...before, panel } : { panel, theme, ...using.drawPanel(panel, theme) };
    });
    const elements = this.#shown.map(({ element }) => element);
    const there = [...picture.children];
    if (elements.length !== there.length || elements.some((one, index) => one !== there[index]))
      picture.replaceChildren(...elements);
    for (const { view } of old) {
      if (!this.#shown.some((shown) => shown.view === view)) view.finalize();
    }
  }

  #moved(event: PointerEvent): void {
    const data = this.#data;
    const paper = event.currentTarget;
    if (!data || !(paper instanceof Element) || data.axis.kind !== 'time') return;
    const x = event.clientX - paper.getBoundingClientRect().left;
    const inner = this.width - CHART_GUTTER - 8;
    const share = (x - CHART_GUTTER) / inner;
    if (share < 0 || share > 1) {
      this.hover = undefined;
      return;
    }
    const count = data.axis.values.length;
    const index = Math.max(0, Math.min(count - 1, Math.floor(share * count)));
    if (this.hover?.index !== index) this.hover = { x, index };
  }

  #hoverWords(data: ChartData, index: number): string {
    const shown = data.bands
      ? [`middle ${figure(data.bands.middle[index])} ${data.bands.unit}`]
      : data.series
          .filter((series) => series.column === 0)
          .map((series) => `${series.name} ${figure(series.values[index])} ${series.unit}`);
    return [axisLabel(data.axis, index), ...shown].join(' · ');
  }

  #picture(data: ChartData): TemplateResult {
    const panels = this.#drawing ?? [];
    const height = panels.reduce((sum, panel) => sum + panel.height, 0) || 130;
    const hover = this.hover;
    return html`<div class="chart-frame ${panels.length === 0 ? 'alone' : ''} ${this.#working ? 'working' : ''}">
      <div class="chart-paper" role="img" aria-label=${data.spoken || data.title} .style=${`min-height:${height}px`}
        @pointermove=${(event: PointerEvent): void => this.#moved(event)}
        @pointerleave=${(): void => {
          this.hover = undefined;
        }}>
        <div class="chart-picture"></div>
        ${this.#working ? html`<p class="chart-working">working …</p>` : nothing}
        ${
          hover
            ? html`<div class="hover-rule" .style=${`left:${hover.x}px;top:0;height:${height - 28}px`}></div>
              <div class="hover-words" .style=${hover.x > this.width / 2 ? `right:${this.width - hover.x + 8}px` : `left:${hover.x + 8}px`}>${this.#hoverWords(data, hover.index)}</div>`
            : nothing
        }
      </div>
      <div class="chart-side">${panels.map(
        (panel, index) =>
          html`<ul class="chart-names" .style=${
            index < panels.length - 1 ? `--panel-height:${panel.height}px` : ''
          }>${panel.names.map((line) => html`<li>${sample(line)}<span>${line.name}</span></li>`)}</ul>`,
      )}${this.#tools()}</div>
    </div>`;
  }

  #tools(): TemplateResult {
    return html`<div class="chart-tools"><button class="btn3" aria-pressed=${this.asTable ? 'true' : 'false'} @click=${(): void => {
      this.asTable = !this.asTable;
    }}>${this.asTable ? 'Show the picture' : 'Show as table'}</button></div>`;
  }

  protected override render(): TemplateResult {
    const data = this.#data;
    if (!data) return html`<div class="chart-paper"><div class="chart-wait">…</div></div>`;
    if (data.state !== 'ready') {
      const words = data.state === 'pending' ? 'working …' : data.text;
      return html`<div class="chart-paper"><div class="chart-wait">${words}</div></div>`;
    }
    const columnNames = this.#columnNames();
    if (data.kind === 'list')
      return html`<div class="chart-table">${chartTable(data, columnNames, [0])}</div>`;
    if (this.asTable) {
      return html`<div class="chart-table" tabindex="0" role="region" aria-label=${data.title}>${chartTable(data, columnNames, this.columns)}</div>${this.#tools()}`;
    }
    if (data.kind === 'sky') return skyView(data, this.desk, this.#tools());
    return this.#picture(data);
  }
}
