// Earlier versions of the open notebook: when each was, what the verdict said, what differs from the
// text of now, and going back to one as a step that can be undone.

import { html, nothing, type TemplateResult } from 'lit';
import type { Desk } from '../desk/desk.ts';
import type { Storage, Version } from '../keep/storage.ts';
import { type ChangedLine, changedLines } from '../keep/versions.ts';
import type { PageTools } from '../parts/page-tools.ts';
import { icon } from '../parts/shapes.ts';

interface VersionsContext {
  readonly desk: Desk;
  readonly versions: readonly Version[];
  readonly chosen: Version | undefined;
  readonly choose: (version: Version) => void;
  readonly restore: (version: Version) => void;
  readonly closed: () => void;
}

const WHY: Readonly<Record<Version['why'], string>> = {
  opened: 'as it was opened',
  edited: 'while working',
  restored: 'before an earlier version was taken',
  'set aside': 'set aside: another tab wrote on',
};

/** Lines around a change that are shown with it. */
const AROUND = 2;

function momentOf(when: number): string {
  const date = new Date(when);
  const isThisYear = date.getFullYear() === new Date().getFullYear();
  const day = date.toLocaleDateString('en-GB', {
    ...{ weekday: 'short', day: 'numeric', month: 'long' },
    ...(isThisYear ? {} : { year: 'numeric' }),
  });
  const time = date.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' });
  return `${day}, ${time}`;
}

const KINDS: Readonly<Record<ChangedLine['kind'], string>> = {
  same: '',
  gone: 'then',
  new: 'now',
};

/** The changed lines with a few of their neighbours; long stretches that are the same are told. */
function changesView(lines: readonly ChangedLine[]): TemplateResult {
  const near = lines.map((_, at) =>
    lines.slice(Math.max(0, at - AROUND), at + AROUND + 1).some((line) => line.kind !== 'same'),
  );
  return html`<div class="changes" role="table" aria-label="Changed lines">${lines.map(
    (line, at) => {
      if (near[at]) {
        return html`<div role="row" class=${`line ${line.kind}`}><span role="rowheader">${KINDS[line.kind]}</span><span role="cell">${line.text || ' '}</span></div>`;
      }
      return near[at - 1]
        ? html`<div role="row" class="line skip"><span role="rowheader"></span><span role="cell">…</span></div>`
        : nothing;
    },
  )}</div>`;
}

function comparison(context: VersionsContext, version: Version): TemplateResult {
  const { desk } = context;
  const lines = changedLines(version.text, desk.text);
  const changed = lines.filter((line) => line.kind !== 'same').length;
  const now = desk.snapshot.verdicts[0]?.headline ?? '';
  return html`<section class="comparison" aria-label="Then and now">
    <p>Then: <b>${version.headline || 'no verdict'}</b>. Now: <b>${now || 'no verdict'}</b>.
      ${changed === 0 ? 'Not a line differs.' : `${changed} ${changed === 1 ? 'line differs' : 'lines differ'}.`}</p>
    ${changed === 0 ? nothing : changesView(lines)}
    <button class="btn2 fill" ?disabled=${changed === 0 || desk.following} @click=${(): void => context.restore(version)}>Go back to this</button>
  </section>`;
}

const MOVES: Readonly<Record<string, (at: number, last: number) => number>> = {
  ArrowDown: (at) => at + 1,
  ArrowUp: (at) => at - 1,
  PageDown: (at) => at + 10,
  PageUp: (at) => at - 10,
  Home: () => 0,
  End: (_, last) => last,
};

/** Keys go up and down the list, which may be long. */
function moveInList(event: KeyboardEvent): void {
  const move = MOVES[event.key];
  const list = event.currentTarget;
  if (!move || !(list instanceof Element) || !(event.target instanceof Element)) return;
  const all = [...list.querySelectorAll<HTMLElement>('[aria-expanded]')];
  const own = event.target.closest('li')?.querySelector<HTMLElement>('[aria-expanded]');
  const last = all.length - 1;
  const at = own ? all.indexOf(own) : 0;
  event.preventDefault();
  all[Math.max(0, Math.min(last, move(at, last)))]?.focus();
}

function versionsDialog(context: VersionsContext): TemplateResult {
  const { versions, chosen } = context;
  return html`<dialog id="versions" class="dialog help versions" aria-label="Earlier versions" @close=${context.closed}>
    <div class="top"><h2>Earlier versions</h2><button class="close" aria-label="Close earlier versions" @click=${(
      event: Event,
    ): void => {
      if (event.target instanceof Element) event.target.closest('dialog')?.close();
    }}>${icon('close')}</button></div>
    ${
      versions.length === 0
        ? html`<p>None yet. One is kept when you first change something after opening, and then every ten minutes of work.</p>`
        : html`<p>Every version of the last hour, one an hour for a day, one a day for a month, then one a month.</p>
            <ul class="recent" @keydown=${moveInList}>${versions.map(
              (version, at) =>
                html`<li><button class="btn3" ?autofocus=${at === 0} aria-expanded=${version === chosen ? 'true' : 'false'} @click=${(): void => context.choose(version)}>${momentOf(version.when)}</button>
                <small>${WHY[version.why]}${version.headline ? ` · ${version.headline}` : ''}</small>
                ${version === chosen ? comparison(context, version) : nothing}</li>`,
            )}</ul>`
    }
  </dialog>`;
}

/** Opens the list over the notebook. */
export async function openVersions(desk: Desk, storage: Storage, tools: PageTools): Promise<void> {
  const versions = await storage.versionsByNow(desk.id);
  let chosen: Version | undefined;
  tools.openDialog({
    selector: '#versions',
    view: () =>
      versionsDialog({
        desk,
        versions,
        chosen,
        choose: (version) => {
          chosen = chosen === version ? undefined : version;
          tools.draw();
          void tools.drawn().then(() => {
            const open = tools.root.querySelector('#versions [aria-expanded="true"]');
            open?.closest('li')?.scrollIntoView({ block: 'nearest' });
          });
        },
        restore: (version) => {
          void storage.keepVersion(desk.toKeep(), 'restored');
          desk.run({ do: 'text', text: version.text }, 'earlier version');
          tools.root.querySelector<HTMLDialogElement>('#versions')?.close();
        },
        closed: tools.closeDialog,
      }),
  });
}
